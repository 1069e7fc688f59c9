"""Filters, screws, pumps and nuts: what is done badly stays as a leak, and shows where the physics lets it."""

from __future__ import annotations

import pytest
from hands_kit import boat, do, keys

from engine_sim.scenarios import SetFault

CHANGE = (
    "bench.lay_tray",
    "fine_filter.clean_outside",
    "shut_off.shut",
    "fine_filter.take_off",
    "fine_filter.check_ring",
    "fine_filter.wipe_seat",
)


def bled(attempt) -> list[str]:
    """Open the valve and bleed outwards, screw by screw, each until it runs clear; return what came last."""
    do(attempt, "shut_off.open")
    came: list[str] = []
    for part, screw in (("fine_filter", "screw"), ("fine_filter", "outlet_screw"), ("injection_pump", "screw")):
        do(attempt, f"{part}.open_{screw}")
        for _ in range(15):
            came = do(attempt, "lift_pump.lever_60")
            if "screw_solid" in came:
                break
        do(attempt, f"{part}.close_{screw}")
    do(attempt, "bench.wipe_up")
    return came


def leak_after(*work: str, dark: bool = False) -> float:
    attempt = boat()
    if dark:
        rig = attempt.place.rig
        rig.circuit.cake_kg[rig.topology.link_number("fine_filter.element")] = 1.0
    do(attempt, *work)
    return attempt.place.rig.circuit.opening[attempt.place.rig.topology.link_number("fine_filter.ring")]


def test_filter_changed_step_by_step_is_tight_and_the_engine_runs():
    attempt = boat()
    do(attempt, *CHANGE)
    assert attempt.outside()["taken_apart"] == ("fine_filter",)
    assert do(attempt, "fine_filter.open_screw") == ["not_possible"]
    assert do(attempt, "fine_filter.fit_by_hand") == ["fitted_well"]
    assert leak_after(*CHANGE, "fine_filter.fit_by_hand") == 0.0
    assert "screw_solid" in bled(attempt)
    assert "fires" in do(attempt, "starter.crank_10")
    assert "ran_well" in do(attempt, "engine.run_cruise_5min")
    assert "fine_filter" not in attempt.outside()["weeping"]


@pytest.mark.parametrize("how", ["fit_dry", "fit_loose", "fit_forced"])
def test_a_ring_fitted_badly_leaks_and_the_filter_is_wet_after_a_run(how):
    attempt = boat()
    do(attempt, *CHANGE, f"fine_filter.{how}")
    bled(attempt)
    assert attempt.outside()["fine_filter_screw_open"] is False, "no eye sees it"
    do(attempt, "starter.crank_10", "engine.run_cruise_5min", "engine.stop")
    assert "filter_wet" in do(attempt, "fine_filter.look")


def test_only_a_filter_that_just_touches_is_cured_by_nipping_it_up():
    assert leak_after(*CHANGE, "fine_filter.fit_loose", "fine_filter.nip_up") == 0.0
    assert leak_after(*CHANGE, "fine_filter.fit_forced", "fine_filter.nip_up") > 0.0


def test_an_old_ring_left_on_the_seat_leaks_under_the_new_one():
    careless = ("fine_filter.take_off", "fine_filter.wipe_seat", "fine_filter.fit_by_hand")
    careful = ("fine_filter.take_off", "fine_filter.check_ring", "fine_filter.wipe_seat", "fine_filter.fit_by_hand")
    assert leak_after(*careless, dark=True) > leak_after(*CHANGE, "fine_filter.fit_dry")
    assert leak_after(*careful, dark=True) == 0.0


def test_filter_not_cleaned_outside_gets_dirt_in():
    def dirt(*work: str) -> float:
        attempt = boat()
        do(attempt, *work)
        return attempt.place.rig.circuit.dirt_kg[attempt.place.rig.topology.volume_number("fine_filter.dirty")]

    steps = ("fine_filter.take_off", "fine_filter.check_ring", "fine_filter.wipe_seat", "fine_filter.fit_by_hand")
    assert dirt(*steps) > dirt("fine_filter.clean_outside", *steps)


def test_open_housing_of_a_high_tank_runs_out_until_the_valve_is_shut():
    """The opened side lies below the tank: what runs out is what the tank loses."""
    open_valve, shut_valve = boat("high_tank"), boat("high_tank")
    do(shut_valve, "shut_off.shut")
    for attempt in (open_valve, shut_valve):
        do(attempt, "separator.take_bowl_off", "bench.wait_5min")
    lost = [attempt.place.rig.spilled_m3 for attempt in (open_valve, shut_valve)]
    assert lost[0] > 4.0 * lost[1] > 0.0


def test_screw_a_hair_loose_is_found_by_the_spanner_and_not_by_the_eye():
    attempt = boat()
    attempt.place.rig.set_open("fine_filter.screw", 0.05)
    assert "screw_is_shut" in do(attempt, "fine_filter.look")
    assert do(attempt, "fine_filter.try_screw") == ["screw_turns"]
    do(attempt, "fine_filter.close_screw")
    assert do(attempt, "fine_filter.try_screw") == ["screw_tight"]


def test_drain_fills_the_jar_while_it_is_open_whatever_is_done_meanwhile():
    attempt = boat("high_tank")
    do(attempt, "separator.open_drain")
    first = attempt.outside()["jar_ml"]
    do(attempt, "bench.put_on_goggles")
    assert attempt.outside()["jar_ml"] > first > 0
    do(attempt, "separator.close_drain")
    held = attempt.outside()["jar_ml"]
    do(attempt, "bench.wait_5min")
    assert attempt.outside()["jar_ml"] == held


def test_metal_bowl_shows_nothing_and_the_jar_does():
    attempt = boat("metal_bowl", SetFault("water_in_bowl", "separator"))
    assert do(attempt, "separator.look") == ["bowl_of_metal"]
    assert "bowl_water_share" not in attempt.outside()
    do(attempt, "shut_off.shut", "separator.open_vent", "separator.open_drain", "separator.close_drain")
    assert {"jar_water", "jar_all_water"} & set(do(attempt, "separator.read_jar"))


def test_lever_flops_on_the_lobe_until_the_engine_is_turned():
    attempt = boat()
    attempt.place.rig.engine.cam_on_lobe = True
    do(attempt, "fine_filter.open_screw")
    assert "lever_flops" in do(attempt, "lift_pump.lever_10")
    assert do(attempt, "engine.turn_by_hand") == ["turned_by_hand"]
    assert "lever_flops" not in do(attempt, "lift_pump.lever_10")


@pytest.mark.parametrize("fault", ["torn_diaphragm", "leaking_valve"])
def test_a_failed_lift_pump_feels_so_and_a_new_one_cures_it(fault):
    attempt = boat("tank_below", SetFault(fault, "lift_pump"))
    sound = boat()
    felt = []
    for one in (attempt, sound):
        do(one, "fine_filter.open_screw")
        felt.append({word for _ in range(3) for word in do(one, "lift_pump.lever_10")})
    assert felt[0] & {"lever_soft", "lever_loses", "lever_spongy", "lever_air"} and "lever_steady" not in felt[0]
    assert "lever_steady" in felt[1]
    do(attempt, "lift_pump.change_pump", *("lift_pump.lever_60",) * 15)
    assert "lever_steady" in do(attempt, "lift_pump.lever_10")


def test_vacuum_gauge_tells_a_choked_separator_under_load_to_its_marks():
    sound, choked = boat(), boat("tank_below", SetFault("loaded_element", "separator", 60.0))
    shown = []
    for attempt in (sound, choked):
        do(attempt, "lift_pump.fit_gauge", "starter.crank_10")
        step = attempt.act("engine", "run_cruise_5min")
        shown += [int(seen.text.split(" shows ")[1].split()[0]) for seen in step.observations if seen.sense == "gauge"]
    assert len(shown) == 2 and shown[1] > shown[0] + 4
    assert all(kpa % 2 == 0 for kpa in shown)


def test_nut_slackened_in_turn_tells_the_cylinder_that_does_not_work():
    attempt = boat()
    do(attempt, "bench.put_on_goggles", "starter.crank_10")
    attempt.place.rig.engine.lines[1].air_m3 = 1e-6
    do(attempt, "engine.look")
    assert "beat_unchanged" in do(attempt, "injector_2.slacken_nut")
    do(attempt, "injector_2.tighten_nut")
    assert "beat_stumbles" in do(attempt, "injector_1.slacken_nut")


def test_a_card_finds_the_spray_and_a_finger_is_hurt_by_it():
    attempt = boat()
    do(attempt, "bench.put_on_goggles", "starter.crank_10", "injector_3.slacken_nut")
    assert do(attempt, "injector_3.card") == ["card_wet"]
    assert do(attempt, "injector_1.card") == ["card_dry"]
    assert attempt.outside()["hurt"] is False
    assert do(attempt, "injector_3.finger") == ["finger_pierced"]
    assert attempt.outside()["hurt"] is True


def test_waxed_element_is_seen_and_a_warm_cloth_clears_it():
    attempt = boat("tank_below", SetFault("waxed_fuel", "tank"))
    do(attempt, "shut_off.shut")
    assert "element_waxy" in do(attempt, "fine_filter.take_off")
    warmed = boat("tank_below", SetFault("waxed_fuel", "tank"))
    do(warmed, "shut_off.shut", "fine_filter.warm")
    assert "element_waxy" not in do(warmed, "fine_filter.take_off")


def test_jammed_ball_is_found_with_the_bowl_off_and_freed():
    layout = "tank_below"
    attempt = boat(layout)
    if "check_ball" not in {offer.action for offer in attempt.offers("separator")}:
        layout = next(
            name
            for name in ("metal_bowl", "high_tank", "two_tanks", "electric_pump", "single_cylinder")
            if "check_ball" in {offer.action for offer in boat(name).offers("separator")}
        )
    attempt = boat(layout, SetFault("stuck_ball", "separator"))
    do(attempt, "shut_off.shut", "separator.take_bowl_off")
    assert do(attempt, "separator.check_ball") == ["ball_freed"]
    assert do(attempt, "separator.check_ball") == ["ball_free"]


def test_keys_of_one_step_come_from_one_place():
    """An action at one pump does not speak of another boat's parts."""
    attempt = boat("electric_pump")
    step = attempt.act("lift_pump", "listen")
    assert keys(step) == ["pump_silent"]


def test_ear_tells_an_injector_that_sprays_from_one_that_air_keeps_shut():
    attempt = boat()
    attempt.place.rig.engine.lines[0].air_m3 = 1e-6
    assert do(attempt, "injector_1.listen")[0] == "injector_silent"
    do(attempt, "engine.stop")
    assert do(attempt, "injector_2.listen")[0] == "injector_creaks"


def test_changing_an_element_with_the_engine_running_is_possible_and_stops_it():
    attempt = boat()
    do(attempt, "bench.lay_tray", "starter.crank_10")
    assert "dies_meanwhile" in do(attempt, "fine_filter.change_element")
    assert attempt.outside()["engine"] == "stopped"
