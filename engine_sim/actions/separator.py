"""At the separator: its bowl, drain and vent, filling it, and changing its element in one go or step by step."""

from __future__ import annotations

from engine_sim.actions import housings
from engine_sim.actions.action import Action, Do, Family
from engine_sim.actions.bowl import look_into_bowl
from engine_sim.actions.contents import take_dirt
from engine_sim.actions.jar import ml
from engine_sim.actions.parts import shows_its_bowl
from engine_sim.actions.reading import read_jar
from engine_sim.actions.warming import WARM
from engine_sim.actions.watching import ring_signs, watch
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, feel, see, told
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

_JAMMED_1_PER_M3 = SourcedValue(1e10, "1/m3", FROM_MEMORY, "resistance of a ball that is felt to stick").value


def _look(place: Workplace, part: str) -> list[Noticed]:
    if place.is_off(part):
        return [see(part, "bowl_is_off")]
    found = look_into_bowl(place, part) if shows_its_bowl(place.rig.layout, part) else [see(part, "bowl_of_metal")]
    if place.is_wet(part):
        found.append(see(part, "separator_wet"))
    return [*found, *ring_signs(place, part)]


def _open_and_watch(name: str, key: str, seconds: float) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        if name == "drain":
            place.jar.put_under(place.rig, f"{part}.drain")
        was_open = place.stands_open(f"{part}.{name}")
        place.rig.set_open(f"{part}.{name}", 1.0)
        return [see(part, "open_already" if was_open else key), *watch(place, seconds)]

    return do


def _shut(name: str, key: str) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        place.rig.set_open(f"{part}.{name}", 0.0)
        place.jar.take_away(place.rig, f"{part}.{name}")
        return [see(part, key)]

    return do


def _fill(place: Workplace, part: str) -> list[Noticed]:
    """Pour clean fuel through the open top vent until the separator is full."""
    rig = place.rig
    room = max(0.0, rig.circuit.air_m3(rig.topology.volume_number(f"{part}.bowl")))
    poured = place.stores.take_clean_fuel(room)
    if room > 0.0 and poured <= 0.0:
        return [told(part, "none_left", thing="clean fuel")]
    rig.pour_in(f"{part}.bowl", poured)
    return [see(part, "filled_from_top", ml=ml(poured)) if ml(poured) > 0 else see(part, "full_to_vent")]


def _vent_is_open(place: Workplace, part: str) -> str:
    if place.is_off(part):
        return "its bowl is off."
    return "" if place.stands_open(f"{part}.vent") else "the top vent is tight, nothing goes in."


def _try_vent(place: Workplace, part: str) -> list[Noticed]:
    return [feel(part, "vent_turns" if place.rig.is_open(f"{part}.vent") else "vent_tight")]


def _read_jar(place: Workplace, part: str) -> list[Noticed]:
    return read_jar(place, part)


def _take_bowl_off(place: Workplace, part: str) -> list[Noticed]:
    return housings.unscrewed(place, part)


def _wipe_bowl(place: Workplace, part: str) -> list[Noticed]:
    take_dirt(place.rig, f"{part}.bowl")
    place.housings[part].seat_wiped = True
    return [see(part, "bowl_wiped")]


def _check_ball(place: Workplace, part: str) -> list[Noticed]:
    rig, link = place.rig, f"{part}.ball"
    number = rig.topology.link_number(link)
    stuck = rig.circuit.opening[number] < 1.0 or rig.circuit.extra_laminar_1_per_m3[number] > _JAMMED_1_PER_M3
    rig.set_open(link, 1.0)
    rig.restrict(link, 0.0)
    for name, value in rig.topology.links[number].numbers.items():
        stuck = stuck or rig.number(link, name) != value
        rig.set_number(link, name, value)
    return [feel(part, "ball_freed" if stuck else "ball_free")]


def _has_ball(place: Workplace, part: str) -> bool:
    return place.has_link(f"{part}.ball")


def _not_off(place: Workplace, part: str) -> str:
    return "its bowl is off." if place.is_off(part) else ""


_USES = ("separator element", "sealing ring")

_LOOKS = (
    Action("look", "look into the bowl", 20.0, _look, "torch"),
    Action("read_jar", "hold the jar to the light", 30.0, _read_jar, "jar", "waste"),
    Action("try_vent", "try the top vent with a spanner", 10.0, _try_vent, "spanner", ready=_not_off),
)
_OPENINGS = (
    Action(
        "open_drain",
        "open the drain tap over a jar",
        20.0,
        _open_and_watch("drain", "drain_opened", 10.0),
        "jar, rag",
        "fuel_opened",
        10.0,
        ready=_not_off,
    ),
    Action("close_drain", "shut the drain tap", 5.0, _shut("drain", "drain_shut"), ready=_not_off),
    Action(
        "open_vent",
        "slacken the top vent",
        15.0,
        _open_and_watch("vent", "vent_opened", 4.0),
        "spanner, rag",
        "fuel_opened",
        4.0,
        ready=_not_off,
    ),
    Action(
        "fill",
        "fill it with clean fuel at the top vent",
        90.0,
        _fill,
        "jug, clean fuel, rag",
        "fuelling",
        ready=_vent_is_open,
    ),
    Action("close_vent", "tighten the top vent", 10.0, _shut("vent", "vent_shut"), "spanner", ready=_not_off),
)
_CHANGES = (
    housings.change_element(_USES),
    Action("clean_outside", "clean it outside", 60.0, housings.clean_outside, "rag, brush"),
    Action(
        "take_bowl_off",
        "take bowl and element off",
        120.0,
        _take_bowl_off,
        "tray, rag",
        "fuel_opened",
        ready=housings.is_off,
    ),
    Action(
        "check_ring",
        "see whether the old seal came away",
        20.0,
        housings.check_ring,
        "torch",
        ready=housings.is_closed,
    ),
    Action("wipe_bowl", "wipe bowl and seat clean", 60.0, _wipe_bowl, "clean rag", "waste", ready=housings.is_closed),
    Action(
        "check_ball",
        "check the ball at its inlet",
        30.0,
        _check_ball,
        "torch",
        ready=housings.is_closed,
        only=_has_ball,
    ),
    Action(
        "fit_wetted",
        "fit a new element and seals, wetted with fuel",
        2.0 * MINUTE_S,
        housings.FIT_WELL,
        housings.NEEDS,
        uses=_USES,
        ready=housings.is_closed,
    ),
    Action(
        "fit_dry",
        "fit a new element with the seals dry",
        2.0 * MINUTE_S,
        housings.FIT_DRY,
        housings.NEEDS,
        uses=_USES,
        ready=housings.is_closed,
    ),
    Action("fit_old", "put the old element back", 2.0 * MINUTE_S, housings.FIT_OLD, "rag", ready=housings.is_closed),
)

FAMILIES = (Family(("separator",), (*_LOOKS, *_OPENINGS, *_CHANGES, WARM)),)
