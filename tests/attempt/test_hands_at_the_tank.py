"""Tank, jar, can and joints: what is noticed comes from what passed and what stands open."""

from __future__ import annotations

import pytest
from hands_kit import boat, do, keys

from engine_sim.attempt import Attempt
from engine_sim.units import MILLILITRE_M3


def tank(attempt: Attempt) -> int:
    return attempt.place.rig.topology.volume_number("tank")


def test_cap_hisses_where_the_breather_is_blocked_and_only_then():
    free, blocked = boat(), boat()
    blocked.place.rig.set_open("tank.vent", 0.0)
    for attempt in (free, blocked):
        do(attempt, "starter.crank_10", *("engine.run_cruise_30min",) * 2, "engine.stop")
    assert "cap_silent" in do(free, "tank.crack_cap")
    assert "cap_hisses" in do(blocked, "tank.crack_cap")
    assert "cap_silent" in do(blocked, "tank.close_cap", "tank.crack_cap"), "the pressure is even now"
    assert do(blocked, "tank.clear_breather") == ["breather_cleared"]
    assert do(blocked, "tank.clear_breather") == ["breather_free"]


def test_pouring_fuel_in_shows_the_hiss_and_leaves_the_cap_as_it_was():
    attempt = boat()
    attempt.place.rig.set_open("tank.vent", 0.0)
    do(attempt, "starter.crank_10", *("engine.run_cruise_30min",) * 2, "engine.stop")
    assert do(attempt, "tank.add_fuel") == ["cap_off_for_it", "cap_hisses", "fuel_added"]
    assert attempt.outside()["filler_cap"] == "on"


def test_paste_shows_water_that_the_bare_dipstick_does_not():
    attempt = boat()
    assert "paste_dry" in do(attempt, "tank.dip_paste")
    attempt.place.rig.circuit.fill("tank", 0.4, 0.04)
    assert do(attempt, "tank.dip") == ["dip_fuel"]
    assert "paste_water" in do(attempt, "tank.dip_paste")


def test_sump_sample_takes_the_water_first_and_the_jar_holds_what_came():
    attempt = boat()
    circuit = attempt.place.rig.circuit
    circuit.fill("tank", 0.4, 0.02)
    held = circuit.fuel_m3[tank(attempt)] + circuit.water_m3[tank(attempt)]
    step = attempt.act("tank", "sample_sump")
    assert keys(step)[:2] == ["sump_runs", "jar_water"]
    gone = held - circuit.fuel_m3[tank(attempt)] - circuit.water_m3[tank(attempt)]
    sample = attempt.place.jar.sample(attempt.place.rig)
    assert sample.liquid_m3 == pytest.approx(gone, abs=1e-8), "but for what settles in the pick-up"
    assert attempt.place.spilled_ml() == 0
    assert attempt.outside()["jar_ml"] == round(gone / MILLILITRE_M3, -1)
    assert do(attempt, "bench.empty_jar", "bench.read_jar") == ["jar_empty"]
    assert attempt.outside()["waste_ml"] == round(gone / MILLILITRE_M3, -1)
    assert do(attempt, "bench.waste_ashore") == ["waste_ashore"] and attempt.outside()["waste_ml"] == 0


@pytest.mark.parametrize(
    ("figure", "key"),
    [("petrol_m3", "jar_petrol"), ("dirt_kg", "jar_dirt"), ("haze_m3", "jar_hazy")],
)
def test_jar_shows_what_came_with_the_fuel(figure, key):
    attempt = boat()
    circuit, number = attempt.place.rig.circuit, tank(attempt)
    amount = {"petrol_m3": 0.05, "dirt_kg": 10.0, "haze_m3": 0.0006}[figure]
    getattr(circuit, figure)[number] += amount * circuit.fuel_m3[number]
    if figure == "haze_m3":
        circuit.water_m3[number] += amount * circuit.fuel_m3[number]
    assert key in do(attempt, "tank.sample_sump")
    assert key not in do(boat(), "tank.sample_sump")


def test_drawing_from_the_floor_takes_the_water_away():
    attempt = boat()
    attempt.place.rig.circuit.fill("tank", 0.4, 0.02)
    assert do(attempt, "tank.draw_bottom") == ["not_possible"]
    do(attempt, "tank.open_cap")
    assert do(attempt, "tank.draw_bottom") == ["bottom_drawn"]
    assert attempt.place.rig.circuit.water_m3[tank(attempt)] == pytest.approx(0.0, abs=1e-9)


def test_blowing_back_frees_a_blocked_pick_up_and_empties_its_hose():
    attempt = boat()
    attempt.place.rig.restrict("tank>pick_up", 1e13)
    assert do(attempt, "tank.blow_back") == ["blown_free"]
    assert attempt.place.rig.shares("pick_up.0")[2] > 0.9
    assert do(attempt, "tank.blow_back") == ["blown_easily"]


def test_a_stuck_needle_does_not_quiver():
    attempt = boat()
    assert do(attempt, "tank.tap_gauge") == ["gauge_quivers", "gauge_reads"]
    attempt.place.rig.gauge_stuck_at["tank"] = 0.5
    assert do(attempt, "tank.tap_gauge") == ["gauge_dead", "gauge_reads"]


def test_joint_undone_is_tight_again_with_new_washers_and_washers_run_out():
    attempt = boat()
    do(attempt, "pump_joint.undo")
    assert do(attempt, "pump_joint.wipe_and_try") == ["joint_turns"]
    assert do(attempt, "pump_joint.remake") == ["joint_remade"]
    assert do(attempt, "pump_joint.wipe_and_try") == ["joint_tight"]
    do(attempt, *("pump_joint.remake",) * 3)
    assert do(attempt, "pump_joint.remake") == ["none_left"]


def test_hose_sucked_flat_is_seen_and_a_new_one_cures_it():
    attempt = boat()
    links = [link.id for link in attempt.place.rig.topology.links if link.id.startswith("suction_hose.1>")]
    attempt.place.rig.restrict(links[0], 1e12)
    assert "hose_flat" in do(attempt, "separator_joint.look")
    assert do(attempt, "separator_joint.new_hose") == ["hose_renewed"]
    assert do(attempt, "separator_joint.look") == ["joint_dry", "air_in_hose"]


def test_can_feeds_the_pump_past_a_shut_tank_and_can_be_taken_off_again():
    attempt = boat()
    do(attempt, "bench.lay_tray", "shut_off.shut", "can.lash", "can.crack_cap")
    assert do(attempt, "can.to_pump") == ["can_led_to_pump"]
    assert attempt.outside()["can_in_use"] is True
    assert do(attempt, "can.to_pump") == ["not_possible"]
    do(attempt, "return_line.to_can", "fine_filter.open_screw", *("lift_pump.lever_60",) * 6)
    assert "screw_solid" in do(attempt, "lift_pump.lever_60")
    do(attempt, "fine_filter.close_screw")
    assert "fires" in do(attempt, "starter.crank_10")
    assert "ran_well" in do(attempt, "engine.run_cruise_30min")
    do(attempt, "engine.stop")
    assert do(attempt, "can.from_pump") == ["can_led_away"]
    assert (attempt.outside()["can_in_use"], attempt.outside()["return_to"]) == (False, "can")


def test_return_into_the_jar_fills_it_and_stops_running_to_the_tank():
    attempt = boat()
    do(attempt, "starter.crank_10", "return_line.to_jar")
    assert attempt.outside()["return_to"] == "jar"
    do(attempt, "engine.run_idle_1min")
    assert attempt.outside()["jar_ml"] > 0
    assert attempt.place.spilled_ml() == 0
    assert do(attempt, "return_line.to_jar") == ["not_possible"]
    assert do(attempt, "return_line.to_tank", "return_line.look") == ["return_dry"]


def test_jar_that_is_full_runs_over_and_a_fresh_one_does_not():
    attempt = boat()
    do(attempt, "starter.crank_10", "return_line.to_jar")
    heard = [word for _ in range(6) for word in do(attempt, "engine.run_cruise_5min")]
    assert "jar_over" in heard
    assert attempt.outside()["jar_ml"] == 2000 and attempt.place.spilled_ml() > 0
    do(attempt, "engine.stop")
    assert do(attempt, "bench.fresh_jar", "bench.read_jar") == ["jar_empty"]
    assert attempt.outside()["waste_ml"] == 2000


@pytest.mark.parametrize(("lashed", "tips"), [(True, False), (False, True)])
def test_a_can_that_stands_loose_tips_over_in_a_seaway(lashed, tips):
    attempt = boat(seaway=0.6)
    if lashed:
        do(attempt, "can.lash")
    do(attempt, "can.crack_cap", "can.to_pump", "fine_filter.open_screw", *("lift_pump.lever_60",) * 8)
    do(attempt, "fine_filter.close_screw", "starter.crank_10")
    assert ("can_tips" in do(attempt, "engine.run_idle_1min")) is tips


def test_waste_held_is_told_until_it_is_ashore():
    attempt = boat()
    do(attempt, "pump_joint.undo", "lift_pump.lever_60", "separator.open_drain", "bench.wait_1min")
    do(attempt, "separator.close_drain", "bench.empty_jar", "bench.wipe_up")
    assert attempt.outside()["oily_rags"] == 1
    do(attempt, "bench.waste_ashore")
    assert (attempt.outside()["waste_ml"], attempt.outside()["oily_rags"]) == (0, 0)
