"""Solves the pressures of all volumes together, implicitly, for one time step.

Closure of each volume, absolute so that an error of one step is taken back by the next:
liquid + m R T / p = V + C (p - p0). A flow carries the donor's volume; its air re-expands at the receiver's pressure.
"""

from __future__ import annotations

import math

from engine_sim.circuit.link_flow import flow
from engine_sim.circuit.link_now import LinkNow
from engine_sim.circuit.state import CircuitState
from engine_sim.circuit.topology import OPEN_AIR, Topology
from engine_sim.errors import SolverFailed
from engine_sim.sources import FROM_MEMORY, SourcedValue

_ITERATIONS = 40
_TANGENT_ITERATIONS = 4
_CHORD_ITERATIONS = 5
_LEAST_PRESSURE_PA = SourcedValue(
    500.0, "Pa", FROM_MEMORY, "floor that keeps a division sane; never reached in use"
).value
_GREATEST_CHANGE = SourcedValue(0.5, "1", FROM_MEMORY, "largest share by which one iteration may move a pressure").value
_ENOUGH_PA = SourcedValue(0.02, "Pa", FROM_MEMORY, "change of pressure below which the solve is done").value

Found = tuple[float, float, float]
"""A link's flow [m3/s] and its slopes with the pressures of its two ends [m3/(s Pa)]."""

Solved = tuple[list[float], list[float], int]
"""New pressures [Pa], the flow of each link [m3/s], the number of iterations."""


class System:
    """The closure errors of all volumes and their slopes, for one iteration."""

    __slots__ = ("diagonal", "entries", "rest")

    def __init__(self, state: CircuitState, pressure_pa: list[float]) -> None:
        """Start with what the volumes hold, before anything flows."""
        ambient = state.fluids.ambient_pa
        gas = [mass * state.fluids.gas_factor_j_per_kg / p for mass, p in zip(state.air_kg, pressure_pa, strict=True)]
        self.rest = [
            space + give * (p - ambient) - fuel - water - air
            for space, give, p, fuel, water, air in zip(
                state.topology.spaces_m3,
                state.compliance_m3_per_pa,
                pressure_pa,
                state.fuel_m3,
                state.water_m3,
                gas,
                strict=True,
            )
        ]
        self.diagonal = [
            -give - air / p for give, air, p in zip(state.compliance_m3_per_pa, gas, pressure_pa, strict=True)
        ]
        self.entries = [0.0] * len(state.topology.places)

    def add(self, topology: Topology, link: LinkNow, at: tuple[float, float], found: Found, step_s: float) -> None:
        """Add one link's flow with its slopes; ``at`` holds the pressures at its two ends [Pa]."""
        rate, slope_a, slope_b = found
        a, b = link.a, link.b
        moved = step_s * rate
        air_a, air_b = (link.forward[2], 0.0) if rate >= 0.0 else (0.0, link.backward[2])
        leave = 1.0 - air_b + air_b * at[1] / at[0]
        self.rest[a] += moved * leave
        self.diagonal[a] += -step_s * slope_a * leave + moved * air_b * at[1] / (at[0] * at[0])
        if b == OPEN_AIR:
            return
        reach = 1.0 - air_a + air_a * at[0] / at[1]
        self.entries[topology.place_ab[link.number]] -= step_s * slope_b * leave + moved * air_b / at[0]
        self.rest[b] -= moved * reach
        self.diagonal[b] += step_s * slope_b * reach - moved * air_a * at[0] / (at[1] * at[1])
        self.entries[topology.place_ba[link.number]] += step_s * slope_a * reach + moved * air_a / at[1]


def solve(state: CircuitState, links: list[LinkNow], step_s: float) -> Solved:
    """Return the new pressures [Pa], the flow of each of ``links`` [m3/s] and the number of iterations.

    Tangents first, which settle at once nearly always; where they swing, rounds of chords and tangents in turn.
    Raises SolverFailed when the iteration does not settle; the state is left untouched.
    """
    pressure = list(state.pressure_pa)
    last = 0.0
    for link in links:
        link.chord = False
    for iteration in range(1, _ITERATIONS + 1):
        system = System(state, pressure)
        chords = (iteration - 1) % (_TANGENT_ITERATIONS + _CHORD_ITERATIONS) >= _TANGENT_ITERATIONS
        _set_chords(links, chords)
        found = _assemble(state, links, pressure, step_s, system)
        change = _eliminate(state.topology, system)
        _apply(pressure, change)
        worst = max(map(abs, change))
        if not math.isfinite(worst):
            break
        if worst < _ENOUGH_PA or (not chords and worst < last and worst * worst < _ENOUGH_PA * last):
            return pressure, _corrected(links, found, change), iteration
        last = worst
    raise SolverFailed(f"The circuit did not settle in a step of {step_s:g} s.")


def _set_chords(links: list[LinkNow], chords: bool) -> None:
    """Let the links give chords for slopes, which is slower and surer, or tangents again."""
    if links and links[0].chord is not chords:
        for link in links:
            link.chord = chords


def _apply(pressure: list[float], change: list[float]) -> None:
    """Move the pressures by the change, none by more than half of itself; keep in ``change`` what was done."""
    for number, by in enumerate(change):
        limit = _GREATEST_CHANGE * pressure[number]
        if by > limit or by < -limit:
            by = change[number] = math.copysign(limit, by)
        now = pressure[number] + by
        pressure[number] = now if now > _LEAST_PRESSURE_PA else _LEAST_PRESSURE_PA


def _corrected(links: list[LinkNow], found: list[Found], change: list[float]) -> list[float]:
    """Return the flows at the last pressures: those found, and their slopes times the last change; none turns back."""
    flows = []
    for link, (rate, slope_a, slope_b) in zip(links, found, strict=True):
        now = rate + slope_a * change[link.a] + (slope_b * change[link.b] if link.b != OPEN_AIR else 0.0)
        flows.append(now if now * rate > 0.0 else 0.0)
    return flows


def _assemble(
    state: CircuitState, links: list[LinkNow], pressure: list[float], step_s: float, system: System
) -> list[Found]:
    """Add every link to the system of closure errors; return their flows with slopes.

    Written out for a passive link that carries no air, since nearly all are: this is where the time goes.
    """
    topology, ambient = state.topology, state.fluids.ambient_pa
    rest, diagonal, entries = system.rest, system.diagonal, system.entries
    place_ab, place_ba = topology.place_ab, topology.place_ba
    all_found = []
    for link in links:
        a, b = link.a, link.b
        at_a, at_b = pressure[a], pressure[b] if b != OPEN_AIR else ambient
        if link.plain:
            rate, slope = link.passive(at_a + link.head_a_pa - at_b - link.head_b_pa)
            found = (rate, slope, -slope)
        else:
            found = flow(state, link, at_a, at_b)
            rate = found[0]
        all_found.append(found)
        if (link.forward[2] if rate >= 0.0 else link.backward[2]) > 0.0:
            system.add(topology, link, (at_a, at_b), found, step_s)
            continue
        moved, with_a, with_b = step_s * rate, step_s * found[1], step_s * found[2]
        rest[a] += moved
        diagonal[a] -= with_a
        if b != OPEN_AIR:
            rest[b] -= moved
            diagonal[b] += with_b
            entries[place_ab[link.number]] -= with_b
            entries[place_ba[link.number]] += with_a
    return all_found


def _eliminate(topology: Topology, system: System) -> list[float]:
    """Return the change of pressure [Pa] that cancels the errors: sparse elimination in the compiled order."""
    diagonal, entries, rest = system.diagonal, system.entries, system.rest
    for pivot, rows, _ in topology.pivots:
        own, right = diagonal[pivot], rest[pivot]
        for row, place, back, changes in rows:
            factor = entries[place]
            if factor == 0.0:
                continue
            factor /= own
            rest[row] -= factor * right
            for source, target in changes:
                entries[target] -= factor * entries[source]
            diagonal[row] -= factor * entries[back]
    change = [0.0] * len(diagonal)
    for pivot, _, columns in reversed(topology.pivots):
        total = rest[pivot]
        for column, place in columns:
            total -= entries[place] * change[column]
        change[pivot] = total / diagonal[pivot]
    return change
