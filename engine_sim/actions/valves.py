"""At the valves: the shut-off's handle, the changeover between two tanks."""

from __future__ import annotations

from engine_sim.actions.action import Action, Do, Family
from engine_sim.actions.workplace import Workplace
from engine_sim.faults.places import tank_behind
from engine_sim.observations import Noticed, see
from engine_sim.sources import COMMON_PRACTICE, SourcedValue

OPEN_FROM = SourcedValue(0.5, "1", COMMON_PRACTICE, "opening from which a handle looks along the pipe").value
_WAYS = ("a", "b")


def is_along(place: Workplace, part: str) -> bool:
    """Tell whether a shut-off's handle lies along the pipe."""
    return place.rig.circuit.opening[place.rig.topology.link_number(part)] >= OPEN_FROM


def ways_open(place: Workplace, part: str) -> tuple[str, ...]:
    """Return the ways of a changeover valve that are open: ``a``, ``b``, both or none."""
    opening, number = place.rig.circuit.opening, place.rig.topology.link_number
    return tuple(way for way in _WAYS if opening[number(f"{part}.{way}")] >= OPEN_FROM)


def _look(place: Workplace, part: str) -> list[Noticed]:
    return [see(part, "handle_along" if is_along(place, part) else "handle_across")]


def _turn(opening: float, key: str) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        place.rig.set_open(part, opening)
        return [see(part, key)]

    return do


def tank_of(place: Workplace, part: str, way: str) -> str:
    """Return what the tank is called that a way of a changeover valve leads to."""
    return place.label(tank_behind(place.rig.layout, f"{part}.{way}"))


def _tanks(place: Workplace, part: str) -> dict[str, str]:
    return {way: tank_of(place, part, way) for way in _WAYS}


def _look_changeover(place: Workplace, part: str) -> list[Noticed]:
    ways = ways_open(place, part)
    if not ways:
        return [see(part, "changeover_shut")]
    if len(ways) > 1:
        return [see(part, "changeover_both")]
    return [see(part, "changeover_at", tank=tank_of(place, part, ways[0]))]


def _change_to(*open_ways: str) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        for way in _WAYS:
            place.rig.set_open(f"{part}.{way}", 1.0 if way in open_ways else 0.0)
        return _look_changeover(place, part)

    return do


FAMILIES = (
    Family(
        ("shut_off_valve",),
        (
            Action("look", "look at the handle", 10.0, _look),
            Action("open", "open the shut-off", 5.0, _turn(1.0, "handle_turned_open")),
            Action("shut", "shut the shut-off", 5.0, _turn(0.0, "handle_turned_shut")),
        ),
    ),
    Family(
        ("changeover_valve",),
        (
            Action("look", "look at the handle", 10.0, _look_changeover),
            Action("to_a", "turn it to the {a}", 5.0, _change_to("a"), names=_tanks),
            Action("to_b", "turn it to the {b}", 5.0, _change_to("b"), names=_tanks),
            Action("to_both", "turn it to both tanks", 5.0, _change_to("a", "b")),
            Action("to_none", "turn it to shut", 5.0, _change_to()),
        ),
    ),
)
