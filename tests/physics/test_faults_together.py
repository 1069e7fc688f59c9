"""Two faults at once: both show, one cured leaves the other, every phase is conserved; some exclude each other."""

from __future__ import annotations

import pytest
from fault_boats import missing, noticed, steps_on
from rigs import found_rig
from test_conservation import assert_same_sums, sums

from engine_sim.attempt import Attempt
from engine_sim.errors import BadScenario
from engine_sim.scenarios import SetFault, compose_scenario

NO_GO = "fires_not|dies|dies_meanwhile|engine_stands"
AIRY = "screw_froth|screw_air|screw_clears"

PAIRS = (
    (
        "tank_below",
        (("slack_joint", "pump_joint"), ("loaded_element", "separator")),
        "separator.look pump_joint.wipe_and_try start bleed",
        f"bowl_dark joint_turns {NO_GO}",
    ),
    (
        "tank_below",
        (("shut_valve", "shut_off"), ("air_in_filter", "fine_filter")),
        "shut_off.look fine_filter.open_screw shut_off.open lift_pump.lever_60",
        f"handle_across {AIRY}",
    ),
    (
        "high_tank",
        (("water_in_bowl", "separator"), ("stop_control_pulled", "stop_control")),
        "separator.look stop_control.look start",
        "bowl_water|bowl_all_water stop_out fires_not",
    ),
    (
        "two_tanks",
        (("wrong_setting", "changeover"), ("flat_battery", "battery")),
        "battery.look starter.crank_10 bleed",
        f"lamps_dim cranks_slowly|cranks_barely|starter_chatters {AIRY}",
    ),
    (
        "electric_pump",
        (("dead_solenoid", "stop_solenoid"), ("shut_valve", "shut_off")),
        "stop_solenoid.listen shut_off.look start",
        "solenoid_silent handle_across fires_not",
    ),
    (
        "metal_bowl",
        (("leaking_injector", "injector_1"), ("fouled_propeller", "engine")),
        "engine.look_propeller start engine.run_cruise_5min",
        "propeller_foul beat_uneven engine_knocks loses_speed smoke_black",
    ),
)


def faults_of(pair: tuple) -> tuple[SetFault, ...]:
    """The faults of a pair, at their usual severity."""
    return tuple(SetFault(name, part) for name, part in pair)


@pytest.mark.parametrize(("layout", "pair", "does", "shows"), PAIRS, ids=[f"{a[0]}+{b[0]}" for _, (a, b), *_ in PAIRS])
def test_both_show(layout, pair, does, shows):
    steps = steps_on(layout, does)
    both = {key for _, key, _ in noticed(layout, faults_of(pair), steps)}
    assert missing(shows, both) == [], sorted(both)


@pytest.mark.parametrize(("layout", "pair", "does", "shows"), PAIRS, ids=[f"{a[0]}+{b[0]}" for _, (a, b), *_ in PAIRS])
def test_nothing_is_made_or_lost(layout, pair, does, shows):
    attempt = Attempt(compose_scenario(layout, faults_of(pair)))
    before = sums(attempt.place.rig)
    for step in (*steps_on(layout, does), *steps_on(layout, "start engine.run_cruise_5min bench.wait_30min")):
        attempt.act(*step.split("."))
    assert_same_sums(before, sums(attempt.place.rig))


def test_one_cured_leaves_the_other():
    rig = found_rig("tank_below", ("stop_control_pulled", "stop_control"), ("shut_valve", "shut_off"))
    rig.engine.stop_pulled = False
    rig.crank(10.0)
    assert rig.run(300.0, 850.0, in_gear=False) < 120.0
    rig.set_open("shut_off", 1.0)
    assert rig.crank(10.0)[1]
    assert rig.run(300.0, 850.0, in_gear=False) == 300.0


def test_the_order_in_which_they_are_named_changes_nothing():
    pair = (("slack_joint", "pump_joint"), ("water_in_bowl", "separator"))
    one, other = found_rig("tank_below", *pair), found_rig("tank_below", *pair[::-1])
    assert one.circuit.fuel_m3 == other.circuit.fuel_m3
    assert one.circuit.water_m3 == other.circuit.water_m3
    assert one.engine.battery.charge_share == other.engine.battery.charge_share


@pytest.mark.parametrize(
    ("first", "second", "thing"),
    [
        (("empty_tank", "tank"), ("water_in_tank", "tank"), "contents of tank"),
        (("empty_tank", "tank"), ("gauge_wrong", "tank"), "gauge of tank"),
        (("slack_joint", "pump_joint"), ("slack_joint", "pump_joint"), "slack_joint at pump_joint"),
        (("water_in_tank", "tank"), ("urea_in_fuel", "tank"), "contents of tank"),
        (("slime", "tank"), ("dirt_in_tank", "tank"), "floor of tank"),
    ],
)
def test_two_that_exclude_each_other_are_refused_with_the_reason(first, second, thing):
    with pytest.raises(BadScenario, match=f"exclude each other: both settle the {thing}"):
        compose_scenario("tank_below", [SetFault(*first), SetFault(*second)])


def test_the_same_fault_at_two_places_is_no_contradiction():
    pair = [SetFault("slack_joint", "pump_joint"), SetFault("slack_joint", "separator_joint")]
    assert len(compose_scenario("tank_below", pair).faults) == 2
