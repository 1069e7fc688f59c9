"""Running and stopping the engine: how it ran, whether it wavered, lost speed or died."""

from __future__ import annotations

from collections.abc import Callable

from engine_sim.actions.action import Action, Do, Family
from engine_sim.actions.can import in_use
from engine_sim.actions.contents import draw_off
from engine_sim.actions.gauges import vacuum
from engine_sim.actions.injectors import at_slack_nuts
from engine_sim.actions.reading import span
from engine_sim.actions.senses import HotSigns, beat, round_rpm, signs
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, hear, see
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

_HOLDS_SPEED = SourcedValue(0.97, "1", FROM_MEMORY, "share of the wanted speed that still counts as held").value
_CRUISE_SHARE = SourcedValue(2.0 / 3.0, "1", COMMON_PRACTICE, "cruising speed as a share of the rated one").value
_TIPS_FROM = SourcedValue(0.3, "1", FROM_MEMORY, "sea in which a can that stands loose falls over").value
_TIPPED_M3 = SourcedValue(0.5e-3, "m3", FROM_MEMORY, "what runs out of a can before it is picked up").value
_COMES_UP_S = SourcedValue(10.0, "s", FROM_MEMORY, "time to come up to speed, not yet judged").value
_SLICE_S = SourcedValue(60.0, "s", FROM_MEMORY, "time run in one go, which also bounds the steps").value


Speed = Callable[[Workplace], float]
"""Tells at which speed an engine is run [rpm]."""


def _run(minutes: float, speed: Speed, in_gear: bool) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        engine, speed_rpm = place.rig.engine, speed(place)
        if not engine.running:
            return [see(part, "engine_stands")]
        seconds, ran, wavered, lowest = minutes * MINUTE_S, 0.0, None, speed_rpm
        hot = HotSigns(place)
        while ran < seconds and engine.running:
            slice_s = _SLICE_S if ran >= _COMES_UP_S else _COMES_UP_S
            stretch = place.rig.run(min(slice_s, seconds - ran), speed_rpm, in_gear)
            if wavered is None and place.rig.waver_s() is not None:
                wavered = ran + (place.rig.waver_s() or 0.0)
            ran += stretch
            hot.note(ran)
            lowest = min(lowest, place.rig.slowest_rpm()) if ran > _COMES_UP_S else lowest
        how = _how_it_ran(place, ran, wavered, lowest, speed_rpm)
        return [*hot.found, *how, *signs(place), *at_slack_nuts(place), *vacuum(place), *_unlashed(place)]

    return do


def _unlashed(place: Workplace) -> list[Noticed]:
    """Let a can that feeds the engine and stands loose tip over in a seaway: what stands above its cap runs out."""
    rig = place.rig
    for can in place.of_kind("fuel_can"):
        open_cap = rig.is_open(f"{can.id}.cap")
        if in_use(place, can.id) and not place.can_lashed and open_cap and rig.circuit.seaway > _TIPS_FROM:
            rig.lose(draw_off(rig, can.id, _TIPPED_M3).liquid_m3)
            return [see(can.id, "can_tips")]
    return []


def _how_it_ran(
    place: Workplace, ran_s: float, wavered_s: float | None, lowest_rpm: float, wanted_rpm: float
) -> list[Noticed]:
    noticed: list[Noticed] = []
    motor = place.first("engine")
    if wavered_s is not None and not (place.rig.engine.running is False and ran_s - wavered_s < 1.0):
        noticed.append(hear(motor, "wavers", time=span(wavered_s)))
    if not place.rig.engine.running:
        return [*noticed, hear(motor, "dies", time=span(ran_s))]
    if lowest_rpm < _HOLDS_SPEED * wanted_rpm:
        return [*noticed, hear(motor, "loses_speed", rpm=round_rpm(lowest_rpm)), *beat(place)]
    uneven = beat(place)
    key = "ran_unevenly" if uneven else "ran_well"
    ran = hear(motor, key, minutes=int(ran_s / MINUTE_S + 0.5), rpm=round_rpm(wanted_rpm))
    return [*noticed, ran, *uneven]


def _stop(place: Workplace, part: str) -> list[Noticed]:
    if not place.rig.engine.running:
        return [see(part, "engine_stands")]
    place.rig.stop_engine()
    if place.first("stop_lever"):
        return [hear(part, "stopped")]
    place.rig.engine.turn_key_off()
    return [hear(part, "stopped_by_key")]


def _look(place: Workplace, part: str) -> list[Noticed]:
    if not place.rig.engine.running:
        return [see(part, "engine_stands")]
    return [hear(part, "engine_idles", rpm=round_rpm(place.rig.engine.speed_rpm)), *beat(place), *signs(place)]


def _run_action(name: str, label: str, minutes: float, speed: Speed, in_gear: bool) -> Action:
    return Action(name, label, 5.0, _run(minutes, speed, in_gear), "", "running", minutes * MINUTE_S)


def _idle(place: Workplace) -> float:
    return place.rig.engine.idle_rpm


def _rated(place: Workplace) -> float:
    return place.rig.engine.combustion.rated_rpm


def _cruise(place: Workplace) -> float:
    return _CRUISE_SHARE * _rated(place)


FAMILIES = (
    Family(
        ("engine",),
        (
            Action("look", "look and listen", 5.0, _look),
            _run_action("run_idle_1min", "let it idle for 1 min", 1.0, _idle, False),
            _run_action("run_idle_5min", "let it idle for 5 min", 5.0, _idle, False),
            _run_action("run_fast_1min", "run it fast out of gear for 1 min", 1.0, _rated, False),
            _run_action("run_cruise_5min", "run it in gear for 5 min", 5.0, _cruise, True),
            _run_action("run_cruise_30min", "run it in gear for half an hour", 30.0, _cruise, True),
            _run_action("run_load_5min", "run it under full load for 5 min", 5.0, _rated, True),
            Action("stop", "stop the engine", 5.0, _stop),
        ),
    ),
)
