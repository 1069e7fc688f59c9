"""Pieces of SVG that read on light and dark paper and stay within what a printed page can carry.

Only plain shapes with attributes of their own: no style sheet, no script, no pattern fill, nothing from elsewhere.
Lines take the colour of the text around them; tints are pale enough to stand on either ground.
"""

from __future__ import annotations

from collections.abc import Sequence
from xml.sax.saxutils import escape, quoteattr

Point = tuple[float, float]

LETTER_SHARE = 0.55
"""Width of an average letter, as a share of the size of the type."""


def element(tag: str, content: str = "", /, **attributes: object) -> str:
    """Return one element; underscores in names become hyphens."""
    written = "".join(f" {key.replace('_', '-')}={quoteattr(number(value))}" for key, value in attributes.items())
    return f"<{tag}{written}>{content}</{tag}>" if content else f"<{tag}{written}/>"


def number(value: object) -> str:
    """Return a value as it is written into an attribute; figures get one decimal at most."""
    return f"{value:.1f}".removesuffix(".0") if isinstance(value, float) else str(value)


def path(lines: Sequence[Sequence[Point]], shut: bool = False) -> str:
    """Return lines through points as the ``d`` of one path; ``shut`` closes each."""
    end = "Z" if shut else ""
    return "".join("M" + "L".join(f"{number(float(x))} {number(float(y))}" for x, y in line) + end for line in lines)


def stroke(lines: Sequence[Sequence[Point]], weight: float = 1.6, **more: object) -> str:
    """Return open lines in the colour of the text."""
    return element("path", d=path(lines), fill="none", stroke="currentColor", stroke_width=weight, **more)


def shape(points: Sequence[Point], fill: str = "none", weight: float = 1.6, **more: object) -> str:
    """Return a closed outline; ``fill`` is ``none``, ``currentColor`` or a tint."""
    return element("path", d=path([points], shut=True), fill=fill, stroke="currentColor", stroke_width=weight, **more)


def box(x: float, y: float, width: float, height: float) -> tuple[Point, ...]:
    """Return the corners of an upright rectangle."""
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def tint(points: Sequence[Point], colour: str, share: float) -> str:
    """Return an area without an outline, so much of it opaque (0 to 1)."""
    return element("path", d=path([points], shut=True), fill=colour, fill_opacity=f"{share:g}", stroke="none")


def words(x: float, y: float, text: str, anchor: str = "start", size: float = 12.0, bold: bool = False) -> str:
    """Return one line of text; ``anchor`` is start, middle or end, ``size`` that of the type."""
    weight = {"font_weight": "bold"} if bold else {}
    return element(
        "text", escape(text), x=x, y=y, text_anchor=anchor, font_size=size, fill="currentColor", stroke="none", **weight
    )


def picture(title: str, description: str, width: float, height: float, content: Sequence[str]) -> str:
    """Return a whole picture with its title and its description for those who do not see it."""
    head = element("title", escape(title)) + element("desc", escape(description))
    return element(
        "svg",
        head + "".join(content),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width)} {number(height)}",
        width="100%",
        role="img",
        aria_label=title,
        font_family="sans-serif",
        style=f"max-width:{number(width)}px;height:auto",
    )
