"""A scenario: the plan of one exercise, as drawn for one ticket. A learner never sees it whole."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import dataclass
from functools import lru_cache

from engine_sim.circuit.rig import Rig
from engine_sim.components import engine_figures
from engine_sim.faults import STAND_S, fault
from engine_sim.sources import COMMON_PRACTICE, SourcedValue

_YESTERDAY_S = SourcedValue(120.0, "s", COMMON_PRACTICE, "the last run while all was well").value
_CRANK_S = SourcedValue(10.0, "s", COMMON_PRACTICE, "longest single cranking").value


@dataclass(frozen=True, slots=True)
class SetFault:
    """A fault with its place and severity (in the fault's own unit)."""

    fault: str
    part: str
    severity: float


@dataclass(frozen=True, slots=True)
class Scenario:
    """What is played: layout, story, faults, and what the learner is allowed to see."""

    exercise: str
    version: int
    ticket: str
    title: str
    story: str
    layout: str
    permits_xray: bool
    faults: tuple[SetFault, ...]

    def prepare(self) -> Rig:
        """Return the rig as the learner finds it: run while all was well, the fault set, the last tries played."""
        return deepcopy(_prepared(self.layout, self.faults))


@lru_cache(maxsize=8)
def _prepared(layout: str, faults: tuple[SetFault, ...]) -> Rig:
    """Return the rig prepared once; every attempt gets its own copy."""
    rig = Rig(layout)
    rig.crank(_CRANK_S)
    rig.run(_YESTERDAY_S, engine_figures.CRUISE_SPEED_RPM, in_gear=True)
    rig.stop_engine()
    for item in faults:
        fault(item.fault).put_into(rig, item.part, item.severity)
    for item in faults:
        fault(item.fault).lead_up(rig)
    rig.play(STAND_S)
    rig.start_afresh()
    return rig
