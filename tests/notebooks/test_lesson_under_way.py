"""What the lesson on an engine that dies under way says its readers will notice is what its benches show."""

from __future__ import annotations

import math
import re

import pytest
from lesson_steps import Lesson, does, opened

from engine_sim.attempt import Attempt
from engine_sim.circuit.draw import SLOSH_SHARE

pytestmark = pytest.mark.slow

LESSON = Lesson("under_way").text
CHECKS = (
    ("separator", "look"),
    ("shut_off", "look"),
    ("separator_joint", "look"),
    ("tank", "crack_cap"),
    ("tank", "dip"),
)
CHANCES = (34, 4, 8, 5, 10)


@pytest.fixture
def attempt() -> Attempt:
    return opened("under_way")


@pytest.fixture
def race() -> Attempt:
    return opened("under_way_dirt")


def died(attempt: Attempt) -> str:
    does(attempt, "starter", "crank_5")
    return does(attempt, "engine", "run_cruise_5min")


def rounds_bled(attempt: Attempt, part: str) -> int:
    does(attempt, part, "open_screw")
    for rounds in range(1, 15):
        if "Fuel without bubbles" in does(attempt, "lift_pump", "lever_60"):
            does(attempt, part, "close_screw")
            return rounds
    raise AssertionError("still froth")


def test_with_a_quarter_on_the_gauge_it_wavers_after_three_minutes_and_dies(attempt: Attempt) -> None:
    assert "a quarter" in does(attempt, "tank", "read_gauge")
    seen = died(attempt)
    assert "After 3 min the speed begins to waver" in seen
    assert "it dies" in seen


def test_anchoring_takes_ten_minutes(attempt: Attempt) -> None:
    taken = {offer.action: offer.takes_s for offer in attempt.offers("bench")}
    assert taken["make_fast"] == 600
    assert "tell_someone" in taken


def test_the_table_gives_the_time_of_each_check_and_divides_rightly(attempt: Attempt) -> None:
    taken = [next(offer.takes_s for offer in attempt.offers(part) if offer.action == action) for part, action in CHECKS]
    rows = re.findall(r"^\| .+ \| .+ \| (\d+) \| (\d+) s \| (\d+) \|$", LESSON, flags=re.MULTILINE)
    assert [int(chance) for chance, _, _ in rows] == list(CHANCES)
    assert [float(seconds) for _, seconds, _ in rows] == taken
    assert [int(a_minute) for _, _, a_minute in rows] == [
        round(chance / seconds * 60.0) for chance, seconds in zip(CHANCES, taken, strict=True)
    ]
    assert sum(CHANCES) == 61
    assert 150 < sum(taken) < 165


def test_the_example_of_the_two_orders_is_worked_out_rightly() -> None:
    def expected(order: tuple[tuple[float, float], ...]) -> float:
        left, spent = 1.0, 0.0
        for chance, minutes in order:
            spent += left * minutes
            left -= chance
        return spent

    a, b, c = (0.5, 2.0), (0.3, 10.0), (0.2, 1.0)
    assert expected((a, c, b)) == pytest.approx(5.5)
    assert expected((b, a, c)) == pytest.approx(11.6)
    assert "5.5 minutes; in the order B, A, C 11.6" in LESSON


def test_the_five_checks_find_air_in_the_hose_and_fuel_over_the_pick_up(attempt: Attempt) -> None:
    died(attempt)
    does(attempt, "bench", "make_fast", "tell_someone")
    assert "clear fuel to the bottom" in does(attempt, "separator", "look")
    assert "open" in does(attempt, "shut_off", "look")
    joint = does(attempt, "separator_joint", "look")
    assert "dry and clean" in joint
    assert "mostly air" in joint
    assert "No hiss" in does(attempt, "tank", "crack_cap", "close_cap")
    assert "wet to 8 cm. Below 2.8 cm" in does(attempt, "tank", "dip")


def test_the_sum_of_pitch_and_swing_agrees_with_the_boat(attempt: Attempt) -> None:
    tank = attempt.place.rig.layout.figures["tank"]
    weather = attempt.scenario.weather
    pitch_cm = -tank["pick_up_along_m"] * math.tan(math.radians(weather.pitch_deg)) * 100.0
    swing_cm = weather.seaway * SLOSH_SHARE * tank["height_m"] * 100.0
    assert round(pitch_cm, 1) == 2.6
    assert round(swing_cm, 1) == 3.8
    assert tank["pick_up_along_m"] == -0.15


def test_ten_litres_and_bleeding_cure_it_in_a_dozen_rounds(attempt: Attempt) -> None:
    died(attempt)
    does(attempt, "bench", "make_fast", "tell_someone")
    for part, action in CHECKS:
        does(attempt, part, action)
    does(attempt, "tank", "close_cap")
    does(attempt, "bench", "lay_tray")
    assert "10.0 litres" in does(attempt, "tank", "add_fuel")
    began_s = attempt.clock_s
    assert rounds_bled(attempt, "fine_filter") == 10
    assert rounds_bled(attempt, "injection_pump") == 2
    assert 12 * 60 < attempt.clock_s - began_s < 15 * 60
    assert "fires and runs" in does(attempt, "starter", "crank_10")
    assert "ran evenly" in does(attempt, "engine", "run_cruise_5min")


def test_bled_without_more_fuel_the_froth_does_not_end_and_it_dies_again_within_about_a_minute(
    attempt: Attempt,
) -> None:
    died(attempt)
    does(attempt, "fine_filter", "open_screw")
    assert all("Froth" in does(attempt, "lift_pump", "lever_60") for _ in range(15))
    does(attempt, "fine_filter", "close_screw")
    does(attempt, "injection_pump", "open_screw")
    does(attempt, "lift_pump", "lever_60", "lever_60")
    does(attempt, "injection_pump", "close_screw")
    assert "fires and runs" in does(attempt, "starter", "crank_10")
    began_s = attempt.clock_s
    assert "it dies" in does(attempt, "engine", "run_cruise_5min")
    assert attempt.clock_s - began_s < 80


def test_with_a_choked_element_it_fades_in_gear_and_runs_evenly_at_idle(race: Attempt) -> None:
    does(race, "starter", "crank_5")
    in_gear = does(race, "engine", "run_cruise_5min")
    assert "begins to waver" in in_gear
    assert "does not hold its speed" in in_gear
    assert "ran evenly" in does(race, "engine", "run_idle_1min")
    bowl = does(race, "separator", "look")
    assert "rust and grit lie thick" in bowl
    assert "looks black" in bowl
    assert "starboard tank" in does(race, "changeover", "to_b")
    assert "does not hold its speed" in does(race, "engine", "run_cruise_5min")
    assert "ran evenly for 5 min" in does(race, "engine", "run_idle_5min")
