"""Faults of the controls: an engine that is told to stop."""

from __future__ import annotations

from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.faults.fault import Fault, run_until_it_dies
from engine_sim.sources import COMMON_PRACTICE, SourcedValue


def _pull(rig: Rig, _part: str, _pulled: float) -> None:
    rig.engine.stop_pulled = True


STOP_CONTROL_PULLED = Fault(
    id="stop_control_pulled",
    parts=("stop_control",),
    severity=Parameter("pulled", SourcedValue(1.0, "1", COMMON_PRACTICE), 1.0, 1.0, "out all the way"),
    apply=_pull,
    lead_up=run_until_it_dies,
)
