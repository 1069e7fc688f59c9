"""What was still possible after each action: shares stacked to the whole, told apart by hatching as well as by tint."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from engine_sim.marking.pictures import svg
from engine_sim.units import clock_text

if TYPE_CHECKING:
    from engine_sim.marking.coach import Insight, Suspect

Segment = tuple[svg.Point, svg.Point]
Key = tuple[str, str]

WIDTH, LEFT, RIGHT, TOP, HIGH = 780.0, 66.0, 12.0, 34.0, 220.0
MOST = 5
"""So many things that were possible get a band of their own."""

_GAP, _SMALL, _TICKS = 7.0, 12.0, 9
_TITLE = "What was still possible after each of your actions"
_MARK = "an action that is among the things that cost you most"
_X_NAME, _Y_NAME = "your actions in order, with the clock (h:mm:ss)", "share of what was still possible, %"


@dataclass(frozen=True, slots=True)
class Band:
    """One band: what it stands for (nothing for all the rest), its words, and its share after each insight."""

    key: Key | None
    label: str
    shares: tuple[float, ...]


def suspect_label(suspect: Suspect) -> str:
    """Return what was possible in words, such as ``shut-off: shut``."""
    return f"{suspect.part_label}: {suspect.fault_label}"


def bands_of(insights: Sequence[Insight]) -> tuple[Band, ...]:
    """Return the bands: what was likeliest at any time, likeliest at the end first, then all the rest together."""
    labels: dict[Key, str] = {}
    shares: dict[Key, list[float]] = {}
    for index, insight in enumerate(insights):
        for suspect in insight.suspects:
            key = (suspect.fault, suspect.part)
            labels.setdefault(key, suspect_label(suspect))
            shares.setdefault(key, [0.0] * len(insights))[index] += suspect.share
    chosen = sorted(shares, key=lambda key: (-max(shares[key]) - shares[key][-1], key))[:MOST]
    chosen.sort(key=lambda key: (-shares[key][-1], -max(shares[key]), key))
    bands = [Band(key, labels[key], tuple(shares[key])) for key in chosen]
    rest = tuple(max(0.0, 1.0 - sum(band.shares[i] for band in bands)) for i in range(len(insights)))
    others = (
        [Band(None, f"all else ({len(shares) - len(bands)} things)", rest)] if max(rest, default=0.0) > 0.005 else []
    )
    return (*bands, *others)


def draw_possible(insights: Sequence[Insight], marked: Sequence[int] = ()) -> str:
    """Return the plot as SVG, or an empty text without insights; ``marked`` are steps that get a mark above them."""
    if not insights:
        return ""
    bands = bands_of(insights)
    step = (WIDTH - LEFT - RIGHT) / len(insights)
    floor, content = [0.0] * len(insights), []
    for index, band in enumerate(bands):
        tops = [low + share for low, share in zip(floor, band.shares, strict=True)]
        content += _band(band, index, floor, tops, step)
        floor = tops
    content += [*_axes(insights, step), *_marks(insights, marked, step)]
    legend, bottom = _legend(bands, any(insight.step in marked for insight in insights))
    return svg.picture(_TITLE, describe(insights), WIDTH, bottom, [*content, *legend])


def describe(insights: Sequence[Insight]) -> str:
    """Return the plot in words: what was likeliest at the start and at the end, and how many things were left."""
    first, last = insights[0], insights[-1]
    return f"At the start {_likeliest(first)}. After your last action {_likeliest(last)}."


def _likeliest(insight: Insight) -> str:
    if not insight.suspects:
        return "nothing that we know of was possible"
    told = ", ".join(f"{suspect_label(one)} {one.share * 100:.0f} %" for one in insight.suspects[:3])
    count = len(insight.suspects)
    return f"{count} thing{'s were' if count > 1 else ' was'} possible, likeliest: {told}"


def _y(share: float) -> float:
    return TOP + HIGH * (1.0 - min(max(share, 0.0), 1.0))


def _band(band: Band, index: int, low: Sequence[float], high: Sequence[float], step: float) -> list[str]:
    columns = _merged(low, high, step)
    outline = [(x, y) for left, right, _, top in columns for x, y in ((left, top), (right, top))]
    back = [(x, y) for left, right, bottom, _ in reversed(columns) for x, y in ((right, bottom), (left, bottom))]
    points = tuple(outline + back)
    content = [] if band.key is None else [svg.tint(points, tint_of(index), 0.42)]
    lines = [line for column in columns for line in _hatch(index, column)] if band.key is not None else []
    if lines:
        content.append(svg.stroke(lines, 1.0, stroke_opacity="0.7"))
    return [*content, svg.shape(points, weight=1.2)]


def _merged(low: Sequence[float], high: Sequence[float], step: float) -> list[tuple[float, float, float, float]]:
    """Return the band's columns (left, right, bottom, top); neighbours of the same height are one."""
    columns: list[tuple[float, float, float, float]] = []
    for index, (bottom, top) in enumerate(zip(low, high, strict=True)):
        left, y_low, y_high = LEFT + step * index, _y(bottom), _y(top)
        if columns and columns[-1][2:] == (y_low, y_high):
            columns[-1] = (columns[-1][0], left + step, y_low, y_high)
        else:
            columns.append((left, left + step, y_low, y_high))
    return columns


_TINTS = ("#e08a00", "#2a78c2", "#2f9e5b", "#a04fb0", "#c8452f")


def tint_of(index: int) -> str:
    """Return the tint of a band."""
    return _TINTS[index % len(_TINTS)]


def _hatch(index: int, column: tuple[float, float, float, float]) -> list[Segment]:
    """Return a band's hatching within one column: rising, level, falling, upright, or dots."""
    left, right, low, high = column
    if low - high < 1.0:
        return []
    return _HATCHES[index % len(_HATCHES)](left, right, high, low)


def _multiples(low: float, high: float) -> list[float]:
    first = int(low // _GAP) + 1
    return [_GAP * k for k in range(first, int(high // _GAP) + 1)]


def _rising(left: float, right: float, top: float, bottom: float) -> list[Segment]:
    found = []
    for total in _multiples(left + top, right + bottom):
        x0, x1 = max(left, total - bottom), min(right, total - top)
        found.append(((x0, total - x0), (x1, total - x1)))
    return found


def _falling(left: float, right: float, top: float, bottom: float) -> list[Segment]:
    found = []
    for gap in _multiples(left - bottom, right - top):
        x0, x1 = max(left, gap + top), min(right, gap + bottom)
        found.append(((x0, x0 - gap), (x1, x1 - gap)))
    return found


def _level(left: float, right: float, top: float, bottom: float) -> list[Segment]:
    return [((left, y), (right, y)) for y in _multiples(top, bottom)]


def _upright(left: float, right: float, top: float, bottom: float) -> list[Segment]:
    return [((x, top), (x, bottom)) for x in _multiples(left, right)]


def _dots(left: float, right: float, top: float, bottom: float) -> list[Segment]:
    return [((x - 1.0, y), (x + 1.0, y)) for y in _multiples(top, bottom) for x in _multiples(left + 1.0, right - 1.0)]


_HATCHES: tuple[Callable[[float, float, float, float], list[Segment]], ...] = (
    _rising,
    _level,
    _falling,
    _upright,
    _dots,
)


def _axes(insights: Sequence[Insight], step: float) -> list[str]:
    """Return both axes with their figures, names and units."""
    bottom, content = TOP + HIGH, []
    for percent in range(0, 101, 25):
        y = _y(percent / 100)
        content += [
            svg.stroke([((LEFT - 5.0, y), (LEFT, y))], 1.2),
            svg.words(LEFT - 9.0, y + 4.0, str(percent), "end", _SMALL),
        ]
    every = max(1, -(-len(insights) // _TICKS))
    for index in range(0, len(insights), every):
        x = LEFT + step * (index + 0.5)
        clock = clock_text(insights[index].moment_s)
        content.append(svg.stroke([((x, bottom), (x, bottom + 5.0))], 1.2))
        content.append(svg.words(x, bottom + 18.0, str(index) if index else "start", "middle", _SMALL))
        content.append(svg.words(x, bottom + 31.0, clock, "middle", _SMALL))
    content.append(svg.stroke([((LEFT, TOP), (LEFT, bottom), (WIDTH - RIGHT, bottom))], 1.6))
    content.append(svg.words(4.0, 12.0, _Y_NAME, "start", _SMALL))
    return [*content, svg.words((LEFT + WIDTH - RIGHT) / 2, bottom + 47.0, _X_NAME, "middle", _SMALL)]


def _marks(insights: Sequence[Insight], marked: Sequence[int], step: float) -> list[str]:
    """Return the signs above the actions that cost most."""
    places = [i for i, insight in enumerate(insights) if insight.step in marked]
    return [svg.words(LEFT + step * (i + 0.5), TOP - 6.0, "▼", "middle", 12.0, True) for i in places]


def _legend(bands: Sequence[Band], marked: bool) -> tuple[list[str], float]:
    """Return what each band stands for, top band first, what the marks above are, and where the legend ends."""
    y, content = TOP + HIGH + 70.0, []
    for index, band in reversed(list(enumerate(bands))):
        corners = (LEFT, LEFT + 34.0, y, y - 13.0)
        area = svg.box(LEFT, y - 13.0, 34.0, 13.0)
        if band.key is not None:
            content += [
                svg.tint(area, tint_of(index), 0.42),
                svg.stroke(_hatch(index, corners), 1.0, stroke_opacity="0.7"),
            ]
        content += [svg.shape(area, weight=1.2), svg.words(LEFT + 42.0, y - 2.0, band.label)]
        y += 19.0
    if marked:
        content.append(svg.words(LEFT + 17.0, y - 2.0, "▼", "middle", 12.0, True))
        content.append(svg.words(LEFT + 42.0, y - 2.0, _MARK))
        y += 19.0
    return content, y - 6.0
