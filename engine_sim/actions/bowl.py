"""What a glass bowl shows: layers, haze, dirt, slime, air, and the element behind the glass."""

from __future__ import annotations

from engine_sim.actions.elements import is_dark
from engine_sim.actions.reading import has_grown, is_cloudy, is_hazy, is_slimy, plain_share
from engine_sim.actions.watching import flow_m3_per_s
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, see
from engine_sim.sources import FROM_MEMORY, SourcedValue

_TRACE = SourcedValue(0.02, "1", FROM_MEMORY, "least share of a layer that an eye sees in a bowl").value
_BUBBLES_M3_PER_S = SourcedValue(1e-7, "m3/s", FROM_MEMORY, "air at the drain that is seen to rise in bubbles").value
_BOWL_SHOWS = "element_from"


def bowl_shares(place: Workplace, part: str) -> tuple[float, float]:
    """Return what the glass shows, 0..1: the share of it under settled water, and the share under any liquid."""
    shows = place.rig.layout.figures[part][_BOWL_SHOWS]
    number = place.rig.topology.volume_number(f"{part}.bowl")
    volume, circuit = place.rig.topology.volumes[number], place.rig.circuit
    water_top, liquid_top = circuit.levels_m(number)
    height = volume.top_m - volume.bottom_m
    return (
        min(1.0, (water_top - volume.bottom_m) / height / shows),
        min(1.0, (liquid_top - volume.bottom_m) / height / shows),
    )


def bowl_is_dark(place: Workplace, part: str) -> bool:
    """Tell whether the element looks black through the glass."""
    return is_dark(place, part)


def look_into_bowl(place: Workplace, part: str) -> list[Noticed]:
    """Return what is seen by torch through the glass."""
    water, liquid = bowl_shares(place, part)
    found = []
    if water >= 1.0 - _TRACE:
        found.append(see(part, "bowl_all_water"))
    elif water > _TRACE:
        found.append(see(part, "bowl_water", share=plain_share(water)))
    if liquid < 1.0 - _TRACE:
        found.append(see(part, "bowl_air", share=plain_share(liquid)))
    found += _in_the_liquid(place, part, liquid)
    if liquid > _TRACE and flow_m3_per_s(place, f"{part}.drain") < -_BUBBLES_M3_PER_S:
        found.append(see(part, "bowl_bubbles"))
    if not found:
        found.append(see(part, "bowl_clean"))
    return [*found, see(part, "bowl_dark")] if bowl_is_dark(place, part) else found


def _in_the_liquid(place: Workplace, part: str, liquid_share: float) -> list[Noticed]:
    circuit, number = place.rig.circuit, place.rig.topology.volume_number(f"{part}.bowl")
    held_m3 = circuit.fuel_m3[number] + circuit.water_m3[number]
    if liquid_share <= _TRACE or held_m3 <= 0.0:
        return []
    if is_slimy(circuit.dirt_kg[number] + circuit.sludge_kg[number], held_m3):
        return [see(part, "bowl_slime" if has_grown(place) else "bowl_grit")]
    if is_cloudy(place):
        return [see(part, "bowl_waxy")]
    return [see(part, "bowl_hazy")] if is_hazy(circuit.haze_m3[number] / held_m3) else []
