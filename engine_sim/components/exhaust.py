"""The wet exhaust: a raw-water pump on the engine, its seacock, a silencer that the gas blows clear of water."""

from __future__ import annotations

from engine_sim.components.component import ComponentKind
from engine_sim.components.engine import add_nothing
from engine_sim.components.geometry import remembered, usual
from engine_sim.units import LITRE_M3, MINUTE_S

KIND = ComponentKind(
    name="exhaust",
    purpose="lets gas and cooling water out; the gas lifts the water, so it fills up while the engine only cranks",
    parameters=(
        remembered("water_m3_per_s", 25.0 * LITRE_M3 / MINUTE_S, "m3/s", 1e-5, 5e-3, "raw-water pump, 25 L/min"),
        usual("water_rpm", 3000.0, "1/min", 500.0, 5000.0, "engine speed at which it gives that"),
        remembered("silencer_m3", 4.5e-3, "m3", 5e-4, 5e-2, "free in silencer and lift hose until water backs up"),
        remembered("blown_clear_s", 5.0, "s", 0.5, 60.0, "time in which the gas of a firing engine lifts it out"),
        remembered("dry_turns", 3000.0, "1", 100.0, 1e5, "turns of the engine that a dry impeller lasts"),
        usual("back_pressure_pa", 5e3, "Pa", 1e2, 3e4, "pressure lost in the open exhaust at the rated speed"),
    ),
    ports=(),
    build=add_nothing,
)
