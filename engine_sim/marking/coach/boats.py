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
WorkedOut = tuple[dict[Faults, Follower], dict[tuple[Faults, tuple[Deed, ...]], Signs]]
"""The boats as found by their faults, and what some deeds showed on them."""


class Boats:
    """All the boats of one layout in one weather, by the faults in them."""

    def __init__(self, sound: Scenario) -> None:
        self.sound = sound
        self.place = Workplace(sound.prepare())
        self.checks: tuple[BoatCheck, ...] = checks_of(self.place)
        self._as_found: dict[Faults, Follower] = {}
        self._looked_at: dict[Faults, Follower] = {}
        self._shown: dict[tuple[Faults, tuple[Deed, ...]], Signs] = {}
        self.has_grown = False

    def worked_out(self) -> WorkedOut:
        """Return all boats as found, and what was tried on them."""
        return self._as_found, self._shown

    def take_up(self, known: WorkedOut) -> None:
        """Take up what was worked out before, for the same boats by the same program."""
        self._as_found.update(known[0])
        self._shown.update(known[1])

    def kind_of(self, part: str) -> str:
        """Return the kind of a part."""
        return self.place.part(part).kind

    def found(self, scenario: Scenario) -> Follower:
        """Return the boat as the learner finds it, to be worked on."""
        return self._boat(scenario).copy()

    def _boat(self, scenario: Scenario) -> Follower:
        boat = self._as_found.get(scenario.faults)
        if boat is None:
            boat = self._as_found[scenario.faults] = Follower(scenario)
            self.has_grown = True
        return boat

    def shows(self, scenario: Scenario, deeds: tuple[Deed, ...]) -> Signs:
        """Return what some deeds would show on the boat as it is found."""
        key = (scenario.faults, deeds)
        known = self._shown.get(key)
        if known is None:
            known = self._shown[key] = self._try(scenario, deeds)
            self.has_grown = True
        return known

    def _try(self, scenario: Scenario, deeds: tuple[Deed, ...]) -> Signs:
        still = all(name in STILL_ACTIONS for _, name in deeds)
        boat = self._to_look_at(scenario) if still else self.found(scenario)
        return tuple(sign for part, name in deeds for sign in boat.do(part, name))

    def _to_look_at(self, scenario: Scenario) -> Follower:
        """Return a boat for looking only: one copy serves for all that moves nothing."""
        boat = self._looked_at.get(scenario.faults)
        if boat is None:
            boat = self._looked_at[scenario.faults] = self.found(scenario)
        return boat


@lru_cache(maxsize=_KEPT_WATERS)
def boats_like(sound: Scenario) -> Boats:
    """Return the boats like a sound one, kept for as long as the process lives."""
    return Boats(sound)
