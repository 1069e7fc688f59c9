"""The mechanical diaphragm lift pump: worked by a cam of the engine or by its hand lever."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, LinkKind, LinkSpec, PortSpec, VolumeSpec
from engine_sim.components.component import ComponentKind, Numbers, Parameter
from engine_sim.components.geometry import add_opening, counted, fitting_loss_1_per_m4, remembered, usual

_SPRING = "US Army TM 9-8000 and subcourse OD1616: diaphragm pump 10 to 41 kPa, set by its spring"
_FIGURES = (
    "stroke_m3",
    "stroke_efficiency",
    "dead_volume_m3",
    "spring_pa",
    "suction_limit_pa",
    "valve_loss_pa",
    "valve_leak",
)


PUMP_FIGURES: tuple[Parameter, ...] = (
    usual("bottom_m", 0.78, "m", -3.0, 3.0, "height of its bottom above the datum"),
    usual("height_m", 0.04, "m", 0.01, 0.3, "height of its chambers"),
    remembered("inlet_volume_m3", 2.0e-5, "m3", 1e-6, 2e-4, "chamber before the valves, with its strainer"),
    remembered("outlet_volume_m3", 2.0e-5, "m3", 1e-6, 2e-4, "chamber behind the valves"),
    usual("wall_give_m3_per_pa", 1e-12, "m3/Pa", 1e-14, 1e-8, "how far the housing gives"),
    usual("port_bore_m", 0.006, "m", 0.001, 0.02, "bore of its ports"),
    usual("velocity_heads", 4.0, "1", 0.0, 50.0, "velocity heads lost in its valves"),
    counted("vacuum_gauge", 0, 0, 1, "1 where a vacuum gauge is tapped into its inlet, else 0"),
    usual("valve_leak", 0.0, "1", 0.0, 1.0, "how far its valves stand open, 0 for sound ones"),
)
"""What every lift pump has: where it sits, its two chambers, its valves."""


def add_pump(blueprint: Blueprint, part: str, numbers: Numbers, kind: LinkKind, figures: tuple[str, ...]) -> PortSpec:
    """Add a lift pump's two chambers with the pump between them; return the port of the outlet chamber."""
    bottom, top = numbers["bottom_m"], numbers["bottom_m"] + numbers["height_m"]
    give = numbers["wall_give_m3_per_pa"]
    ports = []
    for side in ("inlet", "outlet"):
        chamber = f"{part}.{side}"
        volume = numbers[f"{side}_volume_m3"]
        blueprint.volumes.append(VolumeSpec(chamber, part, volume, bottom, top, give, stirred_when_pumped=True))
        ports.append(PortSpec(chamber, bottom, top))
    inlet, outlet = ports
    blueprint.ports[f"{part}.inlet"] = blueprint.ports[f"{part}.can_inlet"] = inlet
    blueprint.ports[f"{part}.outlet"] = outlet
    loss = fitting_loss_1_per_m4(numbers["velocity_heads"], numbers["port_bore_m"])
    own = {name: numbers[name] for name in figures}
    blueprint.links.append(LinkSpec(part, part, inlet, outlet, 0.0, loss, kind, numbers=own))
    return outlet


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    outlet = add_pump(blueprint, part, numbers, LinkKind.LIFT_PUMP, _FIGURES)
    add_opening(blueprint, f"{part}.weep", outlet, numbers["weep_area_m2"])
    inlet = blueprint.ports[f"{part}.inlet"]
    add_opening(blueprint, f"{part}.tear", inlet, numbers["weep_area_m2"])


KIND = ComponentKind(
    name="lift_pump",
    purpose="draws fuel from the tank and pushes it on; its hand lever works it when the engine stands",
    parameters=(
        *PUMP_FIGURES,
        remembered("stroke_m3", 2.0e-6, "m3", 1e-7, 2e-5, "volume swept by one stroke"),
        remembered("stroke_efficiency", 0.7, "1", 0.1, 1.0, "share of the stroke that arrives"),
        remembered("dead_volume_m3", 8.0e-6, "m3", 1e-7, 1e-4, "space left at the end of a stroke"),
        usual("spring_pa", 35e3, "Pa", 10e3, 41e3, "delivery pressure that the spring can hold", _SPRING),
        remembered("suction_limit_pa", 60e3, "Pa", 5e3, 95e3, "suction that it can reach on fuel"),
        remembered("valve_loss_pa", 1.0e3, "Pa", 0.0, 1e4, "pressure that opens its two valves in a row"),
        remembered("weep_area_m2", 2e-7, "m2", 1e-9, 1e-5, "opening of a torn diaphragm to the weep hole"),
    ),
    ports=("inlet", "outlet"),
    optional_ports=("can_inlet",),
    build=_build,
    pumps=True,
)
