"""At the stop solenoid: the click, the wire, the voltage at it, working it by hand."""

from __future__ import annotations

from engine_sim.actions.action import Action, Do, Family
from engine_sim.actions.gauges import shown_volts
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, hear, read, see
from engine_sim.units import MINUTE_S


def _look(place: Workplace, part: str) -> list[Noticed]:
    engine = place.rig.engine
    found = [see(part, "solenoid_wire_on" if engine.solenoid_wired else "solenoid_wire_off")]
    return [*found, see(part, "solenoid_held")] if engine.solenoid_held else found


def _listen(place: Workplace, part: str) -> list[Noticed]:
    """Turn the key on and off again, ear at the pump."""
    engine, was_on = place.rig.engine, place.rig.engine.key_on
    engine.turn_key_off()
    clicked = engine.turn_key_on()
    if not was_on:
        engine.turn_key_off()
    return [hear(part, "solenoid_clicks" if clicked else "solenoid_silent")]


def _volts(place: Workplace, part: str) -> list[Noticed]:
    engine = place.rig.engine
    reaches = engine.battery.supply_v() if engine.solenoid_wired else 0.0
    return [read(part, "solenoid_volts", volts=shown_volts(reaches))]


def _hold(held: bool) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        place.rig.engine.solenoid_held = held
        died = place.wait(2.0)
        noticed = [see(part, "solenoid_held" if held else "solenoid_let_go")]
        return [*noticed, hear(place.first("engine"), "dies_meanwhile")] if died else noticed

    return do


def _connect(place: Workplace, part: str) -> list[Noticed]:
    was_off = not place.rig.engine.solenoid_wired
    place.rig.engine.solenoid_wired = True
    return [see(part, "solenoid_wire_put_on" if was_off else "solenoid_wire_on")]


def _change(place: Workplace, part: str) -> list[Noticed]:
    place.rig.engine.solenoid_ok = place.rig.engine.solenoid_wired = True
    return [see(part, "solenoid_changed")]


def _engine_stands(place: Workplace, _part: str) -> str:
    return "the engine runs." if place.rig.engine.running else ""


FAMILIES = (
    Family(
        ("stop_solenoid",),
        (
            Action("look", "look at the solenoid and its wire", 15.0, _look, "torch"),
            Action("listen", "turn the key on and listen for its click", 10.0, _listen, ready=_engine_stands),
            Action("volts", "measure the voltage at its wire, key on", 60.0, _volts, "voltmeter"),
            Action("hold", "work it by hand and tie it there", 60.0, _hold(True), "twine", "turning"),
            Action("let_go", "let it go", 10.0, _hold(False)),
            Action("connect_wire", "put its wire on and tighten it", 60.0, _connect, "spanner", "battery"),
            Action(
                "change",
                "have the solenoid changed",
                30.0 * MINUTE_S,
                _change,
                "spare solenoid, an engineer",
                "engineer",
                ready=_engine_stands,
            ),
        ),
    ),
)
