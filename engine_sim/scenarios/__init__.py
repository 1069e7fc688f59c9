"""Scenarios: the plan of an exercise, drawn for a ticket or composed by an instructor."""

from engine_sim.scenarios.composing import compose_scenario
from engine_sim.scenarios.reader import Draw, Pool, draw_scenario, exercises, graded_exercises, pool, read_pool
from engine_sim.scenarios.scenario import HELPS, Scenario, SetFault, Weather
from engine_sim.scenarios.tickets import check_ticket, new_ticket

__all__ = [
    "HELPS",
    "Draw",
    "Pool",
    "Scenario",
    "SetFault",
    "Weather",
    "check_ticket",
    "compose_scenario",
    "draw_scenario",
    "exercises",
    "graded_exercises",
    "new_ticket",
    "pool",
    "read_pool",
]
