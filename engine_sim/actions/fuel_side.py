"""Hands on the fuel side: valves, drain, vent, screws, nuts, joints, the lever, fuel from a can."""

from __future__ import annotations

from collections.abc import Callable

from engine_sim.actions.action import Action, Do
from engine_sim.actions.watching import lever_feel, openings, reading
from engine_sim.actions.workplace import SCREW_LINKS, Workplace
from engine_sim.components import engine_figures
from engine_sim.faults import JOINT_LINKS
from engine_sim.observations import Noticed, feel, see, told
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue
from engine_sim.units import LITRE_M3, MILLILITRE_M3

_CAN_M3 = SourcedValue(10.0e-3, "m3", COMMON_PRACTICE, "a small can of fuel").value
_BRIM = SourcedValue(0.95, "1", COMMON_PRACTICE, "share to which a tank is filled, the rest left for expansion").value
_TIGHTENING_S = SourcedValue(10.0, "s", COMMON_PRACTICE, "time to tighten a screw").value
_FLOWING_M3_PER_S = SourcedValue(1e-7, "m3/s", FROM_MEMORY, "flow at a screw that is still seen").value


def _switch(link: str, opening: float, key: str, sense: Callable[..., Noticed] = see) -> Do:
    """Return a deed that opens or shuts one thing."""

    def do(place: Workplace, part: str) -> list[Noticed]:
        place.rig.set_open(link, opening)
        return [sense(part, key)]

    return do


def _shut_screw(place: Workplace, part: str) -> list[Noticed]:
    rig, link = place.rig, SCREW_LINKS[part]
    place.go_on_with_the_lever(_TIGHTENING_S)
    flow = rig.circuit.flow_m3_per_s[rig.topology.link_number(link)]
    flowing = rig.is_open(link) and flow > _FLOWING_M3_PER_S
    rig.set_open(link, 0.0)
    return [see(part, "screw_shut_flowing" if flowing else "screw_shut")]


def watch(place: Workplace, duration_s: float) -> list[Noticed]:
    """Let time pass and return what shows at everything open."""
    before = reading(place)
    place.wait(duration_s / 2.0)
    middle = reading(place)
    place.wait(duration_s / 2.0)
    return list(openings(place, before, middle, duration_s))


def _open_and_watch(link: str, key: str, seconds: float) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        place.rig.set_open(link, 1.0)
        return [see(part, key), *watch(place, seconds)]

    return do


def _lever(strokes: int) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        if place.rig.engine.running:
            return [feel(part, "lever_engine_runs")]
        before = reading(place)
        place.rig.work_lever(strokes // 2)
        middle = reading(place)
        place.rig.work_lever(strokes - strokes // 2)
        place.lever_in_hand = True
        seconds = strokes / engine_figures.LEVER_STROKES_PER_S
        return [*lever_feel(place, before, strokes), *openings(place, before, middle, seconds)]

    return do


def _nip_up(place: Workplace, part: str) -> list[Noticed]:
    link = JOINT_LINKS[part]
    was_slack = place.rig.is_open(link)
    place.rig.set_open(link, 0.0)
    return [feel(part, "joint_nipped" if was_slack else "joint_was_tight")]


def _nut(slack: bool) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        place.rig.engine.lines[int(part[-1]) - 1].nut_slack = slack
        noticed = [see(part, "nut_slackened" if slack else "nut_tightened")]
        if slack and place.rig.engine.running:
            noticed.append(see(part, "nut_sprays"))
            if not place.goggles_on:
                noticed.append(feel("bench", "spray_near_eyes"))
        return noticed

    return do


def _add_fuel(place: Workplace, part: str) -> list[Noticed]:
    """Pour from a can through the filler; the air it displaces leaves by the vent."""
    circuit = place.rig.circuit
    number = place.rig.topology.volume_number(part)
    space = place.rig.topology.volumes[number].volume_m3
    held = circuit.fuel_m3[number] + circuit.water_m3[number]
    poured = max(0.0, min(_CAN_M3, _BRIM * space - held))
    if poured <= 0.0:
        return [see(part, "tank_brimful")]
    place.rig.pour_in(part, poured)
    return [see(part, "fuel_added", litres=round(poured / LITRE_M3, 1))]


def _fill_from_top(place: Workplace, part: str) -> list[Noticed]:
    """Pour clean fuel through the open top vent until the separator is full."""
    rig = place.rig
    if not rig.is_open("separator.vent"):
        return [told(part, "not_possible", why="the top vent is tight, nothing goes in.")]
    number = rig.topology.volume_number("separator.bowl")
    room = max(0.0, rig.circuit.air_m3(number))
    rig.pour_in("separator.bowl", room)
    return [see(part, "filled_from_top", ml=int(room / MILLILITRE_M3 / 10.0 + 0.5) * 10)]


def _screws() -> tuple[tuple[str, Action], ...]:
    found: list[tuple[str, Action]] = []
    for part, link in SCREW_LINKS.items():
        opened = _open_and_watch(link, "screw_opened", 4.0)
        found.append(
            (part, Action("open_screw", "open the bleed screw", 15.0, opened, "spanner, rag", "fuel_opened", 4.0))
        )
        found.append(
            (part, Action("close_screw", "tighten the bleed screw", 0.0, _shut_screw, "spanner", plays_s=_TIGHTENING_S))
        )
    return tuple(found)


def _joints_and_nuts() -> tuple[tuple[str, Action], ...]:
    joints = tuple(
        (joint, Action("nip_up", "nip up the joint", 60.0, _nip_up, "two spanners", "joint")) for joint in JOINT_LINKS
    )
    nuts = [f"injector_{number}" for number in range(1, engine_figures.CYLINDERS + 1)]
    slacken = Action(
        "slacken_nut", "slacken the union nut", 45.0, _nut(True), "two spanners, goggles, rag", "high_pressure"
    )
    tighten = Action("tighten_nut", "tighten the union nut", 30.0, _nut(False), "two spanners")
    return (*joints, *((nut, slacken) for nut in nuts), *((nut, tighten) for nut in nuts))


_OPEN_DRAIN = _open_and_watch("separator.drain", "drain_opened", 10.0)
_OPEN_VENT = _open_and_watch("separator.vent", "vent_opened", 4.0)

DEEDS: tuple[tuple[str, Action], ...] = (
    ("tank", Action("add_fuel", "pour in a can of clean fuel", 240.0, _add_fuel, "can, funnel, rag", "fuelling")),
    ("shut_off", Action("open", "open the shut-off", 5.0, _switch("shut_off", 1.0, "handle_turned_open"))),
    ("shut_off", Action("shut", "shut the shut-off", 5.0, _switch("shut_off", 0.0, "handle_turned_shut"))),
    (
        "separator",
        Action("open_drain", "open the drain tap over a jar", 20.0, _OPEN_DRAIN, "jar, rag", "fuel_opened", 10.0),
    ),
    ("separator", Action("close_drain", "shut the drain tap", 5.0, _switch("separator.drain", 0.0, "drain_shut"))),
    ("separator", Action("open_vent", "slacken the top vent", 15.0, _OPEN_VENT, "spanner, rag", "fuel_opened", 4.0)),
    (
        "separator",
        Action("fill", "fill it with clean fuel at the top vent", 90.0, _fill_from_top, "jug, clean fuel, rag"),
    ),
    (
        "separator",
        Action("close_vent", "tighten the top vent", 10.0, _switch("separator.vent", 0.0, "vent_shut"), "spanner"),
    ),
    ("lift_pump", Action("lever_10", "work the hand lever, 10 strokes", 5.0, _lever(10), plays_s=10.0)),
    ("lift_pump", Action("lever_60", "work the hand lever, 60 strokes", 5.0, _lever(60), plays_s=60.0)),
    *_screws(),
    *_joints_and_nuts(),
)
"""Pairs of a part and an action that can be done at it."""
