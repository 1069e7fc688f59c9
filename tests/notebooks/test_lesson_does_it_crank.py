"""What the lesson "Does it crank, and is it told to stop?" says one notices is what its benches show."""

from __future__ import annotations

import pytest
from lesson_steps import Lesson, does, opened

from engine_sim.attempt import Attempt
from engine_sim.scenarios import SetFault, compose_scenario

pytestmark = pytest.mark.slow

LESSON = Lesson("does_it_crank").text


def test_with_the_isolator_off_the_panel_is_dead_and_a_look_of_five_seconds_says_so() -> None:
    attempt = opened("does_it_crank")
    seen = does(attempt, "battery", "look")
    assert attempt.clock_s == 5
    assert "The panel is dead" in seen
    assert "isolator stands at off" in seen
    assert "12.6 V" in does(attempt, "battery", "volts")
    does(attempt, "battery", "connect")
    seen = does(attempt, "battery", "look")
    assert "lamps burn bright" in seen
    assert "The stop solenoid clicks" in seen
    assert "fires and runs" in does(attempt, "starter", "crank_5")


def test_one_click_is_heat_and_lost_volts_at_the_same_place() -> None:
    attempt = opened("does_it_crank_click")
    assert "lamps burn bright" in does(attempt, "battery", "look")
    assert "12.6 V" in does(attempt, "battery", "volts")
    assert "One click" in does(attempt, "starter", "crank_5")
    assert "no warmer" in does(attempt, "battery", "feel_terminals")
    assert "hot to the hand" in does(attempt, "starter", "feel_terminal")
    assert "1.5 V at the starter" in does(attempt, "starter", "volts")
    lost = does(attempt, "starter", "rest", "drop_test")
    assert "0.0 V are lost at the battery's terminals and 10.2 V along the cable" in lost
    assert "only 1.5 V reach the starter" in LESSON
    assert "10.2 V along the cable" in LESSON


def test_a_cleaned_contact_lets_more_than_9_6_volts_through() -> None:
    attempt = opened("does_it_crank_click")
    does(attempt, "battery", "isolate")
    assert "green and loose" in does(attempt, "starter", "clean_terminal")
    does(attempt, "battery", "connect")
    seen = does(attempt, "starter", "volts")
    assert "10.7 V at the starter" in seen
    assert "fires and runs" in seen
    assert "Now 10.7 V reach the starter" in LESSON


def test_a_flat_battery_shows_the_figures_of_the_question() -> None:
    attempt = Attempt(compose_scenario("metal_bowl", [SetFault("flat_battery", "battery")]))
    assert "lamps are dim" in does(attempt, "battery", "look")
    assert "11.8 V" in does(attempt, "battery", "volts")
    does(attempt, "starter", "crank_5")
    seen = does(attempt, "starter", "volts")
    assert "2.9 V at the starter" in seen
    assert "barely moves" in seen
    assert "0.0 V are lost at the battery's terminals and 0.3 V along" in does(attempt, "starter", "rest", "drop_test")
    does(attempt, "battery", "join_house_battery")
    assert "fires and runs" in does(attempt, "starter", "crank_5")


def test_a_pulled_stop_control_gives_no_smoke_while_the_solenoid_clicks() -> None:
    attempt = opened("does_it_crank_stop")
    seen = does(attempt, "starter", "crank_5")
    assert "briskly" in seen
    assert "No smoke at all" in seen
    assert "clicks" in does(attempt, "stop_solenoid", "listen")
    assert "pulled out; the lever at the injection pump stands at stop" in does(attempt, "stop_control", "look")
    does(attempt, "stop_control", "push_home")
    assert "After 1 s it fires and runs" in does(attempt, "starter", "crank_5")


def test_a_dead_solenoid_has_its_volts_and_does_not_click() -> None:
    attempt = opened("does_it_crank_solenoid")
    seen = does(attempt, "starter", "crank_5")
    assert "briskly" in seen
    assert "No smoke at all" in seen
    assert "pushed home" in does(attempt, "stop_control", "look")
    assert "No click" in does(attempt, "stop_solenoid", "listen")
    assert "on and tight" in does(attempt, "stop_solenoid", "look")
    assert "12.5 V at the solenoid" in does(attempt, "stop_solenoid", "volts")


def test_tied_by_hand_it_runs_on_with_the_key_off_and_the_stop_control_stops_it() -> None:
    attempt = opened("does_it_crank_solenoid")
    does(attempt, "battery", "isolate")
    does(attempt, "stop_solenoid", "hold")
    does(attempt, "battery", "connect")
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    assert "dies" not in does(attempt, "engine", "key_off")
    assert attempt.outside()["engine"] == "running"
    assert "the engine dies" in does(attempt, "stop_control", "pull")


def test_a_silent_solenoid_gets_no_volts_where_its_wire_is_broken() -> None:
    """The question: 0.0 V, no click, bright lamps."""
    attempt = opened("does_it_crank_stop")
    attempt.place.rig.engine.solenoid_wired = False
    assert "bright" in does(attempt, "battery", "look")
    assert "No click" in does(attempt, "stop_solenoid", "listen")
    assert "0.0 V at the solenoid" in does(attempt, "stop_solenoid", "volts")


def cold_and_looked_at() -> Attempt:
    """Do what section 5 asks for."""
    attempt = opened("does_it_crank_cold")
    assert "2 °C" in does(attempt, "bench", "thermometer")
    seen = does(attempt, "starter", "crank_10")
    assert "briskly" in seen
    assert "White smoke, smelling of fuel" in seen
    assert "shows 0 A" in does(attempt, "preheat", "heat_20")
    assert "all cold" in does(attempt, "preheat", "feel_stems")
    return attempt


def test_cold_cylinders_smoke_white_and_the_silencer_fills_unless_the_seacock_is_shut() -> None:
    attempt = cold_and_looked_at()
    does(attempt, "starter", "crank_10", "rest", "crank_10")
    assert "About 1100 ml of sea water" in does(attempt, "exhaust", "drain")
    assert "About 1100 ml of sea water run out" in LESSON
    does(attempt, "exhaust", "shut_seacock")
    does(attempt, "starter", "rest", "crank_10")
    assert "No more than drops" in does(attempt, "exhaust", "drain")
    does(attempt, "battery", "isolate")
    does(attempt, "preheat", "mend")
    does(attempt, "battery", "connect")
    assert "shows 30 A" in does(attempt, "preheat", "heat_20")
    assert "After 1 s it fires and runs" in does(attempt, "starter", "crank_10")
    assert "open the seacock" in does(attempt, "exhaust", "open_seacock")
    assert "in gulps" in does(attempt, "exhaust", "look")


def test_a_sound_engine_left_with_its_seacock_shut_tears_its_impeller() -> None:
    attempt = Attempt(compose_scenario("metal_bowl"))
    does(attempt, "exhaust", "shut_seacock")
    does(attempt, "starter", "crank_5")
    does(attempt, "engine", "run_idle_1min", "run_idle_1min", "stop")
    assert "torn off" in does(attempt, "exhaust", "look_impeller")


def test_after_twelve_turns_the_silencer_sounds_dull() -> None:
    attempt = opened("does_it_crank_cold")
    for _ in range(12):
        does(attempt, "starter", "crank_10", "rest")
    assert "dull and heavy" in does(attempt, "exhaust", "knock")


@pytest.mark.parametrize(
    ("pool", "smoke"),
    [("does_it_crank_stop", "No smoke"), ("does_it_crank_solenoid", "No smoke"), ("does_it_crank_cold", "White smoke")],
)
def test_the_smoke_tells_not_injected_from_not_burning(pool: str, smoke: str) -> None:
    assert smoke in does(opened(pool), "starter", "crank_10")


def test_too_little_air_smokes_black_once_it_works() -> None:
    """The table's third line, which this lesson's benches do not show."""
    attempt = Attempt(compose_scenario("metal_bowl", [SetFault("blocked_intake", "engine")]))
    does(attempt, "starter", "crank_5")
    assert "Black smoke" in does(attempt, "engine", "run_cruise_5min")
