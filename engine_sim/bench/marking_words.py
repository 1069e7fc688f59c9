"""The words of the marks that the bench gives at once to who practises."""

from __future__ import annotations

NOT_HERE = "Only practice is marked at the bench. The marks for your work come from your instructor."
TELLS = {
    "thinking": "Step 1 of 3: thinking through all that can go wrong on this boat. The first time on a boat "
    "it can take half a minute.",
    "playing": "Step 2 of 3: going through your work again, and trying the engine as you left it.",
    "writing": "Step 3 of 3: writing down the reasons.",
    "done": "Your attempt is marked.",
    "passed": "You would pass with this.",
    "not_passed": "You would not pass yet with this.",
    "together": "Together",
    "not_marked": "Your work could not be gone through to its end, so it could not be marked here. Your logbook "
    "is kept.",
}
WAITING = "Your marks wait below: press “Mark my attempt”."


def points(score: float, maximum: float) -> str:
    """Return a mark in words [points], such as ``7.5 of 10``."""
    return f"{round(score, 2):g} of {maximum:g}"
