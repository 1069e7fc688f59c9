"""Advances the circuit in time with steps that shorten where contents change and grow where nothing does."""

from __future__ import annotations

from collections.abc import Callable

from engine_sim.circuit.link_flow import LinkNow, links_now
from engine_sim.circuit.pressure_flow import solve
from engine_sim.circuit.state import CircuitState
from engine_sim.circuit.topology import OPEN_AIR
from engine_sim.circuit.transport import carry
from engine_sim.errors import OutOfRange, SolverFailed
from engine_sim.sources import FROM_MEMORY, SourcedValue

FIRST_STEP_S = SourcedValue(0.05, "s", FROM_MEMORY, "step after anything was switched").value
SHORTEST_STEP_S = SourcedValue(1e-6, "s", FROM_MEMORY, "below this a step that fails is given up").value
LONGEST_STEP_S = SourcedValue(60.0, "s", FROM_MEMORY, "step when all stands still").value
_GROWTH = SourcedValue(1.5, "1", FROM_MEMORY, "by how much the next step may grow").value
_SHARE_MOVED = SourcedValue(0.4, "1", FROM_MEMORY, "share of a small volume that one step may move").value
_LABOUR = 8
"""Iterations from which a step counts as laborious, and the next one is halved."""
_PURE = SourcedValue(1e-6, "1", FROM_MEMORY, "share of air or water below which a volume counts as plain fuel").value
_LONGEST_PLAY_S = SourcedValue(1e6, "s", FROM_MEMORY, "longest time that one call may ask for").value

Before = Callable[[CircuitState, float], float]
"""Called before each step with the state and the step wished for; sets the drives, returns the longest step allowed."""

After = Callable[[CircuitState, float], bool]
"""Called after each step with the state and its length; True ends the advance."""


def advance(state: CircuitState, duration_s: float, before: Before | None = None, after: After | None = None) -> float:
    """Play ``duration_s`` [s], 0 to 1e6; return the time played (less only where ``after`` ended it).

    Raises OutOfRange for a duration that is no such number, and SolverFailed when even the shortest step fails; then
    the state stands at the end of the last good step.
    """
    if not 0.0 <= duration_s <= _LONGEST_PLAY_S:
        raise OutOfRange("duration", duration_s, 0.0, _LONGEST_PLAY_S, "s")
    played, wish = 0.0, FIRST_STEP_S
    while duration_s - played > SHORTEST_STEP_S:
        step = min(wish, duration_s - played)
        if before is not None:
            step = min(step, before(state, step))
        taken, iterations = _one_step(state, step)
        played += taken
        if after is not None and after(state, taken):
            break
        wish = _next_wish(state, max(taken, FIRST_STEP_S), iterations)
    return played


def _one_step(state: CircuitState, step_s: float) -> tuple[float, int]:
    """Take one step, cut down as often as the solve needs it; return its length and the iterations."""
    links = links_now(state)
    step_s = min(step_s, _longest_step(state, links))
    while True:
        for link in links:
            link.damping_pa_s_per_m3 = step_s * link.stiffness_pa_per_m3
        try:
            pressure, flows, iterations = solve(state, links, step_s)
        except SolverFailed:
            step_s /= 4.0
            if step_s < SHORTEST_STEP_S:
                raise
            continue
        allowed = _longest_for(state, links, flows)
        if step_s > 2.0 * allowed and step_s > FIRST_STEP_S / 4.0:
            step_s = max(allowed, FIRST_STEP_S / 4.0)
            continue
        state.pressure_pa = pressure
        carry(state, links, flows, step_s)
        return step_s, iterations


def _next_wish(state: CircuitState, taken_s: float, iterations: int) -> float:
    if iterations >= _LABOUR:
        return max(FIRST_STEP_S / 4.0, taken_s / 2.0)
    return min(LONGEST_STEP_S, taken_s * _GROWTH)


def _longest_step(state: CircuitState, links: list[LinkNow]) -> float:
    """Return the longest step that the last flows allow."""
    return max(FIRST_STEP_S / 4.0, _longest_for(state, links, [state.flow_m3_per_s[link.number] for link in links]))


def _longest_for(state: CircuitState, links: list[LinkNow], flows: list[float]) -> float:
    """Return how long these flows may run before a volume that holds or gets more than fuel has changed too much."""
    longest = LONGEST_STEP_S
    volumes = state.topology.volumes
    for link, rate in zip(links, flows, strict=True):
        if rate == 0.0:
            continue
        shares = link.forward if rate > 0.0 else link.backward
        carries_more = shares[0] < 1.0 - _PURE
        for end in (link.a, link.b):
            if end != OPEN_AIR and (carries_more or _mixed(state, end)):
                longest = min(longest, _SHARE_MOVED * volumes[end].volume_m3 / abs(rate))
    return longest


def _mixed(state: CircuitState, number: int) -> bool:
    """Tell whether a volume holds something beside plain fuel."""
    space = state.topology.volumes[number].volume_m3 * _PURE
    return state.water_m3[number] > space or state.air_m3(number) > space
