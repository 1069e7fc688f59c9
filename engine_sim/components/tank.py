"""The fuel tank: a box with a pick-up tube, a vent and a return inlet at its top."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, LinkSpec, PortSpec, VolumeSpec
from engine_sim.components.component import ComponentKind, Numbers
from engine_sim.components.geometry import fitting_loss_1_per_m4, usual
from engine_sim.fluids.formulas import laminar_resistance_geometry

_VENT_SOURCE = "UK Boat Safety Scheme, fuel systems: vent bore 9.5 mm least"


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    floor, height = numbers["floor_m"], numbers["height_m"]
    pick_up = floor + numbers["pick_up_clearance_m"]
    blueprint.volumes.append(
        VolumeSpec(part, part, numbers["volume_m3"], floor, floor + height, numbers["wall_give_m3_per_pa"])
    )
    opening = numbers["pick_up_opening_m"]
    blueprint.ports[f"{part}.pick_up"] = PortSpec(part, pick_up, pick_up + opening)
    blueprint.ports[f"{part}.return"] = PortSpec(part, floor + height - opening, floor + height)
    vent_bore = numbers["vent_bore_m"]
    blueprint.links.append(
        LinkSpec(
            f"{part}.vent",
            part,
            PortSpec(part, floor + height - opening, floor + height),
            None,
            laminar_resistance_geometry(vent_bore, numbers["vent_length_m"]),
            fitting_loss_1_per_m4(numbers["vent_velocity_heads"], vent_bore),
        )
    )


KIND = ComponentKind(
    name="tank",
    purpose="holds the fuel; the pick-up tube ends a little above the floor, where water and dirt gather",
    parameters=(
        usual("volume_m3", 0.060, "m3", 0.001, 1.0, "what the tank holds when brim-full"),
        usual("floor_m", 0.0, "m", -2.0, 3.0, "height of the tank floor above the datum"),
        usual("height_m", 0.40, "m", 0.05, 2.0, "inside height"),
        usual("pick_up_clearance_m", 0.020, "m", 0.0, 0.5, "pick-up end above the floor"),
        usual("pick_up_opening_m", 0.008, "m", 0.002, 0.05, "height of the openings"),
        usual("vent_bore_m", 0.0095, "m", 0.0005, 0.05, "bore of the vent", _VENT_SOURCE),
        usual("vent_length_m", 1.0, "m", 0.05, 10.0, "length of the vent hose"),
        usual("vent_velocity_heads", 2.5, "1", 0.0, 100.0, "losses at the vent's ends and bends"),
        usual("wall_give_m3_per_pa", 1e-10, "m3/Pa", 1e-14, 1e-6, "how far the walls give"),
    ),
    ports=("pick_up", "return"),
    build=_build,
)
