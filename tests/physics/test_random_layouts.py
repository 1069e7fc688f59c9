"""Properties that hold for any boat drawn by lot and anything done to it: laws of nature, not figures of ours.

Mass is conserved, nothing is negative, nothing is without a number, and trends are one-way: more restriction less flow,
a wider bore more, a higher tank more, a wider gap more leak. Drawn by ``hypothesis``, the same each time.
"""

from __future__ import annotations

import dataclasses
import math

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from random_boats import DEEDS, PASSIVE_BETWEEN, Boat, Deed, boats
from small_circuits import assert_conserved, sums

from engine_sim.circuit import CircuitState, Topology, advance, read_layout

QUIETLY = {"deadline": None, "derandomize": True, "suppress_health_check": list(HealthCheck)}
FEW = settings(max_examples=60, **QUIETLY)
MANY = settings(max_examples=400, **QUIETLY)
SETTLED_S = 1.0


def assert_sane(state: CircuitState) -> None:
    """Contents from nothing up, pressures that are pressures, flows that are numbers."""
    for number, volume in enumerate(state.topology.volumes):
        slack = 1e-9 * volume.volume_m3
        assert state.fuel_m3[number] >= -slack and state.water_m3[number] >= -slack, volume.id
        assert min(state.air_kg[number], state.dirt_kg[number], state.sludge_kg[number]) >= -1e-12, volume.id
        assert -slack <= state.haze_m3[number] <= state.water_m3[number] + slack, volume.id
        assert math.isfinite(state.pressure_pa[number]) and state.pressure_pa[number] > 0.0, volume.id
        assert math.isfinite(state.fuel_m3[number] + state.water_m3[number] + state.air_kg[number]), volume.id
    assert all(math.isfinite(rate) for rate in state.flow_m3_per_s)


def do(state: CircuitState, deed: Deed) -> None:
    """Set what a deed sets, and let its time pass, looking at every step."""
    topology = state.topology
    link = deed.link % len(topology.links)
    state.opening[link] = deed.opening
    state.extra_laminar_1_per_m3[link] = deed.restriction_1_per_m3
    state.seaway, state.heel_rad = deed.seaway, deed.heel_rad
    if deed.filling is not None:
        state.fill(topology.volumes[deed.volume % len(topology.volumes)].id, *deed.filling)
    before = sums(state)

    def work(now: CircuitState, wish_s: float) -> float:
        now.drives.pump_strokes_per_s = deed.strokes_per_s
        now.drives.electric_on = deed.electric_on
        return wish_s

    def look(now: CircuitState, _step_s: float) -> bool:
        assert_sane(now)
        return False

    played = advance(state, deed.lasts_s, work, look)
    assert played == pytest.approx(deed.lasts_s, rel=1e-6, abs=2e-6)
    assert_conserved(before, state)


def assert_played(boat: Boat, deeds: list[Deed]) -> None:
    state = boat.state()
    for deed in deeds:
        do(state, deed)


@FEW
@given(boats(), st.lists(DEEDS, min_size=1, max_size=5))
def test_any_boat_plays_whatever_is_done(boat, deeds):
    assert_played(boat, deeds)


@pytest.mark.slow
@MANY
@given(boats(), st.lists(DEEDS, min_size=3, max_size=12))
def test_any_boat_plays_whatever_is_done_at_length(boat, deeds):
    assert_played(boat, deeds)


def flow(boat: Boat, change=None) -> float:
    """The flow through the first hose once all is steady [m3/s]; ``change`` sets something first."""
    state = boat.state()
    if change is not None:
        change(state)
    advance(state, SETTLED_S)
    return state.flow_m3_per_s[state.topology.link_number("shut_off")]


def assert_less(smaller: float, larger: float) -> None:
    """Less, where anything flows at all."""
    assert smaller <= larger * (1.0 + 1e-6) + 1e-12
    if larger > 1e-8:
        assert smaller < larger


FALLING = boats(kinds=PASSIVE_BETWEEN, loop=False, above=True)


def rebuilt(boat: Boat, number: int, **changes: float) -> Boat:
    """The boat with a figure of one part of its chain changed."""
    part = boat.chain[number]
    chain = list(boat.chain)
    chain[number] = dataclasses.replace(part, figures={**part.figures, **changes})
    return dataclasses.replace(boat, chain=tuple(chain))


def assert_trends(boat: Boat, where: int, factor: float) -> None:
    """Each trend at one hose of one boat, by one factor above 1."""
    base = flow(boat)
    assert base > 0.0, "the tank stands above the can"
    number = where % len(boat.hoses)
    bore, slack, pieces = boat.hoses[number]

    def with_hose(hose: tuple[float, float, int]) -> Boat:
        return dataclasses.replace(boat, hoses=(*boat.hoses[:number], hose, *boat.hoses[number + 1 :]))

    def kink(state: CircuitState) -> None:
        hose = state.topology.volume_number(f"hose_{number}.0")
        link = next(n for n, end in enumerate(state.topology.end_b) if end == hose)
        state.extra_laminar_1_per_m3[link] = 1e10 * factor

    def close(state: CircuitState) -> None:
        state.opening[state.topology.link_number("shut_off")] = 1.0 / (4.0 * factor)

    assert_less(flow(boat, kink), base)
    assert_less(flow(boat, close), base)
    assert_less(flow(with_hose((bore, slack + factor, pieces))), base)
    assert_less(base, flow(with_hose((bore * factor, slack, pieces))))
    higher = boat.chain[0].figures["floor_m"] + 0.1 * factor
    assert_less(base, flow(rebuilt(boat, 0, floor_m=higher)))


@FEW
@given(FALLING, st.integers(0, 9), st.floats(1.1, 2.5))
def test_trends_are_one_way(boat, where, factor):
    assert_trends(boat, where, factor)


@pytest.mark.slow
@MANY
@given(FALLING, st.integers(0, 9), st.floats(1.01, 2.5))
def test_trends_are_one_way_in_many_boats(boat, where, factor):
    assert_trends(boat, where, factor)


def leaked_m3(boat: Boat, where: int, opening: float) -> tuple[float, float]:
    """What passes the joint of a hose in a second, fuel out and air in [m3]."""
    state = boat.state()
    link = state.topology.link_number(f"hose_{where % len(boat.hoses)}.joint")
    state.opening[link] = opening
    advance(state, SETTLED_S)
    gas = state.passed_air_kg[link] * state.fluids.gas_factor_j_per_kg / state.fluids.ambient_pa
    return state.passed_fuel_m3[link], -gas


@FEW
@given(boats(kinds=PASSIVE_BETWEEN, loop=False), st.integers(0, 9), st.floats(1e-4, 1e-2), st.floats(1.5, 10.0))
def test_wider_gap_leaks_more(boat, where, opening, factor):
    """Fuel out where the joint lies under pressure, air in where it lies under suction; never less for a wider gap."""
    fuel, gas = leaked_m3(boat, where, opening)
    more_fuel, more_gas = leaked_m3(boat, where, opening * factor)
    assume(max(fuel, gas) > 1e-10)
    assert (more_fuel > fuel) if fuel > gas else (more_gas > gas)


def test_the_boats_are_of_every_sort():
    """Guards the checks above: loops and ways into a can, each kind of part, several in a row."""
    drawn: list[Boat] = []

    @FEW
    @given(boats())
    def draw(boat):
        drawn.append(boat)

    draw()
    kinds = {part.kind for boat in drawn for part in boat.chain}
    assert kinds == {"tank", "fuel_can", "separator", "fine_filter", "lift_pump", "electric_pump"}
    assert {boat.loop for boat in drawn} == {True, False}
    assert max(len(boat.chain) for boat in drawn) >= 4
    assert all(Topology(read_layout(boat.text()).blueprint).volumes for boat in drawn)
