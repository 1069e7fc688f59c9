"""A learner's steps as they are played: each moment with what stood before and after it, and what fails by itself."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from engine_sim.attempt import Attempt, Step
from engine_sim.errors import BadScenario
from engine_sim.marking.track import Help, Moment, Track, boat_of
from engine_sim.scenarios import Scenario
from engine_sim.scenarios.scenario import layout_of

REFUSALS = frozenset({"not_possible", "none_left"})
MISHAPS = ("flooded", "rod_bent", "hurt", "overboard_ml", "ashore")
"""What fails by itself: seen at the boat itself, since a learner may not have noticed."""


def is_running(attempt: Attempt) -> bool:
    """Say whether the engine runs now."""
    return attempt.outside()["engine"] == "running"


def mishaps_of(attempt: Attempt) -> dict[str, float]:
    """Return how far each thing that fails by itself has come: 0 for not at all."""
    engine, seen = attempt.place.rig.engine, attempt.outside()
    return {
        "flooded": float(engine.exhaust.cylinders_flooded),
        "rod_bent": float(engine.rod_bent),
        "hurt": float(bool(seen["hurt"])),
        "overboard_ml": attempt.place.overboard_ml(),
        "ashore": float(attempt.place.ashore),
    }


@dataclass(frozen=True, slots=True)
class Mishap:
    """Something that fails by itself: what, at which step, when [s], and how much of it (mL overboard)."""

    name: str
    step: int
    moment_s: float
    amount: float


@dataclass(slots=True)
class Recorder:
    """Watches an attempt as it is played and keeps its moments: its :meth:`watch` goes into a replay."""

    moments: list[Moment] = field(default_factory=list)
    mishaps: list[Mishap] = field(default_factory=list)
    handed_in: bool = False
    helps: list[Help] = field(default_factory=list)
    _seen: Mapping[str, object] = field(default_factory=dict)
    _ill: Mapping[str, float] = field(default_factory=dict)
    _clock_s: float = 0.0

    def watch(self, attempt: Attempt, step: Step | None) -> None:
        """Take down how things stand (no step), or one step that has just been played on ``attempt``."""
        if step is None:
            self._seen, self._clock_s, self._ill = attempt.outside(), attempt.clock_s, mishaps_of(attempt)
            return
        self.handed_in = self.handed_in or step.kind == "hand_in"
        if step.kind == "help":
            self.helps.append(Help(step.number, attempt.clock_s, step.action))
        if step.kind == "action":
            self._take_down(attempt, step)

    def _take_down(self, attempt: Attempt, step: Step) -> None:
        before, after, start_s, end_s = self._seen, attempt.outside(), self._clock_s, attempt.clock_s
        refused = any(one.key in REFUSALS for one in step.observations)
        kind, seen = attempt.place.part(step.part).kind, step.observations
        self.moments.append(
            Moment(step.number, step.part, kind, step.action, start_s, end_s, before, after, seen, refused)
        )
        self._take_down_mishaps(attempt, step)
        self._seen, self._clock_s = after, end_s

    def _take_down_mishaps(self, attempt: Attempt, step: Step) -> None:
        now = mishaps_of(attempt)
        for name in MISHAPS:
            if now[name] > self._ill[name] and not any(one.name == name for one in self.mishaps):
                self.mishaps.append(Mishap(name, step.number, attempt.clock_s, now[name]))
        self._ill = now

    def track(self, scenario: Scenario) -> Track:
        """Return the work so far as a track on the scenario's boat."""
        boat = boat_of(layout_of(scenario.layout).layout)
        return Track(tuple(self.moments), self.handed_in, False, boat, helps=tuple(self.helps))


def play_steps(scenario: Scenario, steps: Sequence[Step]) -> tuple[Recorder, Attempt]:
    """Play the actions of ``steps`` on a fresh boat; return what was taken down and the attempt, not handed in.

    Raises UnknownName for a step that names what this boat does not have.
    """
    attempt, recorder = Attempt(scenario), Recorder()
    recorder.watch(attempt, None)
    for step in steps:
        if step.kind == "action":
            played = attempt.act(step.part, step.action)
            recorder.watch(attempt, replace(step, observations=played.observations))
        else:
            recorder.watch(attempt, step)
    return recorder, attempt


def track_of(scenario: Scenario, steps: Sequence[Step]) -> Track:
    """Return the track of an attempt's steps on a scenario, without what tells (that is marking's to say).

    Raises UnknownName for a step that names what this boat does not have.
    """
    return play_steps(scenario, steps)[0].track(scenario)


def healthy_boat(scenario: Scenario) -> Scenario:
    """Return the same boat with nothing wrong; it is the same for every ticket."""
    return replace(scenario, exercise="own", version=1, title="", story="", faults=(), ticket="")


def refuse_nothing_wrong(scenario: Scenario) -> None:
    """Raise BadScenario for a scenario with nothing wrong: there is nothing in it to be marked."""
    if not scenario.faults:
        raise BadScenario(f"{scenario.exercise!r} has nothing wrong in it to be marked. Name a graded exercise.")
