"""Faults at the tank: nothing in it, or nothing let out of it."""

from __future__ import annotations

from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.faults.fault import Fault, run_until_it_dies
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue

_LAST_FUEL = SourcedValue(
    -0.004, "1", FROM_MEMORY, "fuel above the pick-up's mouth when the last run begins, share of the tank"
).value


def _shut(rig: Rig, part: str, opening: float) -> None:
    rig.set_open(part, opening)


SHUT_VALVE = Fault(
    id="shut_valve",
    parts=("shut_off",),
    severity=Parameter("opening", SourcedValue(0.0, "1", COMMON_PRACTICE), 0.0, 0.01, "how far it is still open"),
    apply=_shut,
    lead_up=run_until_it_dies,
)


def _empty(rig: Rig, part: str, gauge_share: float) -> None:
    figures = rig.layout.figures[part]
    pick_up = (figures["pick_up_clearance_m"] + figures["pick_up_opening_m"]) / figures["height_m"]
    rig.circuit.fill(part, pick_up + _LAST_FUEL)
    rig.gauge_stuck_at = gauge_share


EMPTY_TANK = Fault(
    id="empty_tank",
    parts=("tank",),
    severity=Parameter("gauge", SourcedValue(0.5, "1", COMMON_PRACTICE), 0.1, 1.0, "where the gauge's needle is stuck"),
    apply=_empty,
    lead_up=run_until_it_dies,
)
