"""The shut-off at the tank."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, ThroughSpec
from engine_sim.components.component import ComponentKind, Numbers
from engine_sim.components.geometry import fitting_loss_1_per_m4, usual


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    loss = fitting_loss_1_per_m4(numbers["velocity_heads"], numbers["bore_m"])
    blueprint.through[part] = ThroughSpec(part, 0.0, loss)


KIND = ComponentKind(
    name="shut_off_valve",
    purpose="shuts the fuel off at the tank; open when its handle lies along the pipe",
    parameters=(
        usual("bore_m", 0.008, "m", 0.001, 0.03, "bore when open"),
        usual("velocity_heads", 1.5, "1", 0.0, 50.0, "velocity heads lost when open, with the pipe's entry"),
    ),
    ports=(),
    build=_build,
    passes_through=True,
)
