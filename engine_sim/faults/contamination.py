"""Faults by what the fuel carries: water in the bowl, dirt on the element."""

from __future__ import annotations

from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.faults.fault import Fault, run_until_it_dies
from engine_sim.sources import FROM_MEMORY, SourcedValue


def _add_water(rig: Rig, part: str, water_m3: float) -> None:
    """Put a slug of water into the bowl, and what does not fit there into the hose that leads to it."""
    left_m3 = water_m3
    hose = [volume.id for volume in reversed(rig.topology.volumes) if volume.part == "suction_hose"]
    for name in (f"{part}.bowl", *hose):
        space_m3 = rig.topology.volumes[rig.topology.volume_number(name)].volume_m3
        share = max(0.0, min(1.0, left_m3 / space_m3))
        rig.circuit.fill(name, 1.0 - share, share)
        left_m3 -= share * space_m3


WATER_IN_BOWL = Fault(
    id="water_in_bowl",
    parts=("separator",),
    severity=Parameter(
        "water_m3",
        SourcedValue(5.0e-4, "m3", FROM_MEMORY),
        1e-5,
        5.2e-4,
        "water that came over from the tank in a seaway",
    ),
    apply=_add_water,
    lead_up=run_until_it_dies,
)


def _load(rig: Rig, part: str, times_clean: float) -> None:
    figures = rig.layout.figures[part]
    medium = figures["medium_resistance_1_per_m"] * figures["element_area_m2"] / figures["cake_resistance_m_per_kg"]
    rig.circuit.cake_kg[rig.topology.link_number(f"{part}.element")] = (times_clean - 1.0) * medium


LOADED_ELEMENT = Fault(
    id="loaded_element",
    parts=("separator",),
    severity=Parameter(
        "times_clean",
        SourcedValue(6000.0, "1", FROM_MEMORY),
        1.0,
        1e5,
        "resistance as a multiple of the clean element's",
    ),
    apply=_load,
    lead_up=run_until_it_dies,
)
