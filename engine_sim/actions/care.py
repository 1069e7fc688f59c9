"""Care of the engine: key, turning by hand, oil, air intake, propeller, heat, smoke, water in the cylinders."""

from __future__ import annotations

from engine_sim.actions.action import Action, Family
from engine_sim.actions.electrics import turn_key_on
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, feel, hear, read, see, smell
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

_MARK = SourcedValue(0.03, "1", FROM_MEMORY, "distance from the upper mark that is read off a dipstick").value
_LOW = SourcedValue(0.6, "1", FROM_MEMORY, "oil at the lower mark, as a share of that at the upper").value
_THIN_SHARE = SourcedValue(0.03, "1", FROM_MEMORY, "fuel in the oil that a nose finds").value
_CLEAR_SHARE = SourcedValue(0.7, "1", FROM_MEMORY, "opening below which an air intake is seen to be blocked").value
_FOUL_FROM = SourcedValue(
    1.2, "1", FROM_MEMORY, "load, against a clean propeller's, of one with weed or rope in it"
).value
_SETTLES_S = SourcedValue(2.0, "s", FROM_MEMORY, "after which one hears what the key has done").value


def _key_on(place: Workplace, part: str) -> list[Noticed]:
    heard = turn_key_on(place)
    return [see(part, "key_on" if place.rig.engine.battery.connected else "key_on_dead"), *heard]


def _key_off(place: Workplace, part: str) -> list[Noticed]:
    place.rig.engine.turn_key_off()
    died = place.wait(_SETTLES_S)
    found = [see(part, "key_off")]
    return [*found, hear(part, "dies_meanwhile")] if died else found


def _turn(place: Workplace, part: str) -> list[Noticed]:
    engine = place.rig.engine
    if engine.exhaust.cylinders_flooded:
        return [feel(part, "turn_locked")]
    engine.turn_by_hand()
    return [feel(part, "turned_by_hand")]


def _dip_oil(place: Workplace, part: str) -> list[Noticed]:
    oil = place.rig.engine.oil
    level = oil.level_share
    key = "oil_over" if level > 1.0 + _MARK else "oil_low" if level < _LOW else "oil_right"
    found = [read(part, key)]
    return [*found, smell(part, "oil_thin")] if oil.diluted_share > _THIN_SHARE else found


def _change_oil(place: Workplace, part: str) -> list[Noticed]:
    place.rig.engine.oil.change()
    return [see(part, "oil_changed")]


def _look_intake(place: Workplace, part: str) -> list[Noticed]:
    blocked = place.rig.engine.intake_opening < _CLEAR_SHARE
    return [see(part, "intake_blocked" if blocked else "intake_clear")]


def _clear_intake(place: Workplace, part: str) -> list[Noticed]:
    place.rig.engine.intake_opening = 1.0
    return [see(part, "intake_cleared")]


def _look_propeller(place: Workplace, part: str) -> list[Noticed]:
    foul = place.rig.engine.propeller_load > _FOUL_FROM
    return [see(part, "propeller_foul" if foul else "propeller_clear")]


def _clear_propeller(place: Workplace, part: str) -> list[Noticed]:
    place.rig.engine.propeller_load = 1.0
    return [see(part, "propeller_cleared")]


def _smoke(place: Workplace, part: str) -> list[Noticed]:
    if not place.rig.engine.running:
        return [see(part, "engine_stands")]
    return [see(part, f"smoke_{place.rig.engine.smoke()}")]


def _heat(place: Workplace, part: str) -> list[Noticed]:
    if place.rig.engine.overheated():
        return [feel(part, "engine_overheated")]
    return [feel(part, "still_hot" if place.is_hot() else "cooled")]


def _clear_cylinders(place: Workplace, part: str) -> list[Noticed]:
    engine = place.rig.engine
    flooded = engine.exhaust.cylinders_flooded
    engine.clear_cylinders()
    if engine.rod_bent:
        return [see(part, "rod_bent")]
    return [see(part, "cylinders_cleared" if flooded else "cylinders_were_dry")]


def _engine_stands(place: Workplace, _part: str) -> str:
    return "the engine runs." if place.rig.engine.running else ""


FAMILIES = (
    Family(
        ("engine",),
        (
            Action("key_on", "turn the key on, no further", 2.0, _key_on, "", "", _SETTLES_S),
            Action("key_off", "turn the key off", 2.0, _key_off, "", "", _SETTLES_S),
            Action("smoke", "look at the smoke", 10.0, _smoke),
            Action("feel_heat", "feel how hot it is", 10.0, _heat, "", "hot"),
            Action(
                "turn_by_hand",
                "turn the engine one revolution by hand",
                60.0,
                _turn,
                "spanner",
                "turning",
                ready=_engine_stands,
            ),
            Action("dip_oil", "dip the oil", 60.0, _dip_oil, "rag", ready=_engine_stands),
            Action(
                "change_oil",
                "change the oil",
                40.0 * MINUTE_S,
                _change_oil,
                "oil, pump, can for waste",
                "waste",
                ready=_engine_stands,
            ),
            Action("look_intake", "look at the air intake", 60.0, _look_intake, "torch"),
            Action("clear_intake", "clear the air intake", 5.0 * MINUTE_S, _clear_intake, "rag", ready=_engine_stands),
            Action("look_propeller", "look at the propeller from above", 5.0 * MINUTE_S, _look_propeller, "boathook"),
            Action(
                "clear_propeller",
                "clear the propeller",
                30.0 * MINUTE_S,
                _clear_propeller,
                "boathook, knife",
                "turning",
                ready=_engine_stands,
            ),
            Action(
                "clear_cylinders",
                "have water let out of the cylinders",
                90.0 * MINUTE_S,
                _clear_cylinders,
                "an engineer",
                "engineer",
                ready=_engine_stands,
            ),
        ),
    ),
)
