"""What shows at open screws, nuts, drain and vent over a stretch of time, and how the lever feels."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from engine_sim.actions.workplace import SCREW_LINKS, LinkSum, Workplace, difference
from engine_sim.observations import Noticed, feel, hear, see
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MILLILITRE_M3

WATCHED = (
    "fine_filter.screw",
    "injection_pump.screw",
    "separator.vent",
    "separator.drain",
    "lift_pump",
    "return_line.2>tank",
)
"""Links whose passage is read before and after a stretch of time."""

_FROTH_FROM = SourcedValue(0.03, "1", FROM_MEMORY, "share of air from which a jet of fuel is seen to froth").value
_AIR_FROM = SourcedValue(0.9, "1", FROM_MEMORY, "share of air from which hardly any fuel is seen").value
_BEADS_FROM = SourcedValue(0.05, "1", FROM_MEMORY, "share of water that shows as beads").value
_SHOWS_M3 = SourcedValue(0.3e-6, "m3", FROM_MEMORY, "a few drops: the least that is seen to come out").value
_WEAK_M3_PER_S = SourcedValue(0.4e-6, "m3/s", FROM_MEMORY, "flow at a screw that a hand calls weak").value
_HISS_M3 = SourcedValue(2e-6, "m3", FROM_MEMORY, "air that is heard to go in").value
_LIGHT_SHARE = SourcedValue(0.15, "1", FROM_MEMORY, "share of a stroke below which hardly anything moves").value
_HARD_PA = SourcedValue(20e3, "Pa", FROM_MEMORY, "suction from which the lever pulls hard").value
_STIFF_PA = SourcedValue(15e3, "Pa", FROM_MEMORY, "suction from which the lever feels stiff").value
_SPONGY_SHARE = SourcedValue(0.1, "1", FROM_MEMORY, "share of air in the pump from which the lever feels spongy").value
_PUMPS_AIR_SHARE = SourcedValue(0.8, "1", FROM_MEMORY, "share of air in the pump from which it has no pull").value

_JAR_STEP_ML = 5

Reading = Mapping[str, LinkSum]


def reading(place: Workplace) -> Reading:
    """Return what has passed each watched link so far."""
    return {link: place.rig.passed(link) for link in WATCHED}


def openings(place: Workplace, before: Reading, middle: Reading, duration_s: float) -> Iterator[Noticed]:
    """Yield what came out of, or went into, everything open: ``middle`` divides the early part from the last."""
    after = reading(place)
    for part, link in SCREW_LINKS.items():
        if place.rig.is_open(link):
            early, late = difference(before[link], middle[link]), difference(middle[link], after[link])
            yield _at_screw(part, early, late, duration_s)
    vent = difference(before["separator.vent"], after["separator.vent"])
    if vent[2] < -_HISS_M3:
        yield hear("separator", "vent_hiss")
    elif vent[0] + vent[1] > _SHOWS_M3:
        yield see("separator", "vent_spits")
    if place.rig.is_open("separator.drain"):
        late = difference(middle["separator.drain"], after["separator.drain"])
        yield _at_drain(difference(before["separator.drain"], after["separator.drain"]), late)


def _at_drain(passed: LinkSum, late: LinkSum) -> Noticed:
    out = passed[0] + passed[1]
    if out > _SHOWS_M3:
        key = "drain_runs_water" if late[1] > late[0] else "drain_runs_fuel"
        return see("separator", key, ml=max(1, int(out / MILLILITRE_M3 / _JAR_STEP_ML + 0.5)) * _JAR_STEP_ML)
    return hear("separator", "drain_draws") if passed[2] < -_HISS_M3 else see("separator", "drain_dry")


def _at_screw(part: str, early: LinkSum, late: LinkSum, seconds: float) -> Noticed:
    liquid, air = early[0] + early[1] + late[0] + late[1], early[2] + late[2]
    if liquid < _SHOWS_M3 and air < _SHOWS_M3:
        return see(part, "screw_draws" if air < -_SHOWS_M3 else "screw_nothing")
    if early[1] + late[1] > _BEADS_FROM * liquid:
        return see(part, "screw_water")
    if air > _AIR_FROM * (liquid + air):
        return hear(part, "screw_air")
    late_liquid = late[0] + late[1]
    if late[2] > _FROTH_FROM * (late_liquid + late[2]):
        return see(part, "screw_froth")
    if early[2] > _FROTH_FROM * (early[0] + early[1] + early[2]):
        return see(part, "screw_clears")
    return see(part, "screw_weak" if liquid < _WEAK_M3_PER_S * seconds else "screw_solid")


def lever_feel(place: Workplace, before: Reading, strokes: int) -> Iterator[Noticed]:
    """Yield how the lever felt over so many strokes, and whether fuel was heard to run back to the tank."""
    rig = place.rig
    after = reading(place)
    fuel, water, air = difference(before["lift_pump"], after["lift_pump"])
    pump = rig.topology.links[rig.topology.link_number("lift_pump")]
    share = (fuel + water + air) / (strokes * pump.numbers["stroke_m3"] * pump.numbers["stroke_efficiency"])
    at_inlet, _ = rig.circuit.link_pressures_pa(rig.topology.link_number("lift_pump"))
    suction = rig.circuit.fluids.ambient_pa - at_inlet
    air_share = air / (fuel + water + air) if share > 0.0 else 0.0
    yield feel("lift_pump", _lever_key(share, suction, air_share))
    returned = difference(before["return_line.2>tank"], after["return_line.2>tank"])
    if returned[0] > _WEAK_M3_PER_S * strokes:
        yield hear("return_line", "return_runs")


def _lever_key(share: float, suction_pa: float, air_share: float) -> str:
    if share < _LIGHT_SHARE:
        return "lever_hard" if suction_pa > _HARD_PA else "lever_light"
    if air_share > _PUMPS_AIR_SHARE:
        return "lever_air"
    if air_share > _SPONGY_SHARE:
        return "lever_spongy"
    return "lever_stiff" if suction_pa > _STIFF_PA else "lever_steady"
