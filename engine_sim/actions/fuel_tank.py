"""At the tank: look, gauge, dipstick and paste, cap, breather, sump, pick-up, and what a bad tank needs."""

from __future__ import annotations

import math

from engine_sim.actions.action import Action, Do, Family
from engine_sim.actions.contents import blow_into, draw_off, take_dirt
from engine_sim.actions.jar import ml
from engine_sim.actions.reading import has_grown, litres_of, read_jar
from engine_sim.actions.tank_views import THICK_KG, cap, gauge_share, is_thick, level_cm, pick_up, water_cm
from engine_sim.actions.watching import went_in
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, feel, hear, read, see, told
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue
from engine_sim.units import HOUR_S, MINUTE_S
from engine_sim.wording import GAUGE_WORDS

_CAN_M3 = SourcedValue(10.0e-3, "m3", COMMON_PRACTICE, "a small can of fuel").value
_BRIM = SourcedValue(0.95, "1", COMMON_PRACTICE, "share to which a tank is filled, the rest left for expansion").value
_CRACKED = SourcedValue(0.01, "1", FROM_MEMORY, "opening of a filler whose cap is a turn loose").value
_LISTEN_S = SourcedValue(5.0, "s", COMMON_PRACTICE, "for which one listens at the filler").value
_SAMPLE_M3 = SourcedValue(0.5e-3, "m3", COMMON_PRACTICE, "a sample from a tank's lowest point").value
_DRAWN_M3 = SourcedValue(2.0e-3, "m3", COMMON_PRACTICE, "drawn through the filler with a hand pump in one go").value
_SAMPLE_S = SourcedValue(30.0, "s", COMMON_PRACTICE, "for which the sump is held open").value
_TURNOVERS = SourcedValue(4.0, "1", COMMON_PRACTICE, "tank volumes pumped round when a tank is polished, 3 to 5").value
_HELD = SourcedValue(0.9, "1", FROM_MEMORY, "share that the polishing filters hold at each turn").value
_LOOSENED = SourcedValue(0.5, "1", FROM_MEMORY, "share of the slime that a biocide loosens").value
_HOLDS_1_PER_M3 = SourcedValue(1e10, "1/m3", FROM_MEMORY, "resistance that one feels when blowing back").value


def _look(place: Workplace, part: str) -> list[Noticed]:
    found = [see(part, "tank_wet" if place.is_wet(part) else "tank_outside")]
    if cap(place, part) != "on":
        found.append(see(part, f"cap_{cap(place, part)}"))
    return found


def _read_gauge(place: Workplace, part: str) -> list[Noticed]:
    return [read(part, "gauge_reads", reading=GAUGE_WORDS[round(gauge_share(place, part) * (len(GAUGE_WORDS) - 1))])]


def _tap_gauge(place: Workplace, part: str) -> list[Noticed]:
    stuck = part in place.rig.gauge_stuck_at
    return [see(part, "gauge_dead" if stuck else "gauge_quivers"), *_read_gauge(place, part)]


def _dip(place: Workplace, part: str) -> list[Noticed]:
    figures = place.rig.layout.figures[part]
    pick_up_cm = round((figures["pick_up_clearance_m"] + figures["pick_up_opening_m"]) * 100.0, 1)
    found = [read(part, "dip_fuel", cm=level_cm(place, part), pick_up=pick_up_cm)]
    if not is_thick(place, part):
        return found
    return [*found, see(part, "dip_slime" if has_grown(place) else "dip_grit")]


def _dip_with_paste(place: Workplace, part: str) -> list[Noticed]:
    water = water_cm(place, part)
    found = read(part, "paste_water", cm=water) if water > 0.0 else see(part, "paste_dry")
    return [*_dip(place, part), found]


def _loosen(opening: float, key: str) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        place.rig.set_open(f"{part}.filler", opening)
        before = place.rig.passed(f"{part}.filler")
        place.wait(_LISTEN_S)
        hiss = went_in(before, place.rig.passed(f"{part}.filler"))
        return [see(part, key), hear(part, "cap_hisses" if hiss else "cap_silent")]

    return do


def _close_cap(place: Workplace, part: str) -> list[Noticed]:
    place.rig.set_open(f"{part}.filler", 0.0)
    return [see(part, "cap_closed")]


def _clear_breather(place: Workplace, part: str) -> list[Noticed]:
    link = f"{part}.vent"
    number = place.rig.topology.link_number(link)
    was_blocked = place.rig.circuit.opening[number] < 0.5 or place.rig.circuit.extra_laminar_1_per_m3[number] > 0.0
    place.rig.set_open(link, 1.0)
    place.rig.restrict(link, 0.0)
    place.wait(_LISTEN_S)
    return [feel(part, "breather_cleared" if was_blocked else "breather_free")]


def _add_fuel(place: Workplace, part: str) -> list[Noticed]:
    """Pour a fresh can in through the filler; the cap comes off for it, and goes back as it was."""
    rig, link = place.rig, f"{part}.filler"
    was = rig.circuit.opening[rig.topology.link_number(link)]
    rig.set_open(link, 1.0)
    before = rig.passed(link)
    place.wait(_LISTEN_S)
    noticed = [see(part, "cap_off_for_it")] if was < 1.0 else []
    if went_in(before, rig.passed(link)):
        noticed.append(hear(part, "cap_hisses"))
    noticed += pour_from_stores(place, part, min(_CAN_M3, _room_m3(place, part)), "fuel_added")
    rig.set_open(link, was)
    is_full = noticed[-1].key == "fuel_added" and litres_of(_room_m3(place, part)) <= 0.0
    return [*noticed, see(part, "tank_brimful")] if is_full else noticed


def _room_m3(place: Workplace, tank: str) -> float:
    """Return how much more a tank takes [m3]."""
    circuit, number = place.rig.circuit, place.rig.topology.volume_number(tank)
    held_m3 = circuit.fuel_m3[number] + circuit.water_m3[number]
    return _BRIM * place.rig.topology.volumes[number].volume_m3 - held_m3


def pour_from_stores(place: Workplace, vessel: str, wanted_m3: float, key: str) -> list[Noticed]:
    """Pour so much clean fuel [m3], as far as there is any, into an open vessel; ``key`` names what is said of it."""
    if litres_of(wanted_m3) <= 0.0:
        return [see(vessel, "tank_brimful")]
    poured_m3 = place.stores.take_clean_fuel(wanted_m3)
    if litres_of(poured_m3) <= 0.0:
        return [told(vessel, "none_left", thing="clean fuel")]
    place.rig.pour_in(vessel, poured_m3)
    return [see(vessel, key, litres=litres_of(poured_m3), left=litres_of(place.stores.clean_fuel_m3))]


def _sample_sump(place: Workplace, part: str) -> list[Noticed]:
    """Hold the jar under the sump drain until it is half full or nothing more comes."""
    rig, link = place.rig, f"{part}.sump"
    before = place.jar.sample(rig).liquid_m3
    place.jar.put_under(rig, link)
    rig.set_open(link, 1.0)
    for _ in range(int(_SAMPLE_S)):
        place.wait(1.0)
        if place.jar.sample(rig).liquid_m3 - before >= _SAMPLE_M3:
            break
    rig.set_open(link, 0.0)
    place.jar.take_away(rig, link)
    came = place.jar.sample(rig).liquid_m3 - before
    if ml(came) <= 0:
        return [see(part, "sump_nothing")]
    return [see(part, "sump_runs", ml=ml(came)), *read_jar(place, part)]


def _draw_bottom(place: Workplace, part: str) -> list[Noticed]:
    """Draw from the lowest point with a hand pump and a stiff tube through the filler."""
    sample = draw_off(place.rig, part, _DRAWN_M3)
    place.stores.waste_m3 += sample.liquid_m3
    if ml(sample.liquid_m3) <= 0:
        return [see(part, "bottom_nothing")]
    return [see(part, "bottom_drawn", water=ml(sample.water_m3), fuel=ml(sample.fuel_m3))]


def _wipe_out(place: Workplace, part: str) -> list[Noticed]:
    rig = place.rig
    number = rig.topology.volume_number(part)
    sample = draw_off(rig, part, rig.topology.volumes[number].volume_m3)
    dirt_kg = take_dirt(rig, part)
    rig.take_out(part)
    place.stores.waste_m3 += sample.liquid_m3
    dirty = sample.dirt_kg + dirt_kg > THICK_KG
    if litres_of(sample.liquid_m3) <= 0.0 and not dirty:
        return [see(part, "tank_wiped_empty")]
    dirt = "tank_wiped_slime" if has_grown(place) else "tank_wiped_grit"
    return [see(part, dirt if dirty else "tank_wiped", litres=litres_of(sample.liquid_m3))]


def _polish(place: Workplace, part: str) -> list[Noticed]:
    """Pump the fuel round through two filters: what floats in it is held back, what lies on the floor stays."""
    circuit, number = place.rig.circuit, place.rig.topology.volume_number(part)
    left = math.exp(-_HELD * _TURNOVERS)
    dirt_kg, haze_m3 = circuit.dirt_kg[number] * (1.0 - left), circuit.haze_m3[number] * (1.0 - left)
    circuit.dirt_kg[number] -= dirt_kg
    circuit.haze_m3[number] -= haze_m3
    circuit.water_m3[number] -= haze_m3
    circuit.air_kg[number] += haze_m3 * circuit.pressure_pa[number] / circuit.fluids.gas_factor_j_per_kg
    place.rig.taken_dirt_kg += dirt_kg
    place.rig.taken_water_m3 += haze_m3
    place.rig.taken_air_kg -= haze_m3 * circuit.pressure_pa[number] / circuit.fluids.gas_factor_j_per_kg
    return [see(part, "polished")]


def _dose(place: Workplace, part: str) -> list[Noticed]:
    circuit, number = place.rig.circuit, place.rig.topology.volume_number(part)
    loose_kg = circuit.sludge_kg[number] * _LOOSENED
    circuit.sludge_kg[number] -= loose_kg
    circuit.dirt_kg[number] += loose_kg
    return [see(part, "dosed")]


def _blow_back(place: Workplace, part: str) -> list[Noticed]:
    """Blow gently from the first hose back through the pick-up into the tank."""
    rig, (hose, link) = place.rig, pick_up(place, part)
    held = rig.circuit.extra_laminar_1_per_m3[rig.topology.link_number(link)] > _HOLDS_1_PER_M3
    rig.restrict(link, 0.0)
    blow_into(rig, hose, part)
    return [feel(part, "blown_free" if held else "blown_easily")]


def _has_sump(place: Workplace, part: str) -> bool:
    return place.has_link(f"{part}.sump")


def _has_pick_up(place: Workplace, part: str) -> bool:
    return bool(pick_up(place, part)[0])


def _cap_is_off(place: Workplace, part: str) -> str:
    return "" if cap(place, part) == "off" else "the filler cap is on."


def _cap_is_not_on(place: Workplace, part: str) -> str:
    return "the filler cap is on already." if cap(place, part) == "on" else ""


_LOOKS = (
    Action("look", "look at the tank", 20.0, _look),
    Action("read_gauge", "read the fuel gauge", 5.0, _read_gauge),
    Action("tap_gauge", "tap the gauge and watch its needle", 5.0, _tap_gauge),
    Action("dip", "dip the tank", 90.0, _dip, "dipstick, rag"),
    Action(
        "dip_paste",
        "dip with water-finding paste on the dipstick",
        120.0,
        _dip_with_paste,
        "dipstick, water-finding paste, rag",
        uses=("water-finding paste",),
    ),
)
_CAP = (
    Action(
        "crack_cap",
        "loosen the filler cap a turn and listen",
        10.0,
        _loosen(_CRACKED, "cap_cracked"),
        "",
        "filler",
        5.0,
    ),
    Action("open_cap", "take the filler cap off", 10.0, _loosen(1.0, "cap_off"), "", "filler", _LISTEN_S),
    Action("close_cap", "screw the filler cap on", 10.0, _close_cap, ready=_cap_is_not_on),
    Action("clear_breather", "clear the breather from its outlet", 295.0, _clear_breather, "wire, rag", "", _LISTEN_S),
)
_FUEL = (
    Action("add_fuel", "pour in a can of clean fuel", 235.0, _add_fuel, "can, funnel, rag", "fuelling", _LISTEN_S),
    Action(
        "sample_sump",
        "draw a sample from the sump into the jar",
        60.0,
        _sample_sump,
        "jar, rag",
        "fuel_opened",
        _SAMPLE_S,
        only=_has_sump,
    ),
    Action(
        "draw_bottom",
        "draw two litres from the lowest point through the filler",
        10.0 * MINUTE_S,
        _draw_bottom,
        "hand pump, stiff tube, can for waste",
        "waste",
        ready=_cap_is_off,
    ),
    Action(
        "blow_back",
        "blow back through the pick-up tube, gently",
        10.0 * MINUTE_S,
        _blow_back,
        "clean hose, dinghy pump, rag",
        "fuel_opened",
        only=_has_pick_up,
    ),
    Action("polish", "pump the fuel round through filters", 3.0 * HOUR_S, _polish, "pump, separator, filters", "waste"),
    Action("dose", "put in biocide", 5.0 * MINUTE_S, _dose, "gloves, goggles", "biocide", uses=("dose of biocide",)),
    Action(
        "wipe_out",
        "empty it, open it and wipe it out",
        4.0 * HOUR_S,
        _wipe_out,
        "pump, cans for waste, rags, new gasket",
        "waste",
        uses=("absorbent sheet", "absorbent sheet"),
    ),
)

FAMILIES = (Family(("tank",), (*_LOOKS, *_CAP, *_FUEL)),)
