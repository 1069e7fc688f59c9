"""A hose: a row of pieces that carry fuel, water and air along, with a joint that may be slack at one end."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, PortSpec, VolumeSpec
from engine_sim.components.component import ComponentKind, Numbers
from engine_sim.components.geometry import add_opening, counted, remembered, usual
from engine_sim.fluids.formulas import bore_area_m2, laminar_resistance_geometry


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    pieces = int(numbers["pieces"])
    start, end = numbers["start_height_m"], numbers["end_height_m"]
    heights = [start + (end - start) * index / pieces for index in range(pieces + 1)]
    for index in range(pieces):
        blueprint.volumes.append(_piece(part, index, numbers, (heights[index], heights[index + 1])))
    first = PortSpec(f"{part}.0", start, start)
    last = PortSpec(f"{part}.{pieces - 1}", end, end)
    blueprint.ports[f"{part}.start"], blueprint.ports[f"{part}.end"] = first, last
    for index in range(pieces - 1):
        height = heights[index + 1]
        blueprint.join(
            PortSpec(f"{part}.{index}", height, height), PortSpec(f"{part}.{index + 1}", height, height), None
        )
    add_opening(blueprint, f"{part}.joint", last, numbers["joint_gap_m2"])


def _piece(part: str, index: int, numbers: Numbers, ends_m: tuple[float, float]) -> VolumeSpec:
    """Return one piece of the hose."""
    bore, length = numbers["bore_m"], numbers["length_m"] / int(numbers["pieces"])
    volume = bore_area_m2(bore) * length
    return VolumeSpec(
        f"{part}.{index}",
        part,
        volume,
        min(ends_m),
        max(ends_m),
        numbers["wall_give_1_per_pa"] * volume,
        layered=False,
        length_m=length,
        laminar_half_1_per_m3=laminar_resistance_geometry(bore, length / 2.0),
        bore_m=bore,
    )


KIND = ComponentKind(
    name="hose",
    purpose="leads the fuel on; a slack joint lets air in under suction, fuel out under pressure",
    parameters=(
        usual("bore_m", 0.008, "m", 0.001, 0.03, "inside diameter"),
        usual("length_m", 3.0, "m", 0.05, 15.0, "length"),
        usual("start_height_m", 0.0, "m", -3.0, 3.0, "height of the tank-side end above the datum"),
        usual("end_height_m", 0.0, "m", -3.0, 3.0, "height of the engine-side end above the datum"),
        counted("pieces", 4, 1, 64, "into how many pieces it is divided"),
        remembered("wall_give_1_per_pa", 1e-8, "1/Pa", 1e-12, 1e-5, "share by which the bore grows per pascal"),
        usual("joint_gap_m2", 1e-6, "m2", 1e-10, 1e-4, "gap of a joint that is wholly loose"),
        usual("filled_share", 1.0, "1", 0.0, 1.0, "how full of fuel it is at the start"),
    ),
    ports=("start", "end"),
    build=_build,
    jointed=True,
)
