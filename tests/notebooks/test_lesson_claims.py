"""What the lesson tells its readers they will notice is what the bench shows when they do as it says."""

from __future__ import annotations

import pytest
from lesson_steps import Lesson, does, opened

from engine_sim.attempt import Attempt
from engine_sim.units import STANDARD_ATMOSPHERE_PA

LESSON = Lesson("first_look").text


@pytest.fixture
def attempt() -> Attempt:
    return opened("first_look")


def air_let_in(attempt: Attempt) -> Attempt:
    does(attempt, "separator", "open_vent")
    does(attempt, "bench", "wait_10s")
    does(attempt, "separator", "close_vent")
    return attempt


def test_the_dip_takes_a_minute_and_a_half_and_the_gauge_five_seconds(attempt: Attempt) -> None:
    assert [attempt.act("tank", action).clock_s for action in ("read_gauge", "dip")] == [5, 95]
    assert "the gauge five seconds" in LESSON


def test_behind_a_shut_valve_the_lever_pulls_hard_and_the_pressure_falls(attempt: Attempt) -> None:
    does(attempt, "shut_off", "shut")
    assert "pulls hard and springs back slowly" in does(attempt, "lift_pump", "lever_10")
    volumes = attempt.xray().volumes
    assert volumes["suction_hose.0"].pressure_pa < STANDARD_ATMOSPHERE_PA - 40e3
    assert volumes["suction_hose.0"].air_share < 1e-3, "no more than what comes out of the fuel itself; 0.01 is seen"


def test_the_bowl_is_clear_to_the_bottom(attempt: Attempt) -> None:
    assert "clear fuel to the bottom" in does(attempt, "separator", "look")


def test_a_sound_fine_filter_bleeds_without_bubbles_at_once(attempt: Attempt) -> None:
    does(attempt, "fine_filter", "open_screw")
    assert "without bubbles" in does(attempt, "lift_pump", "lever_10")


def test_with_air_in_the_hose_it_starts_and_dies_and_smokes_white(attempt: Attempt) -> None:
    air_let_in(attempt)
    assert attempt.xray().volumes["suction_hose.3"].air_share > 0.8
    assert "fires and runs" in does(attempt, "starter", "crank_10")
    began_s = attempt.clock_s
    assert "it dies" in does(attempt, "engine", "run_idle_1min", "run_idle_5min")
    assert 60 < attempt.clock_s - began_s < 180
    again = does(attempt, "starter", "crank_10")
    assert "does not fire" in again
    assert "White smoke, smelling of fuel" in again


def test_bleeding_takes_about_five_rounds_and_one_to_three_more_at_the_injection_pump(attempt: Attempt) -> None:
    """The lesson's steps 6 and 7 one after the other, from the air let in to an engine that keeps running."""
    air_let_in(attempt)
    does(attempt, "starter", "crank_10")
    does(attempt, "engine", "run_idle_1min", "run_idle_5min")
    does(attempt, "fine_filter", "open_screw")
    began_s, rounds = attempt.clock_s, 1
    while "uel without bubbles" not in does(attempt, "lift_pump", "lever_60"):
        rounds += 1
        assert rounds < 8
    assert rounds > 3
    assert 240 < attempt.clock_s - began_s < 480
    does(attempt, "fine_filter", "close_screw")
    assert "does not fire" in does(attempt, "starter", "crank_10")
    does(attempt, "injection_pump", "open_screw")
    assert any("uel without bubbles" in does(attempt, "lift_pump", "lever_60") for _ in range(3))
    does(attempt, "injection_pump", "close_screw")
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    assert "dies" not in does(attempt, "engine", "run_idle_5min", "run_cruise_5min")


def test_a_pulled_stop_control_gives_no_smoke_and_home_it_fires(attempt: Attempt) -> None:
    does(attempt, "stop_control", "pull")
    assert "No smoke at all" in does(attempt, "starter", "crank_5")
    does(attempt, "stop_control", "push_home")
    assert "fires and runs" in does(attempt, "starter", "crank_5")
