"""Home on a can: where the return leads, a sealed cap, a return line that was not flushed.

Common practice, no source.
"""

from __future__ import annotations

import pytest
from rigs import FUEL, WATER, bleed, run_on_can, runs_for, sound_rig, suction_pa


def held(rig, vessel: str) -> float:
    """Fuel and water in a vessel [m3]."""
    number = rig.topology.volume_number(vessel)
    return rig.circuit.fuel_m3[number] + rig.circuit.water_m3[number]


def on_can(return_to: str, layout: str = "tank_below"):
    """A boat running on her can, bled."""
    rig = sound_rig(layout)
    run_on_can(rig, return_to)
    bleed(rig, 300)
    return rig


def used_in(rig, run_s: float) -> tuple[float, float]:
    """Motor on; return what left the can and what was burnt [m3]."""
    before, burnt = held(rig, "can"), rig.passed("injection_pump.plungers")[FUEL]
    assert runs_for(rig, run_s, 2000.0, in_gear=True) == run_s
    return before - held(rig, "can"), rig.passed("injection_pump.plungers")[FUEL] - burnt


def test_with_its_return_in_the_can_it_empties_at_what_is_burnt():
    rig = on_can("can")
    used_in(rig, 300.0)
    used, burnt = used_in(rig, 1200.0)
    assert used == pytest.approx(burnt, rel=0.1)


def test_with_its_return_to_the_old_tank_it_empties_at_the_whole_flow():
    rig = on_can("tank")
    used_in(rig, 300.0)
    tank = held(rig, "tank")
    used, burnt = used_in(rig, 900.0)
    returned = held(rig, "tank") - tank
    assert used > 3.0 * burnt
    assert used == pytest.approx(burnt + returned, rel=0.05)


def test_it_runs_dry_many_times_sooner_with_the_return_to_the_tank():
    ran = runs_for(on_can("tank"), 6 * 3600.0, 2000.0, in_gear=True)
    assert ran < 3600.0
    assert runs_for(on_can("can"), 2.0 * ran, 2000.0, in_gear=True) == pytest.approx(2.0 * ran)


def test_a_sealed_cap_starves_it_early():
    """The can's own vacuum follows the isothermal law: half a litre of air is soon stretched."""
    rig = on_can("can")
    rig.circuit.fill("can", 0.95)
    rig.set_open("can.cap", 0.0)
    ran = runs_for(rig, 4 * 3600.0, 2000.0, in_gear=True)
    assert 60.0 < ran < 3600.0
    assert suction_pa(rig) > 30e3
    assert held(rig, "can") > 7e-3, "most of its fuel is still in it"
    rig.set_open("can.cap", 1.0)
    rig.play(60.0)
    assert runs_for(rig, 600.0, 2000.0, in_gear=True) == 600.0


def test_a_return_line_that_was_not_flushed_carries_the_old_water_into_the_can():
    found = {}
    for flushed in (False, True):
        rig = on_can("can")
        for volume in rig.topology.volumes:
            if volume.part == "return_line":
                rig.circuit.fill(volume.id, 0.5, 0.5)
        if flushed:
            rig.set_open("return_line>can", 0.0)
            rig.set_open("return_line.joint", 100.0)
            runs_for(rig, 300.0)
            rig.set_open("return_line.joint", 0.0)
            rig.set_open("return_line>can", 1.0)
        runs_for(rig, 300.0, 2000.0, in_gear=True)
        found[flushed] = rig.circuit.water_m3[rig.topology.volume_number("can")]
    assert found[False] > 10e-6
    assert found[True] < 0.2 * found[False]
    assert rig.shares("can")[WATER] < 0.01
