"""Takes the facts of a hand-in from its finished mark sheet; nothing is marked or played again for them."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterable, Sequence

from engine_sim.actions.register import action_of_kind
from engine_sim.attempt import Diagnosis, LogbookReading, Step
from engine_sim.errors import UnknownName
from engine_sim.marking.diagnosis import given_in, labels_of, truths_of
from engine_sim.marking.fact_data import (
    BROKEN,
    KEPT,
    NOT_AT_STAKE,
    CheckFact,
    Conditions,
    DiagnosisFact,
    Facts,
    FailFact,
    FaultFact,
    MarkFact,
    RuleFact,
    SignFact,
    SumFact,
    facts_from,
)
from engine_sim.marking.feedback_deeds import doing_text
from engine_sim.marking.judges import Rule
from engine_sim.marking.marksheet import MarkSheet, Reason
from engine_sim.marking.rules import RULES
from engine_sim.marking.safety import SAFETY_RULES
from engine_sim.marking.signs import CHECKS, RUNS, TURNS, turned_s
from engine_sim.marking.sums import POINTS_EACH, SUMS_EXERCISE, SUMS_VERSION, MarkedSum, SumsSheet
from engine_sim.marking.telling import cures_of
from engine_sim.marking.track import Boat, Moment
from engine_sim.observations import Observation
from engine_sim.scenarios import Scenario
from engine_sim.version import SIMULATOR_VERSION
from engine_sim.wording import FAULTS

__all__ = [
    "BROKEN",
    "KEPT",
    "NOT_AT_STAKE",
    "SAFETY_FAMILY",
    "CheckFact",
    "Conditions",
    "DiagnosisFact",
    "Facts",
    "FailFact",
    "FaultFact",
    "MarkFact",
    "RuleFact",
    "SignFact",
    "SumFact",
    "facts_from",
    "facts_of",
    "sums_facts",
]

SAFETY_FAMILY = "safety"
_ROUTINE = ("preheat.heat_*", *RUNS)
"""Checks by what they show, but made at every start and after every cure: nobody chooses them to find a fault."""
_BLANK = re.compile(r"\{[^}]*\}")


def facts_of(sheet: MarkSheet, done: LogbookReading | Sequence[Step] | None = None) -> Facts:
    """Return the facts of a marked hand-in; ``done`` is its logbook as it was read, or the attempt's steps.

    Only what the sheet says was marked counts: the diagnoses of a logbook up to its last sound line.
    """
    track, scenario, analysis = sheet.track, sheet.scenario, sheet.analysis
    labels = labels_of(scenario)
    rules = _fared(RULES, sheet.marks["method"].reasons)
    checks = [moment for moment in track.among(CHECKS) if not moment.among(_ROUTINE)]
    return Facts(
        exercise=sheet.exercise,
        ticket=scenario.ticket,
        layout=scenario.layout,
        versions=dict(sheet.versions),
        conditions=_conditions(scenario),
        marks=tuple(MarkFact(name, mark.score, mark.maximum) for name, mark in sheet.marks.items()),
        handed_in=sheet.handed_in,
        worked=bool(track.moments),
        truths=tuple(_truths(scenario, track.boat, labels)),
        diagnoses=tuple(_diagnoses(sheet, _steps_in(sheet, done), labels)),
        rules=rules,
        cautions=_fared(SAFETY_RULES, sheet.marks["safety"].reasons, SAFETY_FAMILY),
        first_broken=min((one for one in rules if one.state == BROKEN), key=lambda one: one.step, default=None),
        first_check=_check(checks[0], labels) if checks else None,
        checks=len(checks),
        told_nothing=tuple(_check(moment, labels) for moment in _silent(sheet, checks)),
        by_coach=analysis is not None,
        clock_s=track.moments[-1].end_s if track.moments else 0.0,
        cranked_s=sum(turned_s(moment) for moment in track.among(TURNS)),
        helps=dict(Counter(one.kind for one in track.helps)),
        cured=sheet.cured,
        passed=sheet.passed,
        hard_fails=tuple(_fail(reason) for reason in sheet.hard_fails),
    )


def _silent(sheet: MarkSheet, checks: Sequence[Moment]) -> list[Moment]:
    """Return the checks that told nothing while the fault was still looked for; none where the coach was not asked.

    What shows that all is well where it is looked for tells something too: only the coach can say what told nothing.
    """
    if sheet.analysis is None:
        return []
    over, told = _search_over(sheet), {one.step for one in sheet.analysis.insights if one.told_bits > 0.0}
    return [moment for moment in checks if moment.number < over and not moment.tells and moment.number not in told]


def _search_over(sheet: MarkSheet) -> float:
    """Return the step from which nothing had to be looked for any more: only the truth was left, or all was changed."""
    firsts = [cures_of(sheet.track, wrong.part)[:1] for wrong in sheet.scenario.faults]
    changed = max(first[0] for first in firsts) if firsts and all(firsts) else math.inf
    found = sheet.analysis.found_step if sheet.analysis is not None else 0
    return min(changed, found + 1 if found else math.inf)


def sums_facts(sheet: SumsSheet, ticket: str, passed: bool = False) -> Facts:
    """Return the facts of the sums that a learner with this ticket handed in."""
    return Facts(
        exercise=SUMS_EXERCISE,
        ticket=ticket,
        versions={"simulator_version": SIMULATOR_VERSION, "scenario_version": SUMS_VERSION},
        marks=tuple(MarkFact(one.item.id, one.points, POINTS_EACH) for one in sheet.marked),
        handed_in=not sheet.findings,
        worked=any(one.answered for one in sheet.marked),
        passed=passed,
        sums=tuple(_sum(one) for one in sheet.marked),
    )


def _fared(rules: Sequence[Rule], reasons: Iterable[Reason], family: str = "") -> tuple[RuleFact, ...]:
    """Return how each rule fared by the reasons of its mark, in the order of the rules."""
    found = {reason.about: reason for reason in reasons}
    facts = []
    for rule in rules:
        where = (rule.id, rule.sentence, family or rule.family)
        if rule.id not in found:
            facts.append(RuleFact(*where, NOT_AT_STAKE))
            continue
        reason = found[rule.id]
        facts.append(RuleFact(*where, KEPT if reason.good else BROKEN, reason.points, reason.step, reason.moment_s))
    return tuple(facts)


def _conditions(scenario: Scenario) -> Conditions:
    lies = scenario.weather
    return Conditions(
        lies.temperature_c, lies.seaway, lies.heel_deg, lies.pitch_deg, scenario.help_most, scenario.lee_shore_min
    )


def _truths(scenario: Scenario, boat: Boat, labels: dict[str, str]) -> Iterable[FaultFact]:
    """Yield what is really wrong: the part by its place in the scenario, the fault as it is named in a diagnosis."""
    for wrong, truth in zip(scenario.faults, truths_of(scenario, boat), strict=True):
        yield FaultFact(wrong.part, truth.fault, labels[wrong.part], truth.fault_label)


def _steps_in(sheet: MarkSheet, done: LogbookReading | Sequence[Step] | None) -> Sequence[Step]:
    """Return the diagnoses as steps: those of a logbook only as far as it was marked."""
    if not isinstance(done, LogbookReading):
        return done or ()
    lines = done.records[: max(0, sheet.marked_up_to_line - 1)]
    steps = []
    for line in lines:
        if line["kind"] == "diagnosis":
            said = Diagnosis(str(line["part"]), str(line["fault"]), tuple(line["evidence"]))
            steps.append(Step(line["n"], "diagnosis", "", "", line["clock_s"], (), diagnosis=said))
    return steps


def _diagnoses(sheet: MarkSheet, steps: Sequence[Step], labels: dict[str, str]) -> Iterable[DiagnosisFact]:
    """Yield the diagnoses that counted, each with what was named behind it."""
    truths = truths_of(sheet.scenario, sheet.track.boat)
    noticed = {one.number: (one, moment) for moment in sheet.track.moments for one in moment.observations}
    for given in given_in(steps, None, len(truths)):
        said = given.said
        right = any(said.part in truth.parts and said.fault == truth.fault for truth in truths)
        named = [_sign(*noticed[number], labels) for number in dict.fromkeys(said.evidence) if number in noticed]
        words = (labels.get(said.part, said.part), FAULTS.get(said.fault, said.fault))
        yield DiagnosisFact(said.part, said.fault, *words, right, tuple(named))


def _sign(seen: Observation, moment: Moment, labels: dict[str, str]) -> SignFact:
    return SignFact(seen.part, labels.get(seen.part, seen.part), seen.key, seen.text, moment.tells)


def _check(moment: Moment, labels: dict[str, str]) -> CheckFact:
    try:
        label = action_of_kind(moment.kind, moment.action).label
    except UnknownName:
        label = moment.action
    label = _BLANK.sub("it", label)
    return CheckFact(moment.name, doing_text(labels.get(moment.part, moment.part), label), moment.number, moment.end_s)


def _fail(reason: Reason) -> FailFact:
    return FailFact(reason.about, reason.text, reason.moment_s)


def _sum(marked: MarkedSum) -> SumFact:
    item, slip, right = marked.item, marked.slip, marked.points > 0.0
    text = marked.said[1] if slip >= 0 else ""
    return SumFact(item.id, item.title, item.objective, right, marked.answered, slip, text)
