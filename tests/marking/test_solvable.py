"""Every shipped exercise can be solved by sound work, not by doing nothing, and by bleeding only where air is all."""

from __future__ import annotations

from functools import cache

import pytest
from boats import POOLS, boat, places_of, played_and_marked, scheme_of
from learners import KINDS

from engine_sim.marking import MarkSheet

AIR_ALONE = ("air_in_filter", "air_in_line")
CASES = [
    pytest.param(exercise, fault, part, marks=[] if fault == "stop_control_pulled" else [pytest.mark.slow])
    for exercise in POOLS
    for fault, part in places_of(exercise)
]


@cache
def marked(kind: str, exercise: str, fault: str, part: str) -> MarkSheet:
    """Return the marks of a kind of learner on a shipped boat; played once a session."""
    return played_and_marked(KINDS[kind], boat(fault, part, exercise), scheme_of(exercise))[1]


def cured(sheet: MarkSheet) -> bool:
    """Tell whether the cure was whole."""
    return sheet.marks["cure"].score == sheet.marks["cure"].maximum


@pytest.mark.parametrize(("exercise", "fault", "part"), CASES)
def test_sound_work_solves_it(exercise, fault, part):
    sheet = marked("tank to pump", exercise, fault, part)
    assert cured(sheet) and sheet.passed
    assert {name: mark.score >= 0.9 * mark.maximum for name, mark in sheet.marks.items()} == dict.fromkeys(
        sheet.marks, True
    )


@pytest.mark.parametrize(("exercise", "fault", "part"), CASES)
def test_doing_nothing_does_not(exercise, fault, part):
    sheet = marked("does nothing", exercise, fault, part)
    assert not cured(sheet) and not sheet.passed


@pytest.mark.parametrize(("exercise", "fault", "part"), CASES)
def test_bleeding_alone_cures_only_air(exercise, fault, part):
    assert cured(marked("bleeds only", exercise, fault, part)) == (fault in AIR_ALONE)
