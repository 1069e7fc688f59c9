"""Faults of the controls: an engine that is told to stop, or whose stop solenoid does not let it run."""

from __future__ import annotations

from engine_sim.circuit.rig import Rig
from engine_sim.faults.fault import Fault, yes_or_no
from engine_sim.faults.skipper import TRY


def _pull(rig: Rig, _part: str, _pulled: float) -> None:
    rig.engine.stop_pulled = True


STOP_CONTROL_PULLED = Fault(
    id="stop_control_pulled",
    kinds=("stop_lever",),
    severity=yes_or_no("pulled", "out all the way"),
    apply=_pull,
    lead_ups=(TRY,),
    holds=("{part}",),
)


def _kill_solenoid(rig: Rig, _part: str, _dead: float) -> None:
    rig.engine.solenoid_ok = False


DEAD_SOLENOID = Fault(
    id="dead_solenoid",
    kinds=("stop_solenoid",),
    severity=yes_or_no("dead", "its coil is open"),
    apply=_kill_solenoid,
    lead_ups=(TRY,),
    holds=("coil of {part}",),
)
