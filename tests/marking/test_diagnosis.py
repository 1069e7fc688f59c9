"""The diagnosis: side, part, fault, and evidence that the same steps on a sound boat would not have given."""

from __future__ import annotations

import pytest
from deeds import LAYOUTS, SCHEME, boat, costly, marked, played, worked

from engine_sim.attempt import Diagnosis
from engine_sim.marking.diagnosis import Given, Truth, given_in, mark_diagnosis, side_of, truths_of
from engine_sim.marking.replaying import track_of
from engine_sim.marking.telling import telling_of, with_telling
from engine_sim.marking.track import boat_of
from engine_sim.scenarios.scenario import layout_of

BOAT = boat_of(layout_of("tank_below").layout)
LEAK = Truth(("pump_joint",), "slack_joint", "lift-pump inlet joint", "slack, lets air in", "tank side")
SHUT = Truth(("shut_off",), "shut_valve", "shut-off", "shut", "tank side")
TELLING = frozenset({4, 9})


def score_of(given, truths=(LEAK,), telling=(TELLING,)):
    """Return the points for diagnoses given as part, fault and evidence."""
    said = [Given(Diagnosis(*one), 7, 60.0) for one in given]
    return mark_diagnosis(said, truths, telling, BOAT, SCHEME)


@pytest.mark.parametrize(
    ("given", "points"),
    [
        ([("pump_joint", "slack_joint", (4,))], 5.0),
        ([("pump_joint", "slack_joint", (4, 9, 1))], 5.0),
        ([("pump_joint", "slack_joint", (4, 1, 2, 3))], 4.0),
        ([("pump_joint", "slack_joint", (1, 2))], 3.0),
        ([("pump_joint", "slack_joint", ())], 3.0),
        ([("pump_joint", "slack_joint", (4, 4, 4))], 5.0),
        ([("pump_joint", "collapsed_hose", (4,))], 4.0),
        ([("separator_joint", "slack_joint", (4,))], 1.0),
        ([("fine_filter", "air_in_filter", (4,))], 0.0),
        ([], 0.0),
    ],
)
def test_points(given, points):
    assert score_of(given).score == points


def test_what_is_missing_is_said_and_adds_up():
    mark = score_of([("separator_joint", "slack_joint", (4,))])
    assert "The part was: lift-pump inlet joint." in [reason.text for reason in mark.reasons if not reason.good]
    assert sum(reason.points for reason in mark.reasons) == SCHEME.weights.diagnosis
    assert {reason.step for reason in mark.reasons} == {7}


@pytest.mark.parametrize(
    ("given", "points"),
    [
        ([("shut_off", "shut_valve", (2,)), ("pump_joint", "slack_joint", (4,))], 5.0),
        ([("pump_joint", "slack_joint", (4,)), ("shut_off", "shut_valve", (2,))], 5.0),
        ([("pump_joint", "slack_joint", (4,))], 2.5),
        ([("pump_joint", "slack_joint", (4,)), ("battery", "flat_battery", (2,))], 2.5),
        ([("pump_joint", "slack_joint", (4,)), ("tank", "empty_tank", (2,))], 3.0),
        ([("pump_joint", "slack_joint", (2,)), ("shut_off", "shut_valve", (4,))], 3.0),
    ],
)
def test_each_of_two_faults_counts_half_in_whatever_order(given, points):
    assert score_of(given, (LEAK, SHUT), (TELLING, frozenset({2}))).score == points


def test_the_second_thing_wrong_is_named_to_the_one_who_missed_it():
    mark = score_of([("pump_joint", "slack_joint", (4,))], (LEAK, SHUT), (TELLING, frozenset({2})))
    assert any(reason.text.startswith("One more thing was wrong") and reason.points == 2.5 for reason in mark.reasons)


def test_only_as_many_of_the_last_diagnoses_count_as_things_are_wrong():
    attempt = played(boat("tank_below", ("shut_valve", "shut_off")))
    for part, fault in (("shut_off", "shut_valve"), ("tank", "empty_tank"), ("battery", "flat_battery")):
        attempt.diagnose(Diagnosis(part, fault))
    assert [one.said.part for one in given_in(attempt.steps, attempt.diagnosis, 1)] == ["battery"]
    assert [one.said.part for one in given_in(attempt.steps, attempt.diagnosis, 2)] == ["tank", "battery"]
    attempt.diagnose(Diagnosis("tank", "empty_tank"))
    assert [one.said.part for one in given_in(attempt.steps, attempt.diagnosis, 2)] == ["battery", "tank"]


@pytest.mark.parametrize("layout", LAYOUTS)
def test_the_half_of_the_circuit_goes_by_topology(layout):
    made = boat_of(layout_of(layout).layout)
    tank_side = {part for part in made.kinds if side_of(made, part) == "tank side"}
    kinds = {made.kinds[part] for part in tank_side}
    assert kinds <= {"tank", "shut_off_valve", "changeover_valve", "joint", "separator"}
    assert {"tank", "shut_off", "separator", "separator_joint", "pump_joint"} <= tank_side
    assert ("starboard_tank" in tank_side) == (layout == "two_tanks")
    assert side_of(made, "lift_pump") == side_of(made, "fine_filter") == side_of(made, "injector_1") == "engine side"


def telling_keys(layout: str, faults: tuple[tuple[str, str], ...], *work: str) -> list[set[str]]:
    """Return the keys of what tells of each fault of a boat after the work given."""
    scenario = boat(layout, *faults)
    attempt = played(scenario, *work)
    telling = telling_of(scenario, track_of(scenario, attempt.steps))
    return [{one.key for one in attempt.observations if one.number in numbers} for numbers in telling.by_fault]


@pytest.mark.parametrize(
    ("layout", "fault", "part", "work", "tells"),
    [
        ("tank_below", "empty_tank", "tank", ("tank.dip", "shut_off.look"), {"dip_fuel"}),
        ("high_tank", "shut_valve", "shut_off", ("tank.dip", "shut_off.look"), {"handle_across"}),
        ("two_tanks", "wrong_setting", "changeover", ("shut_off.look", "changeover.look"), {"changeover_at"}),
        (
            "electric_pump",
            "slack_joint",
            "pump_joint",
            ("separator_joint.wipe_and_try", "pump_joint.wipe_and_try"),
            {"joint_turns"},
        ),
        ("tank_below", "loaded_element", "separator", ("stop_control.look", "separator.look"), {"bowl_dark"}),
        ("metal_bowl", "stop_control_pulled", "stop_control", ("stop_control.look", "starter.crank_5"), {"stop_out"}),
        (
            "single_cylinder",
            "stop_control_pulled",
            "stop_control",
            ("stop_control.look", "hand_start.swing_10"),
            {"stop_out"},
        ),
        ("tank_below", "flat_battery", "battery", ("battery.look", "stop_control.look"), {"lamps_dim"}),
        ("tank_below", "blocked_intake", "engine", ("engine.look_intake",), {"intake_blocked"}),
        ("tank_below", "air_in_filter", "fine_filter", ("starter.crank_5", "engine.look", "battery.look"), set()),
    ],
)
def test_what_tells_is_found_by_playing_the_sound_boat(layout, fault, part, work, tells):
    assert telling_keys(layout, ((fault, part),), *work) == [tells]


def test_of_two_faults_each_is_told_by_its_own_signs():
    faults = (("shut_valve", "shut_off"), ("stop_control_pulled", "stop_control"))
    assert telling_keys("tank_below", faults, "shut_off.look", "stop_control.look") == [{"handle_across"}, {"stop_out"}]


def test_what_shows_only_after_the_change_was_not_worked_out():
    scenario = boat("tank_below", ("loaded_element", "separator"))
    track = track_of(scenario, played(scenario, "separator.change_element", "separator.look").steps)
    marked_track = with_telling(scenario, track, telling_of(scenario, track))
    assert not any(moment.tells for moment in marked_track.moments)
    assert marked_track.followed


def test_looking_before_changing_tells_and_follows():
    scenario = boat("high_tank", ("loaded_element", "separator"))
    track = track_of(scenario, played(scenario, "separator.look", "separator.change_element").steps)
    marked_track = with_telling(scenario, track, telling_of(scenario, track))
    assert [moment.tells for moment in marked_track.moments] == [True, False]
    assert marked_track.followed


def test_seen_named_and_shown_earns_all_through_the_whole_marking():
    said = (("shut_off", "shut_valve", ("handle_across",)),)
    sheet = worked(boat("metal_bowl", ("shut_valve", "shut_off")), "shut_off.look", said=said)
    assert sheet.marks["diagnosis"].score == SCHEME.weights.diagnosis


def test_a_guess_without_evidence_does_not_earn_all():
    sheet = worked(boat("metal_bowl", ("shut_valve", "shut_off")), said=(("shut_off", "shut_valve", ()),))
    assert sheet.marks["diagnosis"].score == SCHEME.weights.diagnosis - SCHEME.diagnosis.evidence
    assert "named nothing that you had noticed" in costly(sheet, "diagnosis")


def test_cold_fuel_may_be_named_at_any_part():
    scenario = boat("tank_below", ("waxed_fuel", "tank"))
    truth = truths_of(scenario, BOAT)[0]
    assert "fine_filter" in truth.parts and "tank" in truth.parts


def test_no_diagnosis_is_said_to_be_missing():
    sheet = marked(played(boat("tank_below", ("shut_valve", "shut_off")), "shut_off.look"))
    assert sheet.marks["diagnosis"].score == 0.0
    assert "No diagnosis was written down" in costly(sheet, "diagnosis")
