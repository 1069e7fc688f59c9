"""What a draw would be like, found by playing it: first signs, the best way, all kinds of learners, look-alikes.

Everything is played on copies of the boat; nothing is kept in the class's folder.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from copy import deepcopy
from dataclasses import dataclass, replace

from engine_sim.attempt import Attempt
from engine_sim.bench.own_practice import NOT_FOR_OWNERS
from engine_sim.learners import KINDS, played_and_marked
from engine_sim.marking import MarkingScheme
from engine_sim.marking.coach import Coach, analyse
from engine_sim.marking.coach.checks import opens_something
from engine_sim.marking.coach.coach import make_check, shared_search
from engine_sim.marking.coach.follower import STILL_ACTIONS
from engine_sim.marking.coach.keeping import own_cache_folder
from engine_sim.marking.coach.search import Check
from engine_sim.marking.cure import try_out
from engine_sim.scenarios import Scenario
from engine_sim.units import MINUTE_S

Deed = tuple[str, str]
FIRST_DEEDS: tuple[tuple[tuple[str, ...], str], ...] = (
    (("bench",), "look_around"),
    (("engine",), "key_on"),
    (("starter",), "crank_5"),
    (("hand_start",), "swing_10"),
)
"""Kinds of part, and what is done there before anything is known."""
IDLE = ("engine", "run_idle_1min")
NO_TICKET = "AAAA-AAAA"
"""Stands where a ticket would: who plays here has none."""
BLEEDS, IDLES = "bleeds only", "does nothing"
TIGHTENS = "nip_up"
"""What the one who only bleeds may do all the same, where a joint turns under the hand."""
KIND_WORDS: Mapping[str, str] = {
    "tank to pump": "works from the tank to the pump (the model)",
    "best policy": "makes the check that the coach would make next",
    "hurried": "works in a hurry and leaves a mess",
    "swaps parts": "swaps parts without a look",
    "bleeds only": "bleeds and takes that for the cure",
    "cranks flat": "cranks until the battery is flat",
    "lucky guess": "knows what it is and looks at nothing",
    "only looks": "looks at everything and mends nothing",
    "does nothing": "hands in at once",
}
"""What each kind of simulated learner does."""


@dataclass(frozen=True, slots=True)
class Told:
    """One deed and what was noticed at it, in the sentences that a learner reads."""

    deed: str
    noticed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WayStep:
    """One check on the best way: what it is, its time [min], and why it is made."""

    check: str
    minutes: float
    why: str


@dataclass(frozen=True, slots=True)
class KindResult:
    """How a kind of simulated learner fared: passed or not, cured or not, points, deeds, the boat's clock [min].

    ``bled_only`` says that nothing was mended but by bleeding.
    """

    kind: str
    words: str
    passed: bool
    cured: bool
    points: float
    most_points: float
    deeds: int
    minutes: float
    bled_only: bool = False


@dataclass(frozen=True, slots=True)
class LookAlikes:
    """Other causes, as "part: fault", that show the same before anything is opened, and after every check there is."""

    before_opening: tuple[str, ...]
    after_all: tuple[str, ...]


def first_signs(scenario: Scenario) -> tuple[Told, ...]:
    """Return what a learner notices first: around, the key on, a short turn, and a minute's idling if it fires."""
    attempt = Attempt(scenario)
    found = []
    for kinds, name in FIRST_DEEDS:
        for part in attempt.place.of_kind(*kinds)[:1]:
            if any(offer.action == name and not offer.why_not for offer in attempt.offers(part.id)):
                found.append(tell(attempt, part.id, name))
    if attempt.outside()["engine"] == "running":
        found.append(tell(deepcopy(attempt), *IDLE))
    return tuple(found)


def tell(attempt: Attempt, part: str, name: str) -> Told:
    """Do one thing and return it with what was noticed."""
    label = label_of(attempt, part, name)
    return Told(label, tuple(one.text for one in attempt.act(part, name).observations))


def label_of(attempt: Attempt, part: str, name: str) -> str:
    """Return what a deed is called, with its part."""
    label = next((offer.label for offer in attempt.offers(part) if offer.action == name), name)
    return f"{attempt.place.part(part).label}: {label}"


def best_way(scenario: Scenario) -> tuple[tuple[WayStep, ...], float]:
    """Return the coach's best way on this boat, and what a search costs on average over all that may be wrong [min]."""
    found = analyse(scenario, (), own_cache_folder())
    return tuple(WayStep(one.label, one.minutes, one.why) for one in found.model), found.best_minutes


def play_kind(kind: str, scenario: Scenario, scheme: MarkingScheme) -> KindResult:
    """Let a kind of simulated learner play a draw, and return how it fared."""
    steps, sheet = played_and_marked(KINDS[kind], replace(scenario, ticket=NO_TICKET), scheme)
    return KindResult(
        kind,
        KIND_WORDS.get(kind, kind),
        sheet.passed,
        sheet.cured,
        round(sheet.score, 1),
        sheet.maximum,
        len(steps),
        steps[-1].clock_s / MINUTE_S,
        kind == BLEEDS and not any(step.action == TIGHTENS for step in steps),
    )


def look_alikes(scenario: Scenario) -> LookAlikes:
    """Return what the coach cannot tell from what is wrong."""
    coach = Coach(scenario)
    truth = next((number for number, cause in enumerate(coach.causes) if cause.is_truth), None)
    if truth is None:
        return LookAlikes((), ())
    shared = shared_search(coach.boats, coach.causes)
    closed = [one for one in shared.checks if not opens_something(coach.check(one.name), STILL_ACTIONS)]
    early = _alike(closed, range(len(coach.causes)), truth)
    few = tuple(coach.causes[number] for number in early)
    late, here = list(range(len(few))), early.index(truth)
    for check in coach.boats.checks:
        if len(late) == 1:
            break
        late = _alike([make_check(coach.boats, check, few)], late, here)
    return LookAlikes(_named(coach, early, truth), _named(coach, [early[number] for number in late], truth))


def _named(coach: Coach, numbers: Iterable[int], truth: int) -> tuple[str, ...]:
    """Return causes in words, without those that would be said as the truth is."""
    others = [coach.causes[number] for number in numbers if coach.causes[number].said != coach.causes[truth].said]
    return tuple(sorted({f"{one.part_label}: {one.fault_label}" for one in others}))


def _alike(checks: Iterable[Check], among: Iterable[int], truth: int) -> list[int]:
    """Return which causes answer every check as the truth does."""
    made = list(checks)
    return [number for number in among if all(one.answers[number] == one.answers[truth] for one in made)]


def engine_test(scenario: Scenario, scheme: MarkingScheme) -> tuple[bool, bool]:
    """Return whether a boat that nobody touched comes through the engine's test, and whether nothing is left amiss."""
    one = try_out(Attempt(scenario), scenario, scheme.engine_test)
    return one.through, one.gone


def not_for_owners(scenario: Scenario) -> tuple[str, ...]:
    """Return the faults in a draw that no owner cures on board for good, or that need no cure."""
    return tuple(item.fault for item in scenario.faults if item.fault in NOT_FOR_OWNERS)
