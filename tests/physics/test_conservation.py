"""Fuel, water, air, dirt and petrol are neither made nor lost: over every fault in every layout, over random work."""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine_sim.attempt import Attempt
from engine_sim.circuit import layout_names, load_layout
from engine_sim.circuit.rig import Rig
from engine_sim.faults import faults
from engine_sim.scenarios import SetFault, compose_scenario, draw_scenario, pool

POOL = pool("no_start_harbour")
DRAWS = [(POOL.layout, draw.fault, part, draw.possible_severity[-1]) for draw in POOL.draws for part in draw.parts]
EVERYWHERE = [
    (name, fault.id, place, None)
    for name in layout_names()
    for fault in faults().values()
    for place in fault.places(load_layout(name))
]
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


def offered(attempt: Attempt) -> list[tuple[str, str]]:
    """Everything that hands can do in this boat."""
    return [(part.id, offer.action) for part in attempt.parts() for offer in attempt.offers(part.id)]


def attempt_at(layout: str, fault: str, part: str, severity: float | None) -> Attempt:
    """An attempt at one fault in one layout."""
    return Attempt(compose_scenario(layout, [SetFault(fault, part, severity)]))


def sums(rig: Rig) -> dict[str, float]:
    """Each phase [m3, kg]: inside, gone to the open air, taken out by hand."""
    circuit = rig.circuit
    outward = [number for number, link in enumerate(rig.topology.links) if link.b is None]

    def gone(passed: list[float]) -> float:
        return sum(passed[number] for number in outward)

    inside = circuit.totals()
    return {
        "fuel": inside[0] + gone(circuit.passed_fuel_m3) + rig.taken_fuel_m3,
        "water": inside[1] + gone(circuit.passed_water_m3) + rig.taken_water_m3,
        "air": inside[2] + gone(circuit.passed_air_kg) + gone(circuit.passed_dissolved_kg) + rig.taken_air_kg,
        "dirt": circuit.all_dirt_kg() + gone(circuit.passed_dirt_kg) + rig.taken_dirt_kg,
        "petrol": sum(circuit.petrol_m3) + gone(circuit.passed_petrol_m3) + rig.taken_petrol_m3,
    }


def assert_same_sums(before: dict[str, float], after: dict[str, float]) -> None:
    """Each phase to 1e-9 of what there is."""
    for name, first in before.items():
        assert after[name] == pytest.approx(first, rel=1e-9, abs=1e-15), name


def assert_sane(rig: Rig) -> None:
    """No negative contents, no pressure that is none."""
    circuit = rig.circuit
    for number, volume in enumerate(rig.topology.volumes):
        slack = 1e-9 * volume.volume_m3
        assert circuit.fuel_m3[number] >= -slack and circuit.water_m3[number] >= -slack
        assert circuit.air_kg[number] >= -1e-15
        assert math.isfinite(circuit.pressure_pa[number]) and circuit.pressure_pa[number] > 1e3


def assert_played_and_conserved(attempt: Attempt, work: list[tuple[str, str]]) -> None:
    """Any action at any time is an observation, never an error, and makes or loses nothing."""
    rig = attempt.place.rig
    before = sums(rig)
    for part, name in work:
        step = attempt.act(part, name)
        assert step.observations and all(seen.text for seen in step.observations)
        assert "not_worked_out" not in {seen.key for seen in step.observations}
        assert_sane(rig)
    assert_same_sums(before, sums(rig))


def usual_work(attempt: Attempt) -> list[tuple[str, str]]:
    """The work that this boat has the parts for."""
    known = offered(attempt)
    return [deed for deed in (tuple(step.split(".")) for step in WORK) if deed in known]


@pytest.mark.parametrize("draw", DRAWS, ids=[f"{fault}-{part}" for _, fault, part, _ in DRAWS])
def test_every_draw_conserves_each_phase_under_work(draw):
    attempt = attempt_at(*draw)
    assert len(usual_work(attempt)) == len(WORK)
    assert_played_and_conserved(attempt, usual_work(attempt))


@pytest.mark.slow
@pytest.mark.parametrize("draw", EVERYWHERE, ids=[f"{layout}-{fault}-{part}" for layout, fault, part, _ in EVERYWHERE])
def test_every_fault_in_every_layout_conserves_each_phase_under_work(draw):
    attempt = attempt_at(*draw)
    assert len(usual_work(attempt)) > 8
    assert_played_and_conserved(attempt, usual_work(attempt))


def assert_random_work_conserves(
    data: st.DataObject, draws: list[tuple[str, str, str, float | None]], fewest: int, most: int
) -> None:
    """Play work drawn by lot out of all that is offered, at a fault drawn by lot."""
    attempt = attempt_at(*data.draw(st.sampled_from(draws)))
    work = data.draw(st.lists(st.sampled_from(offered(attempt)), min_size=fewest, max_size=most))
    assert_played_and_conserved(attempt, work)


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_any_work_at_any_fault_is_played_and_conserves(data):
    assert_random_work_conserves(data, DRAWS, 1, 14)


@pytest.mark.slow
@settings(max_examples=150, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_long_work_at_any_fault_in_any_layout_is_played_and_conserves(data):
    assert_random_work_conserves(data, EVERYWHERE, 15, 40)


def test_a_sound_engine_conserves_over_hours():
    rig = draw_scenario("first_look", "").prepare()
    before = sums(rig)
    rig.crank(10.0)
    rig.run(3600.0, 2000.0, in_gear=True)
    rig.stop_engine()
    rig.play(8 * 3600.0)
    assert_same_sums(before, sums(rig))
