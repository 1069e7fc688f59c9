"""The coach: what could still be wrong at each step of a learner's work, and which check was worth making next."""

from engine_sim.marking.coach.analysis import Advice, Analysis, Insight, Suspect, advice_for, analyse, suspects_of
from engine_sim.marking.coach.coach import Coach

__all__ = ["Advice", "Analysis", "Coach", "Insight", "Suspect", "advice_for", "analyse", "suspects_of"]
