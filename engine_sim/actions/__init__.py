"""What hands can do at each part, and what is noticed by doing it."""

from engine_sim.actions.action import Action, Family
from engine_sim.actions.doing import perform, why_not
from engine_sim.actions.parts import Part, parts_of
from engine_sim.actions.register import action, action_of_kind, actions_of, caution_of, with_caution
from engine_sim.actions.workplace import Workplace

__all__ = [
    "Action",
    "Family",
    "Part",
    "Workplace",
    "action",
    "action_of_kind",
    "actions_of",
    "caution_of",
    "parts_of",
    "perform",
    "why_not",
    "with_caution",
]
