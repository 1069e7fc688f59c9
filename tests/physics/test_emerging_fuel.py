"""Cold, petrol and urea solution: what the fuel itself does. Common practice, no source, unless named."""

from __future__ import annotations

import itertools

import pytest
from rigs import FUEL, WATER, faulty_rig, found_rig, from_screw, runs_for, sound_rig


def flow_at(temperature_c: float, warm_c: float | None = None) -> float:
    """What sixty lever strokes bring at the fine filter's screw [m3], its elements warmed by hand or not."""
    rig = sound_rig()
    rig.set_temperature(temperature_c)
    for part in ("separator", "fine_filter"):
        rig.warm_element(part, temperature_c if warm_c is None else warm_c)
    return from_screw(rig, "injection_pump.screw")[FUEL]


def test_wax_shuts_the_elements_as_the_plugging_point_is_passed():
    """EN 590 class D plugs at -10 degC, its cloud point taken 10 K above."""
    flows = [flow_at(cold_c) for cold_c in (5.0, -6.0, -9.0, -14.0)]
    assert all(later < earlier for earlier, later in itertools.pairwise(flows)), flows
    assert flows[3] < 0.1 * flows[0]


def test_it_clears_on_warming():
    assert flow_at(-14.0, warm_c=15.0) > 5.0 * flow_at(-14.0)


def test_waxed_it_dies_and_warmed_it_runs():
    rig = found_rig("tank_below", ("waxed_fuel", "tank"))
    rig.engine.soak(293.15)
    assert runs_for(rig, 600.0, 2000.0, in_gear=True) < 600.0
    for part in ("separator", "fine_filter"):
        rig.warm_element(part, 15.0)
    rig.engine.soak(293.15)
    assert runs_for(rig, 300.0) == 300.0


@pytest.mark.parametrize("layout", ["tank_below", "high_tank"])
def test_petrol_travels_to_the_injectors_and_the_engine_knocks(layout):
    rig = faulty_rig(layout, "petrol_in_fuel", "tank", 0.5)
    rig.crank(10.0)
    rig.run(1200.0, 2000.0, in_gear=True)
    rig.play(1.0)
    assert rig.engine.knocks()
    assert rig.engine.lines[0].petrol_share > 0.2


def test_petrol_makes_it_harder_to_start():
    """Petrol lights later than diesel fuel: the more of it, the warmer the charge has to be."""
    fired = []
    for share in (0.0, 0.5, 1.0):
        rig = sound_rig()
        for line in rig.engine.lines:
            line.petrol_share = share
        rig.circuit.petrol_m3 = [fuel * share for fuel in rig.circuit.fuel_m3]
        rig.engine.soak(293.15)
        fired.append(rig.crank(10.0)[1])
    assert fired == sorted(fired, reverse=True) and fired[0] and not fired[-1]


def test_urea_solution_lies_under_the_fuel_and_stops_the_engine():
    rig = faulty_rig("tank_below", "urea_in_fuel", "tank")
    water_top, liquid_top = rig.circuit.levels_m(rig.topology.volume_number("tank"))
    assert 0.0 < water_top < liquid_top
    assert runs_for(rig, 1800.0, 2000.0, in_gear=True) < 1800.0
    assert rig.shares("separator.bowl")[WATER] > 0.3
    assert rig.circuit.urea_share == 1.0
