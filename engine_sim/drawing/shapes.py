"""Signs after ISO 1219-1 and ISO 14617 (fluid) and IEC 60617 (motor, battery, lamp), drawn at any place."""

from __future__ import annotations

from engine_sim.drawing.geometry import Box
from engine_sim.drawing.svg import element, group, text_element


def question(x: float, y: float, name: str) -> str:
    """Return the question mark that stands where nobody has looked yet."""
    mark = text_element("text", "?", class_="question", x=x, y=y + 10.0)
    return group(element("circle", class_="face slim", cx=x, cy=y, r=15), mark, id=name)


def valve(x: float, y: float, name: str) -> str:
    """Return a shut-off valve in a level line: two triangles tip to tip, and its lever, which lies along when open."""
    body = element(
        "path", id=f"{name}-body", class_="valve open", d=f"M{x - 26} {y - 16}V{y + 16}L{x + 26} {y - 16}V{y + 16}Z"
    )
    lever = group(
        element("path", class_="lever-edge", d=f"M{x} {y}H{x + 38}"),
        element("path", class_="lever", d=f"M{x} {y}H{x + 38}"),
        element("circle", class_="pivot", cx=x, cy=y, r=6),
        id=f"{name}-lever",
    )
    return body + lever


def changeover(x: float, y: float, name: str) -> str:
    """Return a changeover valve: a round body whose pointer lies towards the tank in use."""
    body = element("circle", id=f"{name}-body", class_="symbol", cx=x, cy=y, r=28)
    pointers = "".join(
        group(
            element("path", class_="lever-edge", d=f"M{x} {y}H{x - 34}"),
            element("path", class_="lever", d=f"M{x} {y}H{x - 34}"),
            id=f"{name}-way-{way}",
        )
        for way in ("a", "b")
    )
    across = group(element("path", class_="lever", d=f"M{x} {y}V{y + 34}"), id=f"{name}-shut", visibility="hidden")
    return body + pointers + across + element("circle", class_="pivot", cx=x, cy=y, r=6)


def filter_diamond(x: float, y: float, half: float) -> str:
    """Return a filter: a diamond with its element as a dashed line across the flow."""
    diamond = element("path", class_="symbol", d=f"M{x - half} {y}L{x} {y - half}L{x + half} {y}L{x} {y + half}Z")
    return diamond + element("path", class_="dashed", d=f"M{x} {y - half}V{y + half}")


def pump_circle(x: float, y: float, radius: float) -> str:
    """Return a pump: a circle with a filled triangle that points the way the fuel goes."""
    r = radius
    tip = f"M{x + r * 0.3} {y - r * 0.55}V{y + r * 0.55}L{x + r} {y}Z"
    return element("circle", class_="symbol", cx=x, cy=y, r=r) + element("path", class_="filled", d=tip)


def screw(x: float, y: float, name: str, angle: float = 0.0) -> str:
    """Return a bleed or drain screw that lifts off its seat when opened, and what comes out of it.

    ``angle`` turns it another way up [degrees].
    """
    body = element(
        "path", class_="screw", d=f"M{x - 11} {y - 20}H{x + 11}V{y - 10}H{x + 5}V{y}H{x - 5}V{y - 10}H{x - 11}Z"
    )
    moving = group(body, id=name, class_="seated")
    comes = group(_spurt(x, y), id=f"{name}-comes", class_="comes nothing")
    return group(comes, moving, transform=f"rotate({angle:g} {x:g} {y:g})") if angle else comes + moving


def _spurt(x: float, y: float) -> str:
    """Return what may come at a screw: a stream of fuel at its foot, and bubbles beside it."""
    stream = element("path", class_="stream", d=f"M{x - 16} {y - 2}q16 -10 32 0q-4 8 -16 8t-16 -8Z")
    bubbles = "".join(
        element("circle", class_="spurt-bubble", cx=x + dx, cy=y + dy, r=r)
        for dx, dy, r in ((-17, -8, 4), (-10, -17, 3), (16, -9, 4), (12, -18, 3), (20, -1, 3))
    )
    return stream + bubbles


def joint(x: float, y: float) -> str:
    """Return a screwed joint in a level line."""
    return element(
        "path",
        class_="nut seated",
        d=f"M{x - 17} {y - 16}H{x - 3}V{y + 16}H{x - 17}Z M{x + 3} {y - 16}H{x + 17}V{y + 16}H{x + 3}Z",
    )


def drop(x: float, y: float, name: str) -> str:
    """Return the mark for a wet place: two drops with an outline."""
    drops = "".join(
        element("path", class_="drop", d=f"M{x + dx} {y + dy}c-7 11 -7 15 0 16c7 -1 7 -5 0 -16Z")
        for dx, dy in ((-8, 0), (8, 7))
    )
    return group(drops, id=name, visibility="hidden")


def injector(box: Box, nut: str) -> str:
    """Return an injector with the union nut of its high-pressure line at the left."""
    x, top, low = box.x + box.width / 2, box.y, box.bottom
    y = low - 70.0
    body = element(
        "path",
        class_="symbol",
        d=f"M{x - 10} {top}H{x + 10}V{low - 34}H{x + 6}V{low - 12}L{x} {low}L{x - 6} {low - 12}V{low - 34}H{x - 10}Z",
    )
    union = element(
        "path", id=nut, class_="nut seated", d=f"M{x - 22} {y - 11}H{x - 10}V{y + 11}H{x - 22}L{x - 27} {y}Z"
    )
    comes = group(_spurt(x - 26.0, y + 4.0), id=f"{nut}-comes", class_="comes nothing")
    return body + comes + union


def dial(x: float, y: float, radius: float, name: str) -> str:
    """Return a round gauge whose needle stands upright at mid-scale."""
    face = element("circle", class_="face", cx=x, cy=y, r=radius)
    ticks = "".join(
        element("path", class_="tick", d=f"M{x} {y - radius + 3}v6", transform=f"rotate({angle} {x} {y})")
        for angle in (-100, -50, 0, 50, 100)
    )
    needle = element("path", id=name, class_="needle", d=f"M{x} {y + 5}V{y - radius + 8}")
    return face + ticks + needle + element("circle", class_="filled", cx=x, cy=y, r=4)


def arrow(x: float, y: float) -> str:
    """Return the head of an arrow that points to the left: the way home along the return line."""
    return element("path", class_="arrow", d=f"M{x - 7} {y}L{x + 6} {y - 6}V{y + 6}Z")
