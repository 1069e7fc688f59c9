"""The symbols of the parts, after ISO 1219-1 and ISO 14617, in the colour of the text around them."""

from __future__ import annotations

from engine_sim.marking.pictures import svg
from engine_sim.marking.pictures.plan import Place
from engine_sim.marking.pictures.svg import FUEL, WATER

_HEAD_SHARE = 0.34
_APART = {"stroke_dasharray": "4 4"}


def tank(place: Place, level: float | None) -> list[str]:
    """Return a tank, with its filler, and the level that its gauge shows (0 to 1) as a dashed line where it has one."""
    wall = svg.box(place.x - place.half, place.top, 2 * place.half, place.bottom - place.top)
    filler = [
        svg.stroke([((place.x - place.half * 0.2, place.top), (place.x - place.half * 0.2, place.top - 9.0))], 4.0)
    ]
    if level is None:
        return [*filler, svg.shape(wall, weight=2.4)]
    y = place.bottom - (place.bottom - place.top) * min(max(level, 0.0), 1.0)
    fuel = svg.tint(svg.box(place.x - place.half, y, 2 * place.half, place.bottom - y), FUEL, 0.35)
    line = svg.stroke([((place.x - place.half, y), (place.x + place.half, y))], 1.4, stroke_dasharray="5 3")
    return [fuel, line, *filler, svg.shape(wall, weight=2.4)]


def separator(place: Place, shares: tuple[float, ...] | None, dirty: bool, apart: bool) -> list[str]:
    """Return a separator: its head, and its bowl with what that shows (``shares`` of water and empty space)."""
    left, wide, neck = place.x - place.half, 2 * place.half, place.top + (place.bottom - place.top) * _HEAD_SHARE
    dashes = _APART if apart else {}
    head = svg.shape(svg.box(left, place.top, wide, neck - place.top), weight=2.2, **dashes)
    wall = svg.box(left + 2.0, neck, wide - 4.0, place.bottom - neck)
    if shares is None or apart:
        return [head, svg.shape(wall, weight=3.4, **dashes)]
    water, air = shares
    deep = place.bottom - neck
    low, full = place.bottom - deep * water, neck + deep * air
    content = [svg.tint(svg.box(left + 2.0, full, wide - 4.0, max(low - full, 0.0)), FUEL, 0.45)]
    if water > 0:
        content += [svg.tint(svg.box(left + 2.0, low, wide - 4.0, place.bottom - low), WATER, 0.5), _waves(place, low)]
    if dirty:
        spots = (place.x - 6.0, place.x, place.x + 6.0)
        content += [svg.element("circle", cx=x, cy=place.bottom - 4.0, r=2, fill="currentColor") for x in spots]
    return [*content, head, svg.shape(wall, weight=1.6)]


def _waves(place: Place, y: float) -> str:
    left, wide = place.x - place.half + 2.0, 2 * place.half - 4.0
    humps = [(left + wide * step / 8, y + (2.0 if step % 2 else -1.0)) for step in range(9)]
    return svg.stroke([humps], 1.8)


def not_looked_at(place: Place) -> str:
    """Return the sign at a part where nobody had looked yet: how it stands is not told."""
    if place.kind not in ("tank", "separator"):
        return svg.words(place.x, place.top - 6.0, "?", "middle", 15.0, True)
    beside_the_tube = 0.5 * place.half if place.kind == "tank" else 0.0
    middle = 0.4 * place.top + 0.6 * place.bottom
    return svg.words(place.x - beside_the_tube, middle + 5.0, "?", "middle", 15.0, True)


def valve(place: Place, is_open: bool | None) -> list[str]:
    """Return a shut-off: two triangles tip to tip, solid when it is shut, with its handle along or across the pipe.

    With None, nobody knows how it stands: the handle is left out.
    """
    x, y = place.x, place.y
    bow = ((x - 13.0, y - 9.0), (x + 13.0, y + 9.0), (x + 13.0, y - 9.0), (x - 13.0, y + 9.0))
    if is_open is None:
        return [svg.shape(bow, "none")]
    handle = ((x - 14.0, y - 15.0), (x + 14.0, y - 15.0)) if is_open else ((x, y - 4.0), (x, y - 28.0))
    stem = [] if not is_open else [svg.stroke([((x, y), (x, y - 15.0))], 1.6)]
    return [svg.shape(bow, "none" if is_open else "currentColor"), *stem, svg.stroke([handle], 3.6)]


def changeover(place: Place, is_open: bool) -> list[str]:
    """Return a changeover valve: three triangles tip to tip, solid when it is shut."""
    x, y = place.x, place.y
    fill = "none" if is_open else "currentColor"
    level = ((x - 13.0, y - 8.0), (x + 13.0, y + 8.0), (x + 13.0, y - 8.0), (x - 13.0, y + 8.0))
    third = ((x, y), (x - 8.0, y + 13.0), (x + 8.0, y + 13.0))
    return [svg.shape(level, fill), svg.shape(third, fill)]


def joint(place: Place) -> list[str]:
    """Return a screwed joint in a hose."""
    x, y = place.x, place.y
    return [
        svg.shape(svg.box(x - 9.0, y - 7.0, 7.0, 14.0), "currentColor"),
        svg.shape(svg.box(x + 2.0, y - 7.0, 7.0, 14.0), "currentColor"),
    ]


def pump(place: Place, electric: bool) -> list[str]:
    """Return a lift pump: a circle with a solid triangle the way the fuel goes; with a lever, or electric."""
    x, y = place.x, place.y
    ring = svg.element("circle", cx=x, cy=y, r=14, fill="none", stroke="currentColor", stroke_width=2.2)
    tip = svg.shape(((x + 13.0, y), (x + 3.0, y - 7.0), (x + 3.0, y + 7.0)), "currentColor")
    if electric:
        return [ring, tip, svg.words(x - 5.0, y + 4.0, "M", "middle", 11.0, True)]
    return [ring, tip, svg.stroke([((x - 4.0, y + 13.0), (x - 14.0, y + 24.0))], 3.4)]


def fine_filter(place: Place, apart: bool) -> list[str]:
    """Return a filter: a housing, and in it a diamond with the element dashed across."""
    x, y, half = place.x, place.y, 11.0
    housing = svg.box(x - place.half, place.top, 2 * place.half, place.bottom - place.top)
    diamond = ((x - half, y), (x, y - half), (x + half, y), (x, y + half))
    across = svg.stroke([((x, y - half), (x, y + half))], 1.4, stroke_dasharray="3 2")
    return [svg.shape(housing, weight=2.2, **(_APART if apart else {})), svg.shape(diamond), across]


def injection_pump(place: Place) -> list[str]:
    """Return the injection pump: its chain-dotted case, and in it a pump with an arrow through it."""
    x, y = place.x, place.y
    case = svg.shape(
        svg.box(x - 18.0, place.top - 3.0, 36.0, place.bottom - place.top + 6.0), weight=2.0, stroke_dasharray="9 3 2 3"
    )
    ring = svg.element("circle", cx=x, cy=y, r=9, fill="none", stroke="currentColor", stroke_width=1.8)
    tip = svg.shape(((x + 9.0, y), (x + 2.0, y - 5.0), (x + 2.0, y + 5.0)), "currentColor")
    return [case, ring, tip]


def injector(place: Place, number: int, slack: bool) -> list[str]:
    """Return an injector with its number and its union nut: solid when tight, hollow and off when slack."""
    x, y = place.x, place.y
    body = svg.shape(((x - 2.0, y - 6.0), (x + 12.0, y - 6.0), (x + 18.0, y), (x + 12.0, y + 6.0), (x - 2.0, y + 6.0)))
    off = 6.0 if slack else 0.0
    nut = svg.shape(svg.box(x - 11.0 - off, y - 5.0, 8.0, 10.0), "none" if slack else "currentColor", 1.4)
    return [body, nut, svg.words(x + 5.0, y + 4.0, str(number), "middle", 10.0)]


def screw_spots(kind: str, place: Place) -> dict[str, tuple[float, float, bool]]:
    """Return where the screws of a kind of part sit: x, y, and whether they point up."""
    quarter = place.half * 0.5
    if kind == "separator":
        return {"vent": (place.x, place.top, True), "drain": (place.x, place.bottom, False)}
    if kind == "fine_filter":
        return {"screw": (place.x - quarter, place.top, True), "outlet_screw": (place.x + quarter, place.top, True)}
    return {"screw": (place.x - 9.0, place.top - 3.0, True), "lower_screw": (place.x - 9.0, place.bottom + 3.0, False)}


def screw(x: float, y: float, up: bool, is_open: bool) -> str:
    """Return a screw on its seat, solid, or hollow and off it when it is open."""
    way = -1.0 if up else 1.0
    y += way * (5.0 if is_open else 0.0)
    outline = ((x - 2.0, y), (x - 2.0, y + way * 4.0), (x - 5.0, y + way * 4.0), (x - 5.0, y + way * 9.0))
    other = tuple((2 * x - px, py) for px, py in reversed(outline))
    return svg.shape((*outline, *other), "none" if is_open else "currentColor", 1.4)


def drop(x: float, y: float) -> str:
    """Return the sign for a wet place."""
    outline = ((x, y), (x + 4.0, y + 7.0), (x + 2.5, y + 11.0), (x - 2.5, y + 11.0), (x - 4.0, y + 7.0))
    return svg.shape(outline, FUEL, 1.4)
