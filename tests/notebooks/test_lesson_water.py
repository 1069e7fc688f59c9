"""What the lesson on water tells its readers they will notice is what its benches show when they do as it says."""

from __future__ import annotations

import pytest
from lesson_steps import Lesson, check_form, does, opened, plays

from engine_sim.attempt import Attempt
from engine_sim.fluids.settling import settling_speed_m_per_s
from engine_sim.scenarios import SetFault, compose_scenario

pytestmark = pytest.mark.slow

LESSON = Lesson("water")
DRAINS = (("shut_off", "shut"), ("separator", "open_vent"), ("separator", "open_drain"), ("bench", "wait_10s"))


def test_it_keeps_the_form_of_a_lesson() -> None:
    check_form(LESSON)


def test_the_stick_shows_no_water_and_the_bowl_a_line_half_way_up() -> None:
    stick, bowl = plays(opened("water"), LESSON.lists(1)[0])
    assert "keeps its colour" in stick
    assert "a level line in the bowl, with a different layer half of the way up" in bowl


def test_the_engine_runs_evenly_over_a_bowl_half_full_of_water() -> None:
    *_, idles, stopped, bowl = plays(opened("water"), LESSON.lists(2)[0])
    assert "It ran evenly" in idles and "stop" in stopped
    assert "half of the way up" in bowl


@pytest.mark.parametrize(("drop_mm", "seconds"), [(0.3, 97.0), (0.1, 876.0), (0.06, 2420.0), (0.01, 87600.0)])
def test_drops_sink_through_twenty_centimetres_in_the_times_of_the_table(drop_mm: float, seconds: float) -> None:
    """998.2 and 836.45 kg/m3 and 3.8477 mPa s: fresh water and diesel at 20 degC."""
    speed_m_per_s = settling_speed_m_per_s(drop_mm * 1e-3, 998.2, 836.45, 3.8477e-3)
    assert 0.2 / speed_m_per_s == pytest.approx(seconds, rel=0.01)


def test_a_drain_opened_alone_sucks_air_and_gives_nothing() -> None:
    attempt = opened("water")
    drain, bowl, _ = plays(attempt, LESSON.lists(4)[0])
    assert "Nothing comes from the drain; you hear it suck air in" in drain
    assert "bubbles rise through the bowl from the drain" in bowl and "half of the way up" in bowl
    assert attempt.xray().volumes["suction_hose.3"].air_share > 0.5


def test_a_drain_opened_with_the_engine_running_soon_stops_it() -> None:
    attempt = opened("water")
    does(attempt, "starter", "crank_5")
    noticed = does(attempt, "separator", "open_drain") + does(attempt, "bench", "wait_5min")
    assert "suck air in" in noticed and "Meanwhile the engine dies" in noticed


def test_the_order_of_the_trade_empties_the_bowl_and_lets_no_air_into_the_hose() -> None:
    attempt = opened("water")
    noticed = plays(attempt, LESSON.lists(4)[1])
    at = dict(zip([step.action for step in LESSON.lists(4)[1]], noticed, strict=True))
    assert "looks like clean fuel" in at["watch for 10 s"]
    assert "100 ml of water under 170 ml of fuel" in at["hold the jar to the light"]
    assert "You pour in 270 ml" in at["fill it with clean fuel at the top vent"]
    assert "uel without bubbles" in at["work the hand lever, 10 strokes"]
    assert "while fuel without bubbles still runs" in at["tighten the bleed screw"]
    assert "It ran evenly for 5 min" in at["run it in gear for 5 min"]
    assert attempt.xray().volumes["suction_hose.0"].air_share < 0.01
    waste = plays(attempt, LESSON.lists(5)[0])
    assert "270 ml go into the can" in waste[0] and "handed in" in waste[-1]


def test_with_the_vent_slack_an_opened_shut_off_loses_the_fuel_in_the_hose() -> None:
    attempt = opened("water")
    for part, action in (*DRAINS, ("separator", "close_drain"), ("shut_off", "open"), ("separator", "fill")):
        does(attempt, part, action)
    assert attempt.xray().volumes["suction_hose.3"].air_share > 0.5
    does(attempt, "separator", "close_vent")
    does(attempt, "fine_filter", "open_screw")
    assert any("Froth" in does(attempt, "lift_pump", "lever_60") for _ in range(3))


def test_with_the_vent_open_and_the_shut_off_too_the_bowl_runs_out_and_the_hose_with_it() -> None:
    attempt = opened("water")
    does(attempt, "separator", "open_vent")
    assert "run into the jar" in does(attempt, "separator", "open_drain")
    assert attempt.xray().volumes["suction_hose.0"].air_share > 0.5


def test_with_the_tank_above_the_head_pushes_the_water_out_and_nothing_need_be_bled() -> None:
    noticed = plays(opened("water_high_tank"), LESSON.lists(6)[0])
    at = {step.action: seen for step, seen in zip(LESSON.lists(6)[0], noticed, strict=True)}
    assert "half of the way up" in noticed[0]
    assert "looks like clean fuel" in at["open the drain tap over a jar"]
    assert "100 ml of water" in at["hold the jar to the light"]
    assert "clear fuel to the bottom" in at["look into the bowl"]
    assert "It ran evenly" in at["run it in gear for 5 min"]


def test_with_the_tank_above_the_drain_runs_on_and_a_shut_valve_holds_it() -> None:
    attempt = opened("water_high_tank")
    does(attempt, "separator", "open_drain")
    assert "About 1465 ml" in does(attempt, "bench", "wait_1min")
    attempt = opened("water_high_tank")
    does(attempt, "shut_off", "shut")
    assert "Nothing comes from the drain." in does(attempt, "separator", "open_drain")


def test_at_sea_the_engine_dies_within_a_minute_and_the_tank_gives_a_litre_and_a_half() -> None:
    attempt = opened("water_seaway")
    noticed = plays(attempt, LESSON.lists(7)[0])
    assert "the same from top to bottom, with no line in it, and paler than fuel" in noticed[1]
    assert "hazy" in noticed[1]
    assert "fires and runs" in noticed[2] and "After 48 s it dies" in noticed[3]
    assert "changed its colour" in noticed[4] and "keeps its colour" in noticed[7]
    assert "About 1550 ml of water" in noticed[6].replace("brings up about", "About")
    runs_after_draining(attempt)


def runs_after_draining(attempt: Attempt) -> None:
    """The lesson's section 4 at the boat of section 7."""
    for part, action in (*DRAINS, ("separator", "close_drain"), ("separator", "fill"), ("separator", "close_vent")):
        does(attempt, part, action)
    does(attempt, "shut_off", "open")
    does(attempt, "starter", "crank_5")
    assert "It ran evenly" in does(attempt, "engine", "run_idle_1min")


def test_in_calm_water_the_same_boat_runs_five_minutes_under_full_load() -> None:
    attempt = Attempt(compose_scenario("tank_below", [SetFault("water_in_tank", "tank", 2.5e-3)]))
    assert "with no line in it" in does(attempt, "separator", "look")
    does(attempt, "starter", "crank_5")
    assert "It ran evenly for 5 min at about 3000 rpm" in does(attempt, "engine", "run_load_5min")


def test_a_metal_bowl_shows_nothing_and_its_jar_two_hundred_millilitres_of_water() -> None:
    attempt = opened("water_metal_bowl")
    steps = LESSON.lists(8)[0]
    noticed = plays(attempt, steps)
    assert "shows nothing" in noticed[0]
    assert "200 ml of water under" in noticed[[step.action for step in steps].index("hold the jar to the light")]
    does(attempt, "starter", "crank_5")
    assert "It ran evenly" in does(attempt, "engine", "run_cruise_5min")
