"""What sinks in a vessel, and what a seaway stirs up again: droplets of water, dirt and sludge."""

from __future__ import annotations

import math
from functools import lru_cache

from engine_sim.circuit.state import CircuitState, Fluids
from engine_sim.fluids.settling import mobile_drop_factor, settling_speed_m_per_s
from engine_sim.sources import FROM_MEMORY, SourcedValue

DROP_M = SourcedValue(0.3e-3, "m", FROM_MEMORY, "a coarse drop of water, as a hose or a seaway makes them").value
DIRT_M = SourcedValue(10e-6, "m", FROM_MEMORY, "a grain of tank dirt").value
DIRT_DENSITY_KG_PER_M3 = SourcedValue(1500.0, "kg/m3", FROM_MEMORY, "tank dirt: rust, slime and dust, wet").value
STIRRING_TIME_S = SourcedValue(
    300.0, "s", FROM_MEMORY, "time in which a rough sea brings a floor's water and sludge into the fuel"
).value
_LEAST_SLUDGE = SourcedValue(1e-12, "kg", FROM_MEMORY, "dirt too little to follow").value


def settle(state: CircuitState, step_s: float) -> None:
    """Let droplets and dirt sink in every layered volume for a step [s], and a seaway stir up what lies there."""
    drops = _drop_speed(state.fluids)
    grains = _grain_speed(state.fluids)
    stirred = _stirred_share(state, step_s)
    for number, volume in state.topology.still_volumes:
        if state.drives.engine_turns and volume.stirred_when_pumped:
            continue
        height = volume.top_m - volume.bottom_m
        if state.haze_m3[number] > 0.0:
            state.haze_m3[number] *= _left(drops, height, state.fuel_m3[number] / volume.volume_m3, step_s)
        if stirred > 0.0:
            state.haze_m3[number] += stirred * (state.water_m3[number] - state.haze_m3[number])
            _move_dirt(state, number, -stirred * state.sludge_kg[number])
        if state.dirt_kg[number] > _LEAST_SLUDGE:
            left = _left(grains, height, state.fuel_m3[number] / volume.volume_m3, step_s)
            _move_dirt(state, number, state.dirt_kg[number] * (1.0 - left))


def _move_dirt(state: CircuitState, number: int, sinking_kg: float) -> None:
    state.dirt_kg[number] -= sinking_kg
    state.sludge_kg[number] += sinking_kg


def _left(speed_m_per_s: float, height_m: float, filled: float, step_s: float) -> float:
    """Return which share is still afloat after a step in a layer that fills so much of a vessel's height."""
    return math.exp(-speed_m_per_s * step_s / max(1e-6, height_m * filled))


def _stirred_share(state: CircuitState, step_s: float) -> float:
    return 1.0 - math.exp(-step_s * state.seaway**2 / STIRRING_TIME_S) if state.seaway > 0.0 else 0.0


@lru_cache(maxsize=64)
def _drop_speed(fluids: Fluids) -> float:
    speed = settling_speed_m_per_s(
        DROP_M, fluids.water_density_kg_per_m3, fluids.fuel_density_kg_per_m3, fluids.fuel_viscosity_pa_s
    )
    return speed * mobile_drop_factor(fluids.water_viscosity_pa_s, fluids.fuel_viscosity_pa_s)


@lru_cache(maxsize=64)
def _grain_speed(fluids: Fluids) -> float:
    return settling_speed_m_per_s(
        DIRT_M, DIRT_DENSITY_KG_PER_M3, fluids.fuel_density_kg_per_m3, fluids.fuel_viscosity_pa_s
    )
