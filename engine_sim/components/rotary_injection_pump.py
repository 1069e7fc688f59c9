"""The rotary injection pump: vanes of its own raise the pressure inside; a small hole leads from there to its case."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, LinkKind, LinkSpec, PortSpec, VolumeSpec
from engine_sim.components.component import ComponentKind, Numbers
from engine_sim.components.geometry import add_opening, orifice_loss_1_per_m4, refuse_unless_rising, remembered, usual
from engine_sim.components.injection_pump import add_overflow, add_plungers


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    refuse_unless_rising(part, numbers, "fill_from_pa", "fill_to_pa")
    bottom, mouth = numbers["bottom_m"], numbers["port_height_m"]
    top, give = bottom + numbers["height_m"], numbers["wall_give_m3_per_pa"]
    for space in ("inlet", "gallery", "case"):
        volume = numbers[f"{space}_volume_m3"]
        blueprint.volumes.append(
            VolumeSpec(f"{part}.{space}", part, volume, bottom, top, give, stirred_when_pumped=True)
        )
    inlet, gallery = PortSpec(f"{part}.inlet", bottom, top), PortSpec(f"{part}.gallery", bottom, top)
    blueprint.ports[f"{part}.inlet"] = inlet
    vanes = {name: numbers[name] for name in ("displacement_m3", "regulated_pa_per_rpm", "suction_limit_pa")}
    gap_loss = orifice_loss_1_per_m4(numbers["vane_gap_m2"])
    blueprint.links.append(LinkSpec(part, part, inlet, gallery, 0.0, gap_loss, LinkKind.VANE_PUMP, numbers=vanes))
    highest = PortSpec(f"{part}.case", top - mouth, top)
    hole = orifice_loss_1_per_m4(numbers["case_hole_m2"])
    blueprint.links.append(LinkSpec(f"{part}.to_case", part, gallery, highest, 0.0, hole))
    names = ("fill_from_pa", "fill_to_pa", "case_limit_pa")
    add_plungers(blueprint, part, gallery, {name: numbers[name] for name in names})
    add_opening(blueprint, f"{part}.screw", highest, numbers["screw_area_m2"])
    add_overflow(blueprint, part, highest, numbers["overflow_area_m2"], numbers["overflow_opens_at_pa"])


KIND = ComponentKind(
    name="rotary_injection_pump",
    purpose="raises the fuel's pressure by vanes of its own and presses a measured drop to each injector in turn",
    parameters=(
        usual("bottom_m", 0.9, "m", -3.0, 3.0, "height of its case's bottom above the datum"),
        usual("height_m", 0.10, "m", 0.02, 0.3, "inside height of the case"),
        remembered("inlet_volume_m3", 1.5e-5, "m3", 1e-6, 2e-4, "space before the vanes"),
        remembered("gallery_volume_m3", 1.5e-5, "m3", 1e-6, 2e-4, "space at the vanes' pressure"),
        remembered("case_volume_m3", 1.5e-4, "m3", 1e-5, 2e-3, "what the case holds"),
        usual("port_height_m", 0.004, "m", 0.001, 0.03, "height of ports and screw"),
        remembered("displacement_m3", 1.2e-6, "m3", 1e-8, 2e-5, "what the vanes sweep in one turn of the engine"),
        remembered("regulated_pa_per_rpm", 200.0, "Pa min", 10.0, 1e3, "pressure inside, for each turn a minute"),
        remembered("suction_limit_pa", 60e3, "Pa", 5e3, 95e3, "suction that the vanes can reach on fuel"),
        remembered("vane_gap_m2", 5e-7, "m2", 1e-9, 1e-5, "way past the vanes when they stand"),
        remembered("case_hole_m2", 3.0e-7, "m2", 1e-9, 1e-5, "hole from the gallery's top to the case"),
        usual("screw_area_m2", 2.0e-6, "m2", 1e-7, 1e-4, "opening of the bleed screw, one to two turns out"),
        remembered("overflow_area_m2", 3e-6, "m2", 1e-8, 1e-4, "opening of the overflow"),
        remembered("overflow_opens_at_pa", 2e3, "Pa", 0.0, 2e5, "pressure that opens the overflow"),
        remembered("fill_from_pa", 45e3, "Pa", 1e3, 1e6, "absolute gallery pressure at which the plungers get nothing"),
        remembered("fill_to_pa", 75e3, "Pa", 1e3, 1.5e6, "absolute gallery pressure from which they fill wholly"),
        remembered(
            "case_limit_pa", 150e3, "Pa", 1e4, 1e6, "pressure above the air's in the case that stops the plungers"
        ),
        usual("wall_give_m3_per_pa", 1e-12, "m3/Pa", 1e-14, 1e-8, "how far the housing gives"),
    ),
    ports=("inlet", "overflow"),
    build=_build,
    pumps=True,
)
