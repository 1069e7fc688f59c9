"""The electric lift pump: it runs while the key is on, and gives the less the more it has to push against."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, LinkKind
from engine_sim.components.component import ComponentKind, Numbers
from engine_sim.components.geometry import remembered
from engine_sim.components.lift_pump import PUMP_FIGURES, add_pump

_FIGURES = ("free_flow_m3_per_s", "shut_in_pa", "dry_suction_pa", "valve_loss_pa", "valve_leak")


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    add_pump(blueprint, part, numbers, LinkKind.ELECTRIC_PUMP, _FIGURES)


KIND = ComponentKind(
    name="electric_pump",
    purpose="draws fuel from the tank and pushes it on while the key is on; it needs no lever",
    parameters=(
        *PUMP_FIGURES,
        remembered("free_flow_m3_per_s", 2.2e-5, "m3/s", 1e-6, 1e-4, "flow against no pressure, 60 to 120 L/h"),
        remembered("shut_in_pa", 35e3, "Pa", 5e3, 1e5, "pressure rise at which it passes nothing, 20 to 50 kPa"),
        remembered("dry_suction_pa", 12e3, "Pa", 1e3, 6e4, "suction that it reaches on air"),
        remembered("valve_loss_pa", 1.0e3, "Pa", 0.0, 1e4, "pressure that opens its valves when it stands"),
    ),
    ports=("inlet", "outlet"),
    optional_ports=("can_inlet",),
    build=_build,
    pumps=True,
)
