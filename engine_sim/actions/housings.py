"""Opening and closing a filter step by step. An open housing lets fuel out and air in at both sides of its element.

What is done badly, an old ring left on the seat, dirt under the new one, a dry or crooked ring, stays as a leak: a
little of the way that a bleed screw or vent opens at its top.
"""

from __future__ import annotations

from engine_sim.actions.action import Action, Do
from engine_sim.actions.contents import put_dirt, volumes_of
from engine_sim.actions.elements import is_dark, look_of_element
from engine_sim.actions.workplace import Housing, Workplace
from engine_sim.observations import Noticed, feel, hear, see
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue

_HOUSING_OPEN_S = SourcedValue(240.0, "s", COMMON_PRACTICE, "time for which the housing stands open").value
_DOUBLED = SourcedValue(0.03, "1", FROM_MEMORY, "leak of a ring on top of the old one, share of the screw's way").value
_CROOKED = SourcedValue(0.02, "1", FROM_MEMORY, "leak of a filter that only touches its seat").value
_TORN = SourcedValue(0.01, "1", FROM_MEMORY, "leak of a ring that was dry or forced, and tore").value
_GRIT = SourcedValue(0.005, "1", FROM_MEMORY, "leak of a ring on a seat that was not wiped").value
_FALLS_IN_KG = SourcedValue(1e-4, "kg", FROM_MEMORY, "dirt that falls in from a filter not cleaned outside").value

NEEDS = "element, new seals, tray, rag"
MOUTHS = {"separator": ("vent", "drain"), "fine_filter": ("screw", "outlet_screw")}
"""Kind of filter to the openings that stand for its open housing; leaks are at the first."""


def mouths(place: Workplace, part: str) -> tuple[str, ...]:
    """Return the links that stand for the open housing of a filter."""
    return tuple(link for name in MOUTHS[place.part(part).kind] if place.has_link(link := f"{part}.{name}"))


def leak_share(place: Workplace, part: str) -> float:
    """Return how far a filter's ring leaks, as a share of its screw's opening; 0 for a tight one."""
    return place.leaks.get(mouths(place, part)[0], 0.0)


def take_off(place: Workplace, part: str) -> None:
    """Take a filter's bowl or can off: what is in it runs out, and both sides lie open."""
    rig = place.rig
    housing = place.housings[part] = Housing(is_off=True, was_dark=is_dark(place, part))
    housing.ring_on_seat = housing.was_dark
    for link in mouths(place, part):
        place.jar.take_away(rig, link)
        rig.caught_by.pop(link, None)
        rig.set_open(link, 1.0)
    for volume in volumes_of(rig, part):
        fuel, water, _ = rig.shares(volume)
        rig.lose((fuel + water) * rig.topology.volumes[rig.topology.volume_number(volume)].volume_m3)
        rig.take_out(volume)


def put_back(place: Workplace, part: str, leak_share: float) -> None:
    """Close a filter again; ``leak_share`` is what its ring leaks, as a share of its screw's opening."""
    rig, links = place.rig, mouths(place, part)
    place.leaks[links[0]] = leak_share
    for link in links:
        place.shut(link)
    if part not in place.cleaned:
        put_dirt(rig, volumes_of(rig, part)[0], _FALLS_IN_KG)
    place.cleaned = [name for name in place.cleaned if name != part]
    place.housings[part].is_off = False


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
    was = [place.rig.circuit.opening[place.rig.topology.link_number(link)] for link in mouths(place, part)]
    held = {link: place.jar.is_under(link) for link in mouths(place, part)}
    take_off(place, part)
    died = [hear(place.first("engine"), "dies_meanwhile")] if place.wait(_HOUSING_OPEN_S) else []
    looks = look_of_element(place, part)
    ring = check_ring(place, part)
    place.rig.new_element(part)
    for volume in volumes_of(place.rig, part):
        place.rig.take_out(volume)
    put_back(place, part, 0.0)
    for link, opening in zip(mouths(place, part), was, strict=True):
        if place.is_seen(opening):
            place.rig.set_open(link, opening)
        if held[link]:
            place.jar.put_under(place.rig, link)
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
        place.leaks[mouths(place, part)[0]] = 0.0
        place.shut(mouths(place, part)[0])
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
