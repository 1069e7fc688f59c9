"""The signs of what looks like fuel and is not: stop control, battery, starter, injectors, air, exhaust, propeller.

Common practice, no source, unless named.
"""

from __future__ import annotations

import pytest
from fault_boats import Row, case_id, cases, check, noticed, numbers_in, steps_on

from engine_sim.scenarios import SetFault

NO_GO = "fires_not|dies|dies_meanwhile|engine_stands"
RUN = "start engine.run_cruise_5min"
DIESEL_STARTER = ("high_tank", "tank_below")
SOLENOID = ("electric_pump", "metal_bowl")

ROWS = (
    Row(
        "stop_control_pulled",
        "stop_control",
        "stop_control.look start",
        "stop_out fires_not smoke_none",
        ("electric_pump", "high_tank", "metal_bowl", "tank_below", "two_tanks"),
        after="cranks_briskly",
    ),
    Row("stop_control_pulled", "stop_control", "stop_control.look start", "stop_out fires_not", ("single_cylinder",)),
    Row(
        "dead_solenoid", "stop_solenoid", "stop_solenoid.listen start", "solenoid_silent fires_not smoke_none", SOLENOID
    ),
    Row("isolator_off", "battery", "battery.look starter.crank_10", "lamps_dead starter_dead", DIESEL_STARTER),
    Row(
        "flat_battery",
        "battery",
        "battery.look starter.crank_10",
        "lamps_dim cranks_slowly|cranks_barely|starter_chatters",
    ),
    Row("bad_connection", "battery", "starter.crank_10 battery.feel_terminals", "starter_clicks terminal_hot"),
    Row(
        "bad_connection",
        "starter",
        "starter.crank_10 starter.feel_terminal",
        "starter_clicks terminal_hot",
    ),
    Row("starter_solenoid", "starter", "starter.crank_10", "starter_dead", DIESEL_STARTER, after=""),
    Row("failed_starter", "starter", "starter.look starter.crank_10", "starter_burnt starter_clicks"),
    Row("air_in_line", "injector_1", "start", "beat_uneven", DIESEL_STARTER),
    Row("failed_injector", "injector_2", "start engine.run_idle_1min", "beat_uneven ran_unevenly", DIESEL_STARTER),
    Row(
        "leaking_injector",
        "injector_1",
        f"{RUN} engine.stop injector_1.look engine.dip_oil",
        "engine_knocks beat_uneven nut_wet smoke_black|smoke_white",
        DIESEL_STARTER,
    ),
    Row(
        "blocked_return",
        "return_line",
        f"start return_line.look {RUN}",
        f"return_swollen {NO_GO}",
        ("metal_bowl",),
    ),
    Row("blocked_return", "return_line", "return_line.blow_through", "return_cleared", ("tank_below", "electric_pump")),
    Row("blocked_intake", "engine", f"engine.look_intake {RUN}", "intake_blocked engine_labours smoke_black"),
    Row(
        "blocked_exhaust",
        "exhaust",
        f"{RUN} engine.stop exhaust.look_elbow",
        "engine_labours smoke_black elbow_blocked",
    ),
    Row("fouled_propeller", "engine", f"engine.look_propeller {RUN}", "propeller_foul engine_labours smoke_black"),
    Row(
        "low_compression", "engine", "bench.wait_night starter.crank_10", "fires_not smoke_white", ("tank_below",), 0.6
    ),
    Row("shut_seacock", "exhaust", "exhaust.look starter.crank_10 exhaust.look", "seacock_is_shut water_missing"),
)


@pytest.mark.parametrize(("row", "layout"), cases(ROWS), ids=case_id)
def test_signs_show_on_the_boat_with_the_fault_and_on_no_sound_one(row, layout):
    check(row, layout)


def says(layout: str, does: str, *faults: SetFault) -> dict[str, str]:
    """What is noticed, the last sentence of each key."""
    return {key: text for _, key, text in noticed(layout, faults, steps_on(layout, does))}


def test_a_voltmeter_tells_flat_battery_bad_connection_and_dead_solenoid_apart():
    """TM 10-3930-671-24: at least 9.6 V while cranking; 0.2 V lost for each 100 A, 0.4 V along the positive cable."""
    does = "stop_control.pull battery.volts starter.volts starter.drop_test starter.signal"
    found = {
        name: says("tank_below", does, *faults)
        for name, faults in {
            "sound": (),
            "flat": (SetFault("flat_battery", "battery"),),
            "bad": (SetFault("bad_connection", "battery"),),
            "solenoid": (SetFault("starter_solenoid", "starter"),),
        }.items()
    }
    at_starter = {name: numbers_in(one["volts_cranking"])[0] for name, one in found.items()}
    assert at_starter["sound"] >= 9.6
    assert at_starter["flat"] < 9.6 and at_starter["bad"] < 9.6
    lost = {name: numbers_in(found[name]["volts_dropped"])[0] for name in ("sound", "flat", "bad")}
    assert lost["bad"] > 2.0 and lost["flat"] < 0.4 and lost["sound"] < 0.4
    assert at_starter["solenoid"] > 11.0 and numbers_in(found["solenoid"]["volts_dropped"])[0] < 0.4
    assert numbers_in(found["solenoid"]["volts_signal"])[0] > 11.0, "volts at the thin wire, and no pull-in"


def test_a_nut_slackened_in_turn_finds_the_cylinder_with_air():
    fault = (SetFault("air_in_line", "injector_2", 1e-6),)
    found = says("tank_below", "start bench.put_on_goggles injector_2.slacken_nut injector_2.tighten_nut", *fault)
    assert "beat_unchanged" in found or "nut_froth" in found
    other = says("tank_below", "start bench.put_on_goggles injector_1.slacken_nut", *fault)
    assert "beat_unchanged" not in other


def test_oil_tells_a_leaking_injector_after_hours():
    found = says(
        "high_tank",
        f"{RUN} {'engine.run_cruise_30min ' * 8} engine.stop engine.dip_oil",
        SetFault("leaking_injector", "injector_1"),
    )
    assert {"oil_over", "oil_thin"} & set(found)
