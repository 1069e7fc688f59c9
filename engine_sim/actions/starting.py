"""Starting, running and stopping the engine, its controls and battery, and the work around it."""

from __future__ import annotations

from engine_sim.actions.action import Action, Do
from engine_sim.actions.fuel_side import watch
from engine_sim.actions.workplace import Workplace
from engine_sim.circuit.high_pressure import InjectionLine
from engine_sim.components import engine_figures
from engine_sim.observations import Noticed, feel, hear, see, told
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S
from engine_sim.wording import PARTS

_BRISK_RPM = SourcedValue(150.0, "1/min", FROM_MEMORY, "cranking speed that sounds brisk").value
_SLOW_RPM = SourcedValue(60.0, "1/min", FROM_MEMORY, "cranking speed below which the engine barely moves").value
_DIM_FROM_CHARGE = SourcedValue(0.35, "1", FROM_MEMORY, "charge below which lamps burn dim").value
_SMOKE_M3 = SourcedValue(1e-7, "m3", FROM_MEMORY, "fuel injected and not burnt that shows as smoke").value
_FROTH_AIR_M3 = SourcedValue(5e-9, "m3", FROM_MEMORY, "air in a line that shows as froth at its nut").value
_HOLDS_SPEED = SourcedValue(0.97, "1", FROM_MEMORY, "share of the wanted speed that still counts as held").value
_RPM_STEP = 50
_CHECK_S = SourcedValue(10.0, "s", FROM_MEMORY, "slice of a run after which the speed is judged").value


def _crank(seconds: float) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        engine = place.rig.engine
        if engine.running:
            return [hear(part, "already_runs")]
        speed = engine.battery.cranking_speed_rpm()
        if speed <= 0.0:
            return [hear(part, "cranks_barely" if engine.battery.connected else "starter_dead")]
        turned, fired = place.rig.crank(seconds)
        noticed = [hear(part, _cranking_sound(speed)), *_at_nuts(place)]
        if fired:
            noticed.append(hear("engine", "fires", seconds=max(1, int(turned + 0.5))))
            return noticed + _beat(place)
        smoke = "smoke_white" if engine.injected_m3 > _SMOKE_M3 else "smoke_none"
        return [*noticed, hear("engine", "fires_not"), see("engine", smoke)]

    return do


def _cranking_sound(speed_rpm: float) -> str:
    if speed_rpm >= _BRISK_RPM:
        return "cranks_briskly"
    return "cranks_slowly" if speed_rpm >= _SLOW_RPM else "cranks_barely"


def _at_nuts(place: Workplace) -> list[Noticed]:
    """Return what shows at slack union nuts while the engine turns."""
    engine = place.rig.engine
    noticed = []
    for number, line in enumerate(engine.lines, 1):
        if line.nut_slack:
            part = f"injector_{number}"
            noticed.append(see(part, _nut_key(place, line), part=PARTS[part][0]))
    if noticed and not place.goggles_on:
        noticed.append(feel("bench", "spray_near_eyes"))
    return noticed


def _nut_key(place: Workplace, line: InjectionLine) -> str:
    flow = place.rig.circuit.flow_m3_per_s[place.rig.topology.link_number("injection_pump.plungers")]
    if flow <= 0.0:
        return "nut_nothing"
    return "nut_froth" if line.air_m3 > _FROTH_AIR_M3 else "nut_pulses"


def _beat(place: Workplace) -> list[Noticed]:
    engine = place.rig.engine
    uneven = sum(1 for line in engine.lines if not line.injects)
    return [hear("engine", "beat_uneven")] if 0 < uneven < len(engine.lines) else []


def _run(minutes: float, speed_rpm: float, in_gear: bool) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        engine = place.rig.engine
        if not engine.running:
            return [see(part, "engine_stands")]
        seconds, ran, wavered, lowest = minutes * MINUTE_S, 0.0, None, speed_rpm
        while ran < seconds and engine.running:
            stretch = place.rig.run(min(_CHECK_S, seconds - ran), speed_rpm, in_gear)
            if wavered is None and place.rig.waver_s() is not None:
                wavered = ran + (place.rig.waver_s() or 0.0)
            ran += stretch
            lowest = min(lowest, place.rig.slowest_rpm()) if ran > _CHECK_S else lowest
        return [*_how_it_ran(place, ran, wavered, lowest, speed_rpm), *_at_nuts(place)]

    return do


def _how_it_ran(
    place: Workplace, ran_s: float, wavered_s: float | None, lowest_rpm: float, wanted_rpm: float
) -> list[Noticed]:
    noticed: list[Noticed] = []
    if wavered_s is not None and not (place.rig.engine.running is False and ran_s - wavered_s < 1.0):
        noticed.append(hear("engine", "wavers", seconds=int(wavered_s + 0.5)))
    if not place.rig.engine.running:
        return [*noticed, hear("engine", "dies", seconds=max(1, int(ran_s + 0.5)))]
    if lowest_rpm < _HOLDS_SPEED * wanted_rpm:
        return [*noticed, hear("engine", "loses_speed", rpm=_round_rpm(lowest_rpm)), *_beat(place)]
    ran = hear("engine", "ran_well", minutes=int(ran_s / MINUTE_S + 0.5), rpm=_round_rpm(wanted_rpm))
    return [*noticed, ran, *_beat(place)]


def _round_rpm(speed_rpm: float) -> int:
    return int(speed_rpm / _RPM_STEP + 0.5) * _RPM_STEP


def _stop(place: Workplace, part: str) -> list[Noticed]:
    if not place.rig.engine.running:
        return [see(part, "engine_stands")]
    place.rig.stop_engine()
    return [hear(part, "stopped")]


def _look_engine(place: Workplace, part: str) -> list[Noticed]:
    if not place.rig.engine.running:
        return [see(part, "engine_stands")]
    return [hear(part, "engine_idles", rpm=_round_rpm(place.rig.engine.speed_rpm)), *_beat(place)]


def _stop_control(pulled: bool) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        place.rig.engine.stop_pulled = pulled
        died = place.wait(2.0)
        noticed = [see(part, "stop_drawn" if pulled else "stop_pushed")]
        return [*noticed, hear("engine", "dies_meanwhile")] if died else noticed

    return do


def lamps(place: Workplace) -> str:
    """Return how the panel lamps burn: bright, dim or dead."""
    battery = place.rig.engine.battery
    if not battery.connected:
        return "dead"
    return "bright" if battery.charge_share > _DIM_FROM_CHARGE else "dim"


def _look_battery(place: Workplace, part: str) -> list[Noticed]:
    return [see(part, f"lamps_{lamps(place)}")]


def _isolator(connected: bool) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        place.rig.engine.battery.connected = connected
        return [see(part, "battery_connected" if connected else "battery_isolated")]

    return do


def _look_starter(_place: Workplace, part: str) -> list[Noticed]:
    return [see(part, "starter_seen")]


def _rest(place: Workplace, part: str) -> list[Noticed]:
    return [told(part, "starter_rests")]


def _time(seconds: float) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        was_running = place.rig.engine.running
        noticed = [told(part, "time_passes"), *watch(place, seconds)]
        died = was_running and not place.rig.engine.running
        return [*noticed, hear("engine", "dies_meanwhile")] if died else noticed

    return do


def _run_action(name: str, label: str, minutes: float, speed_rpm: float, in_gear: bool) -> tuple[str, Action]:
    return "engine", Action(name, label, 5.0, _run(minutes, speed_rpm, in_gear), "", "running", minutes * MINUTE_S)


_IDLE, _CRUISE = engine_figures.IDLE_SPEED_RPM, engine_figures.CRUISE_SPEED_RPM

RUNNING: tuple[tuple[str, Action], ...] = (
    ("stop_control", Action("push_home", "push the stop control home", 5.0, _stop_control(False))),
    ("stop_control", Action("pull", "pull the stop control out", 5.0, _stop_control(True))),
    ("battery", Action("look", "look at the panel lamps", 5.0, _look_battery)),
    ("battery", Action("isolate", "turn the isolator off", 10.0, _isolator(False), "", "battery")),
    ("battery", Action("connect", "turn the isolator on", 10.0, _isolator(True), "", "battery")),
    ("starter", Action("look", "look at the starter and its cables", 20.0, _look_starter, "torch")),
    ("starter", Action("crank_5", "crank for 5 s", 5.0, _crank(5.0), "", "starting", 5.0)),
    ("starter", Action("crank_10", "crank for 10 s", 5.0, _crank(10.0), "", "starting", 10.0)),
    ("starter", Action("rest", "let the starter rest for a minute", 60.0, _rest)),
    ("engine", Action("look", "look and listen", 5.0, _look_engine)),
    _run_action("run_idle_1min", "let it idle for 1 min", 1.0, _IDLE, False),
    _run_action("run_idle_5min", "let it idle for 5 min", 5.0, _IDLE, False),
    _run_action("run_cruise_5min", "run it in gear for 5 min", 5.0, _CRUISE, True),
    ("engine", Action("stop", "stop the engine", 5.0, _stop)),
    ("bench", Action("wait_10s", "watch for 10 s", 0.0, _time(10.0), plays_s=10.0)),
    ("bench", Action("wait_30min", "let half an hour pass", 0.0, _time(30.0 * MINUTE_S), plays_s=30.0 * MINUTE_S)),
)
"""Pairs of a part and an action that can be done at it."""
