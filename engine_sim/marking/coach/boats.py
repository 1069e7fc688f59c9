"""Boats as the learner finds them, one for each thing that may be wrong, and what each check would show on them.

What has been worked out once is kept for as long as the process lives: a class marks many hand-ins of few boats.
"""

from __future__ import annotations

from functools import lru_cache

from engine_sim.actions import Workplace
from engine_sim.marking.coach.checks import BoatCheck, Deed, checks_of
from engine_sim.marking.coach.follower import STILL_ACTIONS, Follower
from engine_sim.marking.coach.outcomes import Signs
from engine_sim.scenarios import Scenario, SetFault

_KEPT_WATERS = 12

Faults = tuple[SetFault, ...]
Deeds = tuple[Deed, ...]
WorkedOut = tuple[dict[tuple[Faults, Deeds], Follower], dict[tuple[Faults, Deeds, Deeds], Signs]]
"""The boats by their faults and the first tries on them, and what some deeds showed on them then."""


class Boats:
    """All the boats of one layout in one weather, by the faults in them."""

    def __init__(self, sound: Scenario) -> None:
        self.sound = sound
        self.place = Workplace(sound.prepare())
        self.checks: tuple[BoatCheck, ...] = checks_of(self.place)
        self._after: dict[tuple[Faults, Deeds], Follower] = {}
        self._looked_at: dict[tuple[Faults, Deeds], Follower] = {}
        self._shown: dict[tuple[Faults, Deeds, Deeds], Signs] = {}
        self.has_grown = False

    def worked_out(self) -> WorkedOut:
        """Return all boats as found and after the first tries, and what was tried on them."""
        return self._after, self._shown

    def take_up(self, known: WorkedOut) -> None:
        """Take up what was worked out before, for the same boats by the same program."""
        self._after.update(known[0])
        self._shown.update(known[1])

    def kind_of(self, part: str) -> str:
        """Return the kind of a part."""
        return self.place.part(part).kind

    def after(self, scenario: Scenario, tries: Deeds = ()) -> Follower:
        """Return the boat after some first tries to start, as the learner finds it after none; not to be worked on."""
        boat = self._after.get((scenario.faults, tries))
        if boat is None:
            boat = self._try_on(scenario, tries) if tries else Follower(scenario)
            self._after[scenario.faults, tries] = boat
            self.has_grown = True
        return boat

    def _try_on(self, scenario: Scenario, tries: Deeds) -> Follower:
        boat = self.standing(scenario, tries[:-1])
        self._shown[scenario.faults, tries[:-1], tries[-1:]] = boat.do(*tries[-1])
        return boat

    def standing(self, scenario: Scenario, tries: Deeds = ()) -> Follower:
        """Return the same boat to be worked on, its engine stopped where it had fired."""
        boat = self.after(scenario, tries).copy()
        if boat.running:
            boat.stop()
        return boat

    def tried(self, scenario: Scenario, tries: Deeds) -> Signs:
        """Return what the last of some first tries shows."""
        self.after(scenario, tries)
        return self._shown[scenario.faults, tries[:-1], tries[-1:]]

    def shows(self, scenario: Scenario, deeds: Deeds, tries: Deeds = ()) -> Signs:
        """Return what some deeds would show on the boat after some first tries, after none as it is found."""
        key = (scenario.faults, tries, deeds)
        known = self._shown.get(key)
        if known is None:
            known = self._shown[key] = self._look(scenario, deeds, tries)
            self.has_grown = True
        return known

    def _look(self, scenario: Scenario, deeds: Deeds, tries: Deeds) -> Signs:
        still = all(name in STILL_ACTIONS for _, name in deeds)
        boat = self._to_look_at(scenario, tries) if still else self.standing(scenario, tries)
        return tuple(sign for part, name in deeds for sign in boat.do(part, name))

    def _to_look_at(self, scenario: Scenario, tries: Deeds) -> Follower:
        """Return a boat for looking only: one copy serves for all that moves nothing."""
        boat = self._looked_at.get((scenario.faults, tries))
        if boat is None:
            boat = self._looked_at[scenario.faults, tries] = self.standing(scenario, tries)
        return boat


@lru_cache(maxsize=_KEPT_WATERS)
def boats_like(sound: Scenario) -> Boats:
    """Return the boats like a sound one, kept for as long as the process lives."""
    return Boats(sound)
