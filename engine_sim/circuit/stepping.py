"""Advances the circuit in time with steps that shorten where contents change and grow where nothing does."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import astuple

from engine_sim.circuit.gas import exchange
from engine_sim.circuit.link_now import LinkNow, links_now
from engine_sim.circuit.pressure_flow import solve
from engine_sim.circuit.settling import settle
from engine_sim.circuit.state import CircuitState
from engine_sim.circuit.topology import OPEN_AIR, Topology
from engine_sim.circuit.transport import carry
from engine_sim.errors import OutOfRange, SolverFailed
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue

FIRST_STEP_S = SourcedValue(0.05, "s", FROM_MEMORY, "step after anything was switched").value
SHORTEST_STEP_S = SourcedValue(1e-6, "s", FROM_MEMORY, "below this a step that fails is given up").value
LONGEST_STEP_S = SourcedValue(300.0, "s", FROM_MEMORY, "step when all stands still").value
_GROWTH = SourcedValue(1.6, "1", FROM_MEMORY, "by how much the next step may grow").value
_FIRST_GROWTH = SourcedValue(2.5, "1", FROM_MEMORY, "the same for the first short steps after a switch").value
_CREEPS_M3_PER_S = SourcedValue(1e-7, "m3/s", FROM_MEMORY, "flow that only creeps: a third of a litre an hour").value
_SHORT_STEP_S = SourcedValue(0.2, "s", FROM_MEMORY, "a step that is still short").value
_LAYERS_MOVED = SourcedValue(0.3, "1", FROM_MEMORY, "share of a layered volume's contents that one step may move").value
_MIXTURE_MOVED = SourcedValue(2.0, "1", FROM_MEMORY, "times that one pumped step may flush a hose piece").value
_MIXTURE_DRIFTS = SourcedValue(0.4, "1", FROM_MEMORY, "the same where nothing is pumped and levels settle").value
_TANK_FROM_M3 = SourcedValue(2e-3, "m3", COMMON_PRACTICE, "a vessel that holds more is a tank or a can").value
_LEVEL_MOVED_M = SourcedValue(0.004, "m", FROM_MEMORY, "by how much one step may move a tank's level").value
_STANDS_M3_PER_S = SourcedValue(1e-9, "m3/s", FROM_MEMORY, "flow that counts as none: 4 mL an hour").value
_LABOUR_ITERATIONS = 8
_PURE = SourcedValue(1e-4, "1", FROM_MEMORY, "share of air or water below which a volume counts as plain fuel").value
_LONGEST_PLAY_S = SourcedValue(1e6, "s", FROM_MEMORY, "longest time that one call may ask for").value

Before = Callable[[CircuitState, float], float]
"""Called before each step with the state and the step wished for; sets the drives, returns the longest step allowed."""

After = Callable[[CircuitState, float], bool]
"""Called after each step with the state and its length; True ends the advance."""


def advance(
    state: CircuitState,
    duration_s: float,
    before: Before | None = None,
    after: After | None = None,
    longest_step_s: float = LONGEST_STEP_S,
) -> float:
    """Play ``duration_s`` [s], 0 to 1e6; return the time played (less only where ``after`` ended it).

    No step is longer than ``longest_step_s`` [s]. Raises OutOfRange for a duration that is no such number, and
    SolverFailed when even the shortest step fails; then the state stands at the end of the last good step.
    """
    if not 0.0 <= duration_s <= _LONGEST_PLAY_S:
        raise OutOfRange("duration", duration_s, 0.0, _LONGEST_PLAY_S, "s")
    played, wish = 0.0, longest_step_s
    while duration_s - played > SHORTEST_STEP_S:
        step = min(wish, duration_s - played)
        if before is not None:
            step = min(step, before(state, step))
        if played == 0.0:
            step = min(step, _first_wish(state))
        taken, iterations = _one_step(state, step)
        played += taken
        if after is not None and after(state, taken):
            break
        wish = min(longest_step_s, _next_wish(max(taken, FIRST_STEP_S), iterations))
    state.left_at = (wish, _touched(state)) if _is_steady(state) else (FIRST_STEP_S, ())
    return played


def _is_steady(state: CircuitState) -> bool:
    """Tell whether the flow goes on as it is: it only creeps, or a turning engine draws nothing but plain fuel."""
    if state.drives.engine_turns:
        return is_quiet(state)
    return max(map(abs, state.flow_m3_per_s), default=0.0) < _CREEPS_M3_PER_S


def _first_wish(state: CircuitState) -> float:
    """Return the first step to try: a short one, but the last one's like where all stands as it was left."""
    wish, mark = state.left_at
    return wish if mark and mark == _touched(state) else FIRST_STEP_S


def _touched(state: CircuitState) -> tuple[object, ...]:
    """Return all that hands, weather and faults can change in a circuit that stands."""
    holds = (state.fuel_m3, state.water_m3, state.air_kg, state.pressure_pa, state.sludge_kg, state.dirt_kg)
    hands = (state.opening, state.extra_laminar_1_per_m3, state.compliance_m3_per_pa)
    lies = (state.seaway, state.heel_rad, state.pitch_rad, state.fluids.temperature_k, state.cloud_k, state.cfpp_k)
    figures = (tuple(numbers.values()) for numbers in state.numbers)
    elements = (tuple(state.cake_kg.values()), tuple(state.element_k.values()))
    return (astuple(state.drives), *map(tuple, holds), *map(tuple, hands), lies, *figures, *elements)


def _one_step(state: CircuitState, step_s: float) -> tuple[float, int]:
    """Take one step, cut down as often as the solve needs it; return its length and the iterations."""
    links = links_now(state)
    room = _room_m3(state)
    last = [state.flow_m3_per_s[link.number] for link in links]
    step_s = min(step_s, max(FIRST_STEP_S / 4.0, _longest_for(links, last, room)))
    rises = _rises(state, links) if state.drives.idle() else []
    heads = [link.head_a_pa for link in links]
    while True:
        for link, slope, head in zip(links, rises, heads, strict=False):
            link.damping_pa_s_per_m3 = step_s * link.stiffness_pa_per_m3
            link.head_a_pa = head + step_s * slope
        try:
            pressure, flows, iterations = solve(state, links, step_s)
        except SolverFailed:
            step_s /= 4.0
            if step_s < SHORTEST_STEP_S:
                raise
            continue
        allowed = _longest_for(links, flows, room)
        if step_s > 2.0 * allowed and step_s > FIRST_STEP_S / 4.0:
            step_s = max(allowed, FIRST_STEP_S / 4.0)
            continue
        state.pressure_pa = pressure
        carry(state, links, flows, step_s)
        settle(state, step_s)
        exchange(state, step_s)
        return step_s, iterations


def _next_wish(taken_s: float, iterations: int) -> float:
    if iterations >= _LABOUR_ITERATIONS:
        return max(FIRST_STEP_S / 4.0, taken_s / 2.0)
    return min(LONGEST_STEP_S, taken_s * (_FIRST_GROWTH if taken_s < _SHORT_STEP_S else _GROWTH))


def _longest_for(links: list[LinkNow], flows: list[float], room: tuple[list[float], list[float]]) -> float:
    """Return how long these flows may run before a volume that holds or gets more than fuel has changed too much."""
    longest = LONGEST_STEP_S
    if_mixed, now = room
    for link, rate in zip(links, flows, strict=True):
        if rate == 0.0:
            continue
        a, b = link.a, link.b
        share = link.forward[0] if rate > 0.0 else link.backward[0]
        limits = if_mixed if share < 1.0 - _PURE else now
        if limits[a] < longest * rate or limits[a] < -longest * rate:
            longest = limits[a] / abs(rate)
        if b != OPEN_AIR and (limits[b] < longest * rate or limits[b] < -longest * rate):
            longest = limits[b] / abs(rate)
    return longest


def _room_m3(state: CircuitState) -> tuple[list[float], list[float]]:
    """Return how much one step may move through each volume [m3]: where it gets more than fuel, and as it is now."""
    topology, idle = state.topology, state.drives.idle()
    if_mixed = topology.kept_room_m3.get(idle)
    if if_mixed is None:
        mixed = topology.mixed(state.drives)
        shares = [_share_moved(topology, number, mixed[number], idle) for number in range(len(topology.volumes))]
        if_mixed = [space * share for space, share in zip(topology.spaces_m3, shares, strict=True)]
        topology.kept_room_m3[idle] = if_mixed
    return if_mixed, [math.inf if still else room for still, room in zip(_plain(state), if_mixed, strict=True)]


def _share_moved(topology: Topology, number: int, mixed: bool, idle: bool) -> float:
    """Return which share of a volume one step may move through it: of a tank no more than a finger's breadth."""
    if mixed:
        return _MIXTURE_DRIFTS if idle else _MIXTURE_MOVED
    volume = topology.volumes[number]
    if volume.volume_m3 < _TANK_FROM_M3:
        return _LAYERS_MOVED
    return min(_LAYERS_MOVED, _LEVEL_MOVED_M / (volume.top_m - volume.bottom_m))


def is_quiet(state: CircuitState) -> bool:
    """Tell whether nothing but plain fuel flows, tanks and cans left aside, so that nothing soon changes."""
    topology, plain = state.topology, _plain(state)
    for a, b, rate in zip(topology.end_a, topology.end_b, state.flow_m3_per_s, strict=True):
        if -_STANDS_M3_PER_S < rate < _STANDS_M3_PER_S:
            continue
        for end in (a, b):
            if end != OPEN_AIR and not plain[end] and topology.spaces_m3[end] < _TANK_FROM_M3:
                return False
    return True


def _plain(state: CircuitState) -> list[bool]:
    """Tell for each volume whether it holds nothing but plain fuel."""
    gas_per_pa = state.fluids.gas_factor_j_per_kg
    return [
        water <= space * _PURE and air * gas_per_pa <= space * _PURE * pressure
        for water, air, space, pressure in zip(
            state.water_m3, state.air_kg, state.topology.spaces_m3, state.pressure_pa, strict=True
        )
    ]


def _rises(state: CircuitState, links: list[LinkNow]) -> list[float]:
    """Return for each link by how much the heads at its ends drift apart by what the other links carry [Pa/s].

    The damping of a link looks at its own flow alone; carried on by the rest, as it last was, the heads stay true in a
    steady flow through part-filled volumes, and only a change of flow is damped.
    """
    net = [0.0] * (len(state.topology.volumes) + 1)
    liquid = []
    for link in links:
        rate = state.flow_m3_per_s[link.number]
        rate *= 1.0 - (link.forward[2] if rate >= 0.0 else link.backward[2])
        liquid.append(rate)
        net[link.a] -= rate
        net[link.b] += rate
    return [
        (link.stiffness_pa_per_m3 - link.stiffness_b_pa_per_m3) * (net[link.a] + rate)
        - link.stiffness_b_pa_per_m3 * (net[link.b] - rate)
        for link, rate in zip(links, liquid, strict=True)
    ]
