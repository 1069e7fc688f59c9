"""The signs of each fault between tank and injection pump, as a learner meets them, on the boats where it can sit.

Every sign follows from the circuit: a fault sets one physical figure. Common practice, no source, unless named.
"""

from __future__ import annotations

import pytest
from fault_boats import LOW, WITH_LEVER, Row, case_id, cases, check, noticed, numbers_in, steps_on

from engine_sim.scenarios import SetFault

NO_GO = "fires_not|dies|dies_meanwhile|engine_stands"
AIRY = "screw_froth|screw_air|screw_clears"
BOTH_PUMPS = ("electric_pump", "high_tank", "metal_bowl", "tank_below")
RUN = "start engine.run_cruise_5min"

ROWS = (
    Row("empty_tank", "tank", f"{RUN} bleed", f"{NO_GO} {AIRY}", BOTH_PUMPS),
    Row("gauge_wrong", "tank", "tank.tap_gauge", "gauge_dead", ("tank_below",)),
    Row("shut_valve", "shut_off", f"shut_off.look {RUN}", f"handle_across {NO_GO}", BOTH_PUMPS),
    Row("shut_valve", "shut_off", "lift_pump.lever_60", "lever_hard", ("high_tank", "metal_bowl")),
    Row("wrong_setting", "changeover", f"{RUN} bleed", f"{NO_GO} {AIRY}", ("two_tanks",)),
    Row(
        "blocked_vent",
        "tank",
        "tank.crack_cap",
        "cap_hisses",
        ("high_tank", "tank_below"),
        0.0,
        settings=(("tank_fill_share", 0.95),),
    ),
    Row("blocked_pick_up", "tank", f"{RUN} tank.blow_back", f"loses_speed|{NO_GO} blown_free", LOW, 2e6),
    Row(
        "blocked_pick_up",
        "tank",
        "separator.look lift_pump.lever_60",
        "lever_stiff|lever_hard",
        LOW[1:],
        after="bowl_clean",
    ),
    Row(
        "collapsed_hose",
        "separator_joint",
        f"separator_joint.look {RUN}",
        f"hose_flat loses_speed|{NO_GO}",
        ("metal_bowl", "tank_below"),
        2e6,
    ),
    Row(
        "loaded_element",
        "separator",
        f"separator.look {RUN}",
        f"bowl_dark loses_speed|{NO_GO}",
        ("tank_below", "high_tank"),
    ),
    Row("stuck_ball", "separator", RUN, f"loses_speed|{NO_GO}", ("electric_pump", "metal_bowl"), 3e6),
    Row(
        "loaded_element",
        "fine_filter",
        f"{RUN} engine.run_load_5min",
        "loses_speed|dies",
        ("high_tank", "metal_bowl", "tank_below"),
    ),
    Row("loaded_element", "fine_filter", "injection_pump.open_screw lift_pump.lever_60", "screw_weak", ("tank_below",)),
    Row("loaded_element", "fine_filter", "fine_filter.change_element", "element_dark", ("metal_bowl", "tank_below")),
    Row(
        "slack_joint",
        "separator_joint",
        f"separator_joint.wipe_and_try {RUN} bleed",
        f"joint_turns {NO_GO} {AIRY}",
        LOW,
    ),
    Row("slack_joint", "pump_joint", "pump_joint.look", "air_in_hose|froth_in_hose", LOW, after="joint_dry"),
    Row("slack_joint", "separator_joint", "bench.wait_night separator_joint.look", "joint_wet", ("high_tank",)),
    Row(
        "screw_loose",
        "fine_filter",
        f"fine_filter.try_screw {RUN} fine_filter.look",
        "screw_turns filter_wet",
        ("high_tank", "tank_below"),
    ),
    Row("screw_loose", "separator", f"separator.try_vent {RUN} bleed", f"vent_turns {NO_GO} {AIRY}", LOW),
    Row("air_in_filter", "fine_filter", f"{RUN} bleed", f"{NO_GO} {AIRY}", BOTH_PUMPS),
    Row("air_in_filter", "injection_pump", "bleed_pump", AIRY, BOTH_PUMPS[1:]),
    Row("torn_diaphragm", "lift_pump", "lift_pump.lever_60", "lever_soft|lever_air|lever_loses", LOW),
    Row("torn_diaphragm", "lift_pump", "start engine.run_idle_5min lift_pump.look", "pump_weeps", ("high_tank",)),
    Row("leaking_valve", "lift_pump", "lift_pump.lever_60", "lever_soft|lever_loses", WITH_LEVER),
    Row("cam_on_lobe", "lift_pump", "lift_pump.lever_10", "lever_flops", WITH_LEVER),
)


@pytest.mark.parametrize(("row", "layout"), cases(ROWS), ids=case_id)
def test_signs_show_on_the_boat_with_the_fault_and_on_no_sound_one(row, layout):
    check(row, layout)


def keys(layout: str, faults: tuple[SetFault, ...], does: str, **settings: float) -> list[str]:
    """Everything noticed by key, in order."""
    return [key for _, key, _ in noticed(layout, faults, steps_on(layout, does), tuple(settings.items()))]


@pytest.mark.parametrize("layout", ["tank_below", "two_tanks"])
def test_the_dipstick_tells_the_empty_tank_that_its_gauge_hides(layout):
    found = noticed(layout, (SetFault("empty_tank", "tank"),), ("tank.read_gauge", "tank.dip"))
    says = {key: text for _, key, text in found}
    assert "half full" in says["gauge_reads"]
    level, pick_up = numbers_in(says["dip_fuel"])
    assert level < pick_up


@pytest.mark.parametrize("layout", BOTH_PUMPS)
def test_opened_a_shut_valve_needs_no_bleeding(layout):
    found = keys(layout, (SetFault("shut_valve", "shut_off"),), f"start engine.run_idle_5min shut_off.open {RUN}")
    assert found[-1] in ("ran_well", "vacuum_reads") and "ran_well" in found


def test_the_opened_cap_cures_a_blocked_breather():
    fault = (SetFault("blocked_vent", "tank", 0.0),)
    found = keys("tank_below", fault, f"{RUN} tank.open_cap {RUN}", tank_fill_share=0.95)
    assert found.index("cap_off") < found.index("ran_well")


def vacuum_kpa(layout: str, *faults: SetFault) -> float:
    """What the vacuum gauge shows while motoring."""
    steps = steps_on(layout, "lift_pump.fit_gauge start engine.run_cruise_5min lift_pump.read_vacuum")
    return [numbers_in(text)[0] for _, key, text in noticed(layout, faults, steps) if key == "vacuum_reads"][-1]


@pytest.mark.parametrize("layout", ["tank_below"])
def test_the_vacuum_gauge_tells_before_from_behind_the_pump(layout):
    """TM 5-3895-346-14: 6 inHg (20.3 kPa) clean at most, change at 12 inHg (40.6 kPa)."""
    assert vacuum_kpa(layout) < 20.3
    assert vacuum_kpa(layout, SetFault("loaded_element", "separator", 800.0)) > 40.6
    assert vacuum_kpa(layout, SetFault("loaded_element", "fine_filter")) < 20.3


@pytest.mark.parametrize("layout", WITH_LEVER)
def test_one_turn_of_the_engine_mends_the_lever_on_its_lobe(layout):
    fault = (SetFault("cam_on_lobe", "lift_pump"),)
    found = keys(layout, fault, "lift_pump.lever_10 engine.turn_by_hand lift_pump.lever_10")
    assert found.index("lever_flops") < found.index("turned_by_hand")
    assert {"lever_steady", "lever_light"} & set(found[found.index("turned_by_hand") :])


@pytest.mark.parametrize("layout", ["high_tank", "single_cylinder"])
def test_a_slack_joint_under_head_lets_the_engine_run(layout):
    found = keys(layout, (SetFault("slack_joint", "separator_joint"),), RUN)
    assert "ran_well" in found
