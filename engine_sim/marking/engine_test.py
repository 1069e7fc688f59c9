"""The engine test after hand-in: start, run at idle and at cruise, stop, stand, start again, and look things over."""

from __future__ import annotations

from dataclasses import dataclass

from engine_sim.attempt import Attempt
from engine_sim.marking.replaying import Saying, is_running, saying
from engine_sim.marking.scheme import EngineTest
from engine_sim.units import MINUTE_S

STEADY_SHARE = 0.95


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
    """All the stages that were reached, and what the look-over at the end showed."""

    stages: tuple[Stage, ...]
    found: tuple[Saying, ...]

    def passed(self, name: str) -> bool:
        """Say whether every stage of that name was reached and passed."""
        named = [stage for stage in self.stages if stage.name == name]
        return bool(named) and all(stage.passed for stage in named)


def speed_rpm(attempt: Attempt) -> float:
    """Return the engine speed that the rev counter shows [rpm]."""
    shown = attempt.outside()["speed_rpm"]
    return float(shown) if isinstance(shown, int | float) else 0.0


def start_engine(attempt: Attempt, tries: int, name: str) -> Stage:
    """Try to start: ten seconds a try, rests between."""
    for number in range(tries):
        if is_running(attempt):
            break
        if number:
            attempt.act("starter", "rest")
        attempt.act("starter", "crank_10")
    return Stage(name, is_running(attempt), attempt.clock_s, speed_rpm(attempt))


def run_engine(attempt: Attempt, name: str, load: str, minutes: float) -> list[Stage]:
    """Run for whole minutes at ``idle`` or ``cruise``, by fives and then ones, until the engine dies."""
    stages: list[Stage] = []
    started_s, left = attempt.clock_s, round(minutes)
    while left > 0 and is_running(attempt):
        step = 5 if left >= 5 else 1
        attempt.act("engine", f"run_{load}_{step}min")
        left -= step
        ran = (attempt.clock_s - started_s) / MINUTE_S
        stages.append(Stage(name, is_running(attempt), attempt.clock_s, speed_rpm(attempt), ran))
    return stages


def look_over(attempt: Attempt) -> tuple[Saying, ...]:
    """Look the fuel side over with the engine stopped, as an instructor does, and return what was noticed."""
    if is_running(attempt):
        attempt.act("engine", "stop")
    looks = [
        ("stop_control", "look"),
        ("shut_off", "look"),
        ("separator", "look"),
        ("separator_joint", "wipe_and_try"),
        ("pump_joint", "wipe_and_try"),
        ("fine_filter", "open_screw"),
        ("lift_pump", "lever_10"),
        ("lift_pump", "lever_10"),
        ("fine_filter", "close_screw"),
    ]
    steps = [attempt.act(part, action) for part, action in looks]
    return tuple(saying(one) for step in steps for one in step.observations)


def try_engine(attempt: Attempt, test: EngineTest) -> EngineResult:
    """Put the engine through the test from where the learner left it. The attempt must not be handed in."""
    if attempt.outside()["battery_lamps"] == "dead":
        attempt.act("battery", "connect")
    tries = int(test.start_tries)
    stages = [start_engine(attempt, tries, "starts")]
    if stages[-1].passed:
        stages += run_engine(attempt, "runs", "idle", test.idle_minutes)
    if stages[-1].passed:
        stages += run_engine(attempt, "runs", "cruise", test.cruise_minutes)
    if stages[-1].passed:
        stages += restart_engine(attempt, test, tries)
    return EngineResult(tuple(stages), look_over(attempt))


def restart_engine(attempt: Attempt, test: EngineTest, tries: int) -> list[Stage]:
    """Stop, let the boat stand, start again and run at idle."""
    attempt.act("engine", "stop")
    for _ in range(round(test.standing_minutes / 30)):
        attempt.act("bench", "wait_30min")
    stages = [start_engine(attempt, tries, "restarts")]
    if stages[-1].passed:
        stages += run_engine(attempt, "restarts", "idle", test.restart_idle_minutes)
    return stages
