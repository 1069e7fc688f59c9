"""What shows at open screws, taps, vents and caps over a stretch of time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from engine_sim.actions.jar import ml
from engine_sim.actions.parts import INJECTION_PUMPS, LIFT_PUMPS, TANKS
from engine_sim.actions.workplace import LinkSum, Workplace, difference, mouths
from engine_sim.observations import Noticed, hear, see
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.wording import SCREW_WORDS

_FROTH_FROM = SourcedValue(0.03, "1", FROM_MEMORY, "share of air from which a jet of fuel is seen to froth").value
_AIR_FROM = SourcedValue(0.9, "1", FROM_MEMORY, "share of air from which hardly any fuel is seen").value
_BEADS_FROM = SourcedValue(0.05, "1", FROM_MEMORY, "share of water that shows as beads").value
_SHOWS_M3 = SourcedValue(0.3e-6, "m3", FROM_MEMORY, "a few drops: the least that is seen to come out").value
WEAK_M3_PER_S = SourcedValue(0.4e-6, "m3/s", FROM_MEMORY, "flow at a screw that a hand calls weak").value
_DROP_M3 = SourcedValue(0.02e-6, "m3", FROM_MEMORY, "less than a drop: nothing is seen to come").value
_HISS_M3 = SourcedValue(2e-6, "m3", FROM_MEMORY, "air that is heard to go in").value
_HISS_M3_PER_S = SourcedValue(2e-7, "m3/s", FROM_MEMORY, "air that is heard to go in, close by").value
_JAR_STEP_ML = 5
_FILTERS = ("separator", "fine_filter")
_RING_HISS = {"separator": "rim_hiss", "fine_filter": "ring_hiss"}
_RING_WET = {"separator": "rim_wet", "fine_filter": "ring_wet"}

Reading = Mapping[str, LinkSum]
_NOTHING: LinkSum = (0.0, 0.0, 0.0)


def watched(place: Workplace) -> Iterator[str]:
    """Yield the links whose passage is read before and after a stretch of time."""
    for part in place.of_kind("fine_filter", *INJECTION_PUMPS):
        yield from place.screws(part.id)
    for part in place.of_kind("separator"):
        yield from (f"{part.id}.vent", f"{part.id}.drain")
    for part in place.of_kind(*_FILTERS):
        yield from (f"{part.id}.ring", *mouths(part.id))
    for part in place.of_kind(*TANKS):
        yield from (f"{part.id}.{name}" for name in ("filler", "cap") if place.has_link(f"{part.id}.{name}"))
    yield from (part.id for part in place.of_kind(*LIFT_PUMPS))
    for part in place.of_kind("return_line"):
        yield from ways_back(place, part.id)


def ways_back(place: Workplace, return_line: str) -> tuple[str, ...]:
    """Return the links by which a return line can run into tank or can."""
    topology = place.rig.topology
    vessels = {part.component for part in place.of_kind(*TANKS)}
    return tuple(
        link.id
        for number, link in enumerate(topology.links)
        if link.b is not None
        and topology.volumes[topology.end_a[number]].part == return_line
        and topology.volumes[topology.end_b[number]].part in vessels
    )


def reading(place: Workplace) -> Reading:
    """Return what has passed each watched link so far."""
    return {link: place.rig.passed(link) for link in watched(place)}


def passed_between(before: Reading, after: Reading, link: str) -> LinkSum:
    """Return what passed a link between two readings."""
    return difference(before.get(link, _NOTHING), after.get(link, _NOTHING))


def went_in(before: LinkSum, after: LinkSum) -> bool:
    """Tell whether air was heard to go in between two readings of an opening to the air."""
    return difference(before, after)[2] < -_HISS_M3


def watch(place: Workplace, duration_s: float) -> list[Noticed]:
    """Let time pass [s] and return what shows at everything open."""
    before = reading(place)
    place.wait(duration_s / 2.0)
    middle = reading(place)
    place.wait(duration_s / 2.0)
    return list(openings(place, before, middle, duration_s))


def openings(place: Workplace, before: Reading, middle: Reading, duration_s: float) -> Iterator[Noticed]:
    """Yield what came out of, or went into, everything open: ``middle`` divides the early part from the last."""
    after = reading(place)
    for part in place.of_kind("fine_filter", *INJECTION_PUMPS):
        for link in place.screws(part.id):
            if place.stands_open(link):
                early, late = passed_between(before, middle, link), passed_between(middle, after, link)
                yield _at_screw(part.id, SCREW_WORDS[link.rpartition(".")[2]], early, late, duration_s)
    for part in place.of_kind("separator"):
        yield from _at_separator(place, part.id, (before, middle, after))
    for part in place.of_kind(*_FILTERS):
        if place.is_off(part.id):
            yield _at_open_head(part.id, before, after)
        elif went_in(before[f"{part.id}.ring"], after[f"{part.id}.ring"]):
            yield hear(part.id, _RING_HISS[part.kind])
    for part in place.of_kind(*TANKS):
        yield from _at_caps(place, part.id, before, after)


def _at_separator(place: Workplace, part: str, readings: tuple[Reading, Reading, Reading]) -> Iterator[Noticed]:
    before, middle, after = readings
    vent = passed_between(before, after, f"{part}.vent")
    if vent[2] < -_HISS_M3:
        yield hear(part, "vent_hiss")
    elif vent[0] + vent[1] > _SHOWS_M3:
        yield see(part, "vent_spits")
    drain = f"{part}.drain"
    if place.stands_open(drain) and not place.is_off(part):
        yield _at_drain(part, passed_between(before, after, drain), passed_between(middle, after, drain))


def _at_open_head(part: str, before: Reading, after: Reading) -> Noticed:
    """Return what is seen where bowl or can is off, both sides of the element taken together."""
    sums = [passed_between(before, after, link) for link in mouths(part)]
    liquid = sum(fuel + water for fuel, water, _ in sums)
    if liquid > _SHOWS_M3:
        foams = froths(liquid, max(air for _, _, air in sums))
        return see(part, "head_froths" if foams else "head_pours")
    return see(part, "head_draws" if min(air for _, _, air in sums) < -_HISS_M3 else "head_nothing")


def ring_signs(place: Workplace, part: str) -> list[Noticed]:
    """Return what shows now at a filter's ring, or at the rim of a bowl: wet under pressure, a hiss under suction."""
    link, kind = f"{part}.ring", place.part(part).kind
    found = [see(part, _RING_WET[kind])] if link in place.rig.wet else []
    draws = flow_m3_per_s(place, link) < -_HISS_M3_PER_S
    return [*found, hear(part, _RING_HISS[kind])] if draws else found


def flow_m3_per_s(place: Workplace, link: str) -> float:
    """Return what passes a link now [m3/s], into the circuit below zero for an opening to the air."""
    return place.rig.circuit.flow_m3_per_s[place.rig.topology.link_number(link)]


def froths(liquid_m3: float, air_m3: float) -> bool:
    """Tell whether a jet of so much fuel and air is seen to froth."""
    return air_m3 > _FROTH_FROM * (liquid_m3 + air_m3)


def comes_at(passed: LinkSum) -> str:
    """Return what is seen to come at an opening by what passed it: fuel, froth, air, water or nothing."""
    liquid, air = passed[0] + passed[1], max(0.0, passed[2])
    if liquid < _DROP_M3 and air < _DROP_M3:
        return "nothing"
    if runs_in_beads(liquid, passed[1]):
        return "water"
    if air > _AIR_FROM * (liquid + air):
        return "air"
    return "froth" if froths(liquid, air) else "fuel"


def _at_caps(place: Workplace, part: str, before: Reading, after: Reading) -> Iterator[Noticed]:
    for name in ("filler", "cap"):
        link = f"{part}.{name}"
        if place.has_link(link) and went_in(before[link], after[link]):
            yield hear(part, "cap_hisses")
            return


def _at_drain(part: str, passed: LinkSum, late: LinkSum) -> Noticed:
    out = passed[0] + passed[1]
    if out > _SHOWS_M3:
        key = "drain_runs_water" if late[1] > late[0] else "drain_runs_fuel"
        return see(part, key, ml=max(_JAR_STEP_ML, ml(out, _JAR_STEP_ML)))
    return hear(part, "drain_draws") if passed[2] < -_HISS_M3 else see(part, "drain_dry")


def runs_in_beads(liquid_m3: float, water_m3: float) -> bool:
    """Tell whether what comes from a screw shows its water."""
    return water_m3 > _BEADS_FROM * liquid_m3


def _at_screw(part: str, screw: str, early: LinkSum, late: LinkSum, seconds: float) -> Noticed:
    liquid, air = early[0] + early[1] + late[0] + late[1], early[2] + late[2]
    if liquid < _SHOWS_M3 and air < _SHOWS_M3:
        return see(part, "screw_draws" if air < -_SHOWS_M3 else "screw_nothing", screw=screw)
    if runs_in_beads(liquid, early[1] + late[1]):
        return see(part, "screw_water", screw=screw)
    if air > _AIR_FROM * (liquid + air):
        return hear(part, "screw_air", screw=screw)
    late_liquid = late[0] + late[1]
    if late[2] > _FROTH_FROM * (late_liquid + late[2]):
        return see(part, "screw_froth", screw=screw)
    if early[2] > _FROTH_FROM * (early[0] + early[1] + early[2]):
        return see(part, "screw_clears", screw=screw)
    return see(part, "screw_weak" if liquid < WEAK_M3_PER_S * seconds else "screw_solid", screw=screw)
