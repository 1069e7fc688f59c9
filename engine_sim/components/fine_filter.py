"""The fine filter: the last element before the injection pump, with bleed screws at its top."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, PortSpec, VolumeSpec
from engine_sim.components.component import ComponentKind, Numbers
from engine_sim.components.geometry import add_opening, counted, refuse_unless_rising, usual
from engine_sim.components.separator import add_filter_body, element_parameters


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    refuse_unless_rising(part, numbers, "element_from", "element_to")
    bottom, height, mouth = numbers["bottom_m"], numbers["height_m"], numbers["port_height_m"]
    top = bottom + height
    element = (bottom + numbers["element_from"] * height, bottom + numbers["element_to"] * height)
    give = numbers["wall_give_m3_per_pa"]
    dirty = VolumeSpec(f"{part}.dirty", part, numbers["volume_m3"], bottom, top, give)
    clean = VolumeSpec(f"{part}.clean", part, numbers["clean_volume_m3"], bottom, top, give)
    add_filter_body(blueprint, part, numbers, dirty, clean, element, numbers["screw_area_m2"])
    blueprint.ports[f"{part}.inlet"] = PortSpec(dirty.id, top - 2 * mouth, top - mouth)
    blueprint.ports[f"{part}.outlet"] = PortSpec(clean.id, top - mouth, top)
    add_opening(blueprint, f"{part}.screw", PortSpec(dirty.id, top - mouth, top), numbers["screw_area_m2"])
    add_opening(blueprint, f"{part}.outlet_screw", PortSpec(clean.id, top - mouth, top), numbers["screw_area_m2"])


KIND = ComponentKind(
    name="fine_filter",
    purpose="holds back fine dirt that would wear the injection pump; air gathers at its top",
    parameters=(
        usual("bottom_m", 0.8, "m", -3.0, 3.0, "height of its bottom above the datum"),
        usual("height_m", 0.14, "m", 0.05, 0.6, "inside height"),
        usual("volume_m3", 0.00030, "m3", 5e-5, 0.005, "space before the element"),
        usual("clean_volume_m3", 0.00006, "m3", 5e-6, 0.001, "space behind the element"),
        usual("port_height_m", 0.005, "m", 0.001, 0.03, "height of ports and screws"),
        counted("spin_on", 1, 0, 1, "1 for an element in a can that is spun on, 0 for one in a housing"),
        usual("element_from", 0.10, "1", 0.05, 0.9, "lower edge of the element as a share of the height"),
        usual("element_to", 0.85, "1", 0.1, 1.0, "upper edge of the element as a share of the height"),
        *element_parameters(0.20, 1.5e10, 0.98, 0.3),
        usual("screw_area_m2", 2.5e-6, "m2", 1e-7, 1e-4, "opening of a bleed screw, one to two turns out"),
        usual("mouth_area_m2", 3e-4, "m2", 5e-5, 5e-3, "way out on either side of the element with the filter off"),
        usual("wall_give_m3_per_pa", 2e-12, "m3/Pa", 1e-14, 1e-8, "how far the housing gives"),
    ),
    ports=("inlet", "outlet"),
    build=_build,
)
