"""Faults as physical changes of the rig."""

from engine_sim.faults.fault import Fault
from engine_sim.faults.register import fault, faults
from engine_sim.faults.skipper import STAND_S, LeadUp, play_lead_ups
from engine_sim.faults.wrong_fuel import TEMPERATURE

__all__ = ["STAND_S", "TEMPERATURE", "Fault", "LeadUp", "fault", "faults", "play_lead_ups"]
