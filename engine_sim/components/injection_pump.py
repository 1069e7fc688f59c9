"""The low-pressure side of an in-line injection pump: the gallery, its overflow and its bleed screws."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, LinkKind, LinkSpec, PortSpec, ThroughSpec, VolumeSpec
from engine_sim.components.component import ComponentKind, Numbers
from engine_sim.components.geometry import (
    add_opening,
    counted,
    orifice_loss_1_per_m4,
    refuse_unless_rising,
    remembered,
    usual,
)


def add_plungers(blueprint: Blueprint, part: str, port: PortSpec, figures: dict[str, float]) -> None:
    """Add the way by which the plungers take fuel out of the gallery."""
    blueprint.links.append(LinkSpec(f"{part}.plungers", part, port, None, 0.0, 0.0, LinkKind.PLUNGERS, numbers=figures))


def add_overflow(blueprint: Blueprint, part: str, port: PortSpec, area_m2: float, opens_at_pa: float) -> None:
    """Add the overflow: a port, and the valve [m2, Pa] that a join to the return line goes through."""
    blueprint.ports[f"{part}.overflow"] = port
    blueprint.through[f"{part}.overflow"] = ThroughSpec(
        part, 0.0, orifice_loss_1_per_m4(area_m2), LinkKind.ONE_WAY, {"opens_at_pa": opens_at_pa}
    )


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    refuse_unless_rising(part, numbers, "fill_from_pa", "fill_to_pa")
    bottom, height, mouth = numbers["bottom_m"], numbers["height_m"], numbers["port_height_m"]
    top = bottom + height
    gallery = f"{part}.gallery"
    give = numbers["wall_give_m3_per_pa"]
    blueprint.volumes.append(
        VolumeSpec(gallery, part, numbers["volume_m3"], bottom, top, give, stirred_when_pumped=True)
    )
    highest = PortSpec(gallery, top - mouth, top)
    blueprint.ports[f"{part}.inlet"] = PortSpec(gallery, bottom, bottom + mouth)
    add_opening(blueprint, f"{part}.screw", highest, numbers["screw_area_m2"])
    if numbers["lower_screw"] > 0.0:
        low = PortSpec(gallery, bottom + height / 4.0, bottom + height / 4.0 + mouth)
        add_opening(blueprint, f"{part}.lower_screw", low, numbers["screw_area_m2"])
    third = bottom + height / 3.0
    filling = {name: numbers[name] for name in ("fill_from_pa", "fill_to_pa")}
    add_plungers(blueprint, part, PortSpec(gallery, third, third + mouth), filling)
    middle = bottom + height / 2.0
    bleeds = numbers["self_bleeding"] > 0.0
    overflow = highest if bleeds else PortSpec(gallery, middle, middle + mouth)
    opens_at = 0.0 if bleeds else numbers["overflow_opens_at_pa"]
    add_overflow(blueprint, part, overflow, numbers["overflow_area_m2"], opens_at)


KIND = ComponentKind(
    name="injection_pump",
    purpose="presses a measured drop of fuel to each injector; its gallery must be full of fuel, without air",
    parameters=(
        usual("bottom_m", 0.9, "m", -3.0, 3.0, "height of the gallery's bottom above the datum"),
        usual("height_m", 0.06, "m", 0.01, 0.3, "inside height of the gallery"),
        remembered("volume_m3", 4e-5, "m3", 5e-6, 1e-3, "what the gallery holds"),
        usual("port_height_m", 0.004, "m", 0.001, 0.03, "height of ports and screws"),
        usual("screw_area_m2", 2.0e-6, "m2", 1e-7, 1e-4, "opening of a bleed screw, one to two turns out"),
        counted("lower_screw", 0, 0, 1, "1 where there is a second bleed screw below the other, else 0"),
        counted("self_bleeding", 0, 0, 1, "1 where the overflow lies at the top and stands open, else 0"),
        remembered("overflow_area_m2", 1.5e-6, "m2", 1e-8, 1e-4, "opening of the overflow"),
        remembered("overflow_opens_at_pa", 20e3, "Pa", 0.0, 2e5, "pressure that opens the overflow"),
        remembered("fill_from_pa", 45e3, "Pa", 1e3, 1e5, "absolute gallery pressure at which the plungers get nothing"),
        remembered("fill_to_pa", 75e3, "Pa", 1e3, 1.5e5, "absolute gallery pressure from which they fill wholly"),
        usual("wall_give_m3_per_pa", 1e-12, "m3/Pa", 1e-14, 1e-8, "how far the housing gives"),
    ),
    ports=("inlet", "overflow"),
    build=_build,
)
