"""What the lesson on air tells its readers they will notice is what its benches show when they do as it says."""

from __future__ import annotations

import pytest
from lesson_steps import Lesson, at, check_form, does, opened, plays

from engine_sim.attempt import Attempt
from engine_sim.bench.panel import plots
from engine_sim.fluids.confined import injection_line_pressure_pa
from engine_sim.scenarios import SetFault, compose_scenario
from engine_sim.units import STANDARD_ATMOSPHERE_PA

pytestmark = pytest.mark.slow

LESSON = Lesson("air")
SUCKED = ("suction_hose", "separator", "pump_hose", "lift_pump.inlet")
PUSHED = ("lift_pump.outlet", "feed_hose", "fine_filter", "gallery_hose", "injection_pump")


@pytest.fixture
def morning() -> Attempt:
    """The boat as sections 2 and 3 leave it: bled without a cure, dead again after the night."""
    attempt = opened("air")
    plays(attempt, LESSON.lists(2)[0])
    plays(attempt, LESSON.lists(3)[0])
    return attempt


@pytest.fixture
def cured(morning: Attempt) -> Attempt:
    """The boat with its joint nipped up, as section 4 leaves it."""
    plays(morning, LESSON.lists(4)[0])
    return morning


def test_it_keeps_the_form_of_a_lesson() -> None:
    check_form(LESSON)


def test_at_rest_all_before_the_pump_lies_below_the_air_outside_and_all_behind_it_above() -> None:
    attempt = opened("air")
    assert "Pressure along the way of the fuel" in str(plots(attempt, "pressure")["plots"])
    assert "Pressure along the way of the fuel" in LESSON.section(1)
    for name, volume in attempt.xray().volumes.items():
        if name.startswith(SUCKED):
            assert -10e3 < volume.pressure_pa - STANDARD_ATMOSPHERE_PA < 0.0
        if name.startswith(PUSHED):
            assert volume.pressure_pa > STANDARD_ATMOSPHERE_PA


def test_it_starts_runs_and_dies_with_all_dry_and_the_bowl_clear() -> None:
    attempt = opened("air")
    shares = {name: volume.air_share for name, volume in attempt.xray().volumes.items()}
    assert shares["suction_hose.3"] > 0.9 and shares["separator.bowl"] > 0.1 and shares["fine_filter.dirty"] > 0.1
    dry, bowl, before, _, fires, dies = plays(attempt, LESSON.lists(2)[0])
    assert "dry all round" in dry and "clear fuel to the bottom" in bowl and "mostly air" in before
    assert "fires and runs" in fires and "After 44 s it dies" in dies


def test_a_bubble_of_47_cubic_millimetres_keeps_an_injector_shut_that_opens_at_13_5_mpa() -> None:
    """A line of 1.5 ml, a stroke of 60 mm3, fuel of 1.40 GPa."""
    assert injection_line_pressure_pa(1.5e-6, 47e-9, 60e-9, 1.4e9) < 13.5e6
    assert injection_line_pressure_pa(1.5e-6, 46e-9, 60e-9, 1.4e9) > 13.5e6


def test_bled_with_the_joint_slack_it_runs_for_a_day_and_dies_in_the_morning() -> None:
    attempt = opened("air")
    plays(attempt, LESSON.lists(2)[0])
    steps = LESSON.lists(3)[0]
    noticed = plays(attempt, steps)
    assert "Air hisses" in at(steps, noticed, "open the bleed screw")
    assert all("Froth spits" in seen for seen in noticed[5:9])
    assert "while froth still comes" in at(steps, noticed, "tighten the bleed screw")
    assert "It ran evenly for 5 min" in at(steps, noticed, "let it idle for 5 min")
    assert "It ran evenly for 5 min" in at(steps, noticed, "run it in gear for 5 min")
    assert "mostly air" in at(steps, noticed, "look at the joint and its clear hose")
    assert "fires and runs" in noticed[-2] and "After 72 s it dies" in noticed[-1]


def test_froth_does_not_end_while_the_joint_is_slack(morning: Attempt) -> None:
    does(morning, "fine_filter", "open_screw")
    rounds = [does(morning, "lift_pump", "lever_60") for _ in range(20)]
    assert all("Froth spits" in seen or "Air hisses" in seen for seen in rounds)


def test_the_first_nut_turns_and_all_else_is_tight(morning: Attempt) -> None:
    first, vent, pump_joint, filter_screws, pump_screws, nipped = plays(morning, LESSON.lists(4)[0])
    assert "turns under your fingers" in first and "half turn before it bites" in nipped
    assert "vent is tight" in vent and "nut is tight" in pump_joint
    assert "every bleed screw tight" in filter_screws and "every bleed screw tight" in pump_screws


def test_bled_outwards_it_clears_in_four_rounds_and_two_and_the_night_proves_it(cured: Attempt) -> None:
    steps = LESSON.lists(5)[0]
    noticed = plays(cured, steps)
    assert "You pour in 110 ml" in at(steps, noticed, "fill it with clean fuel at the top vent")
    rounds = [seen for seen in noticed if seen.startswith("The lever")]
    assert "Air hisses" in rounds[0] and "Froth spits" in rounds[1]
    assert "First froth, then fuel without bubbles" in rounds[2]
    assert rounds[3].endswith("Fuel without bubbles runs from the bleed screw.")
    assert "Froth spits" in rounds[4] and "Fuel without bubbles" in rounds[5]
    assert "It ran evenly for 5 min" in at(steps, noticed, "let it idle for 5 min")
    _, hose, starts, runs, *_ = plays(cured, LESSON.lists(6)[0])
    assert "clear fuel" in hose and "fires and runs" in starts and "It ran evenly" in runs


def test_without_filling_the_separator_it_takes_some_nine_rounds(cured: Attempt) -> None:
    does(cured, "fine_filter", "open_screw")
    clear = [number for number in range(1, 12) if "uel without bubbles" in does(cured, "lift_pump", "lever_60")]
    assert clear[0] in (8, 9, 10)


def test_under_a_high_tank_the_joint_is_wet_and_the_engine_runs_evenly() -> None:
    steps = LESSON.lists(7)[0]
    noticed = plays(opened("air_high_tank"), steps)
    assert "wet with fuel" in noticed[1]
    assert "It ran evenly for 5 min" in at(steps, noticed, "run it in gear for 5 min")
    assert "About 340 ml of fuel lie in the tray" in at(steps, noticed, "look around")
    assert "turns under your fingers" in at(steps, noticed, "wipe the joint dry and try the nut")


def test_beside_a_low_tank_the_joint_draws_air_and_beside_a_full_one_it_drips() -> None:
    steps = LESSON.lists(8)[0]
    noticed = plays(opened("air_single_cylinder"), steps)
    assert "dry" in noticed[0] and "mostly air" in noticed[0]
    assert "fires and runs" in noticed[1] and "After 29 s it dies" in noticed[2]
    assert "wet at: lift-pump inlet joint" in noticed[-1] and "fuel lie in the tray" in noticed[-1]


def test_half_full_that_joint_neither_drips_nor_keeps_air_out() -> None:
    half = compose_scenario("single_cylinder", [SetFault("slack_joint", "pump_joint", 5e-9)], tank_fill_share=0.5)
    attempt = Attempt(half)
    assert "dry all round" in does(attempt, "bench", "look_around")
    assert "you see clear fuel" not in does(attempt, "pump_joint", "look")
