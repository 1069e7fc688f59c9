"""At the return line: its looks, and where it runs: back to the tank, into the jar, into the can."""

from __future__ import annotations

from engine_sim.actions.action import Action, Do, Family, Only, Ready
from engine_sim.actions.contents import volumes_of
from engine_sim.actions.joints import links_along
from engine_sim.actions.parts import INJECTION_PUMPS
from engine_sim.actions.reading import read_jar
from engine_sim.actions.watching import ways_back
from engine_sim.actions.workplace import Workplace
from engine_sim.fluids.formulas import bore_area_m2
from engine_sim.observations import Noticed, feel, see
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

_SWOLLEN_PA = SourcedValue(30e3, "Pa", FROM_MEMORY, "pressure from which a hand feels a leak-off hose hard").value
_HELD_1_PER_M3 = SourcedValue(1e10, "1/m3", FROM_MEMORY, "resistance that one feels when blowing through").value
_BLOCKED_FROM = SourcedValue(0.5, "1", FROM_MEMORY, "opening below which a way counts as blocked").value
JAR, CAN, TANK, NOWHERE = "jar", "can", "tank", "nowhere"


def leads_to(place: Workplace, part: str) -> str:
    """Return where a return line runs: ``tank``, ``can``, ``jar``, or ``nowhere`` when its end lies open."""
    rig = place.rig
    for link in ways_back(place, part):
        if rig.is_open(link):
            number = rig.topology.link_number(link)
            into = rig.topology.volumes[rig.topology.end_b[number]].part
            return CAN if rig.layout.kinds[into] == "fuel_can" else TANK
    return JAR if place.jar.is_under(f"{part}.joint") else NOWHERE


def _way_to(place: Workplace, part: str, where: str) -> str:
    """Return the link by which a return line runs into tank or can, or an empty text."""
    topology, kinds = place.rig.topology, place.rig.layout.kinds
    for link in ways_back(place, part):
        into = topology.volumes[topology.end_b[topology.link_number(link)]].part
        if (kinds[into] == "fuel_can") == (where == CAN):
            return link
    return ""


def _look(place: Workplace, part: str) -> list[Noticed]:
    where = leads_to(place, part)
    if place.is_wet(part):
        found = [see(part, "return_wet")]
    elif where == TANK:
        found = [see(part, "return_dry")]
    else:
        found = [see(part, "return_is_dry")]
    if where != TANK:
        found.append(see(part, f"return_to_{where}"))
    if _is_swollen(place, part):
        found.append(feel(part, "return_swollen"))
    return found


def _is_swollen(place: Workplace, part: str) -> bool:
    """Tell whether the leak-off end of the line, or the pump's case behind it, stands under pressure."""
    rig = place.rig
    limit_pa = rig.circuit.fluids.ambient_pa + _SWOLLEN_PA
    cases = [f"{pump.id}.case" for pump in place.of_kind(*INJECTION_PUMPS)]
    spaces = (volumes_of(rig, part)[0], *(case for case in cases if case in rig.topology.index))
    return any(rig.pressure_pa(space) > limit_pa for space in spaces)


def _lead(where: str, key: str) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        rig, end = place.rig, f"{part}.joint"
        place.jar.take_away(rig, end)
        for link in ways_back(place, part):
            rig.set_open(link, 0.0)
        if where == JAR:
            figures = rig.layout.figures[part]
            place.jar.put_under(rig, end)
            rig.set_open(end, bore_area_m2(figures["bore_m"]) / figures["joint_gap_m2"])
        else:
            rig.set_open(end, 0.0)
            rig.set_open(_way_to(place, part, where), 1.0)
        return [see(part, key)]

    return do


def _read_jar(place: Workplace, part: str) -> list[Noticed]:
    return read_jar(place, part)


def _blow_through(place: Workplace, part: str) -> list[Noticed]:
    """Blow from its end back towards the pump, then clear whatever holds."""
    rig, held = place.rig, False
    way = _way_to(place, part, TANK)
    overflow = [f"{pump.id}.overflow" for pump in place.of_kind(*INJECTION_PUMPS)]
    for link in sorted({way, *links_along(place, part), *(one for one in overflow if place.has_link(one))}):
        number = rig.topology.link_number(link)
        held = held or rig.circuit.extra_laminar_1_per_m3[number] > _HELD_1_PER_M3
        rig.restrict(link, 0.0)
        if link in overflow or (link == way and leads_to(place, part) in (TANK, NOWHERE)):
            held = held or rig.circuit.opening[number] < _BLOCKED_FROM
            rig.set_open(link, 1.0)
    return [feel(part, "return_cleared" if held else "return_free")]


def _not_there(where: str) -> Ready:
    def ready(place: Workplace, part: str) -> str:
        return "it leads there already." if leads_to(place, part) == where else ""

    return ready


def _has_way_to(where: str) -> Only:
    def only(place: Workplace, part: str) -> bool:
        return bool(_way_to(place, part, where))

    return only


FAMILIES = (
    Family(
        ("return_line",),
        (
            Action("look", "look along the line and feel it", 20.0, _look, "torch"),
            Action(
                "to_jar",
                "lead its end into the jar",
                60.0,
                _lead(JAR, "return_led_to_jar"),
                "jar, spanner, rag",
                "waste",
                ready=_not_there(JAR),
            ),
            Action(
                "to_can",
                "lead its end into the fuel can",
                90.0,
                _lead(CAN, "return_led_to_can"),
                "clean hose, clip",
                "can",
                ready=_not_there(CAN),
                only=_has_way_to(CAN),
            ),
            Action(
                "to_tank",
                "lead its end back to the tank",
                90.0,
                _lead(TANK, "return_led_to_tank"),
                "spanner, washer",
                "joint",
                ready=_not_there(TANK),
                only=_has_way_to(TANK),
            ),
            Action("read_jar", "hold the jar to the light", 30.0, _read_jar, "jar", "waste"),
            Action(
                "blow_through",
                "blow through it and clear it",
                10.0 * MINUTE_S,
                _blow_through,
                "dinghy pump, rag, tray",
                "fuel_opened",
            ),
        ),
    ),
)
