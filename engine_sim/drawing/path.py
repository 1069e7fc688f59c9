"""A boat's fuel path in words: its parts as the fuel takes them, where air is let out, and how it stands unworked.

All is read off the layout, so that it holds for a boat of somebody's own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine_sim.actions import parts_of
from engine_sim.actions.parts import INJECTION_PUMPS, LIFT_PUMPS, Part
from engine_sim.circuit.layout import Layout
from engine_sim.drawing.drawing import Drawing
from engine_sim.drawing.seen import prefix_of
from engine_sim.wording import BLEED_POINTS, NUMBER_WORDS, PATH_WORDS

_TANK, _VALVE, _INJECTOR, _RETURN = "tank", "changeover_valve", "injector", "return_line"
_BETWEEN = ("shut_off_valve", "separator", *LIFT_PUMPS, "fine_filter", *INJECTION_PUMPS)
ON_THE_WAY = (_TANK, _VALVE, *_BETWEEN, _INJECTOR, _RETURN)
"""Kinds of part that the fuel passes; joints are left out."""
_SCREWS = ("vent", "screw", "outlet_screw")
_PUMP_SCREWS = ("lower_screw", "screw")
_HALF_FULL = 0.5


@dataclass(frozen=True, slots=True)
class BleedPoint:
    """A place where air is let out: the part, and what is opened there."""

    part: Part
    screw: str

    def __str__(self) -> str:
        return PATH_WORDS["point"].format(part=self.part.label, screw=self.screw)


def on_the_way(layout: Layout) -> tuple[Part, ...]:
    """Return the parts that the fuel passes, in its order."""
    return tuple(part for part in parts_of(layout) if part.kind in ON_THE_WAY)


def bleed_points(layout: Layout) -> tuple[BleedPoint, ...]:
    """Return where air is let out, from the tank outwards; the injectors' union nuts are not among them."""
    links = {link.id for link in layout.blueprint.links}
    found = []
    for part in on_the_way(layout):
        screws = _PUMP_SCREWS if part.kind in INJECTION_PUMPS else _SCREWS
        found += [BleedPoint(part, BLEED_POINTS[screw]) for screw in screws if f"{part.component}.{screw}" in links]
    return tuple(point for point in found if point.part.kind != _TANK)


def path_in_words(layout: Layout) -> str:
    """Return the fuel's way and the bleed points in sentences, for those who do not see the picture."""
    parts = on_the_way(layout)
    tanks = [part.label for part in parts if part.kind == _TANK]
    count = sum(part.kind == _INJECTOR for part in parts)
    injectors = PATH_WORDS["injector" if count == 1 else "injectors"].format(count=NUMBER_WORDS[count])
    between = [f"the {part.label}" for part in parts if part.kind in _BETWEEN]
    valves = [part.label for part in parts if part.kind == _VALVE]
    start = [PATH_WORDS["ways"].format(tanks=listed(tanks, " and the "), valve=valve) for valve in valves]
    way = PATH_WORDS["way"].format(tanks=valves[0] if valves else tanks[0], parts=listed(between), injectors=injectors)
    back = [PATH_WORDS["back"].format(back=part.label, tank=tanks[0]) for part in parts if part.kind == _RETURN]
    bleed = PATH_WORDS["bleed"].format(points="; ".join(map(str, bleed_points(layout))))
    return " ".join([*start, way, *back, bleed])


def listed(words: Sequence[str], last: str = " and ") -> str:
    """Return words as a list in a sentence."""
    return last.join(filter(None, (", ".join(words[:-1]), words[-1])))


def still_picture(drawing: Drawing, title: str) -> tuple[str, str]:
    """Return a boat's drawing with nothing wrong and nobody at work, as SVG text, and it in words."""
    layout, words = drawing.layout, path_in_words(drawing.layout)
    seen: dict[str, object] = {f"{valve}_ways": ("a",) for valve in layout.parts_of(_VALVE)}
    seen |= {f"{prefix_of(layout, tank, _TANK)}gauge_reading": _HALF_FULL for tank in layout.parts_of(_TANK)}
    return drawing.picture(drawing.skeleton(title), drawing.view(seen, words)), words
