"""SVG pieces after ISO 1219-1 and ISO 14617 (fluid symbols) and IEC 60617 (motor, battery, lamp)."""

from __future__ import annotations

from collections.abc import Mapping
from xml.sax.saxutils import escape, quoteattr

from engine_sim.bench.geometry import Box, Polyline, path


def element(tag: str, content: str = "", /, **attributes: object) -> str:
    """Return one SVG element; a trailing underscore is dropped and inner ones become hyphens."""
    written = "".join(
        f" {name.rstrip('_').replace('_', '-')}={quoteattr(_number(value))}" for name, value in attributes.items()
    )
    return f"<{tag}{written}>{content}</{tag}>" if content else f"<{tag}{written}/>"


def text_element(tag: str, text: str, /, **attributes: object) -> str:
    """Return one SVG element around escaped text."""
    return element(tag, escape(text), **attributes)


def _number(value: object) -> str:
    return f"{value:.5g}" if isinstance(value, float) else str(value)


def group(*content: str, **attributes: object) -> str:
    """Return an SVG group."""
    return element("g", "".join(content), **attributes)


def rect(box: Box, /, **attributes: object) -> str:
    """Return a rectangle."""
    return element("rect", x=box.x, y=box.y, width=box.width, height=box.height, **attributes)


def line(points: Polyline, /, **attributes: object) -> str:
    """Return an open path through the points."""
    return element("path", d=path(points), **attributes)


def hose(points: Polyline, kind: str = "hose") -> str:
    """Return a hose seen from outside: a wall and a body that shows nothing of what is inside."""
    return line(points, class_=f"{kind}-wall") + line(points, class_=f"{kind}-body")


def valve(x: float, y: float, name: str) -> str:
    """Return a shut-off valve in an upright line: two triangles tip to tip, and its lever."""
    bow = element(
        "path", id=f"{name}-body", class_="valve open", d=f"M{x - 17} {y - 24}H{x + 17}L{x - 17} {y + 24}H{x + 17}Z"
    )
    lever = group(
        element("path", class_="lever-edge", d=f"M{x} {y}V{y - 42}"),
        element("path", class_="lever", d=f"M{x} {y}V{y - 42}"),
        element("circle", class_="pivot", cx=x, cy=y, r=6),
        id=f"{name}-lever",
    )
    return bow + lever


def filter_diamond(x: float, y: float, half: float) -> str:
    """Return a filter: a diamond with its element as a dashed line across the flow."""
    diamond = element("path", class_="symbol", d=f"M{x - half} {y}L{x} {y - half}L{x + half} {y}L{x} {y + half}Z")
    return diamond + element("path", class_="dashed", d=f"M{x} {y - half}V{y + half}")


def pump_circle(x: float, y: float, radius: float, towards: str) -> str:
    """Return a pump: a circle with a filled triangle that points the way the fuel goes (``up`` or ``right``)."""
    r = radius
    tip = (
        f"M{x - r * 0.55} {y - r * 0.35}H{x + r * 0.55}L{x} {y - r}Z"
        if towards == "up"
        else f"M{x + r * 0.35} {y - r * 0.55}V{y + r * 0.55}L{x + r} {y}Z"
    )
    return element("circle", class_="symbol", cx=x, cy=y, r=r) + element("path", class_="filled", d=tip)


def screw(x: float, y: float, name: str, turned: str = "") -> str:
    """Return a bleed or drain screw that lifts off its seat when it is opened; ``turned`` places it another way up."""
    body = element(
        "path", class_="screw", d=f"M{x - 11} {y - 20}H{x + 11}V{y - 10}H{x + 5}V{y}H{x - 5}V{y - 10}H{x - 11}Z"
    )
    moving = group(body, id=name, class_="seated")
    return group(moving, transform=turned) if turned else moving


def drop(x: float, y: float, name: str) -> str:
    """Return the mark for a wet place: two drops with an outline."""
    shape = "".join(
        element("path", class_="drop", d=f"M{x + dx} {y + dy}c-7 11 -7 15 0 16c7 -1 7 -5 0 -16Z")
        for dx, dy in ((-8, 0), (8, 7))
    )
    return group(shape, id=name, visibility="hidden")


def injector(x: float, number: int) -> str:
    """Return an injector with the union nut of its high-pressure line at the left."""
    body = element("path", class_="symbol", d=f"M{x - 9} 96H{x + 9}V150H{x + 5}V170L{x} 182L{x - 5} 170V150H{x - 9}Z")
    nut = element(
        "path", id=f"nut-{number}", class_="nut seated", d=f"M{x - 20} 108H{x - 9}V128H{x - 20}L{x - 25} 118Z"
    )
    tap = line(((x, 58), (x, 96)), class_="tap")
    return tap + body + nut


def joint(x: float, y: float) -> str:
    """Return a screwed joint in a level line."""
    return element(
        "path",
        class_="nut seated",
        d=f"M{x - 16} {y - 15}H{x - 2}V{y + 15}H{x - 16}Z M{x + 2} {y - 15}H{x + 16}V{y + 15}H{x + 2}Z",
    )


def dial(x: float, y: float, radius: float, name: str) -> str:
    """Return a round gauge whose needle stands upright at mid-scale."""
    face = element("circle", class_="face", cx=x, cy=y, r=radius)
    ticks = "".join(
        element("path", class_="tick", d=f"M{x} {y - radius + 3}v7", transform=f"rotate({angle} {x} {y})")
        for angle in (-100, -50, 0, 50, 100)
    )
    needle = element("path", id=name, class_="needle", d=f"M{x} {y + 6}V{y - radius + 8}")
    return face + ticks + needle + element("circle", class_="filled", cx=x, cy=y, r=4)


def turn(angle: float, x: float, y: float) -> str:
    """Return the transform that turns something about a point [degrees, clockwise]."""
    return f"rotate({angle:.4g} {x:g} {y:g})"


Attributes = dict[str, str]
View = dict[str, Attributes]


def changed(before: Mapping[str, Attributes], after: Mapping[str, Attributes]) -> View:
    """Return only those attributes that differ, so that little has to travel."""
    differing = {
        name: {key: value for key, value in attributes.items() if before.get(name, {}).get(key) != value}
        for name, attributes in after.items()
    }
    return {name: attributes for name, attributes in differing.items() if attributes}
