"""The lift pump: its cam on the lobe, a torn diaphragm, a valve that leaks; and the return line blocked behind it all.

Common practice, no source, unless a source is named.
"""

from __future__ import annotations

import pytest
from rigs import AIR, FUEL, ML, came_out, faulty_rig, from_screw, gap, runs_for, sound_rig

MECHANICAL = ("high_tank", "metal_bowl", "single_cylinder", "tank_below", "two_tanks")


@pytest.mark.parametrize("layout", MECHANICAL)
def test_with_the_cam_on_its_lobe_the_lever_does_nothing_and_one_turn_of_the_engine_mends_it(layout):
    rig = sound_rig(layout)
    rig.engine.cam_on_lobe = True
    before = rig.passed("lift_pump")[FUEL]
    rig.work_lever(20)
    assert rig.passed("lift_pump")[FUEL] - before < 1.0 * ML
    rig.engine.turn_by_hand()
    assert from_screw(rig, "fine_filter.screw", 20)[FUEL] > 10.0 * ML


def test_a_cam_on_its_lobe_is_no_fault_of_a_running_engine():
    rig = sound_rig()
    rig.engine.cam_on_lobe = True
    assert runs_for(rig, 300.0, 2000.0, in_gear=True) == 300.0


def test_a_torn_diaphragm_weeps_dilutes_the_oil_and_pumps_little():
    """TM 9-8000, OD1616: the vent hole weeps when the diaphragm fails; the oil level rises."""
    sound, rig = sound_rig(), faulty_rig("tank_below", "torn_diaphragm", "lift_pump")
    good, poor = from_screw(sound, "fine_filter.screw"), from_screw(rig, "fine_filter.screw")
    assert poor[FUEL] < 0.3 * good[FUEL], "no pulse behind the lever"
    rig = faulty_rig("tank_below", "torn_diaphragm", "lift_pump", 2e-7)
    runs_for(rig, 600.0)
    assert rig.passed("lift_pump.weep")[FUEL] > 10.0 * ML
    assert rig.engine.oil.level_share > 1.001
    assert rig.engine.oil.diluted_share > 0.001
    assert "lift_pump" in {name.split(".")[0] for name in rig.wet}


def test_a_large_tear_lets_air_in_and_stops_the_engine():
    rig = faulty_rig("tank_below", "torn_diaphragm", "lift_pump")
    assert runs_for(rig, 1800.0, 2000.0, in_gear=True) < 1800.0
    assert rig.passed("lift_pump.tear")[AIR] < -10.0 * ML
    assert rig.shares("injection_pump.gallery")[AIR] > 0.02


def test_a_valve_that_leaks_lets_fuel_both_ways():
    flows = {}
    for leak in (0.0, 1.0):
        rig = faulty_rig("tank_below", "leaking_valve", "lift_pump", leak)
        before = rig.passed("lift_pump")[FUEL]
        gap(rig, "feed_hose.joint", 1e-7)
        rig.play(600.0)
        flows[leak] = rig.passed("lift_pump")[FUEL] - before
    assert flows[0.0] >= 0.0
    assert flows[1.0] < -5.0 * ML, "it runs back to the tank through the pump"


def test_the_more_a_valve_leaks_the_less_the_lever_moves():
    found = [
        from_screw(faulty_rig("tank_below", "leaking_valve", "lift_pump", leak), "fine_filter.screw")[FUEL]
        for leak in (0.0, 0.3, 0.6, 0.95)
    ]
    assert found == sorted(found, reverse=True)
    assert found[3] < 0.2 * found[0]


def case_pa(rig) -> float:
    """Pressure in a rotary pump's case above ambient [Pa]."""
    return rig.pressure_pa("injection_pump.case") - rig.circuit.fluids.ambient_pa


def test_a_blocked_return_raises_the_case_pressure_and_stops_the_engine_hard():
    sound = sound_rig("metal_bowl")
    assert runs_for(sound, 120.0, 2000.0, in_gear=True) == 120.0
    rig = faulty_rig("metal_bowl", "blocked_return", "return_line")
    assert rig.crank(10.0)[1]
    rig.play(5.0)
    assert case_pa(rig) > 3.0 * max(10e3, case_pa(sound))
    assert runs_for(rig, 600.0, 2000.0, in_gear=True) < 60.0


def test_leading_the_return_into_a_jar_tells_it():
    rig = faulty_rig("metal_bowl", "blocked_return", "return_line")
    before = rig.passed("return_line.joint")
    rig.set_open("return_line.joint", 100.0)
    assert runs_for(rig, 60.0, 2000.0, in_gear=True) == 60.0
    assert came_out(rig, "return_line.joint", before)[FUEL] > 20.0 * ML
    assert case_pa(rig) < 50e3
