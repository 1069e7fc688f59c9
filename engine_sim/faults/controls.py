"""Faults of the controls: an engine that is told to stop, or whose stop solenoid does not let it run."""

from __future__ import annotations

from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.faults.fault import Fault
from engine_sim.faults.skipper import TRY
from engine_sim.sources import COMMON_PRACTICE, SourcedValue


def _pull(rig: Rig, _part: str, _pulled: float) -> None:
    rig.engine.stop_pulled = True


STOP_CONTROL_PULLED = Fault(
    id="stop_control_pulled",
    kinds=("stop_lever",),
    severity=Parameter("pulled", SourcedValue(1.0, "1", COMMON_PRACTICE), 1.0, 1.0, "out all the way"),
    apply=_pull,
    lead_ups=(TRY,),
    holds=("{part}",),
)


def _kill_solenoid(rig: Rig, _part: str, _dead: float) -> None:
    rig.engine.solenoid_ok = False


DEAD_SOLENOID = Fault(
    id="dead_solenoid",
    kinds=("stop_solenoid",),
    severity=Parameter("dead", SourcedValue(1.0, "1", COMMON_PRACTICE), 1.0, 1.0, "its coil is open"),
    apply=_kill_solenoid,
    lead_ups=(TRY,),
    holds=("coil of {part}",),
)
