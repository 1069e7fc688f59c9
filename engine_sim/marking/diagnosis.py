"""The diagnosis mark: side, part, fault, and whether what is named as evidence shows it; each of several faults."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine_sim.actions import parts_of
from engine_sim.attempt import Diagnosis, Step
from engine_sim.faults import TEMPERATURE, fault
from engine_sim.marking.marksheet import Mark, Reason, make_mark
from engine_sim.marking.scheme import DiagnosisScheme, MarkingScheme
from engine_sim.marking.track import Boat
from engine_sim.scenarios import Scenario
from engine_sim.scenarios.scenario import layout_of
from engine_sim.wording import FAULTS

NONE_GIVEN = "No diagnosis was written down, so there is nothing to mark here."
NOT_FOUND = "One more thing was wrong, and you did not name it: {part}, {fault}."
WHY_SIDE = "Knowing on which side of the lift pump's inlet the trouble lies halves the search."
WHY_PART = "The part is what you put your hands on; a neighbour that is sound costs time and new air."
WHY_FAULT = "What is wrong with it decides what cures it."
WHY_EVIDENCE = "A name without something seen, heard or felt behind it is a guess, and the next boat is another one."
WHY_NONE = "What was wrong, in a few words, is what an engineer, a buyer or the next crew needs to know."
WHY_ALL = "An engine can have two things wrong; the second shows only to the one who goes on looking."


@dataclass(frozen=True, slots=True)
class Truth:
    """One thing that is really wrong: the parts and the fault that may be named, with the words for each."""

    parts: tuple[str, ...]
    fault: str
    part_label: str
    fault_label: str
    side: str


@dataclass(frozen=True, slots=True)
class Given:
    """A diagnosis as it was handed in, with the number and the moment [s] of its step."""

    said: Diagnosis
    step: int = 0
    moment_s: float | None = None


def side_of(boat: Boat, part: str) -> str:
    """Return the half of the circuit a part belongs to: all up to the lift pump's inlet is the tank's."""
    return "tank side" if part in boat.tank_side else "engine side"


def truths_of(scenario: Scenario, boat: Boat) -> tuple[Truth, ...]:
    """Return what is really wrong in a scenario; cold fuel is wrong everywhere, so any part may be named for it."""
    labels = labels_of(scenario)
    found = []
    for wrong in scenario.faults:
        kind = fault(wrong.fault)
        everywhere = TEMPERATURE in kind.settles(wrong.part)
        parts = tuple(boat.kinds) if everywhere else (wrong.part,)
        label, said = labels[wrong.part], kind.diagnosis
        found.append(Truth(parts, said, label, FAULTS[said], side_of(boat, wrong.part)))
    return tuple(found)


def labels_of(scenario: Scenario) -> dict[str, str]:
    """Return what each part of a scenario's boat is called."""
    return {part.id: part.label for part in parts_of(layout_of(scenario.layout).layout)}


def given_in(steps: Sequence[Step], last: Diagnosis | None, count: int) -> tuple[Given, ...]:
    """Return the diagnoses that count: the last ``count`` that differ in part or fault, oldest first.

    ``last`` is the attempt's own last diagnosis, for steps that hold none.
    """
    given = [Given(one.diagnosis, one.number, one.clock_s) for one in steps if one.diagnosis is not None]
    if last is not None and (not given or given[-1].said != last):
        given.append(Given(last))
    found: dict[tuple[str, str], Given] = {}
    for one in reversed(given):
        found.setdefault((one.said.part, one.said.fault), one)
    return tuple(reversed(list(found.values())[:count]))


def evidence_share(named: Sequence[int], telling: frozenset[int], points: DiagnosisScheme) -> float:
    """Return how much of the evidence points is earned [0..1]: all when enough of the things named show the fault."""
    chosen = set(named)
    shown = len(chosen & telling)
    if not shown:
        return 0.0
    return 1.0 if shown / len(chosen) >= points.least_telling_share else 0.5


def pair_up(truths: Sequence[Truth], given: Sequence[Given], boat: Boat) -> list[Given | None]:
    """Return for each thing wrong the diagnosis that comes nearest to it, none used twice."""
    ranks = [
        (_nearness(truth, one.said, boat), -which, -index)
        for which, truth in enumerate(truths)
        for index, one in enumerate(given)
    ]
    chosen: dict[int, int] = {}
    for _, which, index in sorted(ranks, reverse=True):
        if -which not in chosen and -index not in chosen.values():
            chosen[-which] = -index
    return [given[chosen[which]] if which in chosen else None for which in range(len(truths))]


def _nearness(truth: Truth, said: Diagnosis, boat: Boat) -> int:
    part = said.part in truth.parts
    return 4 * (part and said.fault == truth.fault) + 2 * part + (part or side_of(boat, said.part) == truth.side)


@dataclass(frozen=True, slots=True)
class _Judged:
    """What one diagnosis earned for one thing that was wrong."""

    score: float
    reasons: tuple[Reason, ...]


def _right_or_not(right: bool, well: str, ill: str, points: float, why: str, given: Given) -> Reason:
    return Reason(well if right else ill, given.moment_s, right, points, "" if right else why, given.step)


def _evidence_reason(share: float, part: bool, given: Given, points: float) -> Reason:
    if not given.said.evidence:
        text = "You named nothing that you had noticed as evidence."
    elif not part:
        text = "Evidence counts only behind the right part."
    elif share >= 1.0:
        return Reason("What you named as evidence does show it.", given.moment_s, True, points, "", given.step)
    elif share > 0.0:
        text = "Some of what you named shows it, but most would have been the same on a sound boat."
    else:
        text = "Nothing of what you named shows it: on a sound boat it would have been the same."
    return Reason(text, given.moment_s, False, points * (1.0 - share), WHY_EVIDENCE, given.step)


def _judge(given: Given, truth: Truth, telling: frozenset[int], boat: Boat, points: DiagnosisScheme) -> _Judged:
    """Judge one diagnosis against one thing that was wrong, in points of the whole mark."""
    part = given.said.part in truth.parts
    side = part or side_of(boat, given.said.part) == truth.side
    right = part and given.said.fault == truth.fault
    share = evidence_share(given.said.evidence, telling, points) if part else 0.0
    where = f"The trouble was on the {truth.side}"
    reasons = (
        _right_or_not(
            side,
            f"{where}, as is the part you named.",
            f"{where}; your part is on the other.",
            points.side,
            WHY_SIDE,
            given,
        ),
        _right_or_not(
            part,
            f"You named the right part: {truth.part_label}.",
            f"The part was: {truth.part_label}.",
            points.part,
            WHY_PART,
            given,
        ),
        _right_or_not(
            right,
            f"And what was wrong: {truth.fault_label}.",
            f"What was wrong: {truth.fault_label}.",
            points.fault,
            WHY_FAULT,
            given,
        ),
        _evidence_reason(share, part, given, points.evidence),
    )
    score = points.side * side + points.part * part + points.fault * right + points.evidence * share
    return _Judged(score, reasons)


def _shared(judged: _Judged, share: float) -> tuple[Reason, ...]:
    return tuple(
        Reason(one.text, one.moment_s, one.good, one.points * share, one.why, one.step) for one in judged.reasons
    )


def mark_diagnosis(
    given: Sequence[Given],
    truths: Sequence[Truth],
    telling: Sequence[frozenset[int]],
    boat: Boat,
    scheme: MarkingScheme,
) -> Mark:
    """Mark what was said to be wrong; evidence counts only behind the right part, each of several faults alike."""
    most = scheme.weights.diagnosis
    if not given:
        return Mark(0.0, most, (Reason(NONE_GIVEN, None, False, most, WHY_NONE),))
    share, score = 1.0 / len(truths), 0.0
    reasons: list[Reason] = []
    for truth, shown, one in zip(truths, telling, pair_up(truths, given, boat), strict=True):
        if one is None:
            text = NOT_FOUND.format(part=truth.part_label, fault=truth.fault_label)
            reasons.append(Reason(text, None, False, most * share, WHY_ALL))
            continue
        judged = _judge(one, truth, shown, boat, scheme.diagnosis)
        score += judged.score * share
        reasons += _shared(judged, share)
    return make_mark(score, most, tuple(reasons))
