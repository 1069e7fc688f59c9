"""A hose: a row of pieces that carry fuel, water and air along, with a joint that may be slack at one end."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint, LinkSpec, PortSpec, VolumeSpec
from engine_sim.components.component import ComponentKind, Numbers
from engine_sim.components.geometry import orifice_loss_1_per_m4, remembered, usual
from engine_sim.fluids.formulas import bore_area_m2, laminar_resistance_geometry


def _build(blueprint: Blueprint, part: str, numbers: Numbers) -> None:
    pieces = int(numbers["pieces"])
    bore, length = numbers["bore_m"], numbers["length_m"] / pieces
    start, end = numbers["start_height_m"], numbers["end_height_m"]
    half = laminar_resistance_geometry(bore, length / 2.0)
    area = bore_area_m2(bore)
    heights = [start + (end - start) * index / pieces for index in range(pieces + 1)]
    for index in range(pieces):
        low, high = sorted(heights[index : index + 2])
        blueprint.volumes.append(
            VolumeSpec(
                f"{part}.{index}",
                part,
                area * length,
                low,
                high,
                numbers["wall_give_1_per_pa"] * area * length,
                layered=False,
                length_m=length,
                laminar_half_1_per_m3=half,
            )
        )
    first = PortSpec(f"{part}.0", start, start)
    last = PortSpec(f"{part}.{pieces - 1}", end, end)
    blueprint.ports[f"{part}.start"], blueprint.ports[f"{part}.end"] = first, last
    for index in range(pieces - 1):
        height = heights[index + 1]
        blueprint.join(
            PortSpec(f"{part}.{index}", height, height), PortSpec(f"{part}.{index + 1}", height, height), None
        )
    _joint(blueprint, part, last, numbers["joint_gap_m2"])


def _joint(blueprint: Blueprint, part: str, last: PortSpec, gap_m2: float) -> None:
    """Add the gap of the joint at the hose's end; shut until a fault slackens it."""
    loss = orifice_loss_1_per_m4(gap_m2)
    blueprint.links.append(LinkSpec(f"{part}.joint", part, last, None, 0.0, loss, opening=0.0))


KIND = ComponentKind(
    name="hose",
    purpose="leads the fuel on; a slack joint lets air in under suction, fuel out under pressure",
    parameters=(
        usual("bore_m", 0.008, "m", 0.001, 0.03, "inside diameter"),
        usual("length_m", 3.0, "m", 0.05, 15.0, "length"),
        usual("start_height_m", 0.0, "m", -3.0, 3.0, "height of the tank-side end above the datum"),
        usual("end_height_m", 0.0, "m", -3.0, 3.0, "height of the engine-side end above the datum"),
        usual("pieces", 4, "1", 1, 64, "into how many pieces it is divided"),
        remembered("wall_give_1_per_pa", 1e-8, "1/Pa", 1e-12, 1e-5, "share by which the bore grows per pascal"),
        usual("joint_gap_m2", 1e-6, "m2", 1e-10, 1e-4, "gap of a joint that is wholly loose"),
    ),
    ports=("start", "end"),
    build=_build,
)
