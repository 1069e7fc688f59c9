"""Carries fuel, water, air and dirt along the flows of one step: what leaves one volume arrives in the next."""

from __future__ import annotations

from engine_sim.circuit.link_flow import LinkNow
from engine_sim.circuit.state import CircuitState, Shares
from engine_sim.circuit.topology import OPEN_AIR, Riser
from engine_sim.sources import FROM_MEMORY, SourcedValue

BUBBLE_RISE_M_PER_S = SourcedValue(
    0.05, "m/s", FROM_MEMORY, "a long bubble in an upright 8 mm hose; 0.35 sqrt(g D) without friction is 0.098"
).value


def carry(state: CircuitState, links: list[LinkNow], flows_m3_per_s: list[float], step_s: float) -> None:
    """Move the contents along the flows [m3/s] for ``step_s``; the pressures must be the new ones.

    All leave before any arrive, so that the order of the links does not matter; a volume of plain fuel may pass on
    more in one step than it holds, a mixed one gives no more of anything than it has.
    """
    arriving: list[tuple[int, float, float, float]] = []
    for link, rate in zip(links, flows_m3_per_s, strict=True):
        state.flow_m3_per_s[link.number] = rate
        if rate > 0.0:
            arriving.append(_leave(state, link.number, (link.a, link.b), link.forward, rate * step_s, 1.0))
        elif rate < 0.0:
            arriving.append(_leave(state, link.number, (link.b, link.a), link.backward, -rate * step_s, -1.0))
    for receiver, fuel, aqua, air in arriving:
        if receiver != OPEN_AIR:
            state.fuel_m3[receiver] += fuel
            state.water_m3[receiver] += aqua
            state.air_kg[receiver] += air
    for riser in state.topology.risers:
        if state.opening[riser.link] > 0.0:
            _rise(state, riser, step_s)


def _leave(
    state: CircuitState, number: int, ends: tuple[int, int], shares: Shares, moved_m3: float, sign: float
) -> tuple[int, float, float, float]:
    """Take ``moved_m3`` at the donor's pressure from it; return the receiver and the fuel, water and air it gets."""
    donor, receiver = ends
    pressure = state.fluids.ambient_pa if donor == OPEN_AIR else state.pressure_pa[donor]
    fuel, aqua = moved_m3 * shares[0], moved_m3 * shares[1]
    air = moved_m3 * shares[2] * pressure / state.fluids.gas_factor_j_per_kg
    if donor != OPEN_AIR:
        if shares[0] < 1.0:
            fuel, aqua = min(fuel, max(0.0, state.fuel_m3[donor])), min(aqua, state.water_m3[donor])
            air = min(air, state.air_kg[donor])
        state.fuel_m3[donor] -= fuel
        state.water_m3[donor] -= aqua
        state.air_kg[donor] -= air
    state.passed_fuel_m3[number] += sign * fuel
    state.passed_water_m3[number] += sign * aqua
    state.passed_air_kg[number] += sign * air
    if number in state.cake_kg and sign > 0.0:
        state.cake_kg[number] += fuel * state.fuel_dirt_kg_per_m3
    return receiver, fuel, aqua, air


def _rise(state: CircuitState, riser: Riser, step_s: float) -> None:
    """Let bubbles rise from the lower piece into the upper, and as much liquid sink."""
    low, high = riser.lower, riser.upper
    if state.air_kg[low] <= 0.0:
        return
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
    state.fuel_m3[low] += exchange * share_fuel
    state.fuel_m3[high] -= exchange * share_fuel
    state.water_m3[low] += exchange * (1.0 - share_fuel)
    state.water_m3[high] -= exchange * (1.0 - share_fuel)
