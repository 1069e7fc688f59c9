"""A fuel can, carried to feed the engine round a bad tank: its cap is sealed, cracked or off."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint
from engine_sim.components.component import ComponentKind, Numbers
from engine_sim.components.geometry import add_opening, usual
from engine_sim.components.tank import add_vessel
from engine_sim.fluids.formulas import bore_area_m2


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    top = add_vessel(blueprint, part, numbers)
    add_opening(blueprint, f"{part}.cap", top, numbers["cracked_cap_m2"])
    add_opening(blueprint, f"{part}.filler", top, bore_area_m2(numbers["filler_bore_m"]))


KIND = ComponentKind(
    name="fuel_can",
    purpose="holds clean fuel to run on when the tank's is bad; with its cap sealed it starves the engine",
    parameters=(
        usual("volume_m3", 0.0105, "m3", 0.001, 0.03, "what the can holds when brim-full"),
        usual("floor_m", 0.35, "m", -2.0, 3.0, "height of its floor above the datum"),
        usual("height_m", 0.30, "m", 0.05, 0.6, "inside height"),
        usual("pick_up_clearance_m", 0.025, "m", 0.0, 0.2, "hose end above the floor"),
        usual("pick_up_opening_m", 0.008, "m", 0.002, 0.05, "height of the openings"),
        usual("pick_up_across_m", 0.0, "m", -0.3, 0.3, "hose end to starboard of the can's middle"),
        usual("pick_up_along_m", 0.0, "m", -0.3, 0.3, "hose end forward of the can's middle"),
        usual("return_across_m", 0.0, "m", -0.3, 0.3, "return to starboard of the can's middle"),
        usual("return_along_m", 0.0, "m", -0.3, 0.3, "return forward of the can's middle"),
        usual("cracked_cap_m2", 1e-5, "m2", 1e-7, 1e-3, "way for air round a cap that is cracked"),
        usual("filler_bore_m", 0.038, "m", 0.01, 0.1, "bore of its mouth, the cap off"),
        usual("wall_give_m3_per_pa", 1e-10, "m3/Pa", 1e-14, 1e-6, "how far its walls give"),
        usual("filled_share", 0.95, "1", 0.0, 1.0, "how full of fuel it is at the start"),
    ),
    ports=(),
    optional_ports=("pick_up", "return"),
    build=_build,
    vessel=True,
)
