"""The mechanical diaphragm lift pump: worked by a cam of the engine or by its hand lever."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, LinkKind, ThroughSpec
from engine_sim.components.component import ComponentKind, Numbers
from engine_sim.components.geometry import fitting_loss_1_per_m4, remembered, usual

_SPRING_SOURCE = "US Army TM 9-8000 and subcourse OD1616: diaphragm pump 10 to 41 kPa, set by its spring"


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    loss = fitting_loss_1_per_m4(numbers["velocity_heads"], numbers["port_bore_m"])
    names = ("stroke_m3", "stroke_efficiency", "dead_volume_m3", "spring_pa", "suction_limit_pa", "valve_loss_pa")
    figures = {name: numbers[name] for name in names}
    blueprint.through[part] = ThroughSpec(part, 0.0, loss, LinkKind.LIFT_PUMP, figures)


KIND = ComponentKind(
    name="lift_pump",
    purpose="draws fuel from the tank and pushes it on; its hand lever works it when the engine stands",
    parameters=(
        remembered("stroke_m3", 2.0e-6, "m3", 1e-7, 2e-5, "volume swept by one stroke"),
        remembered("stroke_efficiency", 0.7, "1", 0.1, 1.0, "share of the stroke that arrives"),
        remembered("dead_volume_m3", 8.0e-6, "m3", 1e-7, 1e-4, "space left at the end of a stroke"),
        usual("spring_pa", 25e3, "Pa", 10e3, 41e3, "delivery pressure that the spring can hold", _SPRING_SOURCE),
        remembered("suction_limit_pa", 60e3, "Pa", 5e3, 95e3, "suction that it can reach on fuel"),
        remembered("valve_loss_pa", 1.0e3, "Pa", 0.0, 1e4, "pressure that opens its two valves in a row"),
        usual("port_bore_m", 0.006, "m", 0.001, 0.02, "bore of its ports"),
        usual("velocity_heads", 4.0, "1", 0.0, 50.0, "velocity heads lost in its valves"),
    ),
    ports=(),
    build=_build,
    passes_through=True,
)
