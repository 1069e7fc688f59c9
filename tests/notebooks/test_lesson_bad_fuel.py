"""What the lesson on bad fuel says its readers will notice is what its benches show."""

from __future__ import annotations

import re

import pytest
from lesson_steps import Lesson, does, opened

from engine_sim.attempt import Attempt
from engine_sim.scenarios import SetFault, compose_scenario

pytestmark = pytest.mark.slow

LESSON = Lesson("bad_fuel").text


def bled(attempt: Attempt, part: str, most: int) -> int:
    """Bleed at a part's screw, sixty strokes at a time, until it runs clear; return how many rounds it took."""
    does(attempt, part, "open_screw")
    for rounds in range(1, most + 1):
        if "Fuel without bubbles" in does(attempt, "lift_pump", "lever_60"):
            does(attempt, part, "close_screw")
            return rounds
    raise AssertionError("still froth")


def can_rigged(attempt: Attempt, *, lashed: bool = True, cap_cracked: bool = True, return_to: str = "to_can") -> None:
    does(attempt, "bench", "lay_tray")
    if lashed:
        does(attempt, "can", "lash")
    does(attempt, "shut_off", "shut")
    does(attempt, "can", "to_pump", *(["crack_cap"] if cap_cracked else []))
    if return_to:
        does(attempt, "return_line", return_to)


def litres(attempt: Attempt) -> float:
    found = re.search(r"About (\d+\.\d) litres stand", does(attempt, "can", "look"))
    assert found is not None
    return float(found[1])


def test_slime_shows_in_bowl_lever_and_jar_and_the_engine_is_weak_in_gear_but_even_at_idle() -> None:
    attempt = opened("bad_fuel")
    bowl = does(attempt, "separator", "look")
    assert "slimy dirt hangs in the bowl" in bowl
    assert "looks black" in bowl
    assert "stiff on the pull" in does(attempt, "lift_pump", "lever_10")
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    in_gear = does(attempt, "engine", "run_cruise_5min")
    assert "begins to waver" in in_gear
    assert "does not hold its speed" in in_gear
    assert "ran evenly" in does(attempt, "engine", "run_idle_1min")
    does(attempt, "engine", "stop")
    does(attempt, "bench", "lay_tray")
    jar = does(attempt, "tank", "sample_sump")
    assert "slimy dirt hangs in it" in jar
    assert "smells foul" in jar


def test_a_new_element_lasts_about_twenty_minutes() -> None:
    attempt = opened("bad_fuel")
    does(attempt, "bench", "lay_tray")
    does(attempt, "shut_off", "shut")
    does(attempt, "separator", "change_element")
    does(attempt, "shut_off", "open")
    does(attempt, "separator", "open_vent", "fill", "close_vent")
    does(attempt, "fine_filter", "open_screw")
    does(attempt, "lift_pump", *["lever_60"] * 12)
    does(attempt, "fine_filter", "close_screw")
    bled(attempt, "injection_pump", 3)
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    died = re.search(r"After (\d+) min it dies", does(attempt, "engine", "run_cruise_30min"))
    assert died is not None
    assert 16 <= int(died[1]) <= 24
    assert "about twenty minutes" in LESSON


@pytest.mark.parametrize(
    ("fault", "jar", "bowl", "element"),
    [
        ("water_in_tank", "without the colour and the smell", "the same from top to bottom", "looks clean"),
        ("dirt_in_tank", "Specks of dirt turn in it and sink", "rust and grit", "black with dirt"),
        ("slime", "smells foul", "slimy dirt", "black with dirt"),
        ("waxed_fuel", "cloudy and sluggish, with flakes", "like thin porridge", "like porridge"),
        ("petrol_in_fuel", "clear and bright", "clear fuel to the bottom", "looks clean"),
        ("urea_in_fuel", "White crystals", "the same from top to bottom", "looks clean"),
    ],
)
def test_each_row_of_the_table_is_what_jar_bowl_and_element_show(fault: str, jar: str, bowl: str, element: str) -> None:
    attempt = Attempt(compose_scenario("tank_below", [SetFault(fault, "tank")]))
    assert jar in does(attempt, "tank", "sample_sump")
    assert bowl in does(attempt, "separator", "look")
    assert element in does(attempt, "separator", "take_bowl_off")


@pytest.mark.parametrize(
    ("fault", "shows"),
    [
        ("water_in_tank", ("fires and runs", "dies")),
        ("dirt_in_tank", ("does not hold its speed",)),
        ("petrol_in_fuel", ("knocks hard",)),
        ("urea_in_fuel", ("does not fire", "White smoke")),
    ],
)
def test_the_engine_runs_as_the_table_says(fault: str, shows: tuple[str, ...]) -> None:
    attempt = Attempt(compose_scenario("tank_below", [SetFault(fault, "tank")]))
    seen = does(attempt, "starter", "crank_10") + does(attempt, "engine", "run_idle_1min", "run_cruise_5min")
    assert all(piece in seen for piece in shows)


def test_petrol_shows_only_to_the_nose() -> None:
    attempt = Attempt(compose_scenario("tank_below", [SetFault("petrol_in_fuel", "tank")]))
    assert "smells of petrol" in does(attempt, "tank", "sample_sump")


def test_urea_solution_shows_as_a_bowl_without_a_line_and_crystals_in_the_jar() -> None:
    attempt = opened("bad_fuel_urea")
    bowl = does(attempt, "separator", "look")
    assert "no line in it" in bowl
    assert "paler than fuel" in bowl
    assert "changed its colour" in does(attempt, "tank", "dip_paste")
    assert "White crystals" in does(attempt, "tank", "sample_sump")


def test_wax_gives_way_when_both_filters_are_warm() -> None:
    attempt = opened("bad_fuel_cold")
    assert "-12 °C" in does(attempt, "bench", "thermometer")
    assert "cloudy, with flakes" in does(attempt, "separator", "look")
    assert "pulls hard" in does(attempt, "lift_pump", "lever_10")
    does(attempt, "separator", "warm")
    assert "hardly anything moves" in does(attempt, "lift_pump", "lever_10"), "one warmed filter is not enough"
    does(attempt, "fine_filter", "warm")
    assert "steady pulse" in does(attempt, "lift_pump", "lever_10")
    does(attempt, "preheat", "heat_20")
    assert "fires and runs" in does(attempt, "starter", "crank_10")
    assert "ran evenly" in does(attempt, "engine", "run_cruise_5min")


def test_on_the_can_the_engine_runs_half_an_hour_and_takes_about_a_litre() -> None:
    """The lesson's section 4, then its section 7, one after the other."""
    attempt = opened("bad_fuel")
    can_rigged(attempt, return_to="to_jar")
    does(attempt, "fine_filter", "open_screw")
    first = does(attempt, "lift_pump", "lever_60")
    assert "A hiss at the cap" in first
    rounds = 1
    while "Fuel without bubbles" not in does(attempt, "lift_pump", "lever_60"):
        rounds += 1
    assert rounds + 1 == 6
    does(attempt, "fine_filter", "close_screw")
    does(attempt, "injection_pump", "open_screw")
    assert "without bubbles" in does(attempt, "lift_pump", "lever_10")
    does(attempt, "injection_pump", "close_screw")
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    does(attempt, "engine", "run_idle_1min", "run_idle_1min", "stop")
    jar = does(attempt, "return_line", "read_jar")
    assert "clear and bright" in jar
    returned = re.search(r"(\d+) ml", jar)
    assert returned is not None
    assert 350 < int(returned[1]) < 500
    does(attempt, "return_line", "to_can")
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    before = litres(attempt)
    assert "ran evenly for 30 min" in does(attempt, "engine", "run_cruise_30min")
    assert before - litres(attempt) == pytest.approx(1.0, abs=0.5)
    does(attempt, "engine", "stop")
    assert "What lies on the floor is still there" in does(attempt, "tank", "polish")
    does(attempt, "bench", "empty_jar")
    assert "slimy dirt hangs in it" in does(attempt, "tank", "sample_sump")
    assert "wipe dark, slimy dirt from its floor" in does(attempt, "tank", "wipe_out")
    does(attempt, "tank", "add_fuel")
    waste = re.search(r"About (\d+) ml and the rags", does(attempt, "bench", "waste_ashore"))
    assert waste is not None
    assert 26_000 < int(waste[1]) < 31_000


def test_a_can_that_is_not_lashed_tips_over_in_this_sea() -> None:
    attempt = opened("bad_fuel")
    can_rigged(attempt, lashed=False)
    bled(attempt, "fine_filter", 8)
    does(attempt, "starter", "crank_5")
    assert "can tips over" in does(attempt, "engine", "run_cruise_5min")


def test_with_the_return_at_the_tank_the_can_is_empty_after_about_half_an_hour() -> None:
    attempt = opened("bad_fuel")
    can_rigged(attempt, return_to="")
    bled(attempt, "fine_filter", 8)
    does(attempt, "starter", "crank_5")
    began_s = attempt.clock_s
    assert "the engine dies" in does(attempt, "engine", "run_cruise_30min", "run_cruise_30min")
    assert 24 * 60 < attempt.clock_s - began_s < 36 * 60
    assert litres(attempt) <= 1.0


def test_a_sealed_can_stops_the_engine_after_about_eighteen_minutes_and_cracking_its_cap_is_the_whole_cure() -> None:
    attempt = opened("bad_fuel")
    can_rigged(attempt, cap_cracked=False)
    does(attempt, "fine_filter", "open_screw")
    does(attempt, "lift_pump", *["lever_60"] * 8)
    does(attempt, "fine_filter", "close_screw")
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    began_s = attempt.clock_s
    assert "it dies" in does(attempt, "engine", "run_cruise_30min")
    assert 14 * 60 < attempt.clock_s - began_s < 22 * 60
    assert "A hiss at the cap" in does(attempt, "can", "crack_cap")
    assert 8.5 <= litres(attempt) <= 9.5
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    assert "ran evenly" in does(attempt, "engine", "run_cruise_5min")


def test_the_sums_of_can_and_breather_are_worked_out_rightly() -> None:
    assert 9.5 / 2.0 == 4.75
    assert 28.0 < 9.5 / (2.0 + 18.0) * 60.0 < 29.0
    assert round(4.75 * 60.0 * 2.0 / 3.0) == 3 * 60 + 10
    assert round(9.0 / (1.5 + 12.0) * 60.0) == 40
    assert round(101.3 * 0.5 / 0.625) == 81
    assert 0.125 / 2.0 * 60.0 < 4.0
