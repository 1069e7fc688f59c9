"""What the proof of the exercises shares: the kinds of learners on every draw of a graded exercise, played once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import pytest
from boats import POOLS, boat, places_of, scheme_of

from engine_sim.classroom.teaching.preview import UNEVEN_RATIO, learner_minutes
from engine_sim.learners import KINDS, played_and_marked
from engine_sim.marking import MarkSheet
from engine_sim.scenarios import pool
from engine_sim.units import MINUTE_S

AIR_ALONE = ("air_in_filter", "air_in_line")
SOUND, HURRIED, BLEEDS, NOTHING = "tank to pump", "hurried", "bleeds only", "does nothing"


@dataclass(frozen=True)
class Played:
    """What a kind of learner came to on one draw: the marks, and the minutes on the boat's clock."""

    sheet: MarkSheet
    minutes: float
    deeds: int


@cache
def played(kind: str, exercise: str, fault: str, part: str) -> Played:
    """Return what a kind of learner came to on a shipped boat; played once a session."""
    steps, sheet = played_and_marked(KINDS[kind], boat(fault, part, exercise), scheme_of(exercise))
    return Played(sheet, steps[-1].clock_s / MINUTE_S, len(steps))


def cases(which: int, of: int) -> list[object]:
    """Return every draw of every n-th exercise as test cases; all but the quickest are slow ones."""
    return [
        pytest.param(exercise, fault, part, marks=[] if fault == "stop_control_pulled" else [pytest.mark.slow])
        for exercise in POOLS[which::of]
        for fault, part in places_of(exercise)
    ]


def not_solved_by_sound_work(exercise: str, fault: str, part: str) -> list[str]:
    """Return what sound work did not reach: the cure, the pass, nine tenths of every mark."""
    sound = played(SOUND, exercise, fault, part)
    low = [name for name, mark in sound.sheet.marks.items() if mark.score < 0.9 * mark.maximum]
    return [*low, *([] if sound.sheet.cured else ["not cured"]), *([] if sound.sheet.passed else ["not passed"])]


def solved_by_doing_nothing(exercise: str, fault: str, part: str) -> bool:
    """Tell whether doing nothing cures or passes."""
    idle = played(NOTHING, exercise, fault, part)
    return idle.sheet.cured or idle.sheet.passed


def solved_by_bleeding(exercise: str, fault: str, part: str) -> bool:
    """Tell whether who only bleeds cures it."""
    return played(BLEEDS, exercise, fault, part).sheet.cured


def minutes_of(exercise: str) -> float:
    """Return about how long an exercise takes: its page, and the sound worker's deeds on the longest draw."""
    return learner_minutes(pool(exercise), max(played(SOUND, exercise, *place).deeds for place in places_of(exercise)))


MOST_POINTS_APART = 3.0
"""How many points the draws of one exercise may lie apart for the same kind of learner; judgement."""


def uneven(exercise: str) -> list[str]:
    """Return in what the draws of an exercise differ: the sound worker's time, both kinds' points and verdicts."""
    places, found = places_of(exercise), []
    minutes = [played(SOUND, exercise, *place).minutes for place in places]
    if max(minutes) > UNEVEN_RATIO * min(minutes):
        found.append(f"minutes {min(minutes):.0f} to {max(minutes):.0f}")
    for kind in (SOUND, HURRIED):
        results = [played(kind, exercise, *place) for place in places]
        points = [one.sheet.score for one in results]
        if max(points) - min(points) > MOST_POINTS_APART:
            found.append(f"{kind}: {min(points):.1f} to {max(points):.1f} points")
        if len({one.sheet.passed for one in results}) > 1:
            found.append(f"{kind}: passes on some only")
    return found
