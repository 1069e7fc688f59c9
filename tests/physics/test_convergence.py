"""Halving the time step: the measured order of convergence, and each phase conserved at every step size.

The order is measured without any reference, by Richardson's comparison: where an error falls as h^p, the change from h
to h/2 is 2^p times the change from h/2 to h/4. An implicit Euler step has p = 1 (any text on numerical analysis).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

import pytest
from small_circuits import SmallCircuit, assert_conserved, sums
from transients import Transient, draining_bowl, dry_line, leaking_line, sealed_tank, trapped_air

from engine_sim.circuit import CircuitState, advance, load_layout
from engine_sim.circuit.rig import Rig

CASES: dict[str, tuple[Callable[[], Transient], float]] = {
    "sealed tank": (sealed_tank, 0.2),
    "trapped air": (trapped_air, 0.2),
    "draining bowl": (draining_bowl, 0.2),
    "dry line": (lambda: dry_line(4), 0.05),
    "leaking line": (leaking_line, 0.2),
}
HALVINGS = 4


def measured_orders(make: Callable[[], Transient], longest_step_s: float) -> list[float]:
    """The order from each three steps h, h/2, h/4 in a row."""
    runs = [make().played(longest_step_s / 2**number) for number in range(HALVINGS)]
    changes = [max(abs(one - two) for one, two in zip(*pair, strict=True)) for pair in pairwise(runs)]
    return [math.log2(before / after) for before, after in pairwise(changes)]


@pytest.mark.parametrize("name", CASES)
def test_circuit_converges_with_its_time_step_at_first_order_or_better(name):
    """0.85 leaves room for what is not yet asymptotic at the largest of these steps."""
    orders = measured_orders(*CASES[name])
    assert min(orders) > 0.85, orders
    assert max(orders) < 2.5, "faster than any scheme in use: then the step was not what was varied"


@pytest.mark.parametrize("longest_step_s", [math.inf, 1.0, 0.1])
@pytest.mark.parametrize("name", CASES)
def test_each_phase_is_conserved_at_every_step_size(name, longest_step_s):
    case = CASES[name][0]()
    before = sums(case.state)
    case.played(longest_step_s)
    assert_conserved(before, case.state)


def dirty_mixture() -> CircuitState:
    """Fuel, water and air in every vessel: a tank, a bowl below it with a hole at its top, a pump back to the tank."""
    small = SmallCircuit()
    small.vessel("tank", 0.02, 0.5, 0.3)
    small.hole("tank.vent", small.mouth("tank", 0.79), 1e-5)
    small.hose("down", 0.008, 1.0, 0.51, 0.15, pieces=3)
    small.vessel("bowl", 4e-4, 0.0, 0.2)
    small.hole("bowl.leak", small.mouth("bowl", 0.19), 2e-8)
    small.join(small.mouth("tank", 0.51), small.mouth("down.start", 0.0))
    small.join(small.mouth("down.end", 0.0), small.mouth("bowl", 0.15))
    small.lift_pump("pump", small.mouth("bowl", 0.02), small.mouth("tank", 0.78))
    state = small.state()
    state.fill("tank", 0.2, 0.1)
    state.fill("bowl", 0.4, 0.3)
    state.fill("down.1", 0.5, 0.2)
    return state


@pytest.mark.parametrize("longest_step_s", [math.inf, 1.0, 0.1])
def test_mixed_contents_are_conserved_after_every_single_step(longest_step_s):
    """Pumped round for two minutes, then left standing for ten."""
    state = dirty_mixture()
    before, steps = sums(state), 0

    def work(now: CircuitState, wish_s: float) -> float:
        now.drives.pump_strokes_per_s = 1.5
        return min(wish_s, longest_step_s)

    def rest(now: CircuitState, wish_s: float) -> float:
        now.drives.pump_strokes_per_s = 0.0
        return min(wish_s, longest_step_s)

    def check(now: CircuitState, _step_s: float) -> bool:
        nonlocal steps
        steps += 1
        assert_conserved(before, now)
        return False

    advance(state, 120.0, work, check)
    advance(state, 600.0, rest, check)
    assert steps >= 20
    assert min(state.fuel_m3) >= 0.0 and min(state.water_m3) >= 0.0 and min(state.air_kg) >= 0.0


def test_result_of_a_long_stand_does_not_hang_on_how_it_is_cut_up():
    """Eight hours of standing with a slack joint, at once and in pieces: the same fuel runs back, within 2 %.

    Cutting time up restarts the small first step, so it shows what the long steps cost.
    """
    found = []
    for pieces in (1, 96):
        rig = Rig(load_layout("tank_below"))
        rig.set_open("suction_hose.joint", 0.01)
        for _ in range(pieces):
            rig.play(8 * 3600.0 / pieces)
        found.append(rig.circuit.fuel_m3[rig.topology.volume_number("tank")])
    start = 0.5 * 0.060
    assert found[0] - start > 5e-6, "some has run back"
    assert found[0] - start == pytest.approx(found[1] - start, rel=0.02)
