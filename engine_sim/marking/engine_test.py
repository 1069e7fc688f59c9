"""The engine test after hand-in: start, run at idle and at cruise, stop, stand, start again, and look things over.

It goes by what the boat has: starter or handle, lever pump or electric one, glow plugs or none. A vacuum gauge of the
instructor's own is at the lift pump's inlet all the while.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from engine_sim.actions.parts import LIFT_PUMPS
from engine_sim.attempt import Attempt
from engine_sim.marking.look_over import as_left, engine_running, engine_stopped
from engine_sim.marking.replaying import is_running
from engine_sim.marking.sayings import Saying, saying
from engine_sim.marking.scheme import EngineTest
from engine_sim.units import MINUTE_S

STEADY_SHARE = 0.95
"""Share of the sound boat's speed that the engine must reach; judgement."""
SAME_SUCTION_KPA = 6.0
"""How far the vacuum gauge may read above the sound boat's [kPa]: three of its marks; judgement."""


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of the test: whether the engine came through it, and at which moment [s] it ended."""

    name: str
    passed: bool
    moment_s: float
    speed_rpm: float = 0.0
    minutes: float = 0.0


@dataclass(frozen=True, slots=True)
class EngineResult:
    """All the stages that were reached, what was found as it was left and afterwards, and the strongest suction."""

    stages: tuple[Stage, ...]
    found: tuple[Saying, ...]
    suction_kpa: float = 0.0

    def passed(self, name: str) -> bool:
        """Say whether every stage of that name was reached and passed."""
        named = [stage for stage in self.stages if stage.name == name]
        return bool(named) and all(stage.passed for stage in named)


class Tester:
    """Puts one attempt through the test; whatever is noticed is kept."""

    def __init__(self, attempt: Attempt, test: EngineTest) -> None:
        self._attempt = attempt
        self._test = test
        self._stages: list[Stage] = []
        self._found: list[Saying] = []
        self._suction_kpa = 0.0

    def first(self, *kinds: str) -> str:
        """Return the first part of these kinds, or an empty text."""
        return self._attempt.place.first(*kinds)

    def act(self, part: str, name: str) -> tuple[Saying, ...]:
        """Do something where the boat has the part, read the vacuum gauge, and return what was noticed."""
        if not part:
            return ()
        seen = [saying(one) for one in self._attempt.act(part, name).observations]
        running = [one for one in seen if one.key == "vacuum_reads"]
        self._suction_kpa = max([self._suction_kpa, *(one.figures[0] for one in running)])
        return tuple(one for one in seen if one.key != "vacuum_reads")

    def look(self, looks: Iterator[tuple[str, str]]) -> None:
        """Do one look after the other and keep what was found."""
        for part, name in looks:
            self._found += self.act(part, name)

    def speed_rpm(self) -> float:
        """Return the engine speed that the rev counter shows [rpm]."""
        shown = self._attempt.outside()["speed_rpm"]
        return float(shown) if isinstance(shown, int | float) else 0.0

    def _turn(self) -> None:
        """Turn the engine once for ten seconds, heated and primed as this boat wants it."""
        self.act(self.first("preheat"), "heat_20")
        if self.first("electric_pump"):
            self.act("engine", "key_on")
            self.act("bench", "wait_1min")
        if self.first("starter"):
            self.act(self.first("starter"), "crank_10")
        else:
            self.act(self.first("hand_start"), "swing_10")

    def start(self, name: str) -> bool:
        """Try to start: ten seconds a try, rests between."""
        for number in range(int(self._test.start_tries)):
            if is_running(self._attempt):
                break
            if number:
                self.act("bench", "wait_1min")
            self._turn()
        return self._ended(name, 0.0)

    def _ended(self, name: str, minutes: float) -> bool:
        running = is_running(self._attempt)
        self._stages.append(Stage(name, running, self._attempt.clock_s, self.speed_rpm(), minutes))
        return running

    def run(self, name: str, load: str, minutes: float) -> bool:
        """Run for whole minutes at ``idle`` or ``cruise``, by fives and then ones, until the engine dies."""
        started_s, left = self._attempt.clock_s, round(minutes)
        while left > 0 and is_running(self._attempt):
            step = 5 if left >= 5 else 1
            self.act("engine", f"run_{load}_{step}min")
            left -= step
            self._ended(name, (self._attempt.clock_s - started_s) / MINUTE_S)
        return is_running(self._attempt)

    def stand(self) -> None:
        """Stop the engine and let the boat stand."""
        self.act("engine", "stop")
        for _ in range(round(self._test.standing_minutes / 30)):
            self.act("bench", "wait_30min")

    def switch_on(self) -> None:
        """Turn an isolator on that the learner had turned off to be safe; one that was off from the first stays off."""
        battery = self.first("battery")
        by_hand = any(step.part == battery and step.action == "isolate" for step in self._attempt.steps)
        if battery and by_hand and self._attempt.outside()["battery_connected"] is False:
            self.act(battery, "connect")

    def whole_test(self) -> EngineResult:
        """Put the engine through everything and look it over."""
        test, place = self._test, self._attempt.place
        self.switch_on()
        self.look(as_left(place))
        self.act(self.first(*LIFT_PUMPS), "fit_gauge")
        ran = self.start("starts") and self.run("runs", "idle", test.idle_minutes)
        if ran and self.run("runs", "cruise", test.cruise_minutes):
            self.look(engine_running(place))
            self.stand()
            if self.start("restarts"):
                self.run("restarts", "idle", test.restart_idle_minutes)
        if is_running(self._attempt):
            self.act("engine", "stop")
        self.look(engine_stopped(place))
        return EngineResult(tuple(self._stages), tuple(self._found), self._suction_kpa)


def try_engine(attempt: Attempt, test: EngineTest) -> EngineResult:
    """Put the engine through the test from where the learner left it. The attempt must not be handed in."""
    return Tester(attempt, test).whole_test()
