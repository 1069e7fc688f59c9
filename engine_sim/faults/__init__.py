"""Faults as physical changes of the rig."""

from engine_sim.faults.air import JOINT_LINKS
from engine_sim.faults.fault import STAND_S, Fault
from engine_sim.faults.register import fault, faults

__all__ = ["JOINT_LINKS", "STAND_S", "Fault", "fault", "faults"]
