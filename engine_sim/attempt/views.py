"""The two views of the rig: what a person standing there sees, and the x-ray."""

from __future__ import annotations

from engine_sim.actions import Workplace
from engine_sim.actions.bowl import bowl_is_dark, bowl_shares
from engine_sim.actions.can import in_use
from engine_sim.actions.electrics import lamps
from engine_sim.actions.jar import ml
from engine_sim.actions.parts import INJECTION_PUMPS, shows_its_bowl
from engine_sim.actions.return_line import leads_to
from engine_sim.actions.senses import round_rpm
from engine_sim.actions.tank_views import cap, gauge_share
from engine_sim.actions.valves import is_along, ways_open
from engine_sim.attempt.records import VolumeXRay, XRay


def outside(place: Workplace) -> dict[str, object]:
    """Return only what can be seen from where you stand, rounded to what an eye can tell.

    What belongs to a part that this boat does not have is left out. The first tank's things and those of a lone
    separator go by plain names, those of further tanks by the tank's id before the name.
    """
    rig = place.rig
    engine = rig.engine
    seen: dict[str, object] = {}
    for number, part in enumerate(place.of_kind("tank")):
        before = f"{part.id}_" if number else ""
        seen[f"{before}gauge_reading"] = gauge_share(place, part.id)
        seen[f"{before}filler_cap"] = cap(place, part.id)
    for part in place.of_kind("shut_off_valve"):
        seen[f"{part.id}_open"] = is_along(place, part.id)
    for part in place.of_kind("changeover_valve"):
        seen[f"{part.id}_ways"] = ways_open(place, part.id)
    for number, part in enumerate(place.of_kind("separator")):
        seen |= _separator(place, part.id, f"{part.id}_" if number else "")
    for part in place.of_kind("fine_filter", *INJECTION_PUMPS):
        for link in place.screws(part.id):
            seen[f"{link.replace('.', '_')}_open"] = place.stands_open(link) and not place.is_off(part.id)
    return seen | {
        "union_nuts_open": tuple(line.nut_slack for line in engine.lines),
        "weeping": place.wet_parts(),
        "engine": "running" if engine.running else "stopped",
        "speed_rpm": round_rpm(engine.speed_rpm),
        "smoke": engine.smoke() if engine.running else "none",
        **_electric(place),
        **_can_and_return(place),
        **_around(place),
    }


def _separator(place: Workplace, part: str, before: str) -> dict[str, object]:
    """Return what stands open at a separator and, where its bowl is of glass, what the bowl shows."""
    seen: dict[str, object] = {
        f"{part}_vent_open": place.stands_open(f"{part}.vent") and not place.is_off(part),
        f"{part}_drain_open": place.stands_open(f"{part}.drain") and not place.is_off(part),
    }
    if shows_its_bowl(place.rig.layout, part):
        water, liquid = bowl_shares(place, part)
        seen |= {
            f"{before}bowl_water_share": round(water, 1),
            f"{before}bowl_air_share": round(1.0 - liquid, 1),
            f"{before}bowl_dirty": bowl_is_dark(place, part),
        }
    return seen


def _electric(place: Workplace) -> dict[str, object]:
    engine = place.rig.engine
    seen: dict[str, object] = {}
    if place.first("battery"):
        seen["battery_lamps"] = lamps(place)
        seen["battery_connected"] = engine.battery.connected
        seen["key_on"] = engine.key_on
    if place.first("stop_lever"):
        seen["stop_control_pulled"] = engine.stop_pulled
    if place.first("exhaust"):
        seen["seacock_open"] = engine.exhaust.seacock_open
    return seen


def _can_and_return(place: Workplace) -> dict[str, object]:
    seen: dict[str, object] = {}
    for part in place.of_kind("return_line"):
        seen["return_to"] = leads_to(place, part.id)
    for part in place.of_kind("fuel_can"):
        seen["can_in_use"] = in_use(place, part.id)
        seen["can_lashed"] = place.can_lashed
        seen["can_cap_open"] = place.rig.is_open(f"{part.id}.cap")
    return seen


def _around(place: Workplace) -> dict[str, object]:
    return {
        "tray_laid": place.rig.tray_laid,
        "spilled_ml": place.spilled_ml(),
        "jar_ml": ml(place.jar.sample(place.rig).liquid_m3),
        "waste_ml": ml(place.stores.waste_m3),
        "overboard_ml": place.overboard_ml(),
        "oily_rags": place.stores.oily_rags,
        "taken_apart": tuple(part.id for part in place.parts if place.is_off(part.id)),
        "goggles_on": place.goggles_on,
        "ventilated": place.ventilated,
        "made_fast": place.made_fast,
        "shore_min": place.shore_min(),
        "ashore": place.ashore,
        "engine_hot": place.is_hot(),
        "hurt": place.hurt,
    }


def xray(place: Workplace) -> XRay:
    """Return what is inside every volume and how much flows through every link."""
    rig = place.rig
    volumes = {}
    for number, volume in enumerate(rig.topology.volumes):
        fuel, water, air = rig.circuit.shares(number)
        volumes[volume.id] = VolumeXRay(volume.part, fuel, water, air, rig.circuit.pressure_pa[number])
    links = {link.id: rig.circuit.flow_m3_per_s[number] for number, link in enumerate(rig.topology.links)}
    return XRay(volumes, links)
