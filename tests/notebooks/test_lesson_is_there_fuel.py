"""What the lesson "Is there fuel, and can it come?" says one notices is what its benches show."""

from __future__ import annotations

import pytest
from lesson_steps import Lesson, does, opened

from engine_sim.attempt import Attempt
from engine_sim.scenarios import SetFault, compose_scenario

pytestmark = pytest.mark.slow

LESSON = Lesson("is_there_fuel").text
STEADY = "steady pulse at every stroke"
SPONGY = "feels spongy and the pump gurgles"
HARD = "pulls hard and springs back slowly; hardly anything moves"
STIFF = "stiff on the pull, but fuel moves"


def lever(attempt: Attempt) -> str:
    return does(attempt, "lift_pump", "lever_10")


def run_in_gear(attempt: Attempt) -> str:
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    return does(attempt, "engine", "run_cruise_5min")


def most_air_in_the_hose(attempt: Attempt) -> float:
    """Return the largest share of air in a piece of the hose from the tank."""
    return max(one.air_share for name, one in attempt.xray().volumes.items() if name.startswith("suction_hose"))


def test_the_gauge_is_stuck_at_half_and_the_dipstick_finds_the_tank_empty() -> None:
    attempt = opened("is_there_fuel")
    assert "half full" in does(attempt, "tank", "read_gauge")
    assert "does not even quiver" in does(attempt, "tank", "tap_gauge")
    assert "wet to 2.5 cm. Below 2.8 cm the pick-up tube draws air" in does(attempt, "tank", "dip")
    assert "wet to 2.5 cm, and below 2.8 cm" in LESSON
    assert SPONGY in lever(attempt)
    assert most_air_in_the_hose(attempt) > 0.5
    seen = does(attempt, "starter", "crank_10")
    assert "does not fire" in seen
    assert "White smoke" in seen


def test_fuel_in_the_tank_does_not_take_the_air_out_of_the_pipes() -> None:
    attempt = opened("is_there_fuel")
    lever(attempt)
    does(attempt, "starter", "crank_10")
    assert "10.0 litres" in does(attempt, "tank", "add_fuel")
    assert "wet to 9 cm" in does(attempt, "tank", "dip")
    assert SPONGY in lever(attempt)
    assert "does not fire" in does(attempt, "starter", "crank_10")


def test_bled_from_the_tank_outwards_it_runs_after_eight_rounds_and_two() -> None:
    attempt = opened("is_there_fuel")
    lever(attempt)
    does(attempt, "starter", "crank_10")
    does(attempt, "tank", "add_fuel")
    lever(attempt)
    does(attempt, "starter", "crank_10")
    assert rounds_until_clear(attempt, "fine_filter") == 8
    assert rounds_until_clear(attempt, "injection_pump") == 2
    assert "eight rounds of sixty strokes at the fine filter, and two more at the injection pump" in LESSON
    assert "ran evenly for 5 min" in run_in_gear(attempt)


def rounds_until_clear(attempt: Attempt, part: str) -> int:
    """Bleed at a part; return how many rounds of sixty strokes it took."""
    does(attempt, "bench", "lay_tray")
    does(attempt, part, "open_screw")
    found = next(n for n in range(1, 20) if "uel without bubbles" in does(attempt, "lift_pump", "lever_60"))
    does(attempt, part, "close_screw")
    return found


def test_in_a_rough_sea_the_pick_up_sips_air_with_more_than_twice_what_it_needs() -> None:
    attempt = opened("is_there_fuel_sea")
    does(attempt, "bench", "make_fast")
    assert "wet to 6 cm. Below 2.8 cm" in does(attempt, "tank", "dip")
    assert STEADY in lever(attempt)
    seen = run_in_gear(attempt)
    assert "After 2 min the speed begins to waver" in seen
    assert "After 3 min it dies" in seen
    seen = does(attempt, "separator_joint", "look")
    assert "dry and clean" in seen
    assert "bubbles in the fuel" in seen
    assert SPONGY in lever(attempt)


def test_with_as_little_fuel_in_harbour_it_runs_on() -> None:
    attempt = Attempt(compose_scenario("tank_below", tank_fill_share=0.15))
    does(attempt, "starter", "crank_5")
    assert "ran evenly for 30 min" in does(attempt, "engine", "run_cruise_30min")


def test_behind_a_shut_valve_the_lever_is_hard_and_opening_it_is_the_whole_cure() -> None:
    attempt = opened("is_there_fuel_shut")
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    assert "the engine dies" in does(attempt, "engine", "run_idle_1min")
    assert attempt.clock_s < 30
    assert HARD in lever(attempt)
    assert "bubbles in the fuel" in does(attempt, "separator_joint", "look")
    assert most_air_in_the_hose(attempt) < 0.05, "what comes out of the fuel itself"
    assert "across the pipe: shut" in does(attempt, "shut_off", "look")
    does(attempt, "shut_off", "open")
    assert STEADY in lever(attempt)
    assert "ran evenly for 5 min" in run_in_gear(attempt)


def test_a_blocked_breather_pulls_hard_dies_and_dies_sooner_after_a_rest() -> None:
    attempt = opened("is_there_fuel_breather")
    assert "along the pipe: open" in does(attempt, "shut_off", "look")
    assert HARD in lever(attempt)
    assert "After 4 min it dies" in run_in_gear(attempt)
    does(attempt, "bench", "wait_5min")
    assert "After 100 s it dies" in run_in_gear(attempt)
    assert most_air_in_the_hose(attempt) < 0.05, "what comes out of the fuel itself"
    assert "A hiss at the cap" in does(attempt, "tank", "crack_cap")
    assert attempt.outside()["filler_cap"] == "cracked"
    assert STEADY in lever(attempt)
    assert "ran evenly for 5 min" in run_in_gear(attempt)
    does(attempt, "engine", "stop")
    assert "Something gives" in does(attempt, "tank", "clear_breather")
    does(attempt, "tank", "close_cap")
    assert STEADY in lever(attempt)


def test_a_half_full_tank_takes_longer_and_the_lever_is_stiff_before_it_is_hard() -> None:
    attempt = Attempt(compose_scenario("tank_below", [SetFault("blocked_vent", "tank", 0.0)]))
    assert STIFF in lever(attempt)
    assert "ran evenly for 5 min" in run_in_gear(attempt)


def test_a_blocked_pick_up_idles_well_and_fades_in_gear() -> None:
    attempt = opened("is_there_fuel_pick_up")
    assert "about 1300 rpm" in run_in_gear(attempt)
    assert "ran evenly for 1 min" in does(attempt, "engine", "run_idle_1min")
    does(attempt, "engine", "stop")
    assert "along the pipe" in does(attempt, "shut_off", "look")
    assert "No hiss" in does(attempt, "tank", "crack_cap")
    seen = does(attempt, "separator", "look")
    assert "clear fuel to the bottom" in seen
    assert "dark" not in seen
    assert STIFF in lever(attempt)
    does(attempt, "tank", "close_cap")
    does(attempt, "bench", "lay_tray")
    assert "then it gives with a gurgle in the tank" in does(attempt, "tank", "blow_back")
    assert STEADY in lever(attempt)
    assert "ran evenly for 5 min" in run_in_gear(attempt)


@pytest.mark.parametrize(
    ("part", "felt"), [("fine_filter", "gone light: there is pressure behind it"), ("separator", HARD)]
)
def test_a_clogged_element_is_felt_on_its_side_of_the_pump(part: str, felt: str) -> None:
    attempt = Attempt(compose_scenario("tank_below", [SetFault("loaded_element", part)]))
    assert felt in lever(attempt)
    if part == "separator":
        assert "smeared dark" in does(attempt, "separator", "look")


def test_from_the_starboard_tank_fuel_goes_across_the_boat_until_it_is_empty() -> None:
    attempt = opened("is_there_fuel_two_tanks")
    before = {tank: litres(attempt, tank) for tank in ("tank", "starboard_tank")}
    assert "points to the port tank" in does(attempt, "changeover", "look")
    for tank in before:
        assert "wet to 12.5 cm" in does(attempt, tank, "dip")
    does(attempt, "changeover", "to_b")
    does(attempt, "starter", "crank_5")
    assert "After 21 min it dies" in does(attempt, "engine", "run_cruise_30min")
    assert "wet to 17 cm" in does(attempt, "tank", "dip")
    assert "wet to 2 cm" in does(attempt, "starboard_tank", "dip")
    left, came = before["starboard_tank"] - litres(attempt, "starboard_tank"), litres(attempt, "tank") - before["tank"]
    assert left == pytest.approx(5.5, abs=0.05)
    assert came == pytest.approx(5.0, abs=0.05)
    assert "Five and a half litres left the starboard tank; half a litre of them was burnt, and five went" in LESSON
    does(attempt, "changeover", "to_a")
    assert SPONGY in lever(attempt)
    assert "does not fire" in does(attempt, "starter", "crank_10")


def litres(attempt: Attempt, tank: str) -> float:
    """Return the fuel in a tank [L]."""
    rig = attempt.place.rig
    return rig.circuit.fuel_m3[rig.topology.volume_number(tank)] * 1000.0


def test_a_full_port_tank_runs_over_while_the_starboard_tank_is_drawn_from() -> None:
    attempt = Attempt(compose_scenario("two_tanks", tank_fill_share=0.9))
    does(attempt, "changeover", "to_b")
    does(attempt, "starter", "crank_5")
    does(attempt, "engine", "run_cruise_30min")
    assert "wet at: port tank" in does(attempt, "bench", "look_around")
