"""Kinds of learners who play an attempt by themselves. Each works only from what is noticed, or cheats."""

from __future__ import annotations

from engine_sim.learners.best import follow_the_coach
from engine_sim.learners.hands import Learner
from engine_sim.learners.poor import (
    bleed_and_never_look_for_the_leak,
    crank_till_flat,
    do_nothing,
    guess_luckily,
    only_look,
    swap_parts,
    work_in_a_hurry,
)
from engine_sim.learners.sound import work_from_tank_to_pump

KINDS: dict[str, Learner] = {
    "tank to pump": work_from_tank_to_pump,
    "best policy": follow_the_coach,
    "hurried": work_in_a_hurry,
    "swaps parts": swap_parts,
    "bleeds only": bleed_and_never_look_for_the_leak,
    "cranks flat": crank_till_flat,
    "lucky guess": guess_luckily,
    "only looks": only_look,
    "does nothing": do_nothing,
}

MODEL = "tank to pump"
"""The one whose way is shown as the model."""
