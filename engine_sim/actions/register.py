"""Every action there is, by kind of part. A new action: one entry in its family, its words, and it is offered."""

from __future__ import annotations

from dataclasses import replace

from engine_sim.actions import (
    around,
    can,
    care,
    cranking,
    electrics,
    exhaust,
    fine_filter,
    fuel_tank,
    injectors,
    joints,
    lift_pumps,
    return_line,
    running,
    screws,
    separator,
    stop_solenoid,
    valves,
)
from engine_sim.actions.action import Action
from engine_sim.actions.workplace import Workplace
from engine_sim.errors import UnknownName
from engine_sim.wording import PARTS

_FAMILIES = (
    *fuel_tank.FAMILIES,
    *valves.FAMILIES,
    *joints.FAMILIES,
    *separator.FAMILIES,
    *lift_pumps.FAMILIES,
    *screws.FAMILIES,
    *fine_filter.FAMILIES,
    *injectors.FAMILIES,
    *return_line.FAMILIES,
    *electrics.FAMILIES,
    *stop_solenoid.FAMILIES,
    *cranking.FAMILIES,
    *exhaust.FAMILIES,
    *running.FAMILIES,
    *care.FAMILIES,
    *can.FAMILIES,
    *around.FAMILIES,
)
_ACTIONS: dict[str, dict[str, Action]] = {
    kind: {item.id: item for family in _FAMILIES if kind in family.kinds for item in family.actions} for kind in PARTS
}


def caution_of(kind: str, name: str) -> str:
    """Return the name of the caution that stands beside an action at a kind of part, or an empty text."""
    item = _ACTIONS.get(kind, {}).get(name)
    return item.caution if item is not None else ""


def action_of_kind(kind: str, name: str) -> Action:
    """Return an action as it is at any part of a kind, names in its label left open; raise UnknownName for neither."""
    if kind not in _ACTIONS:
        raise UnknownName("kind of part", kind, _ACTIONS)
    if name not in _ACTIONS[kind]:
        raise UnknownName(f"action at a part of the kind {kind!r}", name, _ACTIONS[kind])
    return _ACTIONS[kind][name]


def with_caution(caution: str) -> tuple[tuple[str, Action], ...]:
    """Return every action beside which a caution stands, each with its kind of part."""
    return tuple((kind, item) for kind, items in _ACTIONS.items() for item in items.values() if item.caution == caution)


def actions_of(place: Workplace, part: str) -> tuple[Action, ...]:
    """Return what can be done at a part, looking first; raise UnknownName if there is no such part."""
    kind = place.part(part).kind
    return tuple(_told(item, place, part) for item in _ACTIONS[kind].values() if item.only(place, part))


def _told(item: Action, place: Workplace, part: str) -> Action:
    return item if item.names is None else replace(item, label=item.label.format(**item.names(place, part)))


def action(place: Workplace, part: str, name: str) -> Action:
    """Return one action; raise UnknownName with the nearest name if the part has none of that name."""
    found = {item.id: item for item in actions_of(place, part)}
    if not isinstance(name, str) or name not in found:
        raise UnknownName(f"action at the {place.label(part)}", str(name), found)
    return found[name]
