"""Faults of the lift pump, and the trap that looks like one."""

from __future__ import annotations

from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.faults.fault import Fault, yes_or_no
from engine_sim.faults.skipper import TRY
from engine_sim.sources import FROM_MEMORY, SourcedValue


def _tear(rig: Rig, part: str, tear_m2: float) -> None:
    """Open the chamber to the vent hole: on its suction stroke it takes air, on its delivery stroke it loses fuel."""
    opening = tear_m2 / rig.layout.figures[part]["weep_area_m2"]
    rig.set_open(f"{part}.weep", opening)
    rig.set_open(f"{part}.tear", opening)


TORN_DIAPHRAGM = Fault(
    id="torn_diaphragm",
    kinds=("lift_pump",),
    severity=Parameter("tear_m2", SourcedValue(1e-6, "m2", FROM_MEMORY), 1e-8, 1e-5, "open area of the tear"),
    apply=_tear,
    lead_ups=(TRY,),
    holds=("diaphragm of {part}",),
)


def _let_valve_leak(rig: Rig, part: str, leak_share: float) -> None:
    rig.set_number(part, "valve_leak", leak_share)


LEAKING_VALVE = Fault(
    id="leaking_valve",
    kinds=("lift_pump", "electric_pump"),
    severity=Parameter(
        "leak_share", SourcedValue(0.95, "1", FROM_MEMORY), 0.0, 1.0, "how far the valve stands open, 1 for wholly"
    ),
    apply=_let_valve_leak,
    lead_ups=(TRY,),
    holds=("valves of {part}",),
)


def _stop_on_lobe(rig: Rig, _part: str, _lift_share: float) -> None:
    rig.engine.cam_on_lobe = True


CAM_ON_LOBE = Fault(
    id="cam_on_lobe",
    kinds=("lift_pump",),
    severity=yes_or_no("lift_share", "cam at the top of its lobe"),
    apply=_stop_on_lobe,
    lead_ups=(),
    holds=("cam of {part}",),
    at_last=True,
)
