"""Faults that bring air into the fuel."""

from __future__ import annotations

from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.faults.fault import Fault, run_until_it_dies
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue

JOINT_LINKS = {"separator_joint": "suction_hose.joint", "pump_joint": "pump_hose.joint"}
"""The joints that a learner can reach, and the link that stands for each one's gap."""

_OVERNIGHT_S = SourcedValue(8 * 3600.0, "s", COMMON_PRACTICE, "a night at the berth").value


def _slacken(rig: Rig, part: str, gap_m2: float) -> None:
    hose = JOINT_LINKS[part].split(".")[0]
    rig.set_open(JOINT_LINKS[part], gap_m2 / rig.layout.figures[hose]["joint_gap_m2"])


def _a_night_and_a_try(rig: Rig) -> None:
    rig.play(_OVERNIGHT_S)
    run_until_it_dies(rig)


SLACK_JOINT = Fault(
    id="slack_joint",
    parts=tuple(JOINT_LINKS),
    severity=Parameter("gap_m2", SourcedValue(2e-8, "m2", FROM_MEMORY), 1e-9, 1e-6, "open area of the gap"),
    apply=_slacken,
    lead_up=_a_night_and_a_try,
)


def _fill_with_air(rig: Rig, part: str, air_share: float) -> None:
    rig.circuit.fill(f"{part}.dirty", 1.0 - air_share)
    rig.circuit.fill(f"{part}.clean", 1.0 - air_share)
    rig.circuit.fill("gallery_hose.0", 1.0 - air_share)


AIR_IN_FILTER = Fault(
    id="air_in_filter",
    parts=("fine_filter",),
    severity=Parameter(
        "air_share", SourcedValue(0.9, "1", COMMON_PRACTICE), 0.3, 1.0, "share of the filter without fuel"
    ),
    apply=_fill_with_air,
    lead_up=run_until_it_dies,
)
