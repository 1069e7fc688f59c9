"""The work around the engine: looking about, tray and rag, goggles, wiping up."""

from __future__ import annotations

from engine_sim.actions.action import Action
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, see
from engine_sim.wording import OPENINGS, PARTS


def _look_around(place: Workplace, part: str) -> list[Noticed]:
    things = [OPENINGS[thing] for thing in place.open_things()]
    noticed = [see(part, "open_things", things=", ".join(things)) if things else see(part, "all_shut")]
    wet = [PARTS[name][0] for name in place.wet_parts()]
    noticed.append(see(part, "wet_places", things=", ".join(wet)) if wet else see(part, "no_wet_places"))
    if place.spilled_ml() > 0:
        noticed.append(see(part, "spilled", ml=place.spilled_ml()))
    return noticed


def _lay_tray(place: Workplace, part: str) -> list[Noticed]:
    place.rig.tray_laid = True
    return [see(part, "tray_laid")]


def _wipe_up(place: Workplace, part: str) -> list[Noticed]:
    place.rig.wet.clear()
    place.rig.spilled_m3 = 0.0
    return [see(part, "wiped")]


def _put_on_goggles(place: Workplace, part: str) -> list[Noticed]:
    place.goggles_on = True
    return [see(part, "goggles_on")]


AROUND: tuple[tuple[str, Action], ...] = (
    ("bench", Action("look_around", "look around", 30.0, _look_around, "torch")),
    ("bench", Action("lay_tray", "lay tray and rag", 30.0, _lay_tray, "tray, rag")),
    ("bench", Action("put_on_goggles", "put on goggles and gloves", 20.0, _put_on_goggles, "goggles, gloves")),
    ("bench", Action("wipe_up", "wipe up", 120.0, _wipe_up, "rag, absorbent, tin", "waste")),
)
"""Pairs of a part and an action that can be done at it."""
