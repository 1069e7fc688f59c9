"""Scenarios: the plan of an exercise, drawn for a ticket."""

from engine_sim.scenarios.reader import Draw, Pool, draw_scenario, exercises, pool, read_pool
from engine_sim.scenarios.scenario import Scenario, SetFault
from engine_sim.scenarios.tickets import check_ticket, new_ticket

__all__ = [
    "Draw",
    "Pool",
    "Scenario",
    "SetFault",
    "check_ticket",
    "draw_scenario",
    "exercises",
    "new_ticket",
    "pool",
    "read_pool",
]
