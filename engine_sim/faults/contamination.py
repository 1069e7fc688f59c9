"""Faults by what comes with the fuel: water in bowl or tank, dirt on an element, dirt and slime on the tank's floor."""

from __future__ import annotations

from collections.abc import Iterable

from engine_sim.circuit.layout import Layout
from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.faults.fault import Fault
from engine_sim.faults.places import has_link, pieces_before, volume_share
from engine_sim.faults.restriction import lost_there, restrict
from engine_sim.faults.skipper import ROUGH_WATER, TRY
from engine_sim.sources import FROM_MEMORY, SourcedValue

_SLIME_TO_DIRT = SourcedValue(
    100.0, "1", FROM_MEMORY, "resistance that slime makes on an element, as a multiple of dry dirt's, kg for kg"
).value


_NEARLY_ALL = SourcedValue(0.95, "1", FROM_MEMORY, "of the space that water can take").value
_USUAL_LOAD = {
    "separator": SourcedValue(6000.0, "1", FROM_MEMORY, "an element black all over").value,
    "fine_filter": SourcedValue(1500.0, "1", FROM_MEMORY, "less, since its clean element resists more").value,
}


def _space_m3(layout: Layout, volumes: Iterable[str]) -> float:
    """Return what these volumes hold [m3]."""
    wanted = tuple(volumes)
    return sum(volume.volume_m3 for volume in layout.blueprint.volumes if volume.id in wanted)


def _full_bowl_m3(layout: Layout, part: str) -> float:
    """Return the water that fills a bowl and the hose before it nearly wholly [m3]."""
    return _NEARLY_ALL * _space_m3(layout, (f"{part}.bowl", *pieces_before(layout, f"{part}.inlet")))


_OVER_MOUTH = SourcedValue(1.6, "1", FROM_MEMORY, "height of the water, as a multiple of the pick-up's").value


def _over_pick_up_m3(layout: Layout, tank: str) -> float:
    """Return the water that stands a little over the mouth of a tank's pick-up [m3]."""
    vessel = next(volume for volume in layout.blueprint.volumes if volume.id == tank)
    mouth_m = layout.blueprint.ports[f"{tank}.pick_up"].low_m
    height_share = (mouth_m - vessel.bottom_m) / (vessel.top_m - vessel.bottom_m)
    return vessel.volume_m3 * volume_share(layout, tank, _OVER_MOUTH * height_share)


def _add_slug(rig: Rig, part: str, water_m3: float) -> None:
    """Put a slug of water into the bowl, and what does not fit there into the hose that leads to it."""
    left_m3 = water_m3
    for name in (f"{part}.bowl", *pieces_before(rig.layout, f"{part}.inlet")):
        space_m3 = rig.topology.volumes[rig.topology.volume_number(name)].volume_m3
        share = max(0.0, min(1.0, left_m3 / space_m3))
        if share > 0.0:
            rig.circuit.fill(name, 1.0 - share, share)
        left_m3 -= share * space_m3


WATER_IN_BOWL = Fault(
    id="water_in_bowl",
    kinds=("separator",),
    severity=Parameter(
        "water_m3",
        SourcedValue(5.0e-4, "m3", FROM_MEMORY),
        1e-5,
        3e-3,
        "water that came over from the tank in a seaway",
    ),
    apply=_add_slug,
    lead_ups=(TRY,),
    holds=("contents of {part}",),
    usual_here=_full_bowl_m3,
)


def add_water(rig: Rig, tank: str, water_m3: float) -> None:
    """Let water [m3] into a tank, where it lies under the fuel; what has no room drives air out, then fuel."""
    circuit, number = rig.circuit, rig.topology.volume_number(tank)
    air_m3 = circuit.air_m3(number)
    from_air_m3 = min(water_m3, air_m3)
    circuit.air_kg[number] *= 1.0 - from_air_m3 / air_m3 if air_m3 > 0.0 else 0.0
    circuit.fuel_m3[number] = max(0.0, circuit.fuel_m3[number] - (water_m3 - from_air_m3))
    circuit.water_m3[number] += water_m3


WATER_IN_TANK = Fault(
    id="water_in_tank",
    kinds=("tank",),
    severity=Parameter(
        "water_m3", SourcedValue(3e-3, "m3", FROM_MEMORY), 1e-4, 2e-2, "water that has gathered on the tank's floor"
    ),
    apply=add_water,
    lead_ups=(ROUGH_WATER, TRY),
    holds=("contents of {part}",),
    usual_here=_over_pick_up_m3,
    said="water_in_bowl",
)


def _load(rig: Rig, part: str, times_clean: float) -> None:
    figures = rig.layout.figures[part]
    medium = figures["medium_resistance_1_per_m"] * figures["element_area_m2"] / figures["cake_resistance_m_per_kg"]
    rig.circuit.cake_kg[rig.topology.link_number(f"{part}.element")] = (times_clean - 1.0) * medium


LOADED_ELEMENT = Fault(
    id="loaded_element",
    kinds=("separator", "fine_filter"),
    severity=Parameter(
        "times_clean",
        SourcedValue(6000.0, "1", FROM_MEMORY),
        1.0,
        1e5,
        "resistance as a multiple of the clean element's",
    ),
    apply=_load,
    lead_ups=(TRY,),
    holds=("dirt on {part}",),
    usual_here=lambda layout, part: _USUAL_LOAD[layout.kinds[part]],
)


def _jam(rig: Rig, part: str, drop_pa: float) -> None:
    restrict(rig, f"{part}.ball", drop_pa)


STUCK_BALL = Fault(
    id="stuck_ball",
    kinds=("separator",),
    severity=lost_there(SourcedValue(1.5e6, "Pa", FROM_MEMORY)),
    apply=_jam,
    lead_ups=(TRY,),
    holds=("inlet of {part}",),
    fits=lambda layout, part: has_link(layout, f"{part}.ball"),
)


def _let_grow(rig: Rig, part: str, slime_kg: float) -> None:
    rig.circuit.sludge_kg[rig.topology.volume_number(part)] += slime_kg * _SLIME_TO_DIRT
    rig.circuit.slime_share = 1.0


SLIME = Fault(
    id="slime",
    kinds=("tank",),
    severity=Parameter(
        "slime_kg", SourcedValue(0.05, "kg", FROM_MEMORY), 1e-4, 1.0, "slime on the tank's floor before the rough water"
    ),
    apply=_let_grow,
    lead_ups=(ROUGH_WATER, TRY),
    holds=("floor of {part}",),
)


def _let_dirt_gather(rig: Rig, part: str, dirt_kg: float) -> None:
    rig.circuit.sludge_kg[rig.topology.volume_number(part)] += dirt_kg


DIRT_IN_TANK = Fault(
    id="dirt_in_tank",
    kinds=("tank",),
    severity=Parameter(
        "dirt_kg", SourcedValue(3.0, "kg", FROM_MEMORY), 1e-3, 20.0, "dirt on the tank's floor before the rough water"
    ),
    apply=_let_dirt_gather,
    lead_ups=(ROUGH_WATER, TRY),
    holds=("floor of {part}",),
)
