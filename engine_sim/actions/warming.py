"""Warming a filter whose fuel has turned waxy."""

from __future__ import annotations

from engine_sim.actions.action import Action
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, feel
from engine_sim.sources import COMMON_PRACTICE, SourcedValue
from engine_sim.units import MINUTE_S

_WARM_C = SourcedValue(30.0, "degC", COMMON_PRACTICE, "of a filter under cloths wrung out in hot water").value


def _warm(place: Workplace, part: str) -> list[Noticed]:
    place.rig.warm_element(part, _WARM_C)
    return [feel(part, "filter_warmed")]


WARM = Action("warm", "lay cloths wrung out in hot water round it", 10.0 * MINUTE_S, _warm, "hot water, cloths", "hot")
