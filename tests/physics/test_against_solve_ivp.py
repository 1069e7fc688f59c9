"""Transients of the circuit against ``scipy.integrate.solve_ivp`` on equations written by hand (``transients.py``).

The reference is Radau's method (Hairer and Wanner) at a tolerance of 1e-9. The circuit is implicit and of first order
in time (``test_convergence``); its own steps grow as long as they serve somebody at an engine, who tells a tenth of a
litre or a tenth of a bar. So each case is compared twice:

- with steps of at most 0.05 s, where what remains is how the two differ in what they describe,
- with the steps that the circuit chooses for itself, where its first order shows.

Why each is no closer:

- sealed tank, trapped air: at fine steps 0.1 %, the time step alone.
- sealed tank of fuel that holds air: 2 %; a little of it comes out of 40 litres at rest within three minutes.
- draining bowl: 0.4 %; even an open hole has a hand's breadth of hose as laminar loss in the circuit, 14 Pa of 1600.
- dry line: 0.2 %; a hose piece carries a mixture, so a little fuel leads the front.
- leaking line: 1 %; for the same reason a little air trails down with the fuel and leaves the line at its foot.
"""

from __future__ import annotations

import pytest
from transients import Transient, draining_bowl, dry_line, leaking_line, sealed_tank, trapped_air

FINE_S = 0.05
CASES = {
    "sealed tank": (sealed_tank, 0.001, 0.02),
    "sealed tank of fuel that holds air": (lambda: sealed_tank(dissolves=True), 0.02, 0.03),
    "air trapped under the lift pump": (trapped_air, 0.001, 0.02),
    "bowl draining, vent and tap alike": (draining_bowl, 0.004, 0.02),
    "bowl draining, the tap in the way": (lambda: draining_bowl(3e-6, 1e-4), 0.002, 0.02),
    "bowl draining, the vent in the way": (lambda: draining_bowl(1.2e-5, 2e-7), 0.002, 0.02),
    "dry line primed by strokes": (dry_line, 0.002, 0.01),
    "dry line in 32 pieces": (lambda: dry_line(32), 0.001, 0.01),
    "line filling through a leak": (leaking_line, 0.01, 0.02),
}


def assert_close(case: Transient, found: list[float], share: float) -> None:
    assert found == pytest.approx(case.solved(), rel=0.0, abs=share * case.scale)


@pytest.mark.parametrize("name", CASES)
def test_fine_steps_follow_the_equations(name):
    make, share, _ = CASES[name]
    case = make()
    assert_close(case, case.played(FINE_S), share)


@pytest.mark.parametrize("name", CASES)
def test_own_steps_follow_the_equations(name):
    make, _, share = CASES[name]
    case = make()
    assert_close(case, case.played(), share)


@pytest.mark.parametrize("name", CASES)
def test_something_happens_in_each_case(name):
    """Guards the checks above: what is looked at changes by a third of its scale or more."""
    case = CASES[name][0]()
    seen = [case.seen(case.start), *case.solved()]
    assert max(seen) - min(seen) > 0.33 * case.scale
