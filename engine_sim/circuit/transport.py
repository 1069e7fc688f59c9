"""Carries fuel, water, air and what is in them along the flows of one step: what leaves one volume arrives in the next.

The links are taken in the order in which the fuel passes them. A hose piece or a stirred space gives its mixture as it
is after what arrived in this step, so that a step may be longer than it takes to flow through it; a layered vessel
gives the layers that it had at the step's beginning, and no more of anything than it has.
"""

from __future__ import annotations

from collections.abc import Sequence

from engine_sim.circuit.draw import FUEL
from engine_sim.circuit.link_now import LinkNow
from engine_sim.circuit.state import CircuitState, Shares
from engine_sim.circuit.topology import OPEN_AIR, Riser
from engine_sim.sources import FROM_MEMORY, SourcedValue

BUBBLE_RISE_M_PER_S = SourcedValue(
    0.05, "m/s", FROM_MEMORY, "a long bubble in an upright 8 mm hose; 0.35 sqrt(g D) without friction is 0.098"
).value

_MOST_OF_IT = SourcedValue(0.98, "1", FROM_MEMORY, "share of a volume's contents that one step takes at most").value


def carry(state: CircuitState, links: list[LinkNow], flows_m3_per_s: list[float], step_s: float) -> None:
    """Move the contents along the flows [m3/s] for ``step_s``; the pressures must be the new ones."""
    ahead, mixed = [True] * len(state.opening), state.topology.mixed(state.drives)
    state.flow_m3_per_s = [0.0] * len(state.opening)
    by_number: list[tuple[LinkNow, float] | None] = [None] * len(ahead)
    for link, rate in zip(links, flows_m3_per_s, strict=True):
        state.flow_m3_per_s[link.number] = rate
        if rate != 0.0:
            ahead[link.number] = rate > 0.0
            by_number[link.number] = (link, rate * step_s)
    for number in state.topology.flow_order(tuple(ahead)):
        found = by_number[number]
        if found is None:
            continue
        link, moved = found
        if moved > 0.0:
            _pass_on(state, link, (link.a, link.b), (link.forward, link.forward_haze_share), moved, mixed)
        else:
            _pass_on(state, link, (link.b, link.a), (link.backward, link.backward_haze_share), moved, mixed)
    for riser in state.topology.risers:
        if state.air_kg[riser.lower] > 0.0 and state.opening[riser.link] > 0.0:
            _rise(state, riser, step_s)


def _pass_on(
    state: CircuitState,
    link: LinkNow,
    ends: tuple[int, int],
    drawn: tuple[Shares, float],
    flowed_m3: float,
    mixed: Sequence[bool],
) -> None:
    """Take what flowed [m3, at the donor's pressure] out of the donor and give the receiver exactly what was taken."""
    donor, receiver = ends
    number = link.number
    moved_m3, sign = (flowed_m3, 1.0) if flowed_m3 > 0.0 else (-flowed_m3, -1.0)
    if donor == OPEN_AIR:
        air = moved_m3 * state.fluids.ambient_pa / state.fluids.gas_factor_j_per_kg
        state.passed_air_kg[number] += sign * air
        state.air_kg[receiver] += air
        return
    shares, haze_share = drawn
    held = state.fuel_m3[donor]
    if mixed[donor] or shares is FUEL:
        plain = state.air_kg[donor] <= 0.0 and state.water_m3[donor] <= 0.0
        whole = held if plain else held + state.water_m3[donor] + state.air_m3(donor)
        moved_m3 = min(moved_m3, _MOST_OF_IT * whole)
        if mixed[donor]:
            shares = FUEL if plain else state.shares(donor)
    fuel = min(moved_m3 * shares[0], max(0.0, held))
    if shares is not FUEL:
        _pass_water_and_air(state, link, ends, (shares, haze_share), moved_m3, sign, mixed)
    if fuel > 0.0:
        _pass_fuel(state, number, ends, fuel, sign)


def _pass_water_and_air(
    state: CircuitState,
    link: LinkNow,
    ends: tuple[int, int],
    drawn: tuple[Shares, float],
    moved_m3: float,
    sign: float,
    mixed: Sequence[bool],
) -> None:
    donor, receiver = ends
    (_, water_share, air_share), haze_share = drawn
    number = link.number
    haze = min(moved_m3 * haze_share, state.haze_m3[donor])
    element = state.topology.elements.get(number)
    if element is not None and sign > 0.0:
        kept = haze * element.held_droplet_share
        state.haze_m3[donor] -= kept
        haze -= kept
    settled = min(moved_m3 * (water_share - haze_share), state.water_m3[donor] - state.haze_m3[donor])
    aqua = max(0.0, settled) + haze
    air = min(moved_m3 * air_share * state.pressure_pa[donor] / state.fluids.gas_factor_j_per_kg, state.air_kg[donor])
    state.water_m3[donor] -= aqua
    state.haze_m3[donor] -= haze
    state.air_kg[donor] -= air
    state.passed_water_m3[number] += sign * aqua
    state.passed_air_kg[number] += sign * air
    if receiver != OPEN_AIR:
        state.water_m3[receiver] += aqua
        state.air_kg[receiver] += air
        if not mixed[receiver]:
            state.haze_m3[receiver] += aqua


def _pass_fuel(state: CircuitState, number: int, ends: tuple[int, int], fuel: float, sign: float) -> None:
    """Pass fuel on, with the dirt, the petrol and the air dissolved in it."""
    donor, receiver = ends
    held = state.fuel_m3[donor]
    share = min(1.0, fuel / held) if held > 0.0 else 1.0
    state.fuel_m3[donor] = held - fuel
    state.passed_fuel_m3[number] += sign * fuel
    if receiver != OPEN_AIR:
        state.fuel_m3[receiver] += fuel
    dirt = state.dirt_kg[donor] * share
    if dirt != 0.0:
        state.dirt_kg[donor] -= dirt
        state.passed_dirt_kg[number] += sign * dirt
        if number in state.cake_kg and sign > 0.0:
            caught = dirt * state.topology.elements[number].held_dirt_share
            state.cake_kg[number] += caught
            dirt -= caught
        if receiver != OPEN_AIR:
            state.dirt_kg[receiver] += dirt
    if state.petrol_m3[donor] != 0.0 or state.dissolved_kg[donor] != 0.0:
        _pass_dissolved(state, number, ends, share, sign)


def _pass_dissolved(state: CircuitState, number: int, ends: tuple[int, int], share: float, sign: float) -> None:
    donor, receiver = ends
    petrol, air = state.petrol_m3[donor] * share, state.dissolved_kg[donor] * share
    state.petrol_m3[donor] -= petrol
    state.dissolved_kg[donor] -= air
    state.passed_petrol_m3[number] += sign * petrol
    state.passed_dissolved_kg[number] += sign * air
    if receiver != OPEN_AIR:
        state.petrol_m3[receiver] += petrol
        state.dissolved_kg[receiver] += air


def _rise(state: CircuitState, riser: Riser, step_s: float) -> None:
    """Let bubbles rise from the lower piece into the upper, and as much liquid sink."""
    low, high = riser.lower, riser.upper
    gas_low, gas_high = state.shares(low)[2], state.shares(high)[2]
    exchange = BUBBLE_RISE_M_PER_S * riser.area_times_slope_m2 * gas_low * (1.0 - gas_high) * step_s
    liquid_high = state.fuel_m3[high] + state.water_m3[high]
    exchange = min(exchange, 0.5 * state.air_m3(low), 0.5 * liquid_high)
    if exchange <= 0.0:
        return
    share_fuel = state.fuel_m3[high] / liquid_high
    air = exchange * state.pressure_pa[low] / state.fluids.gas_factor_j_per_kg
    state.air_kg[low] -= air
    state.air_kg[high] += air
    state.water_m3[low] += exchange * (1.0 - share_fuel)
    state.water_m3[high] -= exchange * (1.0 - share_fuel)
    sinking = exchange * share_fuel
    dirt = state.dirt_kg[high] * sinking / state.fuel_m3[high] if state.fuel_m3[high] > 0.0 else 0.0
    state.fuel_m3[low] += sinking
    state.fuel_m3[high] -= sinking
    state.dirt_kg[low] += dirt
    state.dirt_kg[high] -= dirt
