"""The diagnosis: side, part, fault, and evidence that the same steps on a sound boat would not have given."""

from __future__ import annotations

import pytest
from boats import SCHEME, boat

from engine_sim.attempt import Attempt, Diagnosis
from engine_sim.marking.diagnosis import Truth, mark_diagnosis
from engine_sim.marking.replaying import play_steps, telling_numbers, with_telling

LEAK = Truth("pump_joint", "slack_joint", "lift-pump inlet joint", "slack, lets air in")
TELLING = frozenset({4, 9})


@pytest.mark.parametrize(
    ("given", "points"),
    [
        (Diagnosis("pump_joint", "slack_joint", (4,)), 5.0),
        (Diagnosis("pump_joint", "slack_joint", (4, 9, 1)), 5.0),
        (Diagnosis("pump_joint", "slack_joint", (4, 1, 2, 3)), 4.0),
        (Diagnosis("pump_joint", "slack_joint", (1, 2)), 3.0),
        (Diagnosis("pump_joint", "slack_joint", ()), 3.0),
        (Diagnosis("pump_joint", "slack_joint", (4, 4, 4)), 5.0),
        (Diagnosis("separator_joint", "slack_joint", (4,)), 1.0),
        (Diagnosis("fine_filter", "air_in_filter", (4,)), 0.0),
        (None, 0.0),
    ],
)
def test_points(given, points):
    assert mark_diagnosis(given, LEAK, TELLING, SCHEME).score == points


def test_what_is_missing_is_said():
    mark = mark_diagnosis(Diagnosis("separator_joint", "slack_joint", (4,)), LEAK, TELLING, SCHEME)
    texts = [reason.text for reason in mark.reasons if not reason.good]
    assert "The part was: lift-pump inlet joint." in texts
    assert sum(reason.points for reason in mark.reasons) == SCHEME.weights.diagnosis


def telling_keys(fault: str, part: str, *work: str) -> set[str]:
    """Return the keys of what tells on a boat after the work given."""
    scenario = boat(fault, part)
    attempt = Attempt(scenario)
    for name in work:
        attempt.act(*name.split("."))
    track, _ = play_steps(scenario, attempt.steps)
    numbers = telling_numbers(scenario, track)
    return {one.key for one in attempt.observations if one.number in numbers}


@pytest.mark.parametrize(
    ("fault", "part", "work", "tells"),
    [
        ("empty_tank", "tank", ("tank.dip", "shut_off.look"), {"dip_fuel"}),
        ("shut_valve", "shut_off", ("tank.dip", "shut_off.look"), {"handle_across"}),
        ("slack_joint", "pump_joint", ("separator_joint.wipe_and_try", "pump_joint.wipe_and_try"), {"joint_turns"}),
        ("loaded_element", "separator", ("stop_control.look", "separator.look"), {"bowl_dark"}),
        ("stop_control_pulled", "stop_control", ("stop_control.look", "starter.crank_10"), {"stop_out"}),
        ("air_in_filter", "fine_filter", ("starter.crank_10", "engine.look", "battery.look"), set()),
    ],
)
def test_what_tells_is_found_by_playing_the_sound_boat(fault, part, work, tells):
    assert telling_keys(fault, part, *work) == tells


def test_what_shows_only_after_the_change_was_not_worked_out():
    scenario = boat("loaded_element", "separator")
    attempt = Attempt(scenario)
    for name in ("separator.change_element", "separator.look"):
        attempt.act(*name.split("."))
    track, _ = play_steps(scenario, attempt.steps)
    marked = with_telling(track, telling_numbers(scenario, track), "separator")
    assert not any(moment.tells for moment in marked.moments)
    assert marked.followed
