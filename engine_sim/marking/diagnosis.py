"""The diagnosis mark: side, part, fault, and whether what is named as evidence shows it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine_sim.attempt import Diagnosis
from engine_sim.marking.marksheet import Mark, Reason, make_mark
from engine_sim.marking.scheme import DiagnosisScheme, MarkingScheme
from engine_sim.marking.signs import TANK_SIDE

NONE_GIVEN = "No diagnosis was written down, so there is nothing to mark here."
WHY_SIDE = "Knowing on which side of the lift pump the trouble lies halves the search."
WHY_EVIDENCE = "A name without something seen, heard or felt behind it is a guess, and the next boat is another one."


@dataclass(frozen=True, slots=True)
class Truth:
    """What is really wrong: the part and the fault, with the words a learner reads for each."""

    part: str
    fault: str
    part_label: str
    fault_label: str


def side_of(part: str) -> str:
    """Return the half of the circuit a part belongs to."""
    return "tank side" if part in TANK_SIDE else "engine side"


def right_or_not(right: bool, well: str, ill: str, points: float, why: str = "") -> Reason:
    """Return the sentence for right or for wrong."""
    return Reason(well, None, True, points) if right else Reason(ill, None, False, points, why)


def evidence_share(named: Sequence[int], telling: frozenset[int], points: DiagnosisScheme) -> float:
    """Return how much of the evidence points is earned [0..1]: all when enough of the things named show the fault."""
    chosen = set(named)
    shown = len(chosen & telling)
    if not shown:
        return 0.0
    return 1.0 if shown / len(chosen) >= points.least_telling_share else 0.5


def evidence_reason(share: float, named: Sequence[int], points: float) -> Reason:
    """Return the sentence on the evidence."""
    if share >= 1.0:
        return Reason("What you named as evidence does show it.", None, True, points)
    if share > 0.0:
        text = "Some of what you named shows it, but most would have been the same on a sound boat."
    elif named:
        text = "Nothing of what you named shows it: on a sound boat it would have been the same."
    else:
        text = "You named nothing that you had noticed as evidence."
    return Reason(text, None, False, points * (1.0 - share), WHY_EVIDENCE)


def mark_diagnosis(given: Diagnosis | None, truth: Truth, telling: frozenset[int], scheme: MarkingScheme) -> Mark:
    """Mark the last diagnosis; evidence counts only behind the right part."""
    most, points = scheme.weights.diagnosis, scheme.diagnosis
    if given is None:
        return Mark(0.0, most, (Reason(NONE_GIVEN, None, False, most),))
    side = side_of(given.part) == side_of(truth.part)
    part = given.part == truth.part
    fault = part and given.fault == truth.fault
    share = evidence_share(given.evidence, telling, points) if part else 0.0
    where = f"The trouble was on the {side_of(truth.part)}"
    reasons = [
        right_or_not(
            side, f"{where}, as you said.", f"{where}; you looked for it on the other.", points.side, WHY_SIDE
        ),
        right_or_not(
            part, f"You named the right part: {truth.part_label}.", f"The part was: {truth.part_label}.", points.part
        ),
        right_or_not(
            fault, f"And what was wrong: {truth.fault_label}.", f"What was wrong: {truth.fault_label}.", points.fault
        ),
    ]
    if part:
        reasons.append(evidence_reason(share, given.evidence, points.evidence))
    else:
        text = "Evidence counts only behind the right part."
        reasons.append(Reason(text, None, False, points.evidence, WHY_EVIDENCE))
    score = points.side * side + points.part * part + points.fault * fault + points.evidence * share
    return make_mark(score, most, tuple(reasons))
