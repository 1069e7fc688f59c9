"""Battery, starter, glow plugs, exhaust, oil and smoke: what is heard, felt, smelled and measured."""

from __future__ import annotations

import re

import pytest
from hands_kit import boat, do

from engine_sim.attempt import Attempt
from engine_sim.circuit import layout_names, load_layout


def figures(attempt: Attempt, part: str, action: str) -> list[float]:
    """Return the figures in the first sentence that an action gives."""
    return [float(found) for found in re.findall(r"\d+(?:\.\d+)?", attempt.act(part, action).observations[0].text)]


def layout_with(kind: str) -> str:
    return next(name for name in layout_names() if load_layout(name).parts_of(kind))


@pytest.mark.parametrize(
    ("set_it", "heard"),
    [
        (lambda engine: None, "cranks_briskly"),
        (lambda engine: setattr(engine.battery, "connected", False), "starter_dead"),
        (lambda engine: setattr(engine.starter, "solenoid_ok", False), "starter_dead"),
        (lambda engine: setattr(engine.starter, "burnt", True), "starter_clicks"),
        (lambda engine: setattr(engine.battery, "extra_ohm", 0.3), "starter_clicks"),
    ],
    ids=["sound", "isolator off", "solenoid", "burnt", "bad connection"],
)
def test_the_key_sounds_by_what_is_wrong(set_it, heard):
    attempt = boat()
    set_it(attempt.place.rig.engine)
    assert do(attempt, "starter.crank_5")[0] == heard


def test_drop_test_tells_the_battery_connection_from_the_cable():
    """US Army TM 10-3930-671-24: at most 0.2 V lost for each 100 A, 0.4 V along the positive cable."""
    sound, bad_post, bad_cable = boat(), boat(), boat()
    bad_post.place.rig.engine.battery.extra_ohm = 0.02
    bad_cable.place.rig.engine.starter.extra_ohm = 0.02
    lost = [figures(attempt, "starter", "drop_test")[:2] for attempt in (sound, bad_post, bad_cable)]
    assert lost[0][0] <= 0.1 and lost[0][1] <= 0.4
    assert lost[1][0] > 1.0 and lost[1][1] <= 0.4
    assert lost[2][0] <= 0.1 and lost[2][1] > 1.0


def test_bad_terminal_gets_hot_and_cleaning_cures_it():
    attempt = boat()
    attempt.place.rig.engine.battery.extra_ohm = 0.03
    do(attempt, "starter.crank_10")
    assert do(attempt, "battery.feel_terminals") == ["terminal_hot"]
    assert do(attempt, "battery.clean_terminals") == ["terminals_cleaned"]
    assert do(attempt, "battery.clean_terminals") == ["terminals_were_clean"]


def test_tapping_helps_once():
    attempt = boat()
    attempt.place.rig.engine.starter.solenoid_ok = False
    assert do(attempt, "starter.crank_5")[0] == "starter_dead"
    assert do(attempt, "starter.tap", "starter.crank_5")[0] == "cranks_briskly"
    do(attempt, "engine.stop")
    assert do(attempt, "starter.crank_5")[0] == "starter_dead"


def test_voltmeter_falls_while_cranking_and_reads_tenths():
    attempt = boat()
    at_rest = figures(attempt, "battery", "volts")[0]
    cranking = figures(attempt, "starter", "volts")[0]
    assert 12.0 < at_rest < 13.0 and 9.0 < cranking < at_rest
    assert round(cranking, 1) == cranking


def test_seacock_silencer_and_impeller():
    attempt = boat()
    assert do(attempt, "exhaust.look") == ["seacock_is_open"]
    assert do(attempt, "exhaust.knock") == ["silencer_empty"]
    attempt.place.rig.engine.stop_pulled = True
    for _ in range(12):
        do(attempt, "starter.crank_10", "starter.rest")
    assert do(attempt, "exhaust.knock") == ["silencer_full"]
    assert do(attempt, "exhaust.drain", "exhaust.knock") == ["silencer_empty"]
    do(attempt, "stop_control.push_home", "exhaust.shut_seacock", "starter.crank_10", "starter.crank_10")
    assert attempt.outside()["engine"] == "running"
    assert "water_missing" in do(attempt, "exhaust.look")
    do(attempt, "engine.run_idle_5min", "engine.stop")
    assert do(attempt, "exhaust.look_impeller") == ["impeller_torn"]
    assert do(attempt, "exhaust.new_impeller", "exhaust.look_impeller") == ["impeller_sound"]


def test_oil_thinned_by_fuel_is_read_and_smelled():
    attempt = boat()
    assert do(attempt, "engine.dip_oil") == ["oil_right"]
    attempt.place.rig.engine.oil.fuel_m3 = 1e-3
    assert do(attempt, "engine.dip_oil") == ["oil_over", "oil_thin"]
    assert do(attempt, "engine.change_oil", "engine.dip_oil") == ["oil_right"]


def test_covered_air_intake_smokes_black_and_is_seen():
    attempt = boat()
    attempt.place.rig.engine.intake_opening = 0.05
    do(attempt, "starter.crank_10")
    assert "smoke_black" in do(attempt, "engine.run_load_5min")
    assert do(attempt, "engine.look_intake") == ["intake_blocked"]
    do(attempt, "engine.stop", "engine.clear_intake", "starter.crank_10")
    assert "smoke_black" not in do(attempt, "engine.run_cruise_5min")


def test_hot_parts_cool_while_one_waits():
    attempt = boat()
    do(attempt, "starter.crank_10", "engine.run_cruise_5min", "engine.stop")
    assert do(attempt, "engine.feel_heat") == ["still_hot"]
    assert "cooled" in do(attempt, "bench.cool")


def test_glow_plugs_draw_and_warm_and_a_dead_feed_does_not():
    attempt = boat(layout_with("preheat"))
    cylinders = len(attempt.place.rig.engine.lines)
    assert figures(attempt, "preheat", "heat_20")[0] == pytest.approx(10.0 * cylinders, rel=0.15)
    assert do(attempt, "preheat.feel_stems") == ["stems_warm"]
    dead = boat(layout_with("preheat"))
    dead.place.rig.engine.preheat.supply_ok = False
    assert figures(dead, "preheat", "heat_20")[0] == 0.0
    assert do(dead, "preheat.feel_stems") == ["stems_cold"]
    assert do(dead, "preheat.mend") == ["preheat_mended"]


def test_stop_solenoid_clicks_and_its_wire_its_coil_and_a_hand_are_told_apart():
    attempt = boat(layout_with("stop_solenoid"))
    engine = attempt.place.rig.engine
    assert do(attempt, "stop_solenoid.listen") == ["solenoid_clicks"]
    engine.solenoid_wired = False
    assert do(attempt, "stop_solenoid.listen") == ["solenoid_silent"]
    assert do(attempt, "stop_solenoid.look") == ["solenoid_wire_off"]
    assert figures(attempt, "stop_solenoid", "volts")[0] == 0.0
    assert do(attempt, "stop_solenoid.connect_wire", "stop_solenoid.listen") == ["solenoid_clicks"]
    engine.solenoid_ok = False
    assert do(attempt, "stop_solenoid.listen") == ["solenoid_silent"]
    assert figures(attempt, "stop_solenoid", "volts")[0] > 11.0
    do(attempt, "stop_solenoid.hold")
    assert "fires" in do(attempt, "starter.crank_10")


def test_starting_handle_starts_the_single_cylinder_with_the_valve_lifted_only():
    attempt = boat(layout_with("hand_start"))
    assert do(attempt, "hand_start.swing_down") == ["swings_not"]
    heard = do(attempt, "hand_start.swing_10")
    for _ in range(3):
        if "fires" in heard:
            break
        heard = do(attempt, "hand_start.swing_10")
    assert "fires" in heard


def test_electric_pump_hums_while_the_key_is_on():
    attempt = boat("electric_pump")
    assert do(attempt, "lift_pump.listen") == ["pump_silent"]
    assert "pump_hums" in do(attempt, "engine.key_on")
    assert attempt.outside()["key_on"] is True
    assert do(attempt, "lift_pump.listen") == ["pump_hums"]
    do(attempt, "engine.key_off")
    assert do(attempt, "lift_pump.listen") == ["pump_silent"]
