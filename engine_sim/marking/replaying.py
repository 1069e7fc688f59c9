"""Plays a learner's steps again: once as they were, and once on the same boat with nothing wrong, to see what tells."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine_sim.actions import parts_of
from engine_sim.attempt import Attempt, Step
from engine_sim.errors import BadScenario
from engine_sim.faults import fault
from engine_sim.marking.diagnosis import Truth
from engine_sim.marking.signs import CHECKS, FAULT_CHANGES, LOW_PRESSURE_SCREWS, OPENINGS, RUNS
from engine_sim.marking.track import Moment, Track
from engine_sim.observations import Observation
from engine_sim.scenarios import Scenario
from engine_sim.scenarios.scenario import layout_of
from engine_sim.wording import FAULTS

COMPLAINT_PARTS = frozenset({"battery", "starter", "engine"})
TELLS_NOTHING = frozenset({"spilled", "not_possible", "none_left", "handed_in", "not_worked_out"})
NEAR_SHARE = 0.3
"""How far two figures may lie apart [share of the larger] and still be called the same; judgement."""
_FIGURES = re.compile(r"\d+(?:\.\d+)?")


def is_running(attempt: Attempt) -> bool:
    """Say whether the engine runs now."""
    return attempt.outside()["engine"] == "running"


def play_steps(scenario: Scenario, steps: Sequence[Step]) -> tuple[Track, Attempt]:
    """Play the actions of ``steps`` on a fresh boat; return the track and the attempt, not handed in."""
    attempt = Attempt(scenario)
    moments = []
    seen, clock_s = attempt.outside(), attempt.clock_s
    for step in steps:
        if step.kind != "action":
            continue
        played = attempt.act(step.part, step.action)
        after, end_s = attempt.outside(), attempt.clock_s
        refused = any(is_refusal(one) for one in played.observations)
        moments.append(
            Moment(step.number, step.part, step.action, clock_s, end_s, seen, after, step.observations, refused)
        )
        seen, clock_s = after, end_s
    return Track(tuple(moments), any(step.kind == "hand_in" for step in steps)), attempt


def healthy_boat(scenario: Scenario) -> Scenario:
    """Return the same boat with nothing wrong; it is the same for every ticket."""
    return replace(scenario, faults=(), ticket="")


def is_refusal(observation: Observation) -> bool:
    """Say whether an observation only says that the action could not be done."""
    return observation.key in {"not_possible", "none_left"}


@dataclass(frozen=True, slots=True)
class Saying:
    """What an observation says, its figures apart: two boats never agree to the last drop."""

    part: str
    key: str
    words: str
    figures: tuple[float, ...]

    def agrees_with(self, other: Saying) -> bool:
        """Say whether a person would call both the same: same words, and figures that lie near each other."""
        if (self.part, self.key, self.words) != (other.part, other.key, other.words):
            return False
        pairs = zip(self.figures, other.figures, strict=True)
        return all(abs(own - theirs) <= max(1.0, NEAR_SHARE * max(own, theirs)) for own, theirs in pairs)


def saying(observation: Observation) -> Saying:
    """Return what an observation says."""
    figures = tuple(float(found) for found in _FIGURES.findall(observation.text))
    return Saying(observation.part, observation.key, _FIGURES.sub("#", observation.text), figures)


def telling_numbers(scenario: Scenario, track: Track) -> frozenset[int]:
    """Return the numbers of the observations that would have been different with nothing wrong on the boat.

    The same actions are played on the boat without its fault; where its engine starts and the real one did not, it is
    stopped again, so that the two stay comparable. Whether the engine starts is the complaint itself and is left out.
    """
    twin = Attempt(healthy_boat(scenario))
    telling: set[int] = set()
    for moment in track.moments:
        played = twin.act(moment.part, moment.action)
        if is_running(twin) and moment.after["engine"] != "running":
            twin.act("engine", "stop")
        if moment.refused or moment.part in COMPLAINT_PARTS:
            continue
        sound = [saying(one) for one in played.observations]
        telling.update(one.number for one in moment.observations if tells_of_fault(one, sound))
    return frozenset(telling)


def tells_of_fault(observation: Observation, sound: Sequence[Saying]) -> bool:
    """Say whether nothing that a sound boat showed at the same step says the same."""
    own = saying(observation)
    if observation.key in TELLS_NOTHING or observation.part in COMPLAINT_PARTS:
        return False
    return not any(own.agrees_with(other) for other in sound)


def with_telling(track: Track, telling: frozenset[int], part: str, named: str = "") -> Track:
    """Return the track with each check marked that showed something the healthy boat would not have.

    Only what was found before the faulty ``part`` was changed counts: what shows afterwards was not worked out. The
    work led to the part when the part was worked on, or ``named`` in the diagnosis.
    """
    cures = [moment.number for moment in track.among((*FAULT_CHANGES, "separator.open_drain")) if moment.part == part]
    worked_on = bool(cures) or any(moment.part == part for moment in track.among(LOW_PRESSURE_SCREWS))

    def tells(moment: Moment) -> bool:
        checked = moment.among((*CHECKS, *OPENINGS)) and not moment.among(RUNS)
        in_time = not cures or moment.number < min(cures)
        return checked and in_time and any(one.number in telling for one in moment.observations)

    moments = tuple(replace(moment, tells=tells(moment)) for moment in track.moments)
    return replace(track, moments=moments, followed=worked_on or named == part)


def truth_of(scenario: Scenario) -> Truth:
    """Return what is really wrong in a scenario; raise BadScenario for one with nothing wrong."""
    if not scenario.faults:
        raise BadScenario(f"{scenario.exercise!r} has nothing wrong in it to be marked. Name a graded exercise.")
    wrong = scenario.faults[0]
    labels = {part.id: part.label for part in parts_of(layout_of(scenario.layout).layout)}
    said = fault(wrong.fault).diagnosis
    return Truth(wrong.part, said, labels[wrong.part], FAULTS[said])
