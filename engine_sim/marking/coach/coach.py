"""The coach: looks on as somebody works, and knows at each step what may still be wrong and what to check next."""

from __future__ import annotations

import math
from functools import lru_cache

from engine_sim.attempt import Step
from engine_sim.marking.coach.boats import Boats, boats_like
from engine_sim.marking.coach.causes import Cause, causes_of, sound_boat
from engine_sim.marking.coach.checks import (
    ABOUT,
    FIRST,
    BoatCheck,
    Deed,
    is_fuel_side,
    is_further_on,
    is_run,
    opens_something,
)
from engine_sim.marking.coach.fleet import Fleet
from engine_sim.marking.coach.follower import STILL_ACTIONS
from engine_sim.marking.coach.outcomes import AIR_COMES_IN, Signs, alike, answer_of, of_a_turn, signs_of
from engine_sim.marking.coach.search import SOUND, Causes, Check, Search
from engine_sim.scenarios import Scenario

UNSEEN_MINUTES = 15.0
"""What it takes to be sure of a cause that no check tells apart: changing or cleaning a part to see; judgement."""

DEEP_FROM = 10
"""Checks that take long to work out are thought of once no more than so many causes are left."""

RUNS_FROM = 4
"""A run of the engine is thought of as a check once no more than so many causes are left."""

_QUICK_BEGINS = STILL_ACTIONS | {"crank_5", "swing_10"}
_QUICK_FLOW = ("fine_filter", "open_screw")
_STARTS = frozenset({"fires"})
_DIED_BEFORE = "dies_meanwhile"
_STOPS = frozenset({"dies", _DIED_BEFORE, "stopped", "stopped_by_key", "engine_stands"})


class Coach:
    """Follows one attempt; :meth:`see` is told each step, the rest says what can be known by then."""

    def __init__(self, scenario: Scenario) -> None:
        """Start at a boat that nobody has touched."""
        self.causes: tuple[Cause, ...] = causes_of(scenario)
        self.boats: Boats = boats_like(sound_boat(scenario))
        self.alive: Causes = frozenset(range(len(self.causes)))
        self._done: list[Deed] = []
        self._fleet = Fleet(self.boats)
        self._running = False
        self._stroke: tuple[str, Signs] | None = None

    # ---- what can be known ------------------------------------------------------------------------------------------

    @property
    def is_known(self) -> bool:
        """Tell whether all that is still possible would be said in the same words."""
        return len({self.causes[number].said for number in self.alive}) == 1

    def search(self) -> Search:
        """Return the search among what is still possible, with the checks that are thought of now."""
        if len(self.alive) > DEEP_FROM:
            return shared_search(self.boats, self.causes)
        return deep_search(self.boats, self.causes, tuple(sorted(self.alive)))

    def best(self) -> BoatCheck | None:
        """Return the check to make next, or None when none that was not made yet tells anything more.

        Before anything is opened, or tried further on, come the looks that the order of work asks for, told or not.
        """
        if self.is_known:
            return self._proof()
        made = {check.name for check in self.boats.checks if all(deed in self._done for deed in check.deeds)}
        best = self.search().best(self.numbers(), made)
        if best is None:
            return None
        check = self.check(best.name)
        further = is_further_on(check, self.boats.kind_of(check.first[0]))
        return self._look_first() or check if further or opens_something(check, STILL_ACTIONS) else check

    def _proof(self) -> BoatCheck | None:
        """Return the cheapest check, not made yet, that shows at its own place the one thing that is left."""
        (*_, number) = sorted(self.alive)
        places = {item.part for item in self.causes[number].faults}
        made = {check.name: check for check in self.search().checks}
        showing = [
            check
            for check in self.boats.checks
            if check.first[0] in places and check.first not in self._done and check.name in made
            if SOUND not in made[check.name].answers
        ]
        return min(showing, key=lambda check: (check.minutes, check.name)) if showing else None

    def _look_first(self) -> BoatCheck | None:
        """Return the first look that is still to be made before anything is opened."""
        for kind, name in FIRST:
            for part in self.boats.place.of_kind(kind):
                look = next((one for one in self.boats.checks if one.deeds == ((part.id, name),)), None)
                if look is not None and (part.id, name) not in self._done:
                    return look
        return None

    def is_first_look(self, check: BoatCheck) -> bool:
        """Tell whether a check is one of the looks that are to be made anyway, and was not made yet."""
        part, name = check.first
        return (self.boats.kind_of(part), name) in FIRST and check.first not in self._done

    def check(self, name: str) -> BoatCheck:
        """Return a check of this boat by its name."""
        return next(check for check in self.boats.checks if check.name == name)

    def numbers(self) -> Causes:
        """Return what is still possible, by the numbers that :meth:`search` uses."""
        return self.alive if len(self.alive) > DEEP_FROM else frozenset(range(len(self.alive)))

    def left_minutes(self) -> float:
        """Return how long the search is still expected to take [min]."""
        return self.search().left_minutes(self.numbers())

    def imagine(self, check: BoatCheck) -> bool:
        """Take in a check's answer as this boat would give it untouched; return whether it showed something."""
        made = next((one for one in self.search().checks if one.name == check.name), None)
        self._done += check.deeds
        if made is None:
            return False
        at, few = self.numbers(), sorted(self.alive)
        truth = next(number for number in few if self.causes[number].is_truth)
        answer = made.answers[truth if at == self.alive else few.index(truth)]
        kept = made.groups(at)[answer]
        self.alive = kept if at == self.alive else frozenset(few[one] for one in kept)
        return answer != SOUND

    # ---- what is seen -----------------------------------------------------------------------------------------------

    def see(self, step: Step) -> None:
        """Take in one step: what would have shown something else drops out. The truth never does."""
        if step.kind != "action":
            return
        signs = signs_of(step.observations)
        self._note_engine(step)
        again = self._pumps_on(step, signs)
        deed = (step.part, step.action)
        if not self.is_known and not self._fleet.tired:
            died = _DIED_BEFORE in {one.key for one in step.observations}
            shown = {number: self._shows(number, deed, died) for number in sorted(self.alive)}
            self.alive = frozenset(
                n for n, here in shown.items() if again or here is None or self._fits(n, signs, here)
            )
        self._done.append(deed)
        self._fleet.done(deed, self._running)

    def _shows(self, number: int, deed: Deed, died: bool) -> Signs | None:
        """Return what the boat with a cause in it shows at the next deed.

        None where that cannot be told, and for the truth: neither drops out.
        """
        cause = self.causes[number]
        return None if cause.is_truth else self._fleet.shows(cause.scenario, deed, self._running, died)

    def _fits(self, number: int, signs: Signs, here: Signs) -> bool:
        """Tell whether a cause would have shown what was noticed."""
        faults = self.causes[number].faults
        if self._fleet.only_tried and any(is_fuel_side(self.boats.kind_of(item.part)) for item in faults):
            return alike(of_a_turn(signs), of_a_turn(here))
        return alike(signs, here, any(item.fault in AIR_COMES_IN for item in faults))

    def _pumps_on(self, step: Step, signs: Signs) -> bool:
        """Tell whether the lever is only worked on, every screw shut, and feels as before.

        How many strokes it stays soft is a matter of how much air there is, and no sign of where that came from.
        """
        if step.action not in STILL_ACTIONS:
            last, self._stroke = self._stroke, (step.part, signs) if step.action.startswith("lever_") else None
            return last is not None and last == self._stroke and not any("screw_" in sign.key for sign in signs)
        return False

    def _note_engine(self, step: Step) -> None:
        keys = {one.key for one in step.observations}
        if keys & _STARTS:
            self._running = True
        if keys & _STOPS:
            self._running = False


def _is_quick(check: BoatCheck) -> bool:
    """Tell whether a check is quickly worked out: looks, a turn of the engine, the flow at the fine filter."""
    return check.first == _QUICK_FLOW or all(name in _QUICK_BEGINS for _, name in check.deeds)


def make_check(boats: Boats, check: BoatCheck, causes: tuple[Cause, ...]) -> Check:
    """Return a check with its answer for each cause."""
    sound = boats.shows(boats.sound, check.deeds)
    answers = []
    for cause in causes:
        shown = boats.shows(cause.scenario, check.deeds)
        if check.is_turn:
            answers.append(SOUND if alike(of_a_turn(sound), of_a_turn(shown)) else answer_of(of_a_turn(shown)))
        else:
            answers.append(SOUND if alike(sound, shown) else answer_of(shown))
    return Check(check.name, check.minutes, tuple(answers))


@lru_cache(maxsize=32)
def shared_search(boats: Boats, causes: tuple[Cause, ...]) -> Search:
    """Return the search among all causes with the checks that are quickly worked out."""
    checks = [make_check(boats, check, causes) for check in boats.checks if _is_quick(check)]
    return Search([cause.weight for cause in causes], checks, UNSEEN_MINUTES)


@lru_cache(maxsize=512)
def deep_search(boats: Boats, causes: tuple[Cause, ...], alive: tuple[int, ...]) -> Search:
    """Return the search among few causes with all checks that are about them; it numbers them as in ``alive``."""
    few = tuple(causes[number] for number in alive)
    kinds = {boats.kind_of(item.part) for cause in few for item in cause.faults}
    checks = [
        make_check(boats, check, few)
        for check in boats.checks
        if _is_quick(check)
        or (len(few) <= RUNS_FROM if is_run(check) else kinds & ABOUT.get(boats.kind_of(check.first[0]), kinds))
    ]
    return Search([cause.weight for cause in few], checks, UNSEEN_MINUTES)


def bits(before: float, after: float) -> float:
    """Return how much was told [bit] when what is possible shrank from one weight to another."""
    return math.log2(before / after) if after > 0.0 else 0.0
