"""Air dissolved in the fuel: it comes out under suction, and goes back slowly where free air is under pressure.

Bubbles form where the fuel moves through hoses and pumps; fuel at rest in a vessel only gives or takes air through its
surface.

Fuel that has stood open is saturated at ambient pressure. ``dissolved_kg`` counts what a volume's fuel holds beyond
that (less: below nothing), so that a sound circuit needs no work. Saturation after Henry: mass = L p V / (R T).
"""

from __future__ import annotations

import math

from engine_sim.circuit.state import CircuitState
from engine_sim.sources import FROM_MEMORY, SourcedValue

NUCLEI_PA = SourcedValue(
    25e3, "Pa", FROM_MEMORY, "suction below saturation that clean fuel bears before bubbles form in it"
).value
BUBBLING_TIME_S = SourcedValue(1800.0, "s", FROM_MEMORY, "time in which air comes out of moving fuel in bubbles").value
SURFACE_TIME_S = SourcedValue(
    1e5, "s", FROM_MEMORY, "time in which fuel at rest gives or takes air through its surface: about a day"
).value
_MOST_OF_IT = SourcedValue(0.9, "1", FROM_MEMORY, "share of the free air that one step may dissolve").value
_LEAST_FUEL_M3 = SourcedValue(1e-15, "m3", FROM_MEMORY, "a trace of fuel that holds nothing worth following").value
_CLOSE_PA = SourcedValue(500.0, "Pa", FROM_MEMORY, "distance from saturation that is not followed").value


def exchange(state: CircuitState, step_s: float) -> None:
    """Let air come out of the fuel, or go into it, in every volume for a step [s]."""
    per_pa = state.fluids.dissolved_kg_per_m3_pa
    ambient = state.fluids.ambient_pa
    mixed = state.topology.mixed(state.drives)
    for number, pressure in enumerate(state.pressure_pa):
        dissolved = state.dissolved_kg[number]
        if dissolved == 0.0 and -_CLOSE_PA < pressure - ambient < _CLOSE_PA:
            continue
        fuel = state.fuel_m3[number]
        if fuel <= _LEAST_FUEL_M3:
            continue
        over = dissolved / (per_pa * fuel) + ambient - pressure
        if over > NUCLEI_PA and mixed[number]:
            _move(state, number, per_pa * fuel * (over - NUCLEI_PA) * (1.0 - math.exp(-step_s / BUBBLING_TIME_S)))
        elif state.air_kg[number] > 0.0 and abs(over) > _CLOSE_PA:
            wish = per_pa * fuel * over * (1.0 - math.exp(-step_s / SURFACE_TIME_S))
            _move(state, number, max(wish, -_MOST_OF_IT * state.air_kg[number]))


def _move(state: CircuitState, number: int, out_kg: float) -> None:
    state.dissolved_kg[number] -= out_kg
    state.air_kg[number] += out_kg
