"""Scenarios: the plan of an exercise, drawn for a ticket or composed by an instructor."""

from engine_sim.scenarios.composing import compose_scenario
from engine_sim.scenarios.own_pools import also_from, also_sealed_in
from engine_sim.scenarios.pool_text import choices_of, write_pool_text
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
    "also_from",
    "also_sealed_in",
    "check_ticket",
    "choices_of",
    "compose_scenario",
    "draw_scenario",
    "exercises",
    "graded_exercises",
    "new_ticket",
    "pool",
    "read_pool",
    "write_pool_text",
]
