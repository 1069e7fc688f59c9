"""Every action there is, by part. A new action: one entry in its family, its words, and it is offered everywhere."""

from __future__ import annotations

from engine_sim.actions.action import Action
from engine_sim.actions.changing import CHANGES
from engine_sim.actions.fuel_side import DEEDS
from engine_sim.actions.housekeeping import AROUND
from engine_sim.actions.looking import LOOKS
from engine_sim.actions.starting import RUNNING
from engine_sim.errors import UnknownName
from engine_sim.wording import PARTS

_ACTIONS: dict[str, dict[str, Action]] = {
    part: {item.id: item for owner, item in (*LOOKS, *AROUND, *DEEDS, *CHANGES, *RUNNING) if owner == part}
    for part in PARTS
}


def part_ids() -> tuple[str, ...]:
    """Return every part in flow order."""
    return tuple(_ACTIONS)


def actions_of(part: str) -> tuple[Action, ...]:
    """Return what can be done at a part, looking first; raise UnknownName if there is no such part."""
    if part not in _ACTIONS:
        raise UnknownName("part", part, _ACTIONS)
    return tuple(_ACTIONS[part].values())


def action(part: str, name: str) -> Action:
    """Return one action; raise UnknownName with the nearest name if the part has none of that name."""
    if part not in _ACTIONS:
        raise UnknownName("part", part, _ACTIONS)
    if name not in _ACTIONS[part]:
        raise UnknownName(f"action at the {PARTS[part][0]}", name, _ACTIONS[part])
    return _ACTIONS[part][name]
