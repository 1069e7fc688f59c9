"""The words of the feedback page that come neither from a rule nor from the coach."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from engine_sim.marking.coach import Advice, Insight

LEADS = {
    "safety": "What must come before a spanner, and what must never happen.",
    "method": "How you looked for the fault: cheap checks before dear ones, looking before changing. Any sound order "
    "gets full marks.",
    "diagnosis": "Which part, what is wrong with it, and what you noticed that shows it.",
    "cure": "The engine was tried as you left it, and the cause was looked for once more.",
    "housekeeping": "Everything shut, tight, dry and accounted for, and a note for whoever comes next.",
}
CAUTION = (
    "This was a model to practise on. On a real boat the engine's own manual, the local rules and a qualified marine "
    "engineer come first."
)
GLANCE = "Your work in one page"
WELL, COST, TURNING = "What went well", "What cost you most", "The turning point"
RUNS, POSSIBLE = "Your work and a good run", "What was still possible"
IN_WORDS = "The same in words"
NOTHING_COST = "Nothing cost you anything worth telling."
NOTHING_WELL = "There was nothing yet that could earn praise. Look, try and listen at the engine next time."
NOTHING_TO_MARK = "There was no work on the engine to mark."
ENDS_HERE = (
    "Your logbook ends at {clock} without a hand-in, and is marked up to there. If you did hand in, tell your "
    "instructor."
)
FAILED = "This alone decides the exercise, whatever the points"
RUNS_HELP = (
    "Above, what you did; below, checks that would have found it on this very boat, in a good order. Other good orders "
    "get the same marks."
)
POSSIBLE_HELP = (
    "Before you begin, many things can be wrong. Each thing you notice rules some of them out. The more quickly the "
    "bands fall away, the better the check was. This counts only what your own actions could show."
)
AFTER_CHECKS = (
    "Then put right what was found, and only that. Where fuel has to be opened for it: fresh air, tray, rag, goggles "
    "and gloves first, and bleed where air came in. Run the engine and look for wet; shut, tighten and wipe up what "
    "was opened; write down what it was."
)


THEN, AT_THE_END = "What could be known then", "What could be known at the end of your work"
AS_BEFORE = "It was the same moment as number {number}."
BETTER, BEST_THEN = "Better", "The check that would have told most for its time just then"
NAME_IT = "Name the one thing that all you had noticed left: {part}, {fault}."
AT_THE_CLOSE, ALL_ALONG = "at the end of your work", "all through your work"
TURNED_COST, TURNED_TIME = "Here it cost you most", "Here you lost most time"
TURNED_FAIL = "This decided the exercise"
LEFT_BY_RECKONING = (
    "No check had shown it at its own place. Reckoned back, all that you had noticed, your own air and spills among "
    "it, fits one thing only: {only}."
)
TURNED_FOUND = "After this only one thing was left"
TURNED_TOLD = "Here a check showed for the first time that something was wrong."
ONLY_SEEN = (
    "The picture shows only what you had looked at by then; a question mark stands where you had not. A solid screw or "
    "nut is tight, a hollow one off its seat is open; a solid valve is shut; a drop is wet. Heights are as on board."
)


LEAST_TOLD = 0.05
"""Points from which a cost is told in figures."""


def points_text(points: float) -> str:
    """Return points to a tenth, as people write them: no needless decimals."""
    return "under 0.1" if 0.0 < points < LEAST_TOLD else f"{points:.1f}".removesuffix(".0")


def minutes_text(minutes: float) -> str:
    """Return how long something takes, in minutes, or in seconds below two."""
    return f"{minutes * 60:.0f} s" if minutes < 2 else f"{minutes:.0f} min"


def known_text(insight: Insight, shown: bool = True, most: int = 4) -> str:
    """Return what could be known at a moment: how many things were left, and the likeliest with their shares.

    ``shown`` says that a check had shown something by then; if none had, one thing left is left by reckoning alone.
    """
    if not insight.suspects:
        return "Nothing that this boat can have would have shown what you had seen."
    likeliest = [
        f"{one.part_label}: {one.fault_label} ({one.share * 100:.0f}\N{NO-BREAK SPACE}%)"
        for one in insight.suspects[:most]
    ]
    count = len(insight.suspects)
    if count == 1:
        only = f"{insight.suspects[0].part_label}: {insight.suspects[0].fault_label}"
        return f"Only one thing was left: {only}." if shown else LEFT_BY_RECKONING.format(only=only)
    rest = "" if count <= most else f"; and {count - most} less likely"
    return f"{count} things were still possible: {'; '.join(likeliest)}{rest}."


def advice_text(advice: Advice) -> str:
    """Return the better move in words: what, how long it takes, and why."""
    return f"{advice.label} ({minutes_text(advice.minutes)}). {sentence(advice.why)}".strip()


def sentence(text: str) -> str:
    """Return a text that begins with a capital letter and ends in a full stop; nothing stays nothing."""
    text = text.strip()
    return text if not text else text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")


def listed(items: Sequence[str]) -> str:
    """Return items as people say them: commas, and ``and`` before the last."""
    return " and ".join((", ".join(items[:-1]), items[-1])) if len(items) > 1 else "".join(items)
