"""At the exhaust: seacock, water at the outlet, silencer, impeller, what blocks it."""

from __future__ import annotations

from engine_sim.actions.action import Action, Do, Family
from engine_sim.actions.senses import water_comes
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, feel, see
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MILLILITRE_M3, MINUTE_S

_HEAVY_SHARE = SourcedValue(0.5, "1", FROM_MEMORY, "filling of a silencer that one hears when knocking at it").value
_WORN_SHARE = SourcedValue(0.5, "1", FROM_MEMORY, "state of an impeller below which its vanes look torn").value
_CLEAR_SHARE = SourcedValue(0.7, "1", FROM_MEMORY, "opening below which a passage is seen to be blocked").value
_LITRE_STEP_ML = 100


def _look(place: Workplace, part: str) -> list[Noticed]:
    exhaust, engine = place.rig.engine.exhaust, place.rig.engine
    found = [see(part, "seacock_is_open" if exhaust.seacock_open else "seacock_is_shut")]
    if engine.running:
        found.append(see(part, "water_comes" if water_comes(place) else "water_missing"))
        found.append(see(place.first("engine"), f"smoke_{engine.smoke()}"))
    return found


def _seacock(is_open: bool) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        place.rig.engine.exhaust.seacock_open = is_open
        return [see(part, "seacock_opened" if is_open else "seacock_shut")]

    return do


def _knock(place: Workplace, part: str) -> list[Noticed]:
    full = place.rig.engine.exhaust.silencer_share() > _HEAVY_SHARE
    return [feel(part, "silencer_full" if full else "silencer_empty")]


def _drain(place: Workplace, part: str) -> list[Noticed]:
    held_ml = int(place.rig.engine.exhaust.silencer_m3 / MILLILITRE_M3 / _LITRE_STEP_ML + 0.5) * _LITRE_STEP_ML
    place.rig.engine.exhaust.drain()
    return [see(part, "silencer_drained", ml=held_ml) if held_ml > 0 else see(part, "silencer_was_empty")]


def _look_impeller(place: Workplace, part: str) -> list[Noticed]:
    torn = place.rig.engine.exhaust.impeller_share < _WORN_SHARE
    return [see(part, "impeller_torn" if torn else "impeller_sound")]


def _new_impeller(place: Workplace, part: str) -> list[Noticed]:
    place.rig.engine.exhaust.new_impeller()
    return [see(part, "impeller_changed")]


def _look_elbow(place: Workplace, part: str) -> list[Noticed]:
    blocked = place.rig.engine.exhaust.opening < _CLEAR_SHARE
    return [see(part, "elbow_blocked" if blocked else "elbow_clear")]


def _clear(place: Workplace, part: str) -> list[Noticed]:
    was = place.rig.engine.exhaust.opening
    place.rig.engine.exhaust.opening = 1.0
    return [see(part, "exhaust_cleared" if was < _CLEAR_SHARE else "exhaust_was_clear")]


def _engine_stands(place: Workplace, _part: str) -> str:
    return "the engine runs." if place.rig.engine.running else ""


FAMILIES = (
    Family(
        ("exhaust",),
        (
            Action("look", "look at seacock and outlet", 20.0, _look),
            Action("open_seacock", "open the seacock", 10.0, _seacock(True), "", "seacock"),
            Action("shut_seacock", "shut the seacock", 10.0, _seacock(False), "", "seacock"),
            Action("knock", "knock at the silencer", 10.0, _knock),
            Action("drain", "drain the silencer", 5.0 * MINUTE_S, _drain, "spanner, bucket", ready=_engine_stands),
            Action(
                "look_impeller",
                "open the water pump and look at its impeller",
                15.0 * MINUTE_S,
                _look_impeller,
                "screwdriver, gasket",
                "turning",
                ready=_engine_stands,
            ),
            Action(
                "new_impeller",
                "put a new impeller in",
                20.0 * MINUTE_S,
                _new_impeller,
                "screwdriver, impeller, gasket",
                "turning",
                uses=("water pump impeller",),
                ready=_engine_stands,
            ),
            Action(
                "look_elbow",
                "take the hose off and look into the exhaust",
                20.0 * MINUTE_S,
                _look_elbow,
                "screwdriver, torch",
                "hot",
                ready=_engine_stands,
            ),
            Action(
                "clear",
                "clear the exhaust of carbon",
                60.0 * MINUTE_S,
                _clear,
                "scraper, wire, gasket",
                "hot",
                ready=_engine_stands,
            ),
        ),
    ),
)
