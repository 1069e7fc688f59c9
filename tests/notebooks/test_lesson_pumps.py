"""What the lesson on pumps and high pressure says its readers will notice is what its benches show."""

from __future__ import annotations

import pytest
from lesson_steps import Lesson, does, opened

from engine_sim.attempt import Attempt
from engine_sim.fluids.formulas import injection_line_pressure_pa
from engine_sim.scenarios import SetFault, compose_scenario

pytestmark = pytest.mark.slow

LESSON = Lesson("pumps").text
LINES = ("injector_1", "injector_2", "injector_3")


def turned_off_the_lobe(attempt: Attempt) -> None:
    does(attempt, "battery", "isolate")
    does(attempt, "engine", "turn_by_hand")


def levers_until_clear(attempt: Attempt, most: int) -> int:
    """Work the lever sixty strokes at a time until fuel runs without bubbles; return how many rounds it took."""
    for rounds in range(1, most + 1):
        if "uel without bubbles" in does(attempt, "lift_pump", "lever_60"):
            return rounds
    raise AssertionError("still froth")


def low_pressure_side_bled(attempt: Attempt) -> None:
    """The lesson's sections 1 and 5 one after the other."""
    turned_off_the_lobe(attempt)
    does(attempt, "bench", "lay_tray")
    does(attempt, "fine_filter", "open_screw")
    does(attempt, "lift_pump", "lever_10")
    does(attempt, "fine_filter", "close_screw")
    does(attempt, "injection_pump", "open_screw")
    levers_until_clear(attempt, 3)
    does(attempt, "injection_pump", "close_screw")
    does(attempt, "battery", "connect")


def test_on_the_lobe_the_lever_flops_and_one_revolution_later_it_pulses() -> None:
    attempt = opened("pumps")
    assert "pushed home" in does(attempt, "stop_control", "look")
    assert "No smoke at all" in does(attempt, "starter", "crank_5")
    assert "vent hole is clean" in does(attempt, "lift_pump", "look")
    assert "flops without any resistance" in does(attempt, "lift_pump", "lever_10")
    began_s = attempt.clock_s
    turned_off_the_lobe(attempt)
    assert attempt.clock_s - began_s <= 120
    felt = does(attempt, "lift_pump", "lever_10")
    assert "steady pulse" in felt
    assert "run back into the tank" in felt


def test_a_torn_diaphragm_shows_at_vent_hole_lever_and_oil() -> None:
    attempt = opened("pumps_torn")
    assert "fuel hangs at its vent hole" in does(attempt, "lift_pump", "look")
    assert "spongy" in does(attempt, "lift_pump", "lever_10")
    oil = does(attempt, "engine", "dip_oil")
    assert "well above the upper mark" in oil
    assert "smells of diesel" in oil
    assert attempt.clock_s < 120


def test_the_engine_with_the_torn_diaphragm_would_start_smoke_blue_and_fade() -> None:
    attempt = opened("pumps_torn")
    assert "fires and runs" in does(attempt, "hand_start", "swing_10")
    assert "Blue smoke" in does(attempt, "engine", "run_idle_1min")
    faded = does(attempt, "engine", "run_cruise_5min", "look")
    assert "does not hold its speed" in faded
    assert "the engine dies" in faded


def test_with_the_tank_below_the_vent_hole_of_a_torn_pump_is_dry_and_the_lever_has_no_pull() -> None:
    attempt = Attempt(compose_scenario("tank_below", [SetFault("torn_diaphragm", "lift_pump")]))
    assert "vent hole is clean" in does(attempt, "lift_pump", "look")
    assert "next to no pull" in does(attempt, "lift_pump", "lever_10")


def test_the_spare_pump_fresh_oil_and_bleeding_cure_the_torn_diaphragm() -> None:
    attempt = opened("pumps_torn")
    does(attempt, "shut_off", "shut")
    does(attempt, "bench", "lay_tray")
    assert "spare lift pump is on" in does(attempt, "lift_pump", "change_pump")
    does(attempt, "engine", "change_oil")
    does(attempt, "shut_off", "open")
    does(attempt, "fine_filter", "open_screw")
    assert levers_until_clear(attempt, 4) == 3
    does(attempt, "fine_filter", "close_screw")
    does(attempt, "injection_pump", "open_screw")
    assert levers_until_clear(attempt, 2) == 1
    does(attempt, "injection_pump", "close_screw")
    assert "fires and runs" in does(attempt, "hand_start", "swing_10")
    assert "ran evenly" in does(attempt, "engine", "run_cruise_5min")
    does(attempt, "engine", "stop")
    does(attempt, "bench", "wipe_up")
    assert "vent hole is clean" in does(attempt, "lift_pump", "look")
    assert "between the marks" in does(attempt, "engine", "dip_oil")
    assert "dry all round" in does(attempt, "bench", "look_around")


def test_the_key_primes_but_with_air_coming_in_it_never_clears() -> None:
    attempt = opened("pumps_electric")
    assert "No smoke at all" in does(attempt, "starter", "crank_5")
    assert "12." in does(attempt, "battery", "volts")
    key = does(attempt, "engine", "key_on")
    assert "solenoid clicks" in key
    assert "pump hums" in key
    assert "pump hums" in does(attempt, "lift_pump", "listen")
    assert "No smoke at all" in does(attempt, "bench", "wait_1min") + does(attempt, "starter", "crank_10")
    again = does(attempt, "bench", "wait_1min") + does(attempt, "starter", "crank_10")
    assert "does not fire" in again
    assert "White smoke, smelling of fuel" in again
    does(attempt, "bench", "wait_5min", "wait_5min", "wait_5min")
    assert attempt.xray().volumes["suction_hose.2"].air_share > 0.05
    assert "does not fire" in does(attempt, "starter", "crank_10")


def test_with_the_joint_nipped_up_the_key_does_the_priming() -> None:
    attempt = opened("pumps_electric")
    does(attempt, "engine", "key_on")
    for _ in range(2):
        does(attempt, "bench", "wait_1min")
        does(attempt, "starter", "crank_10")
    for joint in ("separator_joint", "pump_joint"):
        looks = does(attempt, joint, "look")
        assert "dry and clean" in looks
        assert "bubbles in the fuel" in looks
    assert "turns under your fingers" in does(attempt, "separator_joint", "wipe_and_try")
    does(attempt, "separator_joint", "nip_up")
    does(attempt, "bench", "wait_5min")
    assert "fires and runs" in does(attempt, "starter", "crank_10")
    assert "ran evenly" in does(attempt, "engine", "run_cruise_5min")


def test_filter_and_injection_pump_run_clear_and_the_injector_is_silent() -> None:
    attempt = opened("pumps")
    turned_off_the_lobe(attempt)
    does(attempt, "fine_filter", "open_screw")
    assert "without bubbles" in does(attempt, "lift_pump", "lever_10")
    does(attempt, "fine_filter", "close_screw")
    does(attempt, "injection_pump", "open_screw")
    assert "Froth spits" in does(attempt, "lift_pump", "lever_60")
    assert "then fuel without bubbles" in does(attempt, "lift_pump", "lever_60")
    does(attempt, "injection_pump", "close_screw")
    does(attempt, "battery", "connect")
    cranked = does(attempt, "starter", "crank_10")
    assert "does not fire" in cranked
    assert "No smoke at all" in cranked
    assert "silent" in does(attempt, "injector_1", "listen")


def test_at_the_union_nuts_froth_comes_four_times_and_clear_pulses_at_the_fifth() -> None:
    attempt = opened("pumps")
    low_pressure_side_bled(attempt)
    does(attempt, "starter", "crank_10")
    does(attempt, "injector_1", "listen")
    does(attempt, "bench", "put_on_goggles")
    does(attempt, "exhaust", "shut_seacock")
    for line in LINES:
        does(attempt, line, "slacken_nut")
    turns = [does(attempt, "starter", "crank_10")]
    while "froth" in turns[-1]:
        does(attempt, "starter", "rest")
        turns.append(does(attempt, "starter", "crank_10"))
    assert len(turns) == 5
    assert turns[-1].count("clear fuel comes out in pulses") == 3
    for line in LINES:
        does(attempt, line, "tighten_nut")
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    does(attempt, "exhaust", "open_seacock")
    does(attempt, "engine", "stop")
    for line in LINES:
        does(attempt, line, "wipe")
    does(attempt, "starter", "crank_5")
    assert "ran evenly" in does(attempt, "engine", "run_cruise_5min")
    assert all("stays dry" in does(attempt, line, "card") for line in LINES)
    does(attempt, "engine", "stop")
    does(attempt, "bench", "wipe_up")
    tidy = does(attempt, "bench", "look_around")
    assert "no screw, tap or nut standing open" in tidy
    assert "dry all round" in tidy


def test_the_figures_of_the_high_pressure_line_and_of_the_silencer_are_worked_out_rightly() -> None:
    line_m3, stroke_m3, stiffness_pa, air_pa = 1.5e-6, 60e-9, 1.40e9, 101325.0
    full, bubble = (injection_line_pressure_pa(line_m3, air, stroke_m3, stiffness_pa, air_pa) for air in (0.0, 50e-9))
    assert round(full / 1e6) == 56
    assert round(bubble / 1e6) == 10
    assert "would reach 560 bar" in LESSON
    assert round(4.5 / (25.0 * 200.0 / 3000.0) * 60.0) == 162
