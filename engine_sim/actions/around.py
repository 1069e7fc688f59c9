"""The work around the engine: making safe, looking about, tray and rag, goggles, wiping up, waste, time."""

from __future__ import annotations

from engine_sim.actions.action import Action, Do, Family
from engine_sim.actions.gauges import temperature_c
from engine_sim.actions.jar import ml
from engine_sim.actions.reading import read_jar
from engine_sim.actions.watching import watch
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, feel, hear, read, see, smell, told
from engine_sim.sources import COMMON_PRACTICE, SourcedValue
from engine_sim.units import HOUR_S, MINUTE_S

_SOAKED_M3 = SourcedValue(0.5e-3, "m3", COMMON_PRACTICE, "what one absorbent sheet takes up").value
_COOLING_S = SourcedValue(900.0, "s", COMMON_PRACTICE, "for which one lets an engine cool").value
_NIGHT_S = SourcedValue(8.0 * HOUR_S, "s", COMMON_PRACTICE, "a night at the berth").value


def _look_around(place: Workplace, part: str) -> list[Noticed]:
    things = place.openings_in_words()
    noticed = [see(part, "open_things", things=", ".join(things)) if things else see(part, "all_shut")]
    wet = [place.label(name) for name in place.wet_parts()]
    noticed.append(_wet_or_dry(place, part, wet))
    shore = place.shore_min()
    if shore is not None and not place.made_fast:
        noticed.append(see(part, "ashore") if place.ashore else see(part, "shore_near", minutes=shore))
    lies = {"spilled": place.spilled_ml(), "in_the_tray": ml(place.rig.caught_m3)}
    noticed += [see(part, key, ml=here) for key, here in lies.items() if here > 0]
    return [*noticed, smell(part, "smells_of_fuel")] if wet or any(lies.values()) else noticed


def _wet_or_dry(place: Workplace, part: str, wet: list[str]) -> Noticed:
    """Return which parts are wet outside; dry all round it is only where no fuel lies under the engine either."""
    if wet:
        return see(part, "wet_places", things=", ".join(wet))
    return see(part, "parts_dry" if place.spilled_ml() > 0 else "no_wet_places")


def _lay_tray(place: Workplace, part: str) -> list[Noticed]:
    place.rig.tray_laid = True
    return [see(part, "tray_laid")]


def _wipe_up(place: Workplace, part: str) -> list[Noticed]:
    """Wipe up: sheets soak up what lies in boat and tray, as far as there are sheets."""
    rig = place.rig
    lies_m3 = rig.spilled_m3 + rig.caught_m3
    sheets = min(place.stores.left["absorbent sheet"], int(lies_m3 / _SOAKED_M3))
    place.stores.use(("absorbent sheet",) * sheets)
    place.stores.waste_m3 += lies_m3
    place.stores.oily_rags += 1
    rig.wet.clear()
    rig.spilled_m3 = rig.caught_m3 = 0.0
    return [see(part, "wiped")]


def _put_on_goggles(place: Workplace, part: str) -> list[Noticed]:
    place.goggles_on = True
    return [see(part, "goggles_on")]


def _sets(name: str, key: str) -> Do:
    """Return a deed that only makes one thing so."""

    def do(place: Workplace, part: str) -> list[Noticed]:
        setattr(place, name, True)
        return [see(part, key)]

    return do


def _cool(place: Workplace, part: str) -> list[Noticed]:
    return [*_time(_COOLING_S)(place, part), feel(part, "still_hot" if place.is_hot() else "cooled")]


def _thermometer(place: Workplace, part: str) -> list[Noticed]:
    return [read(part, "thermometer_reads", degrees=temperature_c(place))]


def _read_jar(place: Workplace, part: str) -> list[Noticed]:
    return read_jar(place, part)


def _empty_jar(place: Workplace, part: str) -> list[Noticed]:
    poured = place.jar.empty(place.rig)
    place.stores.waste_m3 += poured.liquid_m3
    return [see(part, "jar_emptied", ml=ml(poured.liquid_m3)) if ml(poured.liquid_m3) > 0 else see(part, "jar_empty")]


def _tip_overboard(place: Workplace, part: str) -> list[Noticed]:
    """Tip the jar over the side: that is what nobody may do. From one that reads nothing, nothing runs."""
    tipped_m3 = place.jar.empty(place.rig).liquid_m3
    if ml(tipped_m3) == 0:
        place.stores.waste_m3 += tipped_m3
        return [see(part, "jar_empty")]
    place.stores.overboard_m3 += tipped_m3
    return [see(part, "jar_overboard", ml=ml(tipped_m3))]


def _fresh_jar(place: Workplace, part: str) -> list[Noticed]:
    held_m3 = place.jar.empty(place.rig).liquid_m3
    place.stores.waste_m3 += held_m3
    return [see(part, "jar_fresh" if held_m3 > 0.0 else "jar_fresh_too")]


def _hand_in_waste(place: Workplace, part: str) -> list[Noticed]:
    carried, rags = ml(place.stores.waste_m3), place.stores.oily_rags
    place.stores.waste_m3, place.stores.oily_rags = 0.0, 0
    if carried > 0:
        return [see(part, "waste_ashore", ml=carried)]
    return [see(part, "rags_ashore" if rags > 0 else "nothing_for_ashore")]


def _time(seconds: float) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        engine, motor = place.rig.engine, place.first("engine")
        was_running, was_hot = engine.running, engine.overheated()
        noticed = [told(part, "time_passes"), *watch(place, seconds)]
        if engine.overheated() and not was_hot:
            noticed.append(hear(motor, "alarm_meanwhile"))
        died = was_running and not engine.running
        return [*noticed, hear(motor, "dies_meanwhile")] if died else noticed

    return do


def _wait(name: str, label: str, seconds: float) -> Action:
    return Action(name, label, 0.0, _time(seconds), plays_s=seconds)


FAMILIES = (
    Family(
        ("bench",),
        (
            Action("look_around", "look around", 30.0, _look_around, "torch"),
            Action(
                "make_fast", "anchor, or set sail for sea room, first", 10.0 * MINUTE_S, _sets("made_fast", "made_fast")
            ),
            Action(
                "tell_someone",
                "tell someone where you are and what you do",
                60.0,
                _sets("told_someone", "told_someone"),
            ),
            Action("ventilate", "open hatches and let fresh air in", 60.0, _sets("ventilated", "ventilated")),
            Action(
                "extinguisher",
                "put the extinguisher within reach",
                20.0,
                _sets("extinguisher_at_hand", "extinguisher_there"),
            ),
            Action("lay_tray", "lay tray and rag", 30.0, _lay_tray, "tray, rag"),
            Action("put_on_goggles", "put on goggles and gloves", 20.0, _put_on_goggles, "goggles, gloves"),
            Action("count_washers", "count washers, rings and tools", 30.0, _sets("rings_counted", "washers_counted")),
            Action("thermometer", "read the thermometer", 20.0, _thermometer, "thermometer"),
            Action("read_jar", "hold the jar to the light", 30.0, _read_jar, "jar", "waste"),
            Action(
                "empty_jar", "pour the jar into the can for waste", 30.0, _empty_jar, "can for waste, funnel", "waste"
            ),
            Action("tip_overboard", "tip the jar over the side", 10.0, _tip_overboard, "jar", "waste"),
            Action("fresh_jar", "set the jar aside and take a clean one", 10.0, _fresh_jar, "clean jar", uses=("jar",)),
            Action("wipe_up", "wipe up", 120.0, _wipe_up, "rag, absorbent, tin", "waste"),
            Action(
                "waste_ashore",
                "take rags and waste to the oily-waste point",
                30.0 * MINUTE_S,
                _hand_in_waste,
                "tin, can for waste",
                "waste",
            ),
            _wait("wait_10s", "watch for 10 s", 10.0),
            _wait("wait_1min", "let a minute pass", MINUTE_S),
            _wait("wait_5min", "let 5 minutes pass", 5.0 * MINUTE_S),
            Action("cool", "let the engine cool", 0.0, _cool, "", "hot", _COOLING_S),
            _wait("wait_30min", "let half an hour pass", 30.0 * MINUTE_S),
            _wait("wait_night", "leave it overnight", _NIGHT_S),
        ),
    ),
)
