"""What is said to an instructor while an exercise is tried out, and what came of it."""

from __future__ import annotations

DONE = "Done."
NOTHING_WRONG = "nothing is wrong"
FIRST_SIGNS = "what shows first: {what}"
BEST_WAY = "the best way: {what}"
LOOK_ALIKES = "what looks the same: {what}"
PLAYS = "a simulated learner ({kind}): {what}"

NOT_FELT = (
    "An engine that nobody has touched comes through its test with this fault, so there is nothing to cure. "
    "Choose it more severe, or choose another fault or boat."
)
NOT_BY_THE_ENGINE = (
    "The engine itself comes through its test with this fault: it starts, runs and starts again. It shows "
    "elsewhere, as below. Say in the story what made the skipper look."
)
NOT_FOR_OWNERS = (
    "No owner mends this on board for good, or it needs no mending ({faults}). Keep it out of what you mark."
)
NOT_CURED = "The model does not cure this as it should. Your learners cannot be expected to."
NOT_PASSED = (
    "The model cures this and does not pass, with {points:g} of {most:g} points. Your learners will not either."
)
BY_NOTHING = "Somebody who does nothing at all has cured this, or passes. Choose it more severe, or another fault."
BY_BLEEDING = "Bleeding alone cures this: who looks for nothing gets home all the same."
SAME_TO_THE_END = (
    "No check of the coach's tells this from: {causes}. A learner can only find out by mending one thing after another."
)
SEVERAL = "Several things are wrong at once. The coach takes them for one cause, which seldom comes to mind first."
PASSES = "Somebody who {kind} passes."
SHOULD_NOT_PASS = ("swaps parts", "cranks flat", "lucky guess", "only looks")
"""Kinds of learners that an exercise should not let pass; who does nothing, or only bleeds, is spoken of apart."""

UNEVEN = (
    "The draws are not equally hard. The model needs {low:.0f} minutes on the boat's clock for “{quick}” "
    "and {high:.0f} for “{slow}”. Draws within a factor of two are fair to everybody."
)
PASSES_ON_SOME = "The model passes on some draws only. It does not on: {failed}."
MINUTES = (
    "You say that it takes about {said} minutes. A learner who reads the page and does what the model does is likely "
    "to need about {needed:.0f}."
)
XRAY = "The inside of the pipes may be looked at, so whoever looks there sees what is wrong."
