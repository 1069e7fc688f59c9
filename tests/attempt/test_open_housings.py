"""A filter or a bowl that is off is a wide hole, one put back badly a small leak, and screws stay as they stood."""

from __future__ import annotations

import pytest
from hands_kit import LAYOUTS, boat, do, keys

from engine_sim.attempt import Attempt

OFF = {"fine_filter": "take_off", "separator": "take_bowl_off"}


def start(attempt: Attempt) -> None:
    """Start the engine, by hand where there is no starter."""
    turn = "crank_10" if attempt.place.first("starter") else "swing_10"
    assert "fires" in do(attempt, f"{attempt.place.first('starter', 'hand_start')}.{turn}")


def lost_m3(attempt: Attempt) -> float:
    return attempt.place.rig.spilled_m3 + attempt.place.rig.caught_m3


@pytest.mark.parametrize("layout", LAYOUTS)
def test_an_engine_without_its_fine_filter_spills_and_dies(layout):
    attempt = boat(layout)
    start(attempt)
    do(attempt, "fine_filter.take_off")
    before_m3 = lost_m3(attempt)
    heard = do(attempt, "engine.run_idle_5min")
    assert "dies" in heard
    assert lost_m3(attempt) > before_m3 + 50e-6, "what the pump or the tank brings pours out, far more than a screw"


def test_an_engine_without_its_separators_bowl_dies_of_the_air():
    attempt = boat()
    start(attempt)
    do(attempt, "separator.take_bowl_off")
    assert "dies" in do(attempt, "engine.run_idle_5min")


def test_a_missing_filter_does_worse_than_a_loose_one():
    """Both bled as far as they can be: the loose one drips and runs, the missing one pours out and does not."""
    loose, missing = boat(), boat()
    work = ("fine_filter.clean_outside", "fine_filter.take_off", "fine_filter.check_ring", "fine_filter.wipe_seat")
    for attempt in (loose, missing):
        do(attempt, *work)
    do(loose, "fine_filter.fit_loose", "fine_filter.open_outlet_screw", *("lift_pump.lever_60",) * 12)
    do(loose, "fine_filter.close_outlet_screw", "injection_pump.open_screw", *("lift_pump.lever_60",) * 6)
    do(loose, "injection_pump.close_screw")
    do(missing, *("lift_pump.lever_60",) * 18)
    lost = []
    for attempt in (loose, missing):
        before_m3 = lost_m3(attempt)
        start(attempt)
        lost.append((keys(attempt.act("engine", "run_idle_5min")), lost_m3(attempt) - before_m3))
    assert "ran_well" in lost[0][0] and "dies" in lost[1][0]
    assert lost[1][1] > 5.0 * lost[0][1], "in a fifth of the time"


def test_the_lever_pours_out_at_the_open_head_what_a_stroke_brings_and_the_gallery_gets_none_of_it():
    attempt = boat()
    do(attempt, "bench.lay_tray", "fine_filter.take_off")
    rig = attempt.place.rig
    before_m3, to_gallery = lost_m3(attempt), rig.passed("fine_filter>gallery_hose")[0]
    said = [do(attempt, "lift_pump.lever_60") for _ in range(4)]
    for words in said:
        assert [word for word in words if word.startswith("head_")] in (["head_froths"], ["head_pours"])
        assert not [word for word in words if word.startswith("screw_")]
    stroke_m3 = rig.number("lift_pump", "stroke_m3") * rig.number("lift_pump", "stroke_efficiency")
    assert lost_m3(attempt) - before_m3 == pytest.approx(240 * stroke_m3, rel=0.1)
    assert rig.passed("fine_filter>gallery_hose")[0] <= to_gallery + 1e-6
    assert attempt.place.spilled_ml() == 0, "the tray holds it"


def test_a_high_tank_pours_out_at_the_open_head_and_a_shut_one_does_not():
    for valve, key in (("open", "head_pours"), ("shut", "head_nothing")):
        attempt = boat("high_tank")
        do(attempt, f"shut_off.{valve}", "fine_filter.take_off", "bench.wait_1min")
        assert key in do(attempt, "bench.wait_10s")


def test_an_open_suction_hose_only_falls_empty_whatever_the_lever_does():
    """Tank below: no fuel climbs to the open bowl, so none is spilled there while air is pumped."""
    attempt = boat()
    do(attempt, "separator.take_bowl_off", *("lift_pump.lever_60",) * 2)
    before_m3 = lost_m3(attempt)
    assert "head_draws" in do(attempt, *("lift_pump.lever_60",) * 3)
    assert lost_m3(attempt) - before_m3 < 1e-6


@pytest.mark.parametrize(
    ("part", "screws", "fit"),
    [
        ("fine_filter", ("screw", "outlet_screw"), "fit_by_hand"),
        ("fine_filter", ("screw",), "fit_old"),
        ("fine_filter", ("outlet_screw",), "change_element"),
        ("separator", ("vent",), "fit_wetted"),
        ("separator", ("vent", "drain"), "change_element"),
    ],
)
def test_a_screw_that_stood_open_stands_open_after_refitting(part, screws, fit):
    attempt = boat()
    do(attempt, "shut_off.shut", *(f"{part}.open_{name}" for name in screws))
    if fit != "change_element":
        do(attempt, f"{part}.{OFF[part]}")
        assert not any(attempt.outside()[f"{part}_{name}_open"] for name in screws), "it is taken apart"
    do(attempt, f"{part}.{fit}")
    assert all(attempt.outside()[f"{part}_{name}_open"] for name in screws)
    shut = {name for name in ("screw", "outlet_screw", "vent", "drain") if f"{part}_{name}_open" in attempt.outside()}
    assert not any(attempt.outside()[f"{part}_{name}_open"] for name in shut - set(screws))


def test_a_drain_that_stood_open_runs_into_the_jar_again_after_refitting():
    attempt = boat("high_tank")
    do(attempt, "shut_off.shut", "separator.open_drain", "separator.take_bowl_off", "separator.fit_wetted")
    held, lost = attempt.outside()["jar_ml"], lost_m3(attempt)
    do(attempt, "shut_off.open", "bench.wait_1min")
    assert attempt.outside()["jar_ml"] > held and lost_m3(attempt) == lost


def test_a_screw_a_hair_loose_stays_so_while_the_filter_is_changed():
    attempt = boat()
    attempt.place.rig.set_open("fine_filter.screw", 0.05)
    do(attempt, "shut_off.shut", "fine_filter.change_element")
    assert do(attempt, "fine_filter.try_screw") == ["screw_turns"]


def test_an_unwiped_seat_hisses_at_the_rim_under_suction_and_the_vent_is_tight():
    attempt = boat()
    do(attempt, "shut_off.shut", "separator.take_bowl_off", "separator.fit_wetted", "shut_off.open")
    worked = [do(attempt, "lift_pump.lever_60") for _ in range(3)]
    assert all("rim_hiss" in words and "vent_hiss" not in words for words in worked)
    assert do(attempt, "separator.try_vent") == ["vent_tight"]
    start(attempt)
    assert "rim_hiss" in do(attempt, "separator.look"), "an honest learner who looks finds it"
    sound = boat()
    start(sound)
    assert not {"rim_hiss", "rim_wet"} & set(do(sound, "separator.look"))


def test_an_unwiped_seat_is_wet_at_the_rim_under_pressure():
    attempt = boat("high_tank")
    do(attempt, "shut_off.shut", "separator.take_bowl_off", "separator.fit_wetted", "shut_off.open")
    do(attempt, "bench.wait_5min", "bench.wait_5min")
    assert {"separator_wet", "rim_wet"} <= set(do(attempt, "separator.look"))
    assert do(attempt, "separator.try_vent") == ["vent_tight"]
    do(attempt, "shut_off.shut", "separator.take_bowl_off", "separator.wipe_bowl", "separator.fit_wetted")
    do(attempt, "separator.clean_outside", "shut_off.open", "bench.wait_5min")
    assert "rim_wet" not in do(attempt, "separator.look"), "a clean seat cures it"


def test_a_leaking_ring_is_wet_there_and_a_loose_screw_is_not():
    ring, screw = boat(), boat()
    do(ring, "fine_filter.take_off", "fine_filter.fit_by_hand", *("lift_pump.lever_60",) * 12)
    screw.place.rig.set_open("fine_filter.screw", 0.02)
    do(screw, *("lift_pump.lever_60",) * 6)
    assert {"filter_wet", "ring_wet"} <= set(do(ring, "fine_filter.look"))
    assert do(ring, "fine_filter.try_screw") == ["screw_tight"]
    words = do(screw, "fine_filter.look")
    assert "filter_wet" in words and "ring_wet" not in words
    assert do(screw, "fine_filter.try_screw") == ["screw_turns"]


def test_a_filter_poured_full_comes_full_onto_its_head():
    attempt = boat()
    work = ("fine_filter.take_off", "fine_filter.check_ring", "fine_filter.wipe_seat", "fine_filter.pour_full")
    left_m3 = attempt.place.stores.clean_fuel_m3
    do(attempt, *work, "fine_filter.pour_full", "fine_filter.fit_by_hand")
    rig = attempt.place.rig
    spaces = [rig.topology.volumes[rig.topology.volume_number(f"fine_filter.{name}")] for name in ("dirty", "clean")]
    assert left_m3 - attempt.place.stores.clean_fuel_m3 == pytest.approx(sum(space.volume_m3 for space in spaces))
    assert all(rig.shares(space.id)[0] > 0.9 for space in spaces)
