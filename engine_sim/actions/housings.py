"""Opening and closing a filter step by step. Off, both sides of its element lie open: fuel falls out, air comes in.

What is done badly, an old ring left on the seat, dirt under the new one, a dry or crooked ring, stays as a leak of its
ring: a little of the way that a bleed screw or vent opens at its top. Screws, vent and drain stay as they stood.
"""

from __future__ import annotations

from engine_sim.actions.action import Action, Do
from engine_sim.actions.contents import put_dirt, volumes_of
from engine_sim.actions.elements import is_dark, look_of_element
from engine_sim.actions.workplace import Housing, Workplace, mouths
from engine_sim.circuit.rig import Rig
from engine_sim.observations import Noticed, feel, hear, see
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue

_HOUSING_OPEN_S = SourcedValue(240.0, "s", COMMON_PRACTICE, "time for which the housing stands open").value
_DOUBLED = SourcedValue(0.03, "1", FROM_MEMORY, "leak of a ring on top of the old one, share of the screw's way").value
_CROOKED = SourcedValue(0.02, "1", FROM_MEMORY, "leak of a filter that only touches its seat").value
_TORN = SourcedValue(0.01, "1", FROM_MEMORY, "leak of a ring that was dry or forced, and tore").value
_GRIT = SourcedValue(0.005, "1", FROM_MEMORY, "leak of a ring on a seat that was not wiped").value
_FROM_A_JUG_KG_PER_M3 = SourcedValue(0.5, "kg/m3", FROM_MEMORY, "dirt in fuel poured from an open jug").value
_FALLS_IN_KG = SourcedValue(1e-4, "kg", FROM_MEMORY, "dirt that falls in from a filter not cleaned outside").value

NEEDS = "element, new seals, tray, rag"
_SCREWS = ("vent", "drain", "screw", "outlet_screw")


def leak_share(place: Workplace, part: str) -> float:
    """Return how far a filter's ring leaks, as a share of its screw's opening; 0 for a tight one."""
    return place.rig.circuit.opening[place.rig.topology.link_number(f"{part}.ring")]


def take_off(place: Workplace, part: str) -> None:
    """Take a filter's bowl or can off: what is in it runs out, and both sides lie open."""
    rig = place.rig
    housing = place.housings[part] = Housing(is_off=True, ring_on_seat=is_dark(place, part))
    for link in (f"{part}.{name}" for name in _SCREWS):
        if place.has_link(link):
            housing.stood_open[link] = rig.circuit.opening[rig.topology.link_number(link)]
            rig.set_open(link, 0.0)
    _lay_open(place, part, True)
    for volume in volumes_of(rig, part):
        fuel, water, _ = rig.shares(volume)
        rig.lose((fuel + water) * rig.topology.volumes[rig.topology.volume_number(volume)].volume_m3)
        rig.take_out(volume)


def _lay_open(place: Workplace, part: str, is_off: bool) -> None:
    """Open or close both sides of a filter to the air; with its bowl or can off no element joins them."""
    place.rig.set_open(f"{part}.element", 0.0 if is_off else 1.0)
    place.rig.set_open(f"{part}.ring", 0.0)
    for link in mouths(part):
        place.rig.set_open(link, 1.0 if is_off else 0.0)


def put_back(place: Workplace, part: str, leak_share: float) -> None:
    """Close a filter again; ``leak_share`` is what its ring leaks, as a share of its screw's opening."""
    rig, housing = place.rig, place.housings[part]
    _lay_open(place, part, False)
    rig.set_open(f"{part}.ring", leak_share)
    for link, opening in housing.stood_open.items():
        rig.set_open(link, opening)
    for volume, poured_m3 in housing.poured_m3.items():
        _fill(rig, volume, poured_m3)
    if part not in place.cleaned:
        put_dirt(rig, volumes_of(rig, part)[0], _FALLS_IN_KG)
    place.cleaned = [name for name in place.cleaned if name != part]
    housing.is_off = False


def pour_full(place: Workplace, part: str) -> list[Noticed]:
    """Fill the new filter in the hand from a jug: what goes in on the clean side has passed no filter."""
    rig, housing = place.rig, place.housings[part]
    for volume in volumes_of(rig, part):
        space_m3 = rig.topology.volumes[rig.topology.volume_number(volume)].volume_m3
        had_m3 = housing.poured_m3.get(volume, 0.0)
        housing.poured_m3[volume] = had_m3 + place.stores.take_clean_fuel(space_m3 - had_m3)
    return [see(part, "filter_poured_full")]


def _fill(rig: Rig, volume: str, poured_m3: float) -> None:
    """Let a space hold what was poured into it, with the dirt of the jug, beside what lies in it."""
    fits_m3 = min(poured_m3, max(0.0, rig.circuit.air_m3(rig.topology.volume_number(volume))))
    rig.pour_in(volume, fits_m3)
    rig.lose(poured_m3 - fits_m3)
    put_dirt(rig, volume, fits_m3 * _FROM_A_JUG_KG_PER_M3)


def unscrewed(place: Workplace, part: str) -> list[Noticed]:
    """Take a filter off and look at its element."""
    take_off(place, part)
    return [see(part, "filter_off"), *look_of_element(place, part)]


def check_ring(place: Workplace, part: str) -> list[Noticed]:
    """See whether the old ring came away; if it did not, peel it off."""
    housing = place.housings[part]
    stuck = housing.ring_on_seat
    housing.ring_on_seat = False
    return [see(part, "ring_peeled" if stuck else "old_seal")]


def wipe_seat(place: Workplace, part: str) -> list[Noticed]:
    """Wipe the seat of the ring."""
    place.housings[part].seat_wiped = True
    return [see(part, "seat_wiped")]


def _fit(how_share: float, key: str, new_element: bool = True) -> Do:
    """Return the deed of closing a filter; ``how_share`` is what is leaked by how it is done."""

    def do(place: Workplace, part: str) -> list[Noticed]:
        housing = place.housings[part]
        leak = max(how_share, _DOUBLED if housing.ring_on_seat else 0.0, 0.0 if housing.seat_wiped else _GRIT)
        if new_element:
            place.rig.new_element(part)
        put_back(place, part, leak)
        return [feel(part, key)]

    return do


def change_properly(place: Workplace, part: str) -> list[Noticed]:
    """Change an element in one go, every step as it should be; the housing stands open meanwhile."""
    place.cleaned.append(part)
    take_off(place, part)
    died = [hear(place.first("engine"), "dies_meanwhile")] if place.wait(_HOUSING_OPEN_S) else []
    looks = look_of_element(place, part)
    ring = check_ring(place, part)
    place.rig.new_element(part)
    for volume in volumes_of(place.rig, part):
        place.rig.take_out(volume)
    put_back(place, part, 0.0)
    return [*died, *looks, *ring, see(part, "element_changed")]


def is_closed(place: Workplace, part: str) -> str:
    """Say that the filter must be off first."""
    return "" if place.is_off(part) else "it is closed."


def is_off(place: Workplace, part: str) -> str:
    """Say that the filter is off already."""
    return "it is off already." if place.is_off(part) else ""


def is_on(place: Workplace, part: str) -> str:
    """Say that the filter must be on."""
    return "it is taken off." if place.is_off(part) else ""


FIT_WELL, FIT_DRY = _fit(0.0, "fitted_well"), _fit(_TORN, "fitted_dry")
FIT_LOOSE, FIT_FORCED = _fit(_CROOKED, "fitted_loose"), _fit(_TORN, "fitted_forced")
FIT_OLD = _fit(0.0, "fitted_old", new_element=False)


def nip_up_filter(place: Workplace, part: str) -> list[Noticed]:
    """Tighten a filter by hand: that helps one that only touches its seat, not a torn or doubled ring."""
    leak = leak_share(place, part)
    if leak == _CROOKED:
        place.rig.set_open(f"{part}.ring", 0.0)
        return [feel(part, "filter_nipped")]
    return [feel(part, "filter_was_tight")]


def change_element(consumables: tuple[str, ...]) -> Action:
    """Return the action that changes an element in one go; ``consumables`` are what it uses up."""
    return Action(
        "change_element",
        "change the element",
        360.0,
        change_properly,
        NEEDS,
        "fuel_opened",
        _HOUSING_OPEN_S,
        consumables,
        is_off,
    )


def clean_outside(place: Workplace, part: str) -> list[Noticed]:
    """Clean a filter outside, so that nothing falls in when it is opened."""
    place.cleaned.append(part)
    place.wipe(part)
    return [see(part, "cleaned_outside")]
