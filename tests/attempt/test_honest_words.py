"""What is said is what is so: at screws being tightened, in a bowl that sucks air, of lamps, heat, cans and mess."""

from __future__ import annotations

import pytest
from hands_kit import LAYOUTS, boat, do

from engine_sim.attempt import Attempt
from engine_sim.bench import words
from engine_sim.scenarios import SetFault
from engine_sim.wording import SENTENCES


def texts(attempt: Attempt, *names: str) -> list[str]:
    """Do each ``part.action``; return the sentences read at the last."""
    do(attempt, *names[:-1])
    step = attempt.act(*names[-1].split("."))
    return [seen.text for seen in step.observations]


def test_it_is_not_dry_all_round_where_fuel_lies_under_the_engine():
    attempt = boat()
    assert "no_wet_places" in do(attempt, "bench.look_around")
    seen = do(attempt, "fine_filter.take_off", "bench.look_around")
    assert {"parts_dry", "spilled", "smells_of_fuel"} <= set(seen) and "no_wet_places" not in seen


def test_what_the_tray_caught_is_seen_in_the_tray():
    attempt = boat()
    seen = do(attempt, "bench.lay_tray", "fine_filter.take_off", "bench.look_around")
    assert "in_the_tray" in seen and "spilled" not in seen


def test_a_screw_is_said_to_be_tightened_on_what_comes_at_that_moment():
    attempt = boat()
    do(attempt, "fine_filter.open_screw")
    assert do(attempt, "fine_filter.close_screw") == ["screw_shut_still"], "nobody pumps"
    assert do(attempt, "fine_filter.close_screw") == ["screw_shut"], "it was tight"
    do(attempt, "fine_filter.open_screw", "lift_pump.lever_60")
    assert do(attempt, "fine_filter.close_screw") == ["screw_shut_flowing"]


def test_a_screw_tightened_on_froth_says_so():
    attempt = boat()
    do(attempt, "fine_filter.change_element", "fine_filter.open_screw", "lift_pump.lever_60")
    assert do(attempt, "fine_filter.close_screw") == ["screw_shut_froth"]


def test_a_running_engine_keeps_it_flowing():
    attempt = boat()
    do(attempt, "starter.crank_10", "injection_pump.open_screw")
    assert do(attempt, "injection_pump.close_screw") == ["screw_shut_running"]


def test_air_sucked_in_at_the_drain_rises_in_the_glass():
    attempt = boat()
    assert do(attempt, "separator.look") == ["bowl_clean"]
    assert "drain_draws" in do(attempt, "starter.crank_10", "separator.open_drain")
    for _ in range(3):
        assert do(attempt, "separator.look") == ["bowl_bubbles"]
        do(attempt, "bench.wait_10s")
    assert do(attempt, "separator.close_drain", "separator.look") == ["bowl_clean"]


def test_an_engine_without_cooling_water_gives_its_signs_before_it_dies():
    attempt = boat()
    do(attempt, "starter.crank_10", "exhaust.shut_seacock")
    step = attempt.act("engine", "run_cruise_30min")
    assert [seen.key for seen in step.observations] == ["exhaust_dry", "alarm_sounds", "smells_hot", "dies"]
    minutes = [int(seen.text.split("After ")[1].split(" min")[0]) for seen in step.observations[1:]]
    assert minutes == sorted(minutes) and minutes[0] < minutes[-1]
    assert attempt.place.rig.engine.heat.temperature_k > 420.0, "and it died of the heat"


def test_the_alarm_sounds_when_the_engine_gets_too_hot_and_not_before():
    """Run minute by minute: in the minute of the alarm the engine passes its limit."""
    attempt = boat()
    do(attempt, "starter.crank_10", "exhaust.shut_seacock", "engine.run_cruise_5min", "engine.run_cruise_5min")
    heat = attempt.place.rig.engine.heat
    for _ in range(10):
        was = heat.overheated
        heard = do(attempt, "engine.run_fast_1min")
        assert ("alarm_sounds" in heard) is (heat.overheated and not was)
    assert heat.overheated


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_sound_engine_gives_no_sign_of_heat(layout):
    attempt = boat(layout)
    turn = "starter.crank_10" if attempt.place.first("starter") else f"{attempt.place.first('hand_start')}.swing_10"
    heard = do(attempt, turn, "engine.run_cruise_30min")
    assert "ran_well" in heard
    assert not {"exhaust_dry", "alarm_sounds", "smells_hot"} & set(heard)


def test_the_alarm_is_heard_while_one_waits():
    attempt = boat()
    do(attempt, "starter.crank_10", "exhaust.shut_seacock", "engine.run_cruise_5min", "engine.run_cruise_5min")
    attempt.place.rig.engine.heat.temperature_k = 377.0
    assert "alarm_meanwhile" in do(attempt, "bench.wait_5min")


@pytest.mark.parametrize(
    ("fault", "shown"), [(None, "bright"), ("flat_battery", "dim"), ("isolator_off", "dead")], ids=str
)
def test_panel_lamps_burn_only_with_the_key_on_and_all_say_the_same(fault, shown):
    attempt = boat("tank_below", *([SetFault(fault, "battery")] if fault else []))
    assert attempt.outside()["battery_lamps"] == shown
    assert words.lamps_text(attempt.outside()) == "Key off, panel dark"
    assert f"lamps_{shown}" in do(attempt, "battery.look")
    assert attempt.outside()["key_on"] is False, "turned on to look, and off again"
    assert "key on" in SENTENCES[f"lamps_{shown}"]
    do(attempt, "engine.key_on")
    assert words.lamps_text(attempt.outside()) == f"Panel lamps {shown}"
    assert f"lamps_{shown}" in do(attempt, "battery.look") and attempt.outside()["key_on"] is True
    assert texts(attempt, "engine.key_off") == ["You turn the key off; the panel is dark."]
    assert words.lamps_text(attempt.outside()) == "Key off, panel dark"


def test_what_hangs_on_the_key_is_heard_while_one_looks_at_the_lamps():
    attempt = boat("electric_pump")
    assert {"lamps_bright", "pump_hums"} <= set(do(attempt, "battery.look"))
    assert do(attempt, "lift_pump.listen") == ["pump_silent"]


def test_each_can_poured_in_is_a_fresh_one_and_they_are_counted_down():
    attempt = boat(tank_fill_share=0.2)
    read = [texts(attempt, "tank.add_fuel")[-1] for _ in range(2)]
    assert [text.split("cans")[0].split(". ")[-1] for text in read] == [
        "30.0 litres are left in the ",
        "20.0 litres are left in the ",
    ]
    assert all("fresh can" in text for text in read)
    do(attempt, "tank.add_fuel", "tank.add_fuel")
    assert do(attempt, "tank.add_fuel") == ["cap_off_for_it", "none_left"]


def test_a_full_tank_takes_no_more_and_no_litres_are_not_poured():
    attempt = boat(tank_fill_share=0.95)
    assert do(attempt, "tank.add_fuel") == ["cap_off_for_it", "tank_brimful"]
    attempt.place.rig.circuit.fill("tank", 0.9499)
    assert do(attempt, "tank.add_fuel") == ["cap_off_for_it", "tank_brimful"]
    attempt.place.rig.circuit.fill("tank", 0.9)
    do(attempt, "tank.open_cap")
    assert do(attempt, "tank.add_fuel") == ["fuel_added", "tank_brimful"], "the cap was off already"


def test_nothing_is_not_said_in_millilitres():
    attempt = boat()
    assert do(attempt, "bench.empty_jar") == ["jar_empty"]
    assert do(attempt, "bench.waste_ashore") == ["nothing_for_ashore"]
    assert do(attempt, "exhaust.drain") == ["silencer_was_empty"]
    assert do(attempt, "shut_off.shut", "separator.open_vent", "separator.fill", "separator.fill") == ["full_to_vent"]
    assert do(attempt, "bench.wipe_up", "bench.waste_ashore") == ["rags_ashore"]
    attempt.place.rig.circuit.fill("tank", 0.0)
    attempt.place.rig.circuit.fill("can", 0.0)
    assert do(attempt, "tank.open_cap", "tank.draw_bottom") == ["bottom_nothing"]
    assert do(attempt, "tank.wipe_out") == ["tank_wiped_empty"]
    assert do(attempt, "can.look")[0] == "can_empty"
