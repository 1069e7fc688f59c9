"""A blocked breather: the tank's own vacuum stops the engine, sooner the fuller it is, after the isothermal law.

Signs are common practice, no source; the law p V = constant is R. Boyle's (1662).
"""

from __future__ import annotations

import itertools

import pytest
from rigs import AIR, came_out, end_speed_rpm, runs_for, sound_rig, suction_pa

TANK_M3 = 0.060
CHANGE_AT_PA = 20.3e3
"""6 inHg, the most that TM 5-3895-346-14 allows at a clean pump inlet."""


def sealed(ullage_litres: float, layout: str = "tank_below"):
    """A boat whose breather is blocked wholly, with so much air in its tank."""
    rig = sound_rig(layout)
    rig.circuit.fill("tank", 1.0 - ullage_litres * 1e-3 / TANK_M3)
    rig.set_open("tank.vent", 0.0)
    return rig


def runs_until(rig, vacuum_pa: float) -> tuple[float, float]:
    """Motor on until the tank is so far under ambient pressure; return the time [s] and the fuel drawn [m3]."""
    number = rig.topology.volume_number("tank")
    before, time_s = rig.circuit.fuel_m3[number], 0.0
    assert rig.crank(10.0)[1]
    while rig.circuit.fluids.ambient_pa - rig.pressure_pa("tank") < vacuum_pa:
        ran = rig.run(10.0, 2000.0, in_gear=True)
        time_s += ran
        assert ran == 10.0, "it should not have died yet"
    return time_s, before - rig.circuit.fuel_m3[number]


@pytest.mark.parametrize("ullage_litres", [3.0, 6.0, 12.0])
def test_vacuum_follows_the_isothermal_law_of_what_was_drawn(ullage_litres):
    """p = p0 V0 / (V0 + dV), to the half per cent that ten seconds' running and dissolved air blur."""
    rig = sealed(ullage_litres)
    _, drawn_m3 = runs_until(rig, 10e3)
    first = ullage_litres * 1e-3
    assert rig.pressure_pa("tank") == pytest.approx(101325.0 * first / (first + drawn_m3), rel=0.005)


def test_it_stops_sooner_the_fuller_the_tank():
    times = [runs_until(sealed(litres), CHANGE_AT_PA)[0] for litres in (0.5, 1.0, 2.0)]
    assert all(later > 1.8 * earlier for earlier, later in itertools.pairwise(times)), times
    ran = runs_for(sealed(0.5), 4 * 3600.0, 2000.0, in_gear=True)
    assert 300.0 < ran < 4 * 3600.0, "minutes to hours"


def test_the_open_filler_hisses_in_and_cures_it():
    rig = sealed(0.5)
    runs_for(rig, 4 * 3600.0, 2000.0, in_gear=True)
    assert end_speed_rpm(rig, 60.0) < 1000.0, "it will not drive the boat again"
    assert suction_pa(rig) > 30e3
    before = rig.passed("tank.filler")
    rig.set_open("tank.filler", 1.0)
    rig.play(10.0)
    assert came_out(rig, "tank.filler", before)[AIR] < -0.3e-3, "air rushes in"
    assert suction_pa(rig) < 10e3
    assert runs_for(rig, 300.0, 2000.0, in_gear=True) == 300.0


def test_restricted_it_recovers_with_a_rest():
    """A breather with a pinhole left lets the vacuum go while the boat lies."""
    rig = sealed(0.5)
    rig.set_open("tank.vent", (5e-5 / rig.layout.figures["tank"]["vent_bore_m"]) ** 2)
    runs_for(rig, 4 * 3600.0, 2000.0, in_gear=True)
    died_at = suction_pa(rig)
    assert died_at > 30e3
    rig.play(12 * 3600.0)
    assert suction_pa(rig) < 0.5 * died_at
    assert runs_for(rig, 300.0) == 300.0


def test_a_high_tank_stops_no_earlier_than_a_low_one():
    """Its head makes up for part of the vacuum."""
    high, low = sealed(0.5, "high_tank"), sealed(0.5)
    space = high.topology.volumes[high.topology.volume_number("tank")].volume_m3
    high.circuit.fill("tank", 1.0 - 0.5e-3 / space)
    longer = runs_for(high, 4 * 3600.0, 2000.0, in_gear=True)
    assert longer > runs_for(low, 4 * 3600.0, 2000.0, in_gear=True)
