"""What an engine burns, what an injector puts in, how long a can lasts and how soon a silencer is full: plain sums."""

from __future__ import annotations

from engine_sim.fluids._door import require_in_range
from engine_sim.sources import FROM_MEMORY, SourcedValue

SPECIFIC_CONSUMPTION = SourcedValue(
    260.0e-3 / 3.6e6, "kg/J", FROM_MEMORY, "260 g/kWh, small engine at full load; EPA NR-009d prints 248 below 100 hp"
)
_GREATEST_FLOW_M3_PER_S = 1.0
_TINY = 1e-15


def fuel_flow_m3_per_s(
    power_w: float, density_kg_per_m3: float, consumption_kg_per_j: float = SPECIFIC_CONSUMPTION.value
) -> float:
    """Return the fuel burned [m3/s] at a brake power [W], 0 to 1 MW, by the specific consumption [kg/J].

    Density of the fuel [kg/m3] 500 to 1200, consumption 1e-8 to 1e-6 kg/J (36 to 3600 g/kWh).
    """
    require_in_range("power", power_w, 0.0, 1e6, "W")
    require_in_range("fuel density", density_kg_per_m3, 500.0, 1200.0, "kg/m3")
    require_in_range("specific consumption", consumption_kg_per_j, 1e-8, 1e-6, "kg/J")
    return power_w * consumption_kg_per_j / density_kg_per_m3


def injected_volume_m3(burned_m3_per_s: float, cylinders: int, speed_rpm: float) -> float:
    """Return what an injector of a four-stroke engine puts in at a time [m3]: once every second turn in each cylinder.

    Fuel burned [m3/s] 0 to 1, cylinders 1 to 12, speed 1 to 10 000 rpm.
    """
    require_in_range("fuel burned", burned_m3_per_s, 0.0, _GREATEST_FLOW_M3_PER_S, "m3/s")
    require_in_range("number of cylinders", cylinders, 1, 12, "(a count)")
    require_in_range("engine speed", speed_rpm, 1.0, 1e4, "1/min")
    injections_per_s = cylinders * speed_rpm / (2.0 * 60.0)
    return burned_m3_per_s / injections_per_s


def can_lasts_s(usable_m3: float, burned_m3_per_s: float, returned_m3_per_s: float = 0.0) -> float:
    """Return how long [s] a can lasts that gives what is burned [m3/s] and what does not come back to it [m3/s].

    ``returned_m3_per_s`` is the return flow if it goes elsewhere, such as to the old tank; 0 if it comes back.
    Usable volume [m3] from 0; the two flows together above 0.
    """
    require_in_range("usable volume", usable_m3, 0.0, 1e3, "m3")
    require_in_range("return that does not come back", returned_m3_per_s, 0.0, _GREATEST_FLOW_M3_PER_S, "m3/s")
    leaves = burned_m3_per_s + returned_m3_per_s
    require_in_range("flow out of the can", leaves, _TINY, 2.0 * _GREATEST_FLOW_M3_PER_S, "m3/s")
    return usable_m3 / leaves


def sea_water_flow_m3_per_s(rated_m3_per_s: float, rated_rpm: float, speed_rpm: float) -> float:
    """Return what an impeller pump driven by the engine delivers [m3/s] at a speed, in proportion to it.

    Rated flow [m3/s] from 0 at a rated speed 1 to 10 000 rpm; speed from 0.
    """
    require_in_range("rated flow of the sea-water pump", rated_m3_per_s, 0.0, _GREATEST_FLOW_M3_PER_S, "m3/s")
    require_in_range("rated speed of the sea-water pump", rated_rpm, 1.0, 1e4, "1/min")
    require_in_range("engine speed", speed_rpm, 0.0, 1e4, "1/min")
    return rated_m3_per_s * speed_rpm / rated_rpm


def filling_time_s(free_m3: float, flow_m3_per_s: float) -> float:
    """Return how long [s] a flow [m3/s], above 0, takes to fill a free volume [m3], from 0.

    So long may an engine be cranked with the seacock open before its silencer is full, in all tries together.
    """
    require_in_range("free volume", free_m3, 0.0, 1e3, "m3")
    require_in_range("flow into it", flow_m3_per_s, _TINY, _GREATEST_FLOW_M3_PER_S, "m3/s")
    return free_m3 / flow_m3_per_s
