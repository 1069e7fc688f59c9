"""What the skipper did before the learner came: a try, a night at the berth, a passage, rough water."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from engine_sim.circuit.rig import Rig
from engine_sim.components import engine_figures as figures
from engine_sim.sources import COMMON_PRACTICE, SourcedValue

STAND_S = SourcedValue(
    900.0, "s", COMMON_PRACTICE, "time between the skipper's last try and the learner's first look"
).value
_LONGEST_LAST_RUN_S = SourcedValue(300.0, "s", COMMON_PRACTICE, "the skipper's last run before he gave up").value
_PATIENCE_S = SourcedValue(60.0, "s", COMMON_PRACTICE, "for how long one motors on though it loses its speed").value
_PATIENCE_AT_SEA_S = SourcedValue(300.0, "s", COMMON_PRACTICE, "the same where there is nowhere to stop").value
_CRANK_S = SourcedValue(10.0, "s", COMMON_PRACTICE, "longest single cranking").value
_PREHEAT_S = SourcedValue(15.0, "s", COMMON_PRACTICE, "usual preheating").value
_OVERNIGHT_S = SourcedValue(8 * 3600.0, "s", COMMON_PRACTICE, "a night at the berth").value
_PASSAGE_S = SourcedValue(3 * 3600.0, "s", COMMON_PRACTICE, "a passage under engine").value
_ROUGH_WATER_S = SourcedValue(3600.0, "s", COMMON_PRACTICE, "an hour in rough water").value
_ROUGH = SourcedValue(1.0, "1", COMMON_PRACTICE, "0 calm, 1 rough").value


@dataclass(frozen=True, slots=True)
class LeadUp:
    """What was done, in words and played; ``when`` orders several: what lies further back comes first."""

    id: str
    story: str
    when: int
    play: Callable[[Rig], None]


def _try_and_give_up(rig: Rig) -> None:
    """Start the engine if it starts, motor on until it dies, runs poorly or five minutes are over, try once more."""
    _start(rig)
    rig.run(_LONGEST_LAST_RUN_S, figures.CRUISE_SPEED_RPM, in_gear=True, patience_s=_PATIENCE_S)
    _stop(rig)
    _start(rig)
    rig.run(_CRANK_S, figures.IDLE_SPEED_RPM, in_gear=False)
    _stop(rig)


def _start(rig: Rig) -> None:
    """Preheat where the boat has plugs, and crank."""
    if rig.layout.parts_of("preheat"):
        rig.engine.turn_key_on()
        rig.engine.preheat.on = True
        rig.play(_PREHEAT_S)
        rig.engine.preheat.on = False
    rig.crank(_CRANK_S)
    if not rig.engine.running:
        rig.engine.turn_key_off()


def _stop(rig: Rig) -> None:
    if rig.engine.running:
        rig.stop_engine()


def _lie_overnight(rig: Rig) -> None:
    rig.play(_OVERNIGHT_S)


def _motor_far(rig: Rig) -> None:
    _start(rig)
    rig.run(_PASSAGE_S, figures.CRUISE_SPEED_RPM, in_gear=True, patience_s=_PATIENCE_AT_SEA_S)
    _stop(rig)


def _motor_through_rough_water(rig: Rig) -> None:
    before = rig.circuit.seaway
    rig.circuit.seaway = _ROUGH
    _start(rig)
    rig.run(_ROUGH_WATER_S, figures.CRUISE_SPEED_RPM, in_gear=True, patience_s=_PATIENCE_AT_SEA_S)
    _stop(rig)
    _start(rig)
    _stop(rig)
    rig.circuit.seaway = before


PASSAGE = LeadUp(
    "passage", "yesterday he motored for hours, or until it stopped or had run poorly for some minutes", 0, _motor_far
)
ROUGH_WATER = LeadUp("rough_water", "yesterday he motored through rough water", 1, _motor_through_rough_water)
NIGHT = LeadUp("night", "she lay at her berth overnight", 2, _lie_overnight)
TRY = LeadUp("try", "he tried to start and to motor on, and gave up", 3, _try_and_give_up)


def play_lead_ups(rig: Rig, lead_ups: Iterable[LeadUp]) -> None:
    """Play each of the lead-ups once, what lies further back first."""
    distinct = {item.id: item for item in lead_ups}
    for item in sorted(distinct.values(), key=lambda item: item.when):
        item.play(rig)
