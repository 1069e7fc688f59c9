"""Looking, reading, dipping, trying: checks that change nothing."""

from __future__ import annotations

from engine_sim.actions.action import Action, Do
from engine_sim.actions.workplace import SCREW_LINKS, Workplace
from engine_sim.faults import JOINT_LINKS
from engine_sim.observations import Noticed, feel, read, see
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue
from engine_sim.units import MILLILITRE_M3
from engine_sim.wording import GAUGE_WORDS

DARK_FROM_TIMES_CLEAN = SourcedValue(20.0, "1", FROM_MEMORY, "resistance at which an element looks black").value
_TRACE = SourcedValue(0.02, "1", FROM_MEMORY, "least share of a layer that an eye sees in a bowl").value
_BOWL_SHOWS = SourcedValue(0.45, "1", COMMON_PRACTICE, "lower part of the separator that is glass").value
_BUBBLES_FROM = SourcedValue(0.01, "1", FROM_MEMORY, "share of air that shows as bubbles in a clear hose").value
_MOSTLY = SourcedValue(0.5, "1", FROM_MEMORY, "share of air from which a hose looks empty").value
_OPEN_HANDLE = SourcedValue(0.5, "1", COMMON_PRACTICE, "opening from which the handle looks along the pipe").value
_GAUGE_STEPS = 8


def bowl_shares(place: Workplace) -> tuple[float, float]:
    """Return what the glass shows: the share of it under water, and the share under any liquid."""
    fuel, aqua, _ = place.rig.shares("separator.bowl")
    return min(1.0, aqua / _BOWL_SHOWS), min(1.0, (fuel + aqua) / _BOWL_SHOWS)


def bowl_is_dark(place: Workplace) -> bool:
    """Tell whether the element looks black through the glass."""
    return times_clean(place, "separator") > DARK_FROM_TIMES_CLEAN


def times_clean(place: Workplace, part: str) -> float:
    """Return the resistance of a part's element as a multiple of a clean one's."""
    rig = place.rig
    number = rig.topology.link_number(f"{part}.element")
    element = rig.topology.elements[number]
    cake = element.cake_resistance_m_per_kg * rig.circuit.cake_kg[number] / element.area_m2
    return 1.0 + cake / element.medium_resistance_1_per_m


def gauge_share(place: Workplace) -> float:
    """Return what the fuel gauge shows, 0..1, to an eighth."""
    rig = place.rig
    stuck = rig.gauge_stuck_at
    fuel, aqua, _ = rig.shares("tank")
    shown = fuel + aqua if stuck is None else stuck
    return int(shown * _GAUGE_STEPS + 0.5) / _GAUGE_STEPS


def _look_tank(_place: Workplace, part: str) -> list[Noticed]:
    return [see(part, "tank_outside")]


def _read_gauge(place: Workplace, part: str) -> list[Noticed]:
    return [read(part, "gauge_reads", reading=GAUGE_WORDS[int(gauge_share(place) * _GAUGE_STEPS + 0.5)])]


def _dip(place: Workplace, part: str) -> list[Noticed]:
    rig = place.rig
    figures = rig.layout.figures[part]
    _, top = rig.circuit.levels_m(rig.topology.volume_number(part))
    level_cm = int((top - figures["floor_m"]) * 100.0 + 0.5)
    return [read(part, "dip_fuel", cm=level_cm, pick_up=round(figures["pick_up_clearance_m"] * 100.0, 1))]


def _look_shut_off(place: Workplace, part: str) -> list[Noticed]:
    number = place.rig.topology.link_number("shut_off")
    along = place.rig.circuit.opening[number] >= _OPEN_HANDLE
    return [see(part, "handle_along" if along else "handle_across")]


def _look_joint(place: Workplace, part: str) -> list[Noticed]:
    wet = part in place.wet_parts()
    hose = JOINT_LINKS[part].split(".")[0]
    last = [volume.id for volume in place.rig.topology.volumes if volume.part == hose][-1]
    air = place.rig.shares(last)[2]
    inside = "air_in_hose" if air > _MOSTLY else "froth_in_hose" if air > _BUBBLES_FROM else "clear_in_hose"
    return [see(part, "joint_wet" if wet else "joint_dry"), see(part, inside)]


def _try_joint(place: Workplace, part: str) -> list[Noticed]:
    place.rig.wet.discard(JOINT_LINKS[part])
    return [feel(part, "joint_turns" if place.rig.is_open(JOINT_LINKS[part]) else "joint_tight")]


def _look_separator(place: Workplace, part: str) -> list[Noticed]:
    water, liquid = bowl_shares(place)
    noticed = []
    if water >= 1.0 - _TRACE:
        noticed.append(see(part, "bowl_all_water"))
    elif water > _TRACE:
        noticed.append(see(part, "bowl_water", share=_plain_share(water)))
    if liquid < 1.0 - _TRACE:
        noticed.append(see(part, "bowl_air", share=_plain_share(liquid)))
    if not noticed:
        noticed.append(see(part, "bowl_clean"))
    if bowl_is_dark(place):
        noticed.append(see(part, "bowl_dark"))
    if part in place.wet_parts():
        noticed.append(see(part, "separator_wet"))
    return noticed


def _plain_share(share: float) -> str:
    """Return a share to the nearest quarter in words."""
    words = ("a little", "a quarter", "half", "three quarters", "nearly all")
    return words[int(share * 4.0 + 0.5)]


def _read_jar(place: Workplace, part: str) -> list[Noticed]:
    fuel, water = (_ml(place.jar.fuel_m3), _ml(place.jar.water_m3))
    if water > 0:
        return [see(part, "jar_water", water=water, fuel=fuel)]
    return [see(part, "jar_fuel", ml=fuel) if fuel > 0 else see(part, "jar_empty")]


def _ml(volume_m3: float) -> int:
    return int(volume_m3 / MILLILITRE_M3 / 10.0 + 0.5) * 10


def _look_pump(_place: Workplace, part: str) -> list[Noticed]:
    return [see(part, "pump_dry")]


def _look_filter(place: Workplace, part: str) -> list[Noticed]:
    stem = "filter" if part == "fine_filter" else part
    wet = part in place.wet_parts()
    screw = "screw_is_open" if place.rig.is_open(SCREW_LINKS[part]) else "screw_is_shut"
    return [see(part, f"{stem}_{'wet' if wet else 'dry'}"), see(part, screw)]


def _look_injector(place: Workplace, part: str) -> list[Noticed]:
    line = place.rig.engine.lines[int(part[-1]) - 1]
    return [see(part, "nut_slack" if line.nut_slack else "nut_tight")]


def _look_return(_place: Workplace, part: str) -> list[Noticed]:
    return [see(part, "return_dry")]


def _look_stop(place: Workplace, part: str) -> list[Noticed]:
    return [see(part, "stop_out" if place.rig.engine.stop_pulled else "stop_home")]


def _look(part: str, label: str, takes_s: float, do: Do, needs: str = "") -> tuple[str, Action]:
    return part, Action("look", label, takes_s, do, needs)


LOOKS: tuple[tuple[str, Action], ...] = (
    _look("tank", "look at the tank", 20.0, _look_tank),
    ("tank", Action("read_gauge", "read the fuel gauge", 5.0, _read_gauge)),
    ("tank", Action("dip", "dip the tank", 90.0, _dip, "dipstick, rag")),
    _look("shut_off", "look at the handle", 10.0, _look_shut_off),
    *(_look(joint, "look at the joint and its clear hose", 20.0, _look_joint, "torch") for joint in JOINT_LINKS),
    *(
        (joint, Action("wipe_and_try", "wipe the joint dry and try the nut", 45.0, _try_joint, "rag", "joint"))
        for joint in JOINT_LINKS
    ),
    _look("separator", "look into the bowl", 20.0, _look_separator, "torch"),
    ("separator", Action("read_jar", "hold the jar to the light", 30.0, _read_jar, "jar")),
    _look("lift_pump", "look at the pump", 20.0, _look_pump, "torch"),
    _look("fine_filter", "look at the filter", 20.0, _look_filter, "torch"),
    _look("injection_pump", "look at the pump", 20.0, _look_filter, "torch"),
    *(_look(f"injector_{number}", "look at the union nut", 15.0, _look_injector, "torch") for number in (1, 2, 3)),
    _look("return_line", "look along the line", 20.0, _look_return, "torch"),
    _look("stop_control", "look at knob and lever", 15.0, _look_stop),
)
"""Pairs of a part and an action that can be done at it."""
