"""Water and dirt in a vessel: they sink by Stokes' law, a seaway stirs them up, heel moves the surface past a port."""

from __future__ import annotations

import itertools
import math

import pytest
from rigs import WATER, came_out, sound_rig

from engine_sim.circuit import CircuitState, Fluids, Topology, advance
from engine_sim.circuit.settling import DIRT_DENSITY_KG_PER_M3, DIRT_M, DROP_M
from engine_sim.components import Blueprint, PortSpec, VolumeSpec
from engine_sim.components.blueprint import LinkSpec
from engine_sim.units import STANDARD_GRAVITY_M_PER_S2

HEIGHT_M, VOLUME_M3 = 0.2, 1e-3


def vessel(across_m: float = 0.0) -> CircuitState:
    """A closed box of a litre, 0.2 m high, with a shut tap a third of the way up."""
    blueprint = Blueprint()
    blueprint.volumes.append(VolumeSpec("box", "box", VOLUME_M3, 0.0, HEIGHT_M, 1e-12))
    tap = PortSpec("box", 0.065, 0.070, across_m=across_m)
    blueprint.links.append(LinkSpec("tap", "box", tap, None, 0.0, 1e9, opening=0.0))
    vent = PortSpec("box", HEIGHT_M - 0.005, HEIGHT_M)
    blueprint.links.append(LinkSpec("vent", "box", vent, None, 0.0, 1e7))
    return CircuitState.full_of_fuel(Topology(blueprint), Fluids.at(293.15))


def stokes_m_per_s(diameter_m: float, density_kg_per_m3: float) -> float:
    """Stokes' law for a hard sphere in the fuel of this course at 20 degC, written out here."""
    return STANDARD_GRAVITY_M_PER_S2 * diameter_m**2 * (density_kg_per_m3 - 836.45) / (18.0 * 3.8477e-3)


def test_droplets_settle_at_stokes_speed_for_a_clean_drop():
    """Stokes, with the factor of Hadamard and Rybczynski (1911) for a drop: 1.36 for water in this fuel; 1 %.

    In a stirred layer of depth h that loses what touches its floor, 1/e is left after h / v.
    """
    state = vessel()
    state.fill("box", 0.95, 0.05)
    state.haze_m3[0] = state.water_m3[0]
    depth_m = HEIGHT_M * 0.95
    advance(state, depth_m / (1.36 * stokes_m_per_s(DROP_M, 998.2)))
    assert state.haze_m3[0] / state.water_m3[0] == pytest.approx(math.exp(-1.0), rel=0.01)


def test_dirt_sinks_to_the_floor_over_a_night_and_nothing_is_lost():
    """Stokes for a hard grain; over eight hours nearly all of it lies on the floor."""
    state = vessel()
    all_kg = state.all_dirt_kg()
    time_s = HEIGHT_M / stokes_m_per_s(DIRT_M, DIRT_DENSITY_KG_PER_M3)
    advance(state, time_s)
    assert state.dirt_kg[0] / all_kg == pytest.approx(math.exp(-1.0), rel=0.01)
    advance(state, 7.0 * time_s)
    assert state.sludge_kg[0] > 0.99 * all_kg
    assert state.all_dirt_kg() == pytest.approx(all_kg, rel=1e-12)


def test_a_seaway_stirs_up_what_lies_on_the_floor_the_more_the_rougher():
    """Common practice, no source: sludge and water come up in a seaway."""
    stirred = []
    for seaway in (0.0, 0.3, 0.6, 1.0):
        state = vessel()
        state.fill("box", 0.9, 0.1)
        state.sludge_kg[0], state.dirt_kg[0], state.seaway = 0.01, 0.0, seaway
        advance(state, 120.0)
        stirred.append((state.dirt_kg[0], state.haze_m3[0]))
    assert stirred[0] == (0.0, 0.0)
    for calm, rough in itertools.pairwise(stirred):
        assert rough[0] > calm[0] and rough[1] > calm[1]


def test_water_layer_is_drawn_at_its_height_and_droplets_go_with_the_fuel():
    """A tap above the water gives fuel with its droplets; below it, water."""
    low = vessel()
    low.fill("box", 0.6, 0.4)
    clear = vessel()
    clear.fill("box", 0.8, 0.2)
    hazy = vessel()
    hazy.fill("box", 0.8, 0.2)
    hazy.haze_m3[0] = 0.5 * hazy.water_m3[0]
    shares = []
    for state in (low, clear, hazy):
        state.opening[0] = 1.0
        advance(state, 0.5)
        out = state.passed_fuel_m3[0] + state.passed_water_m3[0]
        assert out > 1e-8
        shares.append(state.passed_water_m3[0] / out)
    assert shares[0] > 0.99
    assert shares[1] < 0.01
    assert 0.05 < shares[2] < 0.2


@pytest.mark.parametrize(("heel_deg", "gets_air"), [(0.0, False), (25.0, False), (-25.0, True)])
def test_heel_lifts_a_port_at_the_side_out_of_the_fuel(heel_deg, gets_air):
    """Geometry: a tap 0.25 m to starboard moves by 0.25 tan(25 deg) = 0.117 m against the surface, 0.05 m above it."""
    state = vessel(across_m=0.25)
    state.fill("box", 0.6)
    state.heel_rad = math.radians(heel_deg)
    state.opening[0] = 1.0
    advance(state, 1.0)
    drew_air = state.passed_fuel_m3[0] < 1e-9
    assert drew_air is gets_air


def test_separator_lets_more_water_through_the_faster_the_flow():
    """Common practice, no source: separation falls above the rated flow. Efficiency at two speeds of the hand."""
    through = []
    for strokes_per_s in (0.5, 4.0):
        rig = sound_rig()
        for piece in range(4):
            rig.circuit.fill(f"suction_hose.{piece}", 0.9, 0.1)
        rig.set_open("fine_filter.screw", 1.0)
        before = rig.passed("separator.element")
        rig.lever_strokes_per_s = strokes_per_s
        rig.play(160.0 / strokes_per_s)
        through.append(came_out(rig, "separator.element", before)[WATER])
    assert through[1] > 1.5 * through[0] > 0.0


def test_tank_by_a_level_table_holds_what_the_table_says():
    """Geometry: a V-shaped tank; volume grows with the square of the height, so half the height is a quarter."""
    blueprint = Blueprint()
    table = tuple((share / 50.0, (share / 50.0) ** 2) for share in range(51))
    blueprint.volumes.append(VolumeSpec("v", "v", VOLUME_M3, 0.0, HEIGHT_M, 1e-12, level_table=table))
    state = CircuitState.full_of_fuel(Topology(blueprint), Fluids.at(293.15))
    state.fill("v", 0.25)
    assert state.levels_m(0)[1] == pytest.approx(HEIGHT_M / 2.0, rel=1e-3)
    state.fill("v", 0.0625, 0.0625)
    water, liquid = state.levels_m(0)
    assert water == pytest.approx(HEIGHT_M / 4.0, rel=1e-3)
    assert liquid == pytest.approx(HEIGHT_M * math.sqrt(0.125), rel=1e-3)
