"""Pictures of a class report, drawn by matplotlib as SVG, each with its title and the same in words.

Nothing is told by colour alone: each bar carries its number. matplotlib is imported only when a picture is drawn.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable, Mapping, Sequence
from html import escape
from io import StringIO
from typing import Any

from engine_sim.classroom.teaching.report.numbers import NOT_SHOWN, NOT_YET, PARTLY, YES, Count, Spread

Axes = Any
Drawn = Any
"""matplotlib's own axes and figures; it is not imported before a picture is drawn."""
WIDE_IN, ROW_IN, REST_IN = 8.0, 0.44, 0.9
"""Width of a picture, height of one of its bars, and of all else [inch]."""
COLOURS = {YES: "#1d4e73", PARTLY: "#7fb2d6", NOT_YET: "#f0b050", NOT_SHOWN: "#e4e8ec"}
INK = {YES: "#ffffff", PARTLY: "#000000", NOT_YET: "#000000", NOT_SHOWN: "#000000"}
BAR = "#1d4e73"
LABEL_LETTERS, LABEL_LINES = 46, 2
MOST_BARS = 14
"""So many bars stand in one picture, so that it fits on a page."""
_HEAD = re.compile(r"^.*?(?=<svg)", re.DOTALL)
_NOT_NEEDED = re.compile(r'<metadata>.*?</metadata>|\s*clip-path="[^"]*"', re.DOTALL)
_NAMES = re.compile(r'(id="|href="#|url\(#)')
_OPENING = re.compile(r"<svg\b[^>]*>")


def state_bars(name: str, title: str, rows: Sequence[tuple[str, Mapping[str, int]]]) -> str:
    """Return bars that say for each objective how many can do it, in part, not yet, and how many did not show it."""

    def draw(axes: Axes) -> None:
        places = range(len(rows))
        left = [0] * len(rows)
        for state, colour in COLOURS.items():
            wide = [counts.get(state, 0) for _, counts in rows]
            axes.barh(places, wide, left=left, color=colour, edgecolor="#ffffff", label=state)
            for place, count, begin in zip(places, wide, left, strict=True):
                if count:
                    at = (begin + count / 2.0, place)
                    axes.annotate(str(count), at, ha="center", va="center", color=INK[state], fontsize=9)
            left = [begin + count for begin, count in zip(left, wide, strict=True)]
        labelled(axes, [words for words, _ in rows], "learners")
        axes.legend(ncols=4, loc="lower right", bbox_to_anchor=(1.0, 1.0), frameon=False, fontsize=9)

    words = "; ".join(f"{said}: {', '.join(f'{c} {s}' for s, c in counts.items() if c)}" for said, counts in rows)
    return picture(name, title, words, len(rows), draw)


def count_bars(name: str, title: str, counts: Sequence[Count], unit: str) -> str:
    """Return bars that say how often each thing came."""

    def draw(axes: Axes) -> None:
        bars = axes.barh(range(len(counts)), [one.count for one in counts], color=BAR)
        axes.bar_label(bars, padding=3, fontsize=9)
        labelled(axes, [one.words for one in counts], unit)

    return picture(name, title, "; ".join(f"{one.words} {one.count}" for one in counts), len(counts), draw)


def spread_boxes(name: str, title: str, spreads: Sequence[tuple[str, Spread]], unit: str) -> str:
    """Return a box for each exercise: the middle half of the figures, their median, and how far they reach."""

    def draw(axes: Axes) -> None:
        stats = [
            {
                "med": s.middle,
                "q1": s.quarter,
                "q3": s.three_quarters,
                "whislo": s.least,
                "whishi": s.most,
                "fliers": [],
            }
            for _, s in spreads
        ]
        look = {"facecolor": COLOURS[PARTLY]}
        middle = {"color": "#000000", "linewidth": 2}
        places = list(range(len(spreads)))
        axes.bxp(
            stats,
            positions=places,
            orientation="horizontal",
            patch_artist=True,
            boxprops=look,
            medianprops=middle,
            widths=0.5,
        )
        labelled(axes, [words for words, _ in spreads], unit)
        axes.set_xlim(left=0.0)

    words = "; ".join(f"{said}: {spread_in_words(one, unit)}" for said, one in spreads)
    return picture(name, title, words, len(spreads), draw)


def spread_in_words(one: Spread, unit: str) -> str:
    """Return how figures lie as a phrase."""
    middle = f"median {one.middle:.0f}, half of them from {one.quarter:.0f} to {one.three_quarters:.0f}"
    return f"{middle}, all from {one.least:.0f} to {one.most:.0f} {unit}"


def labelled(axes: Axes, words: Sequence[str], unit: str) -> None:
    """Put a label beside each bar, the first on top, and say what is counted."""
    from matplotlib.ticker import MaxNLocator

    labels = []
    for said in words:
        lines = textwrap.wrap(said, LABEL_LETTERS) or [""]
        labels.append("\n".join(lines[:LABEL_LINES]) + (" ..." if len(lines) > LABEL_LINES else ""))
    axes.set_yticks(range(len(labels)), labels, fontsize=8.5)
    axes.invert_yaxis()
    axes.set_xlabel(unit)
    axes.xaxis.set_major_locator(MaxNLocator("auto", integer=True))
    axes.set_axisbelow(True)
    axes.grid(axis="x", color="#d8dee4")
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)


def picture(name: str, title: str, words: str, rows: int, draw: Callable[[Axes], None]) -> str:
    """Return a picture as SVG for a page; ``name`` keeps its inner names apart from those of other pictures."""
    from matplotlib import rc_context
    from matplotlib.figure import Figure

    with rc_context({"svg.fonttype": "path", "svg.hashsalt": "report", "font.size": 10.0}):
        figure = Figure(figsize=(WIDE_IN, REST_IN + ROW_IN * max(rows, 1)), layout="constrained")
        draw(figure.subplots())
        return as_part_of_page(name, title, words, drawn(figure))


def drawn(figure: Drawn) -> str:
    """Return a figure as SVG text."""
    out = StringIO()
    figure.savefig(out, format="svg", metadata={"Date": None})
    return out.getvalue()


def as_part_of_page(name: str, title: str, words: str, svg: str) -> str:
    """Return matplotlib's SVG as it can stand in a page: with a title and words, and names that are its own."""
    plain = _NAMES.sub(rf"\g<1>{name}_", _NOT_NEEDED.sub("", _HEAD.sub("", svg)))
    opening = _OPENING.search(plain)
    if opening is None:
        return ""
    box = re.search(r'viewBox="[^"]*"', opening.group())
    said = f"<title>{escape(title)}</title><desc>{escape(words)}</desc>"
    links = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    return f'<svg {links} {box.group() if box else ""} role="img">{said}{plain[opening.end() :].strip()}'
