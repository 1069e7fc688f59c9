"""The fuel tank: a vessel with a pick-up tube, a breather, a filler, a sump drain and a return inlet at its top."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, LinkSpec, PortSpec, VolumeSpec
from engine_sim.components.component import ComponentKind, Numbers
from engine_sim.components.geometry import add_opening, fitting_loss_1_per_m4, refuse_unless_rising, usual
from engine_sim.fluids.formulas import bore_area_m2, laminar_resistance_geometry

_BREATHER = "UK Boat Safety Scheme, fuel systems: bore of the breather 9.5 mm least"
_FILLER = "ISO 10088 (cited from memory): filler 38 mm inside diameter"
_APART = "US Army TM 5-6115-593-34: return at least 30 cm from the pick-up"


def add_vessel(blueprint: Blueprint, part: str, numbers: Numbers) -> PortSpec:
    """Add a vessel with its pick-up and return; return the port at its top."""
    refuse_unless_rising(part, numbers, "pick_up_clearance_m", "height_m")
    floor, height, opening = numbers["floor_m"], numbers["height_m"], numbers["pick_up_opening_m"]
    low, top = floor + numbers["pick_up_clearance_m"], floor + height
    blueprint.volumes.append(VolumeSpec(part, part, numbers["volume_m3"], floor, top, numbers["wall_give_m3_per_pa"]))
    blueprint.ports[f"{part}.pick_up"] = PortSpec(
        part, low, low + opening, numbers["pick_up_across_m"], numbers["pick_up_along_m"]
    )
    blueprint.ports[f"{part}.return"] = PortSpec(
        part, top - opening, top, numbers["return_across_m"], numbers["return_along_m"]
    )
    return PortSpec(part, top - opening, top)


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    top, floor, bore = add_vessel(blueprint, part, numbers), numbers["floor_m"], numbers["vent_bore_m"]
    laminar = laminar_resistance_geometry(bore, numbers["vent_length_m"])
    loss = fitting_loss_1_per_m4(numbers["vent_velocity_heads"], bore)
    blueprint.links.append(LinkSpec(f"{part}.vent", part, top, None, laminar, loss))
    add_opening(blueprint, f"{part}.filler", top, bore_area_m2(numbers["filler_bore_m"]))
    sump = PortSpec(
        part, floor, floor + numbers["pick_up_opening_m"], numbers["sump_across_m"], numbers["sump_along_m"]
    )
    add_opening(blueprint, f"{part}.sump", sump, numbers["sump_area_m2"])


KIND = ComponentKind(
    name="tank",
    purpose="holds the fuel; the pick-up tube ends a little above the floor, where water and dirt gather",
    parameters=(
        usual("volume_m3", 0.060, "m3", 0.001, 1.0, "what the tank holds when brim-full"),
        usual("floor_m", 0.0, "m", -2.0, 3.0, "height of the tank floor above the datum"),
        usual("height_m", 0.40, "m", 0.05, 2.0, "inside height"),
        usual("pick_up_clearance_m", 0.020, "m", 0.0, 0.5, "pick-up end above the floor"),
        usual("pick_up_opening_m", 0.008, "m", 0.002, 0.05, "height of the openings"),
        usual("pick_up_across_m", 0.0, "m", -2.0, 2.0, "pick-up to starboard of the tank's middle"),
        usual("pick_up_along_m", -0.15, "m", -2.0, 2.0, "pick-up forward of the tank's middle", _APART),
        usual("return_across_m", 0.0, "m", -2.0, 2.0, "return to starboard of the tank's middle"),
        usual("return_along_m", 0.15, "m", -2.0, 2.0, "return forward of the tank's middle", _APART),
        usual("sump_across_m", 0.0, "m", -2.0, 2.0, "sump drain to starboard of the tank's middle"),
        usual("sump_along_m", -0.2, "m", -2.0, 2.0, "sump drain forward of the tank's middle"),
        usual("sump_area_m2", 2e-5, "m2", 1e-7, 1e-3, "opening of the sump drain"),
        usual("vent_bore_m", 0.0095, "m", 0.0005, 0.05, "bore of the breather", _BREATHER),
        usual("vent_length_m", 1.0, "m", 0.05, 10.0, "length of the breather's hose"),
        usual("vent_velocity_heads", 2.5, "1", 0.0, 100.0, "losses at the breather's ends and bends"),
        usual("filler_bore_m", 0.038, "m", 0.01, 0.1, "bore of the filler, its cap off", _FILLER),
        usual("wall_give_m3_per_pa", 1e-10, "m3/Pa", 1e-14, 1e-6, "how far the walls give"),
        usual("filled_share", 0.5, "1", 0.0, 1.0, "how full of fuel it is at the start"),
    ),
    ports=("pick_up",),
    optional_ports=("return",),
    build=_build,
    vessel=True,
)
