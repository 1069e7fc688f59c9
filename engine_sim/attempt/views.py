"""The two views of the rig: what a person standing there sees, and the x-ray."""

from __future__ import annotations

from engine_sim.actions import Workplace
from engine_sim.actions.looking import bowl_is_dark, bowl_shares, gauge_share
from engine_sim.actions.starting import lamps
from engine_sim.attempt.records import VolumeXRay, XRay

_RPM_STEP = 50
_HALF_OPEN = 0.5


def outside(place: Workplace) -> dict[str, object]:
    """Return only what can be seen from where you stand, rounded to what an eye can tell."""
    rig = place.rig
    engine = rig.engine
    water, liquid = bowl_shares(place)
    return {
        "gauge_reading": gauge_share(place),
        "shut_off_open": rig.circuit.opening[rig.topology.link_number("shut_off")] >= _HALF_OPEN,
        "bowl_water_share": round(water, 1),
        "bowl_air_share": round(1.0 - liquid, 1),
        "bowl_dirty": bowl_is_dark(place),
        "separator_vent_open": rig.is_open("separator.vent"),
        "separator_drain_open": rig.is_open("separator.drain"),
        "fine_filter_screw_open": rig.is_open("fine_filter.screw"),
        "injection_pump_screw_open": rig.is_open("injection_pump.screw"),
        "union_nuts_open": tuple(line.nut_slack for line in engine.lines),
        "weeping": place.wet_parts(),
        "stop_control_pulled": engine.stop_pulled,
        "engine": "running" if engine.running else "stopped",
        "speed_rpm": int(engine.speed_rpm / _RPM_STEP + 0.5) * _RPM_STEP,
        "battery_lamps": lamps(place),
        "battery_connected": engine.battery.connected,
        "tray_laid": rig.tray_laid,
        "spilled_ml": place.spilled_ml(),
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
