"""A boat on which a learner's steps are done again, with another fault in it than the learner's own."""

from __future__ import annotations

from copy import deepcopy

from engine_sim.actions import Workplace, action, perform
from engine_sim.errors import SolverFailed, UnknownName
from engine_sim.marking.coach.outcomes import Signs, signs_of
from engine_sim.observations import Noticed
from engine_sim.scenarios import Scenario

STILL_ACTIONS = frozenset(
    {
        *("look", "read_gauge", "tap_gauge", "dip", "dip_paste", "look_around", "lay_tray", "put_on_goggles"),
        *("make_fast", "tell_someone", "ventilate", "extinguisher", "count_washers", "thermometer", "try_vent"),
        *("try_screw", "wipe_and_try", "feel_terminals", "feel_terminal", "look_intake", "look_propeller", "dip_oil"),
        *("feel_stems", "card", "isolate", "connect", "knock", "rest", "clean_outside", "read_jar", "fresh_jar"),
    }
)
"""Actions that move nothing in the fuel system: while the engine stands, their time can be played later at once."""


class Follower:
    """A boat with some faults; :meth:`do` does there what the learner did and returns what it would have shown."""

    def __init__(self, scenario: Scenario) -> None:
        self.place = Workplace(scenario.prepare())
        self._waiting_s = 0.0
        self.outlived = False

    @property
    def running(self) -> bool:
        """Tell whether the engine runs."""
        return self.place.rig.engine.running

    def copy(self) -> Follower:
        """Return the same boat again, to try something on it."""
        return deepcopy(self)

    def stop(self) -> None:
        """Stop the engine, as the learner's stands too.

        How soon an engine dies tells no fault from another, and what it would do at the next try nobody can tell then.
        """
        if self.running:
            self.place.rig.stop_engine()
            self.outlived = True

    def do(self, part: str, name: str) -> Signs:
        """Do one action; what cannot be worked out shows nothing."""
        try:
            item = action(self.place, part, name)
        except UnknownName:
            return ()
        if name in STILL_ACTIONS and not self.running:
            self._waiting_s += item.takes_s
            return signs_of(self._noticed_at_once(part, name))
        try:
            self._catch_up()
            return signs_of(perform(self.place, part, item))
        except SolverFailed:
            self.place.hands_off()
            return ()

    def note(self, part: str, name: str) -> None:
        """Do something that moves nothing, and let no time pass."""
        try:
            self._noticed_at_once(part, name)
        except UnknownName:
            return

    def _catch_up(self) -> None:
        waiting, self._waiting_s = self._waiting_s, 0.0
        if waiting > 0.0:
            self.place.wait(waiting)

    def _noticed_at_once(self, part: str, name: str) -> list[Noticed]:
        item = action(self.place, part, name)
        if item.ready(self.place, part) or self.place.stores.missing(item.uses):
            return perform(self.place, part, item)
        self.place.stores.use(item.uses)
        return item.do(self.place, part)
