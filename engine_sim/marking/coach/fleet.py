"""The other boats: on each the learner's deeds are done again, for what it would have shown.

How long somebody only looked before the first try to start changes nothing on a boat that stood all night, and is left
out. So the first tries are the same for many learners, and are done once for all of them.
"""

from __future__ import annotations

from engine_sim.marking.coach.boats import Boats, Faults
from engine_sim.marking.coach.checks import Deed
from engine_sim.marking.coach.follower import STILL_ACTIONS, Follower
from engine_sim.marking.coach.outcomes import Signs
from engine_sim.scenarios import Scenario

MOST_FOLLOWED = 150
"""Deeds done on other boats at most; beyond them what is known stays as it is, so that no work is endless."""
MOST_TRIES = 3
"""So many first tries to start are shared between learners: key, glow plugs, a turn."""
_TRIES = ("crank_", "swing_", "heat_", "key_on")


class Fleet:
    """The boats beside one attempt; :meth:`shows` says what one of them shows now, :meth:`done` what was done."""

    def __init__(self, boats: Boats) -> None:
        self._boats = boats
        self._done: list[Deed] = []
        self._tries: tuple[Deed, ...] = ()
        self._shared = True
        self._looked_since = False
        self._ran = False
        self._runs = False
        self._followers: dict[Faults, Follower] = {}
        self._followed = 0

    @property
    def tired(self) -> bool:
        """Tell whether as much has been followed as may be."""
        return self._followed >= MOST_FOLLOWED

    @property
    def only_tried(self) -> bool:
        """Tell whether nothing but looks and first tries to start has been done."""
        return self._shared or not any(self._is_deed(name) for _, name in self._done)

    @staticmethod
    def _is_deed(name: str) -> bool:
        return name not in STILL_ACTIONS and not name.startswith(_TRIES)

    def shows(self, scenario: Scenario, deed: Deed, running: bool, died: bool = False) -> Signs | None:
        """Return what a boat shows at the next deed; None where that cannot be told: one engine runs and one stands.

        ``running`` says whether the learner's engine runs after it, ``died`` that it died before the deed was done.
        """
        if self._shared and deed[1] in STILL_ACTIONS:
            return self._boats.shows(scenario, (deed,), self._tries)
        if self._is_try(deed):
            return self._boats.tried(scenario, (*self._tries, deed))
        boat = self._follow(scenario, running or died)
        if died:
            boat.stop()
        unlike = boat.running != (self._runs and not died)
        shown = boat.do(*deed)
        _keep_in_step(boat, running)
        self._followed += deed[1] not in STILL_ACTIONS
        return None if unlike or (boat.outlived and deed[1].startswith(_TRIES)) else shown

    def done(self, deed: Deed, running: bool) -> None:
        """Take down what the learner did, whether or not anybody asked for it."""
        self._runs = running
        if deed[1] in STILL_ACTIONS:
            self._looked_since = bool(self._tries)
        elif self._is_try(deed):
            self._tries, self._ran, self._shared = (*self._tries, deed), running, not running
        else:
            self._shared = False
        self._done.append(deed)

    def _is_try(self, deed: Deed) -> bool:
        """Tell whether the next deed is one of the first tries to start, straight after the one before it."""
        first = self._shared and not self._looked_since and len(self._tries) < MOST_TRIES
        return first and deed[1].startswith(_TRIES)

    def _follow(self, scenario: Scenario, running: bool) -> Follower:
        """Return the boat that follows, brought up to the last deed but this one."""
        boat = self._followers.get(scenario.faults)
        if boat is None:
            runs_on, tries = self._ran, self._tries
            boat = self._boats.after(scenario, tries).copy() if runs_on else self._boats.standing(scenario, tries)
            self._followers[scenario.faults] = boat
            left = len(self._tries)
            for part, name in self._done:
                if name in STILL_ACTIONS and left:
                    boat.note(part, name)
                elif name in STILL_ACTIONS or not left:
                    boat.do(part, name)
                else:
                    left -= 1
            _keep_in_step(boat, running)
        return boat


def _keep_in_step(boat: Follower, running: bool) -> None:
    """Stop an engine that still runs where the learner's stands."""
    if not running:
        boat.stop()
