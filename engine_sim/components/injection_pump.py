"""The low-pressure side of the injection pump: the gallery, its overflow and its bleed screw."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, LinkKind, LinkSpec, PortSpec, ThroughSpec, VolumeSpec
from engine_sim.components.component import ComponentKind, Numbers
from engine_sim.components.geometry import orifice_loss_1_per_m4, remembered, usual
from engine_sim.components.separator import add_opening


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    bottom, height, mouth = numbers["bottom_m"], numbers["height_m"], numbers["port_height_m"]
    top = bottom + height
    gallery = VolumeSpec(
        f"{part}.gallery",
        part,
        numbers["volume_m3"],
        bottom,
        top,
        numbers["wall_give_m3_per_pa"],
        stirred_when_pumped=True,
    )
    blueprint.volumes.append(gallery)
    blueprint.ports[f"{part}.inlet"] = PortSpec(gallery.id, bottom, bottom + mouth)
    blueprint.ports[f"{part}.overflow"] = PortSpec(gallery.id, bottom + height / 2.0, bottom + height / 2.0 + mouth)
    add_opening(blueprint, f"{part}.screw", PortSpec(gallery.id, top - mouth, top), numbers["screw_area_m2"])
    plungers = PortSpec(gallery.id, bottom + height / 3.0, bottom + height / 3.0 + mouth)
    blueprint.links.append(
        LinkSpec(
            f"{part}.plungers",
            part,
            plungers,
            None,
            0.0,
            0.0,
            LinkKind.PLUNGERS,
            numbers={"fill_from_pa": numbers["fill_from_pa"], "fill_to_pa": numbers["fill_to_pa"]},
        )
    )
    blueprint.through[f"{part}.overflow"] = ThroughSpec(
        f"{part}.overflow",
        0.0,
        orifice_loss_1_per_m4(numbers["overflow_area_m2"]),
        LinkKind.OVERFLOW,
        {"opens_at_pa": numbers["overflow_opens_at_pa"]},
    )


KIND = ComponentKind(
    name="injection_pump",
    purpose="presses a measured drop of fuel to each injector; its gallery must be full of fuel, without air",
    parameters=(
        usual("bottom_m", 0.9, "m", -3.0, 3.0, "height of the gallery's bottom above the datum"),
        usual("height_m", 0.06, "m", 0.01, 0.3, "inside height of the gallery"),
        remembered("volume_m3", 4e-5, "m3", 5e-6, 1e-3, "what the gallery holds"),
        usual("port_height_m", 0.004, "m", 0.001, 0.03, "height of ports and screw"),
        usual("screw_area_m2", 2.0e-6, "m2", 1e-7, 1e-4, "opening of the bleed screw, one to two turns out"),
        remembered("overflow_area_m2", 1.5e-6, "m2", 1e-8, 1e-4, "opening of the overflow"),
        remembered("overflow_opens_at_pa", 10e3, "Pa", 0.0, 2e5, "pressure that opens the overflow"),
        remembered("fill_from_pa", 45e3, "Pa", 1e3, 1e5, "absolute gallery pressure at which the plungers get nothing"),
        remembered("fill_to_pa", 75e3, "Pa", 1e3, 1.5e5, "absolute gallery pressure from which they fill wholly"),
        usual("wall_give_m3_per_pa", 1e-12, "m3/Pa", 1e-14, 1e-8, "how far the housing gives"),
    ),
    ports=("inlet", "overflow"),
    build=_build,
)
