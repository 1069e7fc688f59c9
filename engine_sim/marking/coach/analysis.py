"""What the coach makes of a learner's work: the state of knowledge after each step, and what the search cost.

The learner's expected cost is the best way's plus, for each check that was made, by how much it was dearer than the
best one then open, taken over all that was still possible: luck does not count. No check can waste more than its time.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from engine_sim.actions import action
from engine_sim.attempt import Step
from engine_sim.errors import UnknownName
from engine_sim.marking.coach.boats import Boats
from engine_sim.marking.coach.causes import Cause
from engine_sim.marking.coach.checks import BoatCheck
from engine_sim.marking.coach.coach import Coach, bits, shared_search
from engine_sim.marking.coach.keeping import lay_down, take_up
from engine_sim.scenarios import Scenario
from engine_sim.units import MINUTE_S

_DEAR_FROM_S = 300.0
"""A deed that takes so long, and is no check, costs the search its time before the cause is known; judgement."""


@dataclass(frozen=True, slots=True)
class Suspect:
    """Something still possible: fault and part with their labels, and its share of all that is [0..1]."""

    fault: str
    part: str
    share: float
    part_label: str
    fault_label: str


@dataclass(frozen=True, slots=True)
class Advice:
    """A check: where it begins, what it is, its time [min], what it saves of the search on average [min], and why."""

    part: str
    action: str
    label: str
    minutes: float
    saves_minutes: float
    why: str


@dataclass(frozen=True, slots=True)
class Insight:
    """What can be known after step number ``step`` (0: before anything); ``best`` was the best check before it.

    ``told_bits`` says how much the step told, ``saved_minutes`` by how much it shortened the search, ``took_minutes``
    its own time, ``lost_minutes`` by how much it was dearer than the best check then open.
    """

    step: int
    moment_s: float
    suspects: tuple[Suspect, ...]
    told_bits: float = 0.0
    saved_minutes: float = 0.0
    took_minutes: float = 0.0
    best: Advice | None = None
    lost_minutes: float = 0.0


@dataclass(frozen=True, slots=True)
class Analysis:
    """The whole work: knowledge after each step, and the cost of the search, expected over all that was possible [min].

    ``found_step`` is the step after which only the truth was left, 0 if that never came; ``model`` a good run of checks
    on this very boat.
    """

    insights: tuple[Insight, ...]
    best_minutes: float
    own_minutes: float
    found_step: int
    model: tuple[Advice, ...]

    def efficiency(self) -> float:
        """Return what the best way would have cost as a share of what the learner's did, 0 to 1."""
        return min(1.0, self.best_minutes / self.own_minutes) if self.own_minutes > 0.0 else 1.0


def analyse(scenario: Scenario, steps: Sequence[Step], keep_in: Path | None = None) -> Analysis:
    """Return what the coach makes of an attempt's steps; the work done for one boat serves the next learner too.

    With ``keep_in``, a folder of the user's own, it serves the next program as well.
    """
    coach = Coach(scenario)
    if keep_in is not None and not coach.boats.worked_out()[0]:
        take_up(coach.boats, keep_in)
    insights = [Insight(0, 0.0, suspects_of(coach))]
    found_step, before_s, lost = 0, 0.0, 0.0
    for step in steps:
        if step.kind != "action":
            continue
        insight = _see(coach, step, before_s)
        before_s = step.clock_s
        insights.append(insight)
        lost += insight.lost_minutes
        if coach.is_known and not found_step:
            found_step = step.number
    best, model = _best_minutes(coach.boats, coach.causes), _model(scenario)
    if keep_in is not None:
        lay_down(coach.boats, keep_in)
    return Analysis(tuple(insights), best, best + lost, found_step, model)


def _see(coach: Coach, step: Step, before_s: float) -> Insight:
    """Let the coach take in a step; return what it told and cost."""
    known = coach.is_known
    best = None if known else coach.best()
    advice = None if best is None else advice_for(coach, best)
    lost = 0.0 if known else _lost_minutes(coach, step)
    weight, left = _weight(coach), coach.left_minutes()
    coach.see(step)
    told = bits(weight, _weight(coach))
    saved = max(0.0, left - coach.left_minutes()) if told > 0.0 else 0.0
    took = (step.clock_s - before_s) / MINUTE_S
    return Insight(step.number, step.clock_s, suspects_of(coach), told, saved, took, advice, lost)


def _weight(coach: Coach) -> float:
    return sum(coach.causes[number].weight for number in sorted(coach.alive))


def suspects_of(coach: Coach) -> tuple[Suspect, ...]:
    """Return what is still possible, the likeliest first; what would be said in the same words counts as one."""
    shares: dict[tuple[tuple[str, str], ...], float] = {}
    causes: dict[tuple[tuple[str, str], ...], Cause] = {}
    for number in sorted(coach.alive):
        cause = coach.causes[number]
        shares[cause.said] = shares.get(cause.said, 0.0) + cause.weight
        causes.setdefault(cause.said, cause)
    whole = sum(shares.values())
    found = [
        Suspect(said[0][0], said[0][1], share / whole, causes[said].part_label, causes[said].fault_label)
        for said, share in shares.items()
    ]
    return tuple(sorted(found, key=lambda one: (-one.share, one.part, one.fault)))


def _begins(check: BoatCheck, step: Step) -> bool:
    """Tell whether a step begins a check; a longer turn of the engine counts as the short one."""
    part, name = check.first
    return part == step.part and (name == step.action or (name == "crank_5" and step.action.startswith("crank_")))


def _lost_minutes(coach: Coach, step: Step) -> float:
    """Return by how much a step was dearer than the best check then open [min], as far as its own time.

    The looks that come before anything is opened are to be made anyway: made early, they cost the search nothing.
    """
    search, numbers = coach.search(), coach.numbers()
    best = search.best(numbers)
    if best is None or any(seen.key in ("not_possible", "none_left") for seen in step.observations):
        return 0.0
    begun = [check for check in search.checks if _begins(coach.check(check.name), step)]
    if any(coach.is_first_look(coach.check(check.name)) for check in begun):
        return 0.0
    if begun:
        chosen = min(begun, key=lambda check: (search.cost_of(check, numbers), check.name))
        dearer = search.cost_of(chosen, numbers) - search.cost_of(best, numbers)
        return max(0.0, min(chosen.minutes, dearer))
    if any(_begins(check, step) for check in coach.boats.checks):
        return 0.0
    seconds = _seconds_of(coach.boats, step)
    return seconds / MINUTE_S if step.part != "bench" and seconds >= _DEAR_FROM_S else 0.0


def _seconds_of(boats: Boats, step: Step) -> float:
    try:
        item = action(boats.place, step.part, step.action)
    except UnknownName:
        return 0.0
    return item.takes_s + item.plays_s


def advice_for(coach: Coach, check: BoatCheck) -> Advice:
    """Return a check with what it saves and why."""
    search, numbers = coach.search(), coach.numbers()
    part, name = check.first
    made = next((one for one in search.checks if one.name == check.name), None)
    if made is None or not search.tells(made, numbers):
        return Advice(part, name, check.label, check.minutes, 0.0, "A quick look that comes before anything is opened.")
    groups = made.groups(numbers)
    whole = search.weight(numbers)
    left = sum(search.weight(members) / whole * len(members) for members in groups.values())
    many = len(numbers)
    if many == 1:
        why = "One thing is left, and this shows it."
    elif left < 1.5:
        why = f"Of the {many} things still possible, its answer nearly always leaves one."
    else:
        why = f"Of the {many} things still possible, its answer leaves {left:.0f} on average."
    return Advice(part, name, check.label, check.minutes, search.saves(made, numbers), why)


@lru_cache(maxsize=32)
def _best_minutes(boats: Boats, causes: tuple[Cause, ...]) -> float:
    search = shared_search(boats, causes)
    return search.least_minutes(frozenset(range(len(causes))))


@lru_cache(maxsize=64)
def _model(scenario: Scenario) -> tuple[Advice, ...]:
    """Return the checks of the best way on this very boat, as the coach itself would work."""
    coach = Coach(scenario)
    way: list[Advice] = []
    shown = not any(cause.is_truth for cause in coach.causes)
    while not shown:
        best = coach.best()
        if best is None:
            break
        way.append(advice_for(coach, best))
        shown = coach.imagine(best) and coach.is_known
    return tuple(way)
