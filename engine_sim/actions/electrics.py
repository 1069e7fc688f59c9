"""Battery, panel and key, stop control and stop solenoid, glow plugs; voltmeter and hand on a terminal."""

from __future__ import annotations

from engine_sim.actions.action import Action, Do, Family
from engine_sim.actions.gauges import shown_volts
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, feel, hear, read, see
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

_DIM_FROM_CHARGE = SourcedValue(0.35, "1", FROM_MEMORY, "charge below which lamps burn dim").value
_LENT_CHARGE = SourcedValue(0.8, "1", COMMON_PRACTICE, "charge with the house battery joined to it").value
_WARM_K = SourcedValue(10.0, "K", FROM_MEMORY, "by how much warmer a hand feels a terminal or a stem").value
_SETTLES_S = SourcedValue(2.0, "s", FROM_MEMORY, "after which one hears what a control has done").value


def lamps(place: Workplace) -> str:
    """Return how the panel lamps burn with the key on: bright, dim or dead."""
    battery = place.rig.engine.battery
    if not battery.connected:
        return "dead"
    return "bright" if battery.charge_share > _DIM_FROM_CHARGE else "dim"


def is_warm(place: Workplace, temperature_k: float) -> bool:
    """Tell whether a hand feels something warmer than the air around."""
    return temperature_k > place.rig.circuit.fluids.temperature_k + _WARM_K


# ---- battery ----------------------------------------------------------------------------------------------------


def _look_battery(place: Workplace, part: str) -> list[Noticed]:
    """Turn the key on to look at the panel, and off again if it was off."""
    engine = place.rig.engine
    was_on = engine.key_on
    heard = turn_key_on(place)
    found = [see(part, f"lamps_{lamps(place)}"), *heard]
    if not was_on:
        engine.turn_key_off()
    return found if engine.battery.connected else [*found, see(part, "isolator_is_off")]


def turn_key_on(place: Workplace) -> list[Noticed]:
    """Turn the key on and wait a moment; return what is heard of it."""
    clicked = place.rig.engine.turn_key_on()
    place.wait(_SETTLES_S)
    found = [hear(place.first("stop_solenoid"), "solenoid_clicks")] if clicked else []
    pump = place.first("electric_pump")
    return [*found, hear(pump, "pump_hums")] if pump and place.rig.circuit.drives.electric_on else found


def _isolator(connected: bool) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        place.rig.engine.battery.connected = connected
        return [see(part, "battery_connected" if connected else "battery_isolated")]

    return do


def _volts(place: Workplace, part: str) -> list[Noticed]:
    return [read(part, "volts_at_rest", volts=shown_volts(place.rig.engine.battery.volts()))]


def _feel_terminals(place: Workplace, part: str) -> list[Noticed]:
    warm = is_warm(place, place.rig.engine.battery.terminal_k)
    return [feel(part, "terminal_hot" if warm else "terminal_cool")]


def _clean_terminals(place: Workplace, part: str) -> list[Noticed]:
    was_bad = place.rig.engine.battery.extra_ohm > 0.0
    place.rig.engine.battery.extra_ohm = 0.0
    return [see(part, "terminals_cleaned" if was_bad else "terminals_were_clean")]


def _join_house_battery(place: Workplace, part: str) -> list[Noticed]:
    battery = place.rig.engine.battery
    battery.charge_share = max(battery.charge_share, _LENT_CHARGE)
    return [see(part, "house_battery_joined")]


# ---- stop control and solenoid ----------------------------------------------------------------------------------


def _look_stop(place: Workplace, part: str) -> list[Noticed]:
    return [see(part, "stop_out" if place.rig.engine.stop_pulled else "stop_home")]


def _stop_control(pulled: bool) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        place.rig.engine.stop_pulled = pulled
        died = place.wait(_SETTLES_S)
        noticed = [see(part, "stop_drawn" if pulled else "stop_pushed")]
        return [*noticed, hear(place.first("engine"), "dies_meanwhile")] if died else noticed

    return do


# ---- glow plugs -------------------------------------------------------------------------------------------------


def _heat(seconds: float) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        preheat, battery = place.rig.engine.preheat, place.rig.engine.battery
        preheat.on = True
        place.wait(seconds)
        amps = preheat.current_a(battery)
        preheat.on = False
        return [read(part, "preheat_amps", amps=int(amps + 0.5))]

    return do


def _feel_stems(place: Workplace, part: str) -> list[Noticed]:
    preheat, around_k = place.rig.engine.preheat, place.rig.circuit.fluids.temperature_k
    warm = [is_warm(place, preheat.stem_k(number, around_k)) for number in range(len(preheat.plugs_ok))]
    if not any(warm):
        return [feel(part, "stems_cold")]
    if all(warm):
        return [feel(part, "stems_warm")]
    cold = ", ".join(str(number) for number, is_it in enumerate(warm, 1) if not is_it)
    return [feel(part, "some_stems_cold", numbers=cold)]


def _look_preheat(place: Workplace, part: str) -> list[Noticed]:
    return [see(part, "preheat_seen")]


def _mend_preheat(place: Workplace, part: str) -> list[Noticed]:
    preheat = place.rig.engine.preheat
    was_bad = not preheat.supply_ok or not all(preheat.plugs_ok)
    preheat.supply_ok, preheat.plugs_ok = True, [True] * len(preheat.plugs_ok)
    return [see(part, "preheat_mended" if was_bad else "preheat_was_sound")]


def _heating(seconds: float) -> Action:
    name, label = f"heat_{seconds:.0f}", f"heat for {seconds:.0f} s, an eye on the ammeter"
    return Action(name, label, 2.0, _heat(seconds), "ammeter", "preheating", seconds)


FAMILIES = (
    Family(
        ("stop_lever",),
        (
            Action("look", "look at knob and lever", 15.0, _look_stop),
            Action("push_home", "push the stop control home", 5.0, _stop_control(False)),
            Action("pull", "pull the stop control out", 5.0, _stop_control(True)),
        ),
    ),
    Family(
        ("battery",),
        (
            Action("look", "turn the key on and look at the panel lamps", 3.0, _look_battery, plays_s=_SETTLES_S),
            Action("isolate", "turn the isolator off", 10.0, _isolator(False), "", "battery"),
            Action("connect", "turn the isolator on", 10.0, _isolator(True), "", "battery"),
            Action("volts", "measure its voltage", 20.0, _volts, "voltmeter", "battery"),
            Action("feel_terminals", "feel its terminals", 10.0, _feel_terminals, "", "battery"),
            Action(
                "clean_terminals",
                "take its terminals off, clean and tighten them",
                10.0 * MINUTE_S,
                _clean_terminals,
                "spanner, wire brush",
                "battery",
            ),
            Action(
                "join_house_battery",
                "join the house battery to it",
                5.0 * MINUTE_S,
                _join_house_battery,
                "heavy leads",
                "battery",
            ),
        ),
    ),
    Family(
        ("preheat",),
        (
            Action("look", "look at the glow plugs and their wires", 20.0, _look_preheat, "torch"),
            _heating(10.0),
            _heating(20.0),
            _heating(30.0),
            Action("feel_stems", "feel the outer end of each plug", 20.0, _feel_stems, "", "hot"),
            Action(
                "mend",
                "put in new plugs and mend their wire",
                40.0 * MINUTE_S,
                _mend_preheat,
                "new plugs, spanner, wire",
                "battery",
            ),
        ),
    ),
)
