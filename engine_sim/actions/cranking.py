"""Turning the engine: by the starter or the handle; what is heard, seen at slack nuts and the exhaust, and measured."""

from __future__ import annotations

from engine_sim.actions.action import Action, Do, Family
from engine_sim.actions.electrics import is_warm
from engine_sim.actions.gauges import shown_volts, vacuum
from engine_sim.actions.injectors import at_slack_nuts
from engine_sim.actions.senses import beat
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, feel, hear, read, see, smell, told
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

_BRISK_RPM = SourcedValue(150.0, "1/min", FROM_MEMORY, "cranking speed that sounds brisk").value
_SLOW_RPM = SourcedValue(60.0, "1/min", FROM_MEMORY, "cranking speed below which the engine barely moves").value
_SMELLS_K = SourcedValue(400.0, "K", FROM_MEMORY, "temperature from which windings smell").value
_MEASURED_S = SourcedValue(5.0, "s", FROM_MEMORY, "for which the key is turned while a meter is read").value
_SOUNDS = {
    "dead": "starter_dead",
    "click": "starter_clicks",
    "chatter": "starter_chatters",
    "thud": "starter_thuds",
}


def _crank(seconds: float) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        engine = place.rig.engine
        if engine.running:
            return [hear(part, "already_runs")]
        worked, engine.starter.solenoid_ok = engine.starter.solenoid_ok, engine.starter.solenoid_ok or place.tapped
        heard = sound_of_key(place)
        turned, fired = place.rig.crank(seconds)
        engine.starter.solenoid_ok, place.tapped = worked, False
        noticed = [hear(part, heard)]
        if heard in _SOUNDS.values():
            return [*noticed, *_of_heat(place, part)]
        return [*noticed, *after_turning(place, turned, fired), *_of_heat(place, part)]

    return do


def sound_of_key(place: Workplace) -> str:
    """Return what is heard when the key is turned."""
    engine = place.rig.engine
    sound = engine.cranking_sound()
    if sound in _SOUNDS:
        return _SOUNDS[sound]
    speed_rpm = engine.cranking_speed_rpm()
    if speed_rpm >= _BRISK_RPM:
        return "cranks_briskly"
    return "cranks_slowly" if speed_rpm >= _SLOW_RPM else "cranks_barely"


def after_turning(place: Workplace, turned_s: float, fired: bool) -> list[Noticed]:
    """Return what was noticed of an engine that was turned so long [s]."""
    noticed, motor = [*at_slack_nuts(place), *vacuum(place)], place.first("engine")
    if fired:
        noticed.append(hear(motor, "fires", seconds=max(1, int(turned_s + 0.5))))
        return noticed + beat(place)
    return [*noticed, hear(motor, "fires_not"), see(motor, f"smoke_{place.rig.engine.smoke()}")]


def _of_heat(place: Workplace, part: str) -> list[Noticed]:
    """Return what the nose finds at a starter that was used too long."""
    starter = place.rig.engine.starter
    if starter.burnt:
        return [smell(part, "starter_burnt")]
    return [smell(part, "starter_smells")] if starter.winding_k > _SMELLS_K else []


def _look_starter(place: Workplace, part: str) -> list[Noticed]:
    starter = place.rig.engine.starter
    return [see(part, "starter_bad_wire" if starter.extra_ohm > 0.0 else "starter_seen"), *_of_heat(place, part)]


def _feel_terminal(place: Workplace, part: str) -> list[Noticed]:
    warm = is_warm(place, place.rig.engine.starter.terminal_k)
    return [feel(part, "terminal_hot" if warm else "terminal_cool")]


def _measured(place: Workplace, part: str) -> tuple[tuple[float, float, float], list[Noticed]]:
    """Turn the key with a meter on; return the three voltages along the cable, and what was noticed."""
    volts = place.rig.engine.cranking_volts()
    return volts, _crank(_MEASURED_S)(place, part)


def _volts(place: Workplace, part: str) -> list[Noticed]:
    (_, _, at_starter_v), noticed = _measured(place, part)
    return [read(part, "volts_cranking", volts=shown_volts(at_starter_v)), *noticed]


def _drop(place: Workplace, part: str) -> list[Noticed]:
    (posts_v, cable_v, starter_v), noticed = _measured(place, part)
    battery, cable = shown_volts(posts_v - cable_v), shown_volts(cable_v - starter_v)
    return [read(part, "volts_dropped", battery=battery, cable=cable), *noticed]


def _signal(place: Workplace, part: str) -> list[Noticed]:
    engine = place.rig.engine
    volts = read(part, "volts_signal", volts=shown_volts(engine.battery.supply_v()))
    heard = sound_of_key(place)
    place.rig.crank(1.0)
    return [volts, hear(part, heard)]


def _tap(place: Workplace, part: str) -> list[Noticed]:
    place.tapped = True
    return [hear(part, "starter_tapped")]


def _clean_terminal(place: Workplace, part: str) -> list[Noticed]:
    was_bad = place.rig.engine.starter.extra_ohm > 0.0
    place.rig.engine.starter.extra_ohm = 0.0
    return [see(part, "terminals_cleaned" if was_bad else "terminals_were_clean")]


def _change_starter(place: Workplace, part: str) -> list[Noticed]:
    starter = place.rig.engine.starter
    starter.solenoid_ok, starter.burnt, starter.extra_ohm = True, False, 0.0
    return [see(part, "starter_changed")]


def _rest(_place: Workplace, part: str) -> list[Noticed]:
    return [told(part, "starter_rests")]


def _swing(seconds: float, lifted: bool) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        engine = place.rig.engine
        if engine.running:
            return [hear(part, "handle_runs")]
        engine.hand.lever_lifted = lifted
        turned, fired = place.rig.crank(seconds)
        engine.hand.lever_lifted = True
        spun = engine.hand.best_rpm() > 0.0 if lifted else False
        noticed = [feel(part, "swings_freely" if spun else "swings_not")]
        return [*noticed, *after_turning(place, turned, fired)] if spun or fired else noticed

    return do


def _engine_stands(place: Workplace, _part: str) -> str:
    return "the engine runs." if place.rig.engine.running else ""


_STARTER = (
    Action("look", "look at the starter and its cables", 20.0, _look_starter, "torch"),
    Action("crank_5", "crank for 5 s", 5.0, _crank(5.0), "", "starting", 5.0),
    Action("crank_10", "crank for 10 s", 5.0, _crank(10.0), "", "starting", 10.0),
    Action("crank_30", "crank for 30 s", 5.0, _crank(30.0), "", "starting", 30.0),
    Action("rest", "let the starter rest for a minute", 60.0, _rest),
    Action(
        "volts",
        "measure the voltage at it while cranking for 5 s",
        60.0,
        _volts,
        "voltmeter, a second pair of hands",
        "starting",
        _MEASURED_S,
        ready=_engine_stands,
    ),
    Action(
        "drop_test",
        "measure what is lost along its cable while cranking for 5 s",
        4.0 * MINUTE_S,
        _drop,
        "voltmeter, a second pair of hands",
        "starting",
        _MEASURED_S,
        ready=_engine_stands,
    ),
    Action(
        "signal",
        "measure the voltage at its thin wire with the key turned",
        2.0 * MINUTE_S,
        _signal,
        "voltmeter, a second pair of hands",
        "starting",
        1.0,
        ready=_engine_stands,
    ),
    Action("feel_terminal", "feel its heavy terminal", 10.0, _feel_terminal, "", "battery"),
    Action(
        "tap", "tap its solenoid with a piece of wood", 10.0, _tap, "piece of wood", "turning", ready=_engine_stands
    ),
    Action(
        "clean_terminal",
        "take its heavy cable off, clean and tighten it",
        10.0 * MINUTE_S,
        _clean_terminal,
        "spanner, wire brush",
        "battery",
        ready=_engine_stands,
    ),
    Action(
        "change",
        "have the starter changed",
        120.0 * MINUTE_S,
        _change_starter,
        "exchange starter, an engineer",
        "engineer",
        ready=_engine_stands,
    ),
)


def _look_handle(_place: Workplace, part: str) -> list[Noticed]:
    return [see(part, "handle_seen")]


_HANDLE = (
    Action("look", "look at handle and lever", 10.0, _look_handle),
    Action(
        "swing_10",
        "lift the valve, swing the handle for 10 s, drop the lever",
        10.0,
        _swing(10.0, True),
        "",
        "handle",
        10.0,
    ),
    Action("swing_down", "swing it with the lever down", 5.0, _swing(5.0, False), "", "handle", 5.0),
)

FAMILIES = (Family(("starter",), _STARTER), Family(("hand_start",), _HANDLE))
