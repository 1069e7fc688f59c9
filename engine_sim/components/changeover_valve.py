"""The changeover valve between two tanks: one outlet, two inlets, of which one is open."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, PortSpec, ThroughSpec, VolumeSpec
from engine_sim.components.component import ComponentKind, Numbers
from engine_sim.components.geometry import fitting_loss_1_per_m4, remembered, usual


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    bottom, top = numbers["bottom_m"], numbers["bottom_m"] + numbers["height_m"]
    blueprint.volumes.append(VolumeSpec(part, part, numbers["volume_m3"], bottom, top, numbers["wall_give_m3_per_pa"]))
    port = PortSpec(part, bottom, top)
    loss = fitting_loss_1_per_m4(numbers["velocity_heads"], numbers["bore_m"])
    for way in ("a", "b"):
        blueprint.ports[f"{part}.inlet_{way}"] = port
        blueprint.through[f"{part}.{way}"] = ThroughSpec(part, 0.0, loss)
    blueprint.ports[f"{part}.outlet"] = port


KIND = ComponentKind(
    name="changeover_valve",
    purpose="lets the engine draw from one tank or the other; its handle points to the one in use",
    parameters=(
        usual("bore_m", 0.008, "m", 0.001, 0.03, "bore when open"),
        usual("velocity_heads", 2.0, "1", 0.0, 50.0, "velocity heads lost on an open way"),
        usual("bottom_m", 0.45, "m", -3.0, 3.0, "height of its bottom above the datum"),
        usual("height_m", 0.03, "m", 0.01, 0.2, "inside height"),
        remembered("volume_m3", 2e-5, "m3", 1e-6, 1e-3, "what it holds"),
        usual("wall_give_m3_per_pa", 1e-12, "m3/Pa", 1e-14, 1e-8, "how far it gives"),
    ),
    ports=("inlet_a", "inlet_b", "outlet"),
    build=_build,
    branches=True,
)
