"""Which filter is choked, and what a seaway stirs up: told apart by vacuum before the pump and flow behind it.

Signs are common practice, no source, unless a source is named.
"""

from __future__ import annotations

import itertools

import pytest
from rigs import FUEL, ML, bleed, end_speed_rpm, faulty_rig, from_screw, run_on_can, runs_for, sound_rig, suction_pa

CHANGE_AT_PA = 40.6e3
"""12 inHg: where TM 5-3895-346-14 has the element changed."""


@pytest.mark.parametrize(
    ("fault", "part", "severity"),
    [
        ("loaded_element", "separator", 1300.0),
        ("loaded_element", "fine_filter", 600.0),
        ("blocked_pick_up", "tank", 1.5e6),
    ],
)
def test_each_restriction_lets_it_idle_and_takes_its_speed_under_load(fault, part, severity):
    rig = faulty_rig("tank_below", fault, part, severity)
    assert runs_for(rig, 300.0) == 300.0
    assert 400.0 < end_speed_rpm(rig) < 1900.0
    assert runs_for(rig, 120.0) == 120.0, "and it recovers at idle"


def test_vacuum_at_the_pump_inlet_tells_the_pre_filter_from_the_fine_filter():
    found = {}
    for part, severity in (("separator", 1300.0), ("fine_filter", 600.0)):
        rig = faulty_rig("tank_below", "loaded_element", part, severity)
        rig.crank(10.0)
        rig.run(120.0, 2000.0, in_gear=True)
        found[part] = suction_pa(rig)
    assert found["separator"] > CHANGE_AT_PA
    assert found["fine_filter"] < 20.3e3, "6 inHg, a clean pump inlet by TM 5-3895-346-14"


def test_flow_before_and_behind_tells_the_fine_filter():
    sound = sound_rig()
    rig = faulty_rig("tank_below", "loaded_element", "fine_filter")
    before = from_screw(rig, "fine_filter.screw")[FUEL]
    assert before == pytest.approx(from_screw(sound, "fine_filter.screw")[FUEL], rel=0.1), "strong before it"
    behind, as_usual = from_screw(rig, "injection_pump.screw")[FUEL], from_screw(sound, "injection_pump.screw")[FUEL]
    assert behind < 0.3 * as_usual, "weak behind it"


def rough_water(slime_kg: float):
    """A boat in rough water with slime on her tank's floor."""
    rig = faulty_rig("tank_below", "slime", "tank", slime_kg)
    rig.set_sea(1.0)
    return rig


def test_a_seaway_brings_dirt_to_the_element_that_a_calm_leaves_on_the_floor():
    cakes = []
    for seaway in (0.0, 0.4, 1.0):
        rig = rough_water(0.05)
        rig.set_sea(seaway)
        runs_for(rig, 1200.0, 2000.0, in_gear=True)
        cakes.append(rig.circuit.cake_kg[rig.topology.link_number("separator.element")])
    assert cakes[0] < 0.01 * cakes[2]
    assert all(later > 1.5 * earlier for earlier, later in itertools.pairwise(cakes)), cakes


def test_a_fresh_element_loads_again_and_only_the_can_ends_it():
    """CHIRP (a ferry's report) and ASTM D6469: repeated clogging is the sign of growth in the tank."""
    rig = rough_water(0.3)
    for _ in range(2):
        assert runs_for(rig, 3600.0, 2000.0, in_gear=True) > 0.0
        assert suction_pa(rig) > CHANGE_AT_PA
        rig.circuit.cake_kg[rig.topology.link_number("separator.element")] = 0.0
    run_on_can(rig)
    bleed(rig)
    fine = rig.topology.link_number("fine_filter.element")
    before = rig.circuit.cake_kg[fine]
    assert runs_for(rig, 3600.0, 2000.0, in_gear=True) == 3600.0
    assert rig.circuit.cake_kg[fine] - before < 0.001
    assert suction_pa(rig) < 20.3e3


def test_clean_fuel_takes_hundreds_of_hours_to_load_an_element():
    """EN 590 allows 24 mg/kg; at that an element of 0.1 m2 takes 300 L and more (cake filtration, B. F. Ruth)."""
    rig = sound_rig()
    runs_for(rig, 5 * 3600.0, 2000.0, in_gear=True)
    cake = rig.circuit.cake_kg[rig.topology.link_number("separator.element")]
    assert 0.0 < cake < 0.02 * 0.4
    assert from_screw(rig, "fine_filter.screw")[FUEL] > 60.0 * ML
