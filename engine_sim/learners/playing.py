"""Lets a simulated learner play a scenario, and marks what it did."""

from __future__ import annotations

from engine_sim.attempt import Attempt, Step
from engine_sim.learners.hands import Learner
from engine_sim.marking import MarkingScheme, MarkSheet
from engine_sim.marking.mark import mark_played
from engine_sim.marking.replaying import Recorder
from engine_sim.scenarios import Scenario


def played_and_marked(
    learner: Learner, scenario: Scenario, scheme: MarkingScheme
) -> tuple[tuple[Step, ...], MarkSheet]:
    """Let a learner play, taken down as it happens, and mark that by the rules alone; return steps and marks."""
    attempt, recorder = Attempt(scenario), Recorder()
    recorder.watch(attempt, None)
    attempt.keep_with(lambda step: recorder.watch(attempt, step))
    learner(attempt)
    steps, said = attempt.steps, attempt.diagnosis
    return steps, mark_played(scenario, recorder, attempt, steps, said, scheme, with_coach=False)
