"""Simulated learners: they play an attempt by themselves, soundly or not, so that exercises can be tried and shown.

Each works only from what is noticed, or cheats. Nothing on a learner's page imports them.
"""

from engine_sim.learners.kinds import KINDS, MODEL
from engine_sim.learners.playing import played_and_marked

__all__ = ["KINDS", "MODEL", "played_and_marked"]
