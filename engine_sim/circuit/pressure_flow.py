"""Solves the pressures of all volumes together, implicitly, for one time step.

Closure of each volume, absolute so that an error of one step is taken back by the next:
liquid + m R T / p = V + C (p - p0). A flow carries the donor's volume; its air re-expands at the receiver's pressure.
"""

from __future__ import annotations

import math

from engine_sim.circuit.link_flow import LinkNow, flow
from engine_sim.circuit.state import CircuitState
from engine_sim.circuit.topology import OPEN_AIR, Topology
from engine_sim.errors import SolverFailed
from engine_sim.sources import FROM_MEMORY, SourcedValue

_ITERATIONS = 30
_LEAST_PRESSURE_PA = SourcedValue(
    500.0, "Pa", FROM_MEMORY, "floor that keeps a division sane; never reached in use"
).value
_GREATEST_CHANGE = SourcedValue(0.5, "1", FROM_MEMORY, "largest share by which one iteration may move a pressure").value
_ENOUGH_PA = SourcedValue(0.002, "Pa", FROM_MEMORY, "change of pressure below which the solve is done").value


def solve(state: CircuitState, links: list[LinkNow], step_s: float) -> tuple[list[float], list[float], int]:
    """Return the new pressures [Pa], the flow of each of ``links`` [m3/s] and the number of iterations.

    Raises SolverFailed when the iteration does not settle; the state is left untouched.
    """
    pressure = list(state.pressure_pa)
    for iteration in range(1, _ITERATIONS + 1):
        rest, diagonal, entries, flows = _residuals(state, links, pressure, step_s)
        change = _eliminate(state.topology, diagonal, entries, rest)
        worst = 0.0
        for number, by in enumerate(change):
            old = pressure[number]
            limit = _GREATEST_CHANGE * old
            by = max(-limit, min(limit, by))
            pressure[number] = max(_LEAST_PRESSURE_PA, old + by)
            worst = max(worst, abs(by))
        if not math.isfinite(worst):
            break
        if worst < _ENOUGH_PA:
            return pressure, flows, iteration
    raise SolverFailed(f"The circuit did not settle in a step of {step_s:g} s.")


def _residuals(
    state: CircuitState, links: list[LinkNow], pressure: list[float], step_s: float
) -> tuple[list[float], list[float], list[float], list[float]]:
    """Return minus the closure errors [m3], the diagonal and other entries of their slopes, and the flows."""
    ambient, gas_factor = state.fluids.ambient_pa, state.fluids.gas_factor_j_per_kg
    rest: list[float] = []
    diagonal: list[float] = []
    volumes = state.topology.volumes
    for number, now in enumerate(pressure):
        give, gas = state.compliance_m3_per_pa[number], state.air_kg[number] * gas_factor
        liquid = state.fuel_m3[number] + state.water_m3[number]
        rest.append(volumes[number].volume_m3 + give * (now - ambient) - liquid - gas / now)
        diagonal.append(-give - gas / (now * now))
    entries = [0.0] * len(state.topology.places)
    flows = [_add_link(state, link, pressure, step_s, (rest, diagonal, entries)) for link in links]
    return rest, diagonal, entries, flows


def _add_link(
    state: CircuitState,
    link: LinkNow,
    pressure: list[float],
    step_s: float,
    system: tuple[list[float], list[float], list[float]],
) -> float:
    """Add one link's flow to the system of closure errors; return the flow [m3/s]."""
    rest, diagonal, entries = system
    a, b, ambient = link.a, link.b, state.fluids.ambient_pa
    at_a = pressure[a]
    at_b = pressure[b] if b != OPEN_AIR else 0.0
    rate, slope_a, slope_b = flow(state, link, at_a, at_b)
    outside = at_b if b != OPEN_AIR else ambient
    if rate >= 0.0:
        leave_a, slope = 1.0, 0.0
        air = link.forward[2]
        reach_b, slope_reach_a, slope_reach_b = (
            1.0 - air + air * at_a / outside,
            air / outside,
            -air * at_a / outside**2,
        )
        reach_a_extra = 0.0
    else:
        air = link.backward[2]
        leave_a, slope = 1.0 - air + air * outside / at_a, -air * outside / (at_a * at_a)
        reach_b, slope_reach_a, slope_reach_b = 1.0, 0.0, 0.0
        reach_a_extra = air / at_a
    moved = step_s * rate
    rest[a] += moved * leave_a
    diagonal[a] -= step_s * slope_a * leave_a + moved * slope
    if b == OPEN_AIR:
        return rate
    places = state.topology.places
    entries[places[a, b]] -= step_s * slope_b * leave_a + moved * reach_a_extra
    rest[b] -= moved * reach_b
    diagonal[b] += step_s * slope_b * reach_b + moved * slope_reach_b
    entries[places[b, a]] += step_s * slope_a * reach_b + moved * slope_reach_a
    return rate


def _eliminate(topology: Topology, diagonal: list[float], entries: list[float], rest: list[float]) -> list[float]:
    """Return the change of pressure [Pa] that cancels the errors: sparse elimination in the compiled order."""
    for pivot in topology.pivots:
        own = diagonal[pivot.row]
        for row, place, back, changes in pivot.rows:
            factor = entries[place]
            if factor == 0.0:
                continue
            factor /= own
            rest[row] -= factor * rest[pivot.row]
            for source, target in changes:
                entries[target] -= factor * entries[source]
            diagonal[row] -= factor * entries[back]
    change = [0.0] * len(diagonal)
    for pivot in reversed(topology.pivots):
        total = rest[pivot.row]
        for column, place in pivot.columns:
            total -= entries[place] * change[column]
        change[pivot.row] = total / diagonal[pivot.row]
    return change
