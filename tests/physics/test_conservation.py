"""Fuel, water and air are neither made nor lost, over every draw of the exercise and over random work at the bench."""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine_sim.actions import actions_of, part_ids
from engine_sim.attempt import Attempt
from engine_sim.circuit.rig import Rig
from engine_sim.scenarios import Scenario, SetFault, draw_scenario, pool

POOL = pool("no_start_harbour")
DRAWS = [(draw.fault, part, draw.possible_severity[-1]) for draw in POOL.draws for part in draw.parts]
WORK = (
    "starter.crank_10",
    "fine_filter.open_screw",
    "lift_pump.lever_60",
    "fine_filter.close_screw",
    "shut_off.shut",
    "separator.open_vent",
    "separator.open_drain",
    "bench.wait_10s",
    "separator.close_drain",
    "separator.fill",
    "shut_off.open",
    "separator.close_vent",
    "tank.add_fuel",
    "injection_pump.open_screw",
    "lift_pump.lever_60",
    "injection_pump.close_screw",
    "separator.change_element",
    "starter.crank_10",
    "engine.run_cruise_5min",
    "bench.wait_30min",
)
EVERY = [(part, item.id) for part in part_ids() for item in actions_of(part)]


def scenario(fault: str, part: str, severity: float) -> Scenario:
    """The scenario of one draw."""
    return Scenario(
        POOL.id, POOL.version, "", POOL.title, POOL.story, POOL.layout, True, (SetFault(fault, part, severity),)
    )


def sums(rig: Rig) -> tuple[float, float, float]:
    """Fuel [m3], water [m3] and air [kg]: inside, gone to the open air, taken out by hand."""
    circuit = rig.circuit
    outward = [number for number, link in enumerate(rig.topology.links) if link.b is None]
    inside = circuit.totals()
    return (
        inside[0] + sum(circuit.passed_fuel_m3[number] for number in outward) + rig.taken_fuel_m3,
        inside[1] + sum(circuit.passed_water_m3[number] for number in outward) + rig.taken_water_m3,
        inside[2] + sum(circuit.passed_air_kg[number] for number in outward) + rig.taken_air_kg,
    )


def assert_same_sums(before: tuple[float, float, float], after: tuple[float, float, float]) -> None:
    """Each phase to 1e-9 of what there is."""
    for name, first, then in zip(("fuel", "water", "air"), before, after, strict=True):
        assert then == pytest.approx(first, rel=1e-9, abs=1e-15), name


def assert_sane(rig: Rig) -> None:
    """No negative contents, no pressure that is none."""
    circuit = rig.circuit
    for number, volume in enumerate(rig.topology.volumes):
        slack = 1e-9 * volume.volume_m3
        assert circuit.fuel_m3[number] >= -slack and circuit.water_m3[number] >= -slack
        assert circuit.air_kg[number] >= -1e-15
        assert math.isfinite(circuit.pressure_pa[number]) and circuit.pressure_pa[number] > 1e3


@pytest.mark.parametrize("draw", DRAWS, ids=[f"{fault}-{part}" for fault, part, _ in DRAWS])
def test_every_draw_conserves_each_phase_under_work(draw):
    attempt = Attempt(scenario(*draw))
    rig = attempt.place.rig
    before = sums(rig)
    for step in WORK:
        attempt.act(*step.split("."))
        assert_sane(rig)
    assert_same_sums(before, sums(rig))


def assert_played_and_conserved(draw: tuple[str, str, float], work: list[tuple[str, str]]) -> None:
    """Any action at any time is an observation, never an error, and makes or loses nothing."""
    attempt = Attempt(scenario(*draw))
    rig = attempt.place.rig
    before = sums(rig)
    for part, name in work:
        step = attempt.act(part, name)
        assert step.observations and all(seen.text for seen in step.observations)
        assert "not_worked_out" not in {seen.key for seen in step.observations}
        assert_sane(rig)
    assert_same_sums(before, sums(rig))


A_DRAW = st.sampled_from(DRAWS)
SOME_WORK = st.lists(st.sampled_from(EVERY), min_size=1, max_size=14)


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(A_DRAW, SOME_WORK)
def test_any_work_at_any_fault_is_played_and_conserves(draw, work):
    assert_played_and_conserved(draw, work)


@pytest.mark.slow
@settings(max_examples=150, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(A_DRAW, st.lists(st.sampled_from(EVERY), min_size=15, max_size=40))
def test_long_work_at_any_fault_is_played_and_conserves(draw, work):
    assert_played_and_conserved(draw, work)


def test_a_sound_engine_conserves_over_hours():
    rig = draw_scenario("first_look", "").prepare()
    before = sums(rig)
    rig.crank(10.0)
    rig.run(3600.0, 2000.0, in_gear=True)
    rig.stop_engine()
    rig.play(8 * 3600.0)
    assert_same_sums(before, sums(rig))
