"""The fuel can: filled, lashed, its cap cracked or sealed, its hose led to the lift pump and back."""

from __future__ import annotations

from engine_sim.actions.action import Action, Do, Family
from engine_sim.actions.fuel_tank import pour_from_stores
from engine_sim.actions.parts import LIFT_PUMPS
from engine_sim.actions.watching import went_in
from engine_sim.actions.workplace import Workplace
from engine_sim.circuit.topology import OPEN_AIR
from engine_sim.fluids.formulas import bore_area_m2
from engine_sim.observations import Noticed, feel, hear, read, see
from engine_sim.sources import COMMON_PRACTICE, SourcedValue
from engine_sim.units import LITRE_M3, MINUTE_S

_BRIM = SourcedValue(0.95, "1", COMMON_PRACTICE, "share to which a can is filled").value
_LISTEN_S = SourcedValue(3.0, "s", COMMON_PRACTICE, "for which one listens at a cap").value
_LITRE_STEPS = 2.0
_HOSE = "hose"


def in_use(place: Workplace, can: str) -> bool:
    """Tell whether the can's hose is led to the lift pump."""
    link = way_to_pump(place, can)
    return bool(link) and place.rig.is_open(link)


def way_to_pump(place: Workplace, can: str) -> str:
    """Return the join between the can's own hose and the lift pump, or an empty text."""
    own = _hose_of(place, can)
    return _between(place, own, place.first(*LIFT_PUMPS)) if own else ""


def _hose_of(place: Workplace, can: str) -> str:
    """Return the hose that draws from a can."""
    rig = place.rig
    inside = rig.topology.volume_number(can)
    mouth = rig.layout.blueprint.ports.get(f"{can}.pick_up")
    for number, link in enumerate(rig.topology.links):
        ends = rig.topology.end_a[number], rig.topology.end_b[number]
        if inside in ends and OPEN_AIR not in ends and mouth in (link.a, link.b):
            return rig.topology.volumes[ends[1] if ends[0] == inside else ends[0]].part
    return ""


def _between(place: Workplace, hose: str, pump: str) -> str:
    """Return the link between a hose and a pump's inlet, or an empty text."""
    topology = place.rig.topology
    for number, link in enumerate(topology.links):
        if topology.end_b[number] == OPEN_AIR:
            continue
        ends = {topology.volumes[topology.end_a[number]], topology.volumes[topology.end_b[number]]}
        if {volume.part for volume in ends} == {hose, pump} and f"{pump}.inlet" in {volume.id for volume in ends}:
            return link.id
    return ""


def _hose_before_pump(place: Workplace) -> tuple[str, str]:
    """Return the boat's own hose at the lift pump's inlet, and the join between them."""
    pump = place.first(*LIFT_PUMPS)
    layout = place.rig.layout
    cans = [_hose_of(place, can.id) for can in place.of_kind("fuel_can")]
    for name in layout.parts_of(_HOSE):
        link = _between(place, name, pump)
        if link and name not in cans:
            return name, link
    return "", ""


def _look(place: Workplace, part: str) -> list[Noticed]:
    rig = place.rig
    fuel, water, _ = rig.shares(part)
    held = (fuel + water) * rig.topology.volumes[rig.topology.volume_number(part)].volume_m3 / LITRE_M3
    litres = int(held * _LITRE_STEPS + 0.5) / _LITRE_STEPS
    found = [read(part, "can_level", litres=litres) if litres > 0.0 else see(part, "can_empty")]
    found.append(see(part, "can_in_use" if in_use(place, part) else "can_not_in_use"))
    found.append(see(part, "can_lashed" if place.can_lashed else "can_loose"))
    return [*found, see(part, "can_cap_open" if rig.is_open(f"{part}.cap") else "can_cap_shut")]


def _fill(place: Workplace, part: str) -> list[Noticed]:
    rig = place.rig
    number = rig.topology.volume_number(part)
    held = rig.circuit.fuel_m3[number] + rig.circuit.water_m3[number]
    return pour_from_stores(place, part, _BRIM * rig.topology.volumes[number].volume_m3 - held, "can_filled")


def _lash(lashed: bool) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        place.can_lashed = lashed
        return [see(part, "can_lashed" if lashed else "can_unlashed")]

    return do


def _cap(opening: float, key: str) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        link = f"{part}.cap"
        place.rig.set_open(link, opening)
        before = place.rig.passed(link)
        place.wait(_LISTEN_S)
        hiss = [hear(part, "cap_hisses")] if went_in(before, place.rig.passed(link)) else []
        return [see(part, key), *hiss]

    return do


def _lead_to_pump(place: Workplace, part: str) -> list[Noticed]:
    """Take the boat's hose off at the lift pump, whose end then lies open, and put the can's hose on."""
    rig, (hose, join) = place.rig, _hose_before_pump(place)
    figures = rig.layout.figures[hose]
    rig.set_open(join, 0.0)
    rig.set_open(f"{hose}.joint", bore_area_m2(figures["bore_m"]) / figures["joint_gap_m2"])
    rig.set_open(way_to_pump(place, part), 1.0)
    return [feel(part, "can_led_to_pump")]


def _lead_back(place: Workplace, part: str) -> list[Noticed]:
    rig, (hose, join) = place.rig, _hose_before_pump(place)
    rig.set_open(way_to_pump(place, part), 0.0)
    rig.set_open(f"{hose}.joint", 0.0)
    rig.set_open(join, 1.0)
    return [feel(part, "can_led_away")]


def can_be_led(place: Workplace, part: str) -> bool:
    """Tell whether the layout has a hose from the can to the lift pump."""
    return bool(way_to_pump(place, part)) and bool(_hose_before_pump(place)[0])


def _not_in_use(place: Workplace, part: str) -> str:
    if place.rig.engine.running:
        return "the engine runs."
    return "its hose is at the lift pump already." if in_use(place, part) else ""


def _in_use_and_stopped(place: Workplace, part: str) -> str:
    if place.rig.engine.running:
        return "the engine runs."
    return "" if in_use(place, part) else "its hose is not at the lift pump."


FAMILIES = (
    Family(
        ("fuel_can",),
        (
            Action("look", "look at the can and its level", 10.0, _look),
            Action("fill", "fill it with clean fuel", 3.0 * MINUTE_S, _fill, "clean fuel, funnel, rag", "fuelling"),
            Action("lash", "lash it upright in a tray near the pump", 3.0 * MINUTE_S, _lash(True), "line, tray", "can"),
            Action("unlash", "take the lashing off", 60.0, _lash(False)),
            Action(
                "crack_cap",
                "crack its cap so that air gets in",
                5.0,
                _cap(1.0, "can_cap_cracked"),
                "",
                "can",
                _LISTEN_S,
            ),
            Action("seal_cap", "screw its cap tight", 5.0, _cap(0.0, "can_cap_sealed"), "", "", _LISTEN_S),
            Action(
                "to_pump",
                "put its hose to the lift pump, in place of the boat's",
                5.0 * MINUTE_S,
                _lead_to_pump,
                "clean hose, clip, spanner, tray, rag",
                "fuel_opened",
                uses=("hose clip",),
                ready=_not_in_use,
                only=can_be_led,
            ),
            Action(
                "from_pump",
                "take its hose off and put the boat's back",
                5.0 * MINUTE_S,
                _lead_back,
                "spanner, washer, tray, rag",
                "fuel_opened",
                uses=("washer",),
                ready=_in_use_and_stopped,
                only=can_be_led,
            ),
        ),
    ),
)
