"""What hands can do at each part, and what is noticed by doing it."""

from engine_sim.actions.action import Action
from engine_sim.actions.register import action, actions_of, part_ids
from engine_sim.actions.workplace import Workplace

__all__ = ["Action", "Workplace", "action", "actions_of", "part_ids"]
