"""The cure mark: the engine's own answer in its test, and the cause gone, compared with a boat with nothing wrong."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from engine_sim.attempt import Attempt
from engine_sim.faults import TEMPERATURE, fault
from engine_sim.marking.engine_test import SAME_SUCTION_KPA, STEADY_SHARE, EngineResult, try_engine
from engine_sim.marking.marksheet import Mark, Reason, make_mark
from engine_sim.marking.replaying import healthy_boat
from engine_sim.marking.sayings import Saying
from engine_sim.marking.scheme import EngineTest, MarkingScheme
from engine_sim.marking.telling import COMPLAINT
from engine_sim.scenarios import Scenario, SetFault
from engine_sim.wording import OWN_DEEDS

A_FEW_BUBBLES = frozenset({"screw_froth", "screw_clears", "bowl_air", "froth_in_hose"})
OF_THE_COLD = frozenset({"bowl_waxy", "bowl_hazy", "jar_waxy", "jar_hazy", "lever_stiff", "screw_weak"})
"""What the cold alone does to any boat's fuel: no cause left behind where the engine comes through."""
AIR_LEFT = frozenset(
    {
        *("screw_air", "screw_froth", "screw_clears", "bowl_air", "air_in_hose", "froth_in_hose", "lever_air"),
        *("lever_spongy", "pump_hurries", "injector_silent", "drain_draws", "screw_shut_froth"),
    }
)
"""What air shows that was not bled out: it stops the engine, but is the cause only where air alone was wrong."""
NO_FLOW = frozenset({"screw_nothing", "screw_draws", "screw_shut_still"})
"""What stands for air where air shows, and else for a way that is blocked."""
RUNS = frozenset({"screw_solid", "screw_clears", "screw_froth", "screw_weak", "screw_water", "screw_air"})
"""What comes at a screw to which there is a way."""
AIR_FAULTS = frozenset({"air_in_filter", "air_in_line"})
SHOWS_RUNNING = frozenset({"air_in_filter", "air_in_line", "low_compression", "flat_battery", "no_preheat"})
FUEL_LEVEL = "dip_fuel"
LOW_CM = 2.0
"""Fuel over the pick-up's mouth [cm] from which a tank counts as filled again; judgement."""
ANY_OF = frozenset(
    {
        *("dip_fuel", "changeover_at", "changeover_both", "can_level", "can_lashed", "can_loose", "can_cap_open"),
        *(
            "can_cap_shut",
            "volts_at_rest",
            "jar_fuel",
            "jar_one_layer",
            "return_to_tank",
            "jar_empty",
            "drain_runs_fuel",
        ),
        *("lamps_bright", "key_on", "stems_warm", "return_free", "vent_spits", "vent_hiss", "drain_dry", "screw_solid"),
        *("lever_steady", "lever_light", "joint_tight", "return_runs", "cranks_briskly", "starter_smells", "jar_over"),
        *("water_missing", "still_hot", "vacuum_reads"),
    }
)
"""What is as good on one boat as another, whatever its figures: how much fuel there is, which tank is in use."""
WITH_FIGURES = frozenset({"volts_dropped", "preheat_amps", "paste_water", "some_stems_cold"})
"""What is compared by its figures too."""
WHY_TEST = "An engine that fires is not yet mended: air that still gets in shows only after minutes, or after a rest."
NOT_STARTED = "The cause is gone, but the engine was left so that it does not run: nobody gets home with that."
NOT_TOUCHED = "Nothing was mended, so nothing was cured: the engine does what it did when you came aboard."
WHY_CAUSE = "A sign that is cured and a cause that is not will stop the engine again, and seldom in harbour."


@dataclass(frozen=True, slots=True)
class Cured:
    """What the test said: the engine came through, the cause is gone, what was still found, and whether air was."""

    result: EngineResult
    ran: bool
    through: bool
    gone: bool
    left: tuple[Saying, ...]
    airy: bool = False


@lru_cache(maxsize=64)
def healthy_result(healthy: Scenario, test: EngineTest) -> EngineResult:
    """Return how a boat with nothing wrong comes through the test; one answer serves a whole class."""
    return try_engine(Attempt(healthy), test)


def kept_its_speed(result: EngineResult, healthy: EngineResult) -> bool:
    """Say whether the engine ran as fast as the healthy boat's at every stage both reached."""
    pairs = zip(result.stages, healthy.stages, strict=False)
    return all(
        own.speed_rpm >= STEADY_SHARE * sound.speed_rpm for own, sound in pairs if own.name == sound.name == "runs"
    )


def runs_low(one: Saying) -> bool:
    """Say whether a dipstick showed hardly more fuel than the pick-up cannot reach."""
    return one.key == FUEL_LEVEL and one.figures[0] < one.figures[1] + LOW_CM


def found_left(result: EngineResult, healthy: EngineResult, harmless: frozenset[str]) -> tuple[Saying, ...]:
    """Return what the look-over showed that a sound boat does not, but for what is ``harmless``."""
    nothing = ANY_OF | COMPLAINT | OWN_DEEDS | harmless
    keys = {(one.part, one.key) for one in healthy.found}
    return tuple(
        one
        for one in result.found
        if one.key not in nothing
        if not any(one.agrees_with(other) for other in healthy.found)
        if one.key in WITH_FIGURES or (one.part, one.key) not in keys
    )


def nothing_comes(result: EngineResult, healthy: EngineResult) -> tuple[Saying, ...]:
    """Return what showed at screws from which nothing came though on a sound boat something does."""
    should = {one.part for one in healthy.found if one.key in RUNS}
    does = {one.part for one in result.found if one.key in RUNS}
    return tuple(one for one in result.found if one.key in NO_FLOW and one.part in should - does)


def air_found(result: EngineResult, healthy: EngineResult) -> tuple[Saying, ...]:
    """Return what showed air where a sound boat shows none."""
    sound = {(one.part, one.key) for one in healthy.found}
    return tuple(one for one in result.found if one.key in AIR_LEFT and (one.part, one.key) not in sound)


def _causes_left(scenario: Scenario, result: EngineResult, healthy: EngineResult, through: bool) -> tuple[Saying, ...]:
    """Return what still shows a cause: bubbles and air do not where something else was wrong than air alone."""
    air = any(wrong.fault in AIR_FAULTS for wrong in scenario.faults)
    harmless = A_FEW_BUBBLES | OF_THE_COLD if through else frozenset()
    dry: tuple[Saying, ...] = ()
    if not air:
        bubbles = bool(air_found(result, healthy))
        harmless |= AIR_LEFT | (NO_FLOW if bubbles else frozenset())
        dry = () if bubbles else nothing_comes(result, healthy)
    left = found_left(result, healthy, harmless)
    if through:
        return left
    return left + dry + tuple(one for one in result.found if runs_low(one))


def try_out(attempt: Attempt, scenario: Scenario, test: EngineTest) -> Cured:
    """Put the engine through the test and compare it with a sound boat's; ``attempt`` is used up by it."""
    result, healthy = try_engine(attempt, test), healthy_result(healthy_boat(scenario), test)
    ran = result.passed("runs") and kept_its_speed(result, healthy)
    through = ran and result.passed("restarts")
    left = _causes_left(scenario, result, healthy, through)
    free = result.suction_kpa <= healthy.suction_kpa + SAME_SUCTION_KPA
    needs_running = any(_shows_only_running(wrong) for wrong in scenario.faults)
    gone = not left and free and (through or not needs_running)
    return Cured(result, ran, through, gone, left, bool(air_found(result, healthy)))


def _shows_only_running(wrong: SetFault) -> bool:
    """Say whether only the running engine shows that a fault is gone: cold fuel, worn cylinders, flat battery."""
    return TEMPERATURE in fault(wrong.fault).settles(wrong.part) or wrong.fault in SHOWS_RUNNING


def started_well(result: EngineResult) -> bool:
    """Say whether the engine started and was still running after the first minutes at idle."""
    return result.stages[0].passed and len(result.stages) > 1 and result.stages[1].passed


def air_text(cured: Cured) -> str:
    """Return that air was left in the fuel's way, where the cause is gone and the engine did not come through."""
    return " Air was still in the fuel's way: it had not been bled out." if cured.gone and cured.airy else ""


def start_reason(result: EngineResult, points: float) -> Reason:
    """Return the sentence on the first start."""
    stage = result.stages[0]
    if started_well(result):
        return Reason("After your work the engine started and kept running at idle.", stage.moment_s, True, points)
    text = "started, but did not keep running" if stage.passed else "did not start"
    return Reason(f"After your work the engine {text}.", stage.moment_s, False, points, WHY_TEST)


def run_reason(result: EngineResult, ran: bool, points: float) -> Reason:
    """Return the sentence on the run at idle and at cruise."""
    runs = [stage for stage in result.stages if stage.name == "runs"]
    if not runs:
        return Reason("It could not be tried at idle and at cruise.", None, False, points, WHY_TEST)
    if ran:
        return Reason("It ran steadily at idle and at cruise.", runs[-1].moment_s, True, points)
    died = next((stage for stage in runs if not stage.passed), None)
    if died is None:
        text = "It ran, but it would not reach its cruising speed."
    else:
        text = f"It died in the run at idle and at cruise, after about {max(died.minutes, 1):.0f} min."
    return Reason(text, (died or runs[-1]).moment_s, False, points, WHY_TEST)


def restart_reason(result: EngineResult, points: float, minutes: float) -> Reason:
    """Return the sentence on starting again after a stand."""
    again = [stage for stage in result.stages if stage.name == "restarts"]
    if not again:
        return Reason("It never came as far as being stopped and started again.", None, False, points, WHY_TEST)
    if result.passed("restarts"):
        return Reason(f"Stopped for {minutes:.0f} min, it started again and ran.", again[-1].moment_s, True, points)
    text = f"Stopped for {minutes:.0f} min, it did not start again and keep running."
    return Reason(text, again[-1].moment_s, False, points, WHY_TEST)


def cause_reason(cured: Cured, labels: dict[str, str], moment_s: float, points: float) -> Reason:
    """Return the sentence on the cause, from what the look-over showed."""
    if cured.gone:
        return Reason("Looked over afterwards, nothing of the fault was left.", moment_s, True, points)
    shown = dict.fromkeys(f"{labels.get(one.part, one.part)}: “{_in_words(one)}”" for one in cured.left)
    where = f" Still there: {' '.join(tuple(shown)[:3])}" if shown else ""
    text = f"Looked over afterwards, the boat still showed something that a sound one would not.{where}"
    return Reason(text, moment_s, False, points, WHY_CAUSE)


def _in_words(one: Saying) -> str:
    """Return what was noticed as it was said, with its figures back in their places."""
    figures = iter(one.figures)
    return "".join(f"{next(figures, 0.0):g}" if letter == "#" else letter for letter in one.words)


def mark_untouched(moment_s: float, scheme: MarkingScheme) -> Mark:
    """Mark a boat on which nothing was changed: how far its engine comes by itself is nobody's merit."""
    most = scheme.weights.cure
    return Mark(0.0, most, (Reason(NOT_TOUCHED, moment_s, False, most, WHY_CAUSE),))


def mark_cure(cured: Cured, labels: dict[str, str], moment_s: float, scheme: MarkingScheme) -> Mark:
    """Mark what the engine did from where the learner left it, and whether the cause is gone."""
    points, result = scheme.cure, cured.result
    reasons = [
        start_reason(result, points.starts),
        run_reason(result, cured.ran, points.runs),
        restart_reason(result, points.restarts, scheme.engine_test.standing_minutes),
        cause_reason(cured, labels, moment_s, points.cause_gone),
    ]
    if not cured.through:
        first = next(index for index, reason in enumerate(reasons) if not reason.good)
        reasons[first] = replace(reasons[first], text=reasons[first].text + air_text(cured))
    if cured.gone and not started_well(result):
        whole = reasons[-1]
        reasons[-1] = replace(whole, points=whole.points * points.not_started_share)
        lost = whole.points * (1.0 - points.not_started_share)
        reasons.append(Reason(NOT_STARTED, whole.moment_s, False, lost, WHY_TEST))
    return make_mark(sum(reason.points for reason in reasons if reason.good), scheme.weights.cure, tuple(reasons))
