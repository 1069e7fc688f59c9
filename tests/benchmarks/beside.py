"""The circuit beside others on the same job: ``solve_ivp``'s stiff methods, EPANET's time steps, and itself larger."""

from __future__ import annotations

import math
import tempfile
from functools import partial
from pathlib import Path

import numpy as np
from epanet_networks import Epanet, Network, epanet_text, our_circuit, random_network, surface_m
from line_equations import Laborious, LineEquations
from scipy.integrate import solve_ivp
from small_circuits import SmallCircuit
from timing import median_s
from transients import Transient, leaking_line

from engine_sim.circuit import CircuitState, advance

Row = tuple[str, str, str]
PIECES, HOLE_M2 = 8, 1e-8
TOLERANCES = [10.0**-tenth for tenth in range(1, 8)]
SIZES = (8, 16, 32, 64)
STEP_S = 0.01


def _ivp(method: str, tolerance: float, times_s: tuple[float, ...]) -> list[float]:
    """Return the fuel in the line at the times, as solve_ivp finds it."""
    line = LineEquations(PIECES, HOLE_M2)
    sizes = np.concatenate([np.full(PIECES, 1e3), np.full(PIECES, line.space)])
    try:
        done = solve_ivp(
            line.rates,
            (0.0, times_s[-1]),
            line.start(),
            method=method,
            t_eval=times_s,
            rtol=tolerance,
            atol=tolerance * sizes,
        )
    except Laborious:
        return [math.inf] * len(times_s)
    if not done.success:
        return [math.inf] * len(times_s)
    return [float(sum(line.fuel_m3(row))) for row in done.y.T]


def _again(method: str, tolerance: float, times_s: tuple[float, ...], _: None) -> None:
    _ivp(method, tolerance, times_s)


def _worst(found: list[float], wanted: list[float], scale: float) -> float:
    return max(abs(one - other) for one, other in zip(found, wanted, strict=True)) / scale


def beside_solve_ivp(longest_step_s: float) -> list[Row]:
    """Compare with the fastest stiff method at the same accuracy on the leaking line in eight pieces."""

    def fresh() -> Transient:
        return leaking_line(PIECES, HOLE_M2)

    case = fresh()
    wanted = _ivp("Radau", 1e-9, case.times_s)
    ours = _worst(case.played(longest_step_s), wanted, case.scale)
    ours_s = median_s(fresh, lambda one: one.played(longest_step_s))
    best: tuple[float, str, float, float] = (math.inf, "", 0.0, 0.0)
    for method in ("LSODA", "BDF", "Radau"):
        for tolerance in TOLERANCES:
            error = _worst(_ivp(method, tolerance, case.times_s), wanted, case.scale)
            if error <= ours:
                taken = median_s(lambda: None, partial(_again, method, tolerance, case.times_s), 3)
                best = min(best, (taken, method, tolerance, error))
                break
    name = "own steps" if math.isinf(longest_step_s) else f"steps of {longest_step_s:g} s"
    said = f"{best[1]} at {best[2]:.0e}: {best[0] * 1e3:.1f} ms, error {best[3]:.2%}"
    ratio = f"ratio {best[0] / ours_s:.1f} (above 1: the circuit is faster)"
    return [
        (f"line filling through a leak, {name}", f"{ours_s * 1e3:.1f} ms, error {ours:.2%}", "of the line's fuel"),
        ("  solve_ivp's fastest at that accuracy", said, ratio),
    ]


def twelve_pipes() -> Network:
    """Return the first random network of twelve hoses."""
    return next(network for network in map(random_network, range(10_000)) if len(network.hoses) == 12)


def beside_epanet() -> list[Row]:
    """Compare with EPANET on an hour of tanks running out into one another, twelve pipes."""
    network = twelve_pipes()
    tanks = range(len(network.floors_m))
    start_m = [surface_m(our_circuit(network), node) for node in tanks]
    steps = 0

    def count(_state: CircuitState, _step_s: float) -> bool:
        nonlocal steps
        steps += 1
        return False

    state = our_circuit(network)
    advance(state, 3600.0, after=count)
    ours_s = median_s(lambda: our_circuit(network), lambda one: advance(one, 3600.0))
    with tempfile.TemporaryDirectory() as folder:
        text = epanet_text(network, start_m, tank_area_m2=2.5, hours=1)

        def solve(_: object) -> None:
            with Epanet(text, Path(folder)) as other:
                other.solve()

        theirs_s = median_s(lambda: None, solve)
    rate, ratio = (
        f"{3600.0 / ours_s:,.0f} s a second",
        f"ratio {theirs_s / ours_s:.2f} (above 1: the circuit is faster)",
    )
    return [
        ("an hour of 12 pipes between tanks", f"{ours_s * 1e3:.1f} ms in {steps} steps", rate),
        ("  EPANET, steps of 10 s, with reading its file", f"{theirs_s * 1e3:.1f} ms", ratio),
    ]


def chain(volumes: int) -> CircuitState:
    """Return a tank, a long hose and a can, so many volumes in all, every other hose piece a third of it air."""
    small = SmallCircuit()
    small.vessel("tank", 0.06, 1.0, 0.40)
    small.hole("tank.vent", small.mouth("tank", 1.39), 1e-4)
    small.vessel("can", 0.06, 0.0, 0.40)
    small.hole("can.vent", small.mouth("can", 0.39), 1e-4)
    small.hose("hose", 0.008, 6.0, 1.02, 0.02, pieces=volumes - 2)
    small.join(small.mouth("tank", 1.02), small.mouth("hose.start", 0.0))
    small.join(small.mouth("hose.end", 0.0), small.mouth("can", 0.02))
    state = small.state()
    state.fill("tank", 0.5, 0.02)
    state.fill("can", 0.3, 0.02)
    for piece in range(0, volumes - 2, 2):
        state.fill(f"hose.{piece}", 0.6, 0.05)
    return state


def cost_against_parts() -> list[Row]:
    """Time one step of chains of 8 to 64 volumes and fit the power with which the cost grows."""
    steps, per_step = 400, []
    for size in SIZES:
        taken = median_s(partial(chain, size), lambda one: advance(one, steps * STEP_S, longest_step_s=STEP_S))
        per_step.append(taken / steps)
    power, _ = np.polyfit(np.log(SIZES), np.log(per_step), 1)
    rows = [
        (f"one step of {size} volumes", f"{one * 1e6:.0f} us", f"{one / size * 1e6:.1f} us a volume")
        for size, one in zip(SIZES, per_step, strict=True)
    ]
    return [*rows, ("  cost grows with the volumes to the power", f"{power:.2f}", "wanted: no more than 1")]
