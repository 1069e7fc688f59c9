"""At a joint: its looks and its clear hose, wiping and trying, nipping up, a new washer, a new hose."""

from __future__ import annotations

from engine_sim.actions.action import Action, Family
from engine_sim.actions.contents import volumes_of
from engine_sim.actions.workplace import Workplace
from engine_sim.faults.places import way_along
from engine_sim.observations import Noticed, feel, see
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

_BUBBLES_FROM = SourcedValue(0.01, "1", FROM_MEMORY, "share of air that shows as bubbles in a clear hose").value
_MOSTLY = SourcedValue(0.5, "1", FROM_MEMORY, "share of air from which a hose looks empty").value
_FLAT_1_PER_M3 = SourcedValue(3e10, "1/m3", FROM_MEMORY, "resistance of a hose that is seen to be kinked or flat").value
_UNDONE = SourcedValue(1.0, "1", FROM_MEMORY, "opening of a joint's nut a turn loose").value


def _look(place: Workplace, part: str) -> list[Noticed]:
    rig, hose = place.rig, place.part(part).component
    air = rig.shares(volumes_of(rig, hose)[-1])[2]
    inside = "air_in_hose" if air > _MOSTLY else "froth_in_hose" if air > _BUBBLES_FROM else "clear_in_hose"
    found = [see(part, "joint_wet" if place.is_wet(part) else "joint_dry"), see(part, inside)]
    return [*found, see(part, "hose_flat")] if is_flat(place, hose) else found


def links_along(place: Workplace, hose: str) -> tuple[str, ...]:
    """Return the links that a hose's fuel passes: between its pieces, and into and out of it."""
    topology = place.rig.topology
    return tuple(
        link.id
        for number, link in enumerate(topology.links)
        if link.b is not None
        and hose in (topology.volumes[topology.end_a[number]].part, topology.volumes[topology.end_b[number]].part)
    )


def is_flat(place: Workplace, hose: str) -> bool:
    """Tell whether a hose is seen to be kinked or sucked flat."""
    extra, number = place.rig.circuit.extra_laminar_1_per_m3, place.rig.topology.link_number
    return any(extra[number(link)] >= _FLAT_1_PER_M3 for link in bore_links(place, hose))


def bore_links(place: Workplace, hose: str) -> tuple[str, ...]:
    """Return the links that stand for a hose's own bore."""
    inner = [link for link in links_along(place, hose) if link.startswith(f"{hose}.")]
    return tuple(dict.fromkeys([*inner, way_along(place.rig.layout, hose)]))


def _wipe_and_try(place: Workplace, part: str) -> list[Noticed]:
    place.wipe(part)
    return [feel(part, "joint_turns" if place.rig.is_open(place.part(part).link) else "joint_tight")]


def _nip_up(place: Workplace, part: str) -> list[Noticed]:
    link = place.part(part).link
    was_slack = place.rig.is_open(link)
    place.rig.set_open(link, 0.0)
    return [feel(part, "joint_nipped" if was_slack else "joint_was_tight")]


def _undo(place: Workplace, part: str) -> list[Noticed]:
    place.rig.set_open(place.part(part).link, _UNDONE)
    return [feel(part, "joint_undone")]


def _remake(place: Workplace, part: str) -> list[Noticed]:
    place.rig.set_open(place.part(part).link, 0.0)
    place.wipe(part)
    return [see(part, "joint_remade")]


def _new_hose(place: Workplace, part: str) -> list[Noticed]:
    """Take the hose off and put a new one on: it comes empty, with sound joints."""
    rig, hose = place.rig, place.part(part).component
    for volume in volumes_of(rig, hose):
        fuel, water, _ = rig.shares(volume)
        rig.lose((fuel + water) * rig.topology.volumes[rig.topology.volume_number(volume)].volume_m3)
        rig.take_out(volume)
    for link in bore_links(place, hose):
        rig.restrict(link, 0.0)
    rig.set_open(place.part(part).link, 0.0)
    place.wipe(part)
    return [see(part, "hose_renewed")]


def _engine_stands(place: Workplace, _part: str) -> str:
    return "the engine runs." if place.rig.engine.running else ""


FAMILIES = (
    Family(
        ("joint",),
        (
            Action("look", "look at the joint and its clear hose", 20.0, _look, "torch"),
            Action("wipe_and_try", "wipe the joint dry and try the nut", 45.0, _wipe_and_try, "rag", "joint"),
            Action("nip_up", "nip up the joint", 60.0, _nip_up, "two spanners", "joint"),
            Action("undo", "loosen the joint a turn", 60.0, _undo, "two spanners, tray, rag", "fuel_opened"),
            Action(
                "remake",
                "make the joint up with new washers",
                5.0 * MINUTE_S,
                _remake,
                "two spanners, new washers, tray, rag",
                "fuel_opened",
                uses=("washer", "washer"),
                ready=_engine_stands,
            ),
            Action(
                "new_hose",
                "put on a new hose with new clips",
                20.0 * MINUTE_S,
                _new_hose,
                "hose, two clips, knife, tray, rag",
                "fuel_opened",
                uses=("length of hose", "hose clip", "hose clip"),
                ready=_engine_stands,
            ),
        ),
    ),
)
