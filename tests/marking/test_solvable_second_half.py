"""Every other shipped exercise: solved by sound work, not by doing nothing or bleeding, and its draws even."""

from __future__ import annotations

import pytest
import solving
from boats import POOLS

from engine_sim.classroom.course_plan import exercise_named

CASES = solving.cases(1, 2)


@pytest.mark.parametrize(("exercise", "fault", "part"), CASES)
def test_sound_work_solves_it(exercise, fault, part):
    assert solving.not_solved_by_sound_work(exercise, fault, part) == []


@pytest.mark.parametrize(("exercise", "fault", "part"), CASES)
def test_doing_nothing_does_not(exercise, fault, part):
    assert not solving.solved_by_doing_nothing(exercise, fault, part)


@pytest.mark.parametrize(("exercise", "fault", "part"), CASES)
def test_bleeding_alone_cures_only_air(exercise, fault, part):
    assert solving.solved_by_bleeding(exercise, fault, part) == (fault in solving.AIR_ALONE)


@pytest.mark.slow
@pytest.mark.parametrize("exercise", POOLS[1::2])
def test_its_draws_are_about_as_hard_as_one_another(exercise):
    assert solving.uneven(exercise) == []


@pytest.mark.slow
@pytest.mark.parametrize("exercise", POOLS[1::2])
def test_it_takes_about_the_minutes_that_it_says(exercise):
    assert solving.minutes_of(exercise) == pytest.approx(exercise_named(exercise).minutes, rel=0.25)
