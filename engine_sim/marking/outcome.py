"""The outcome mark: the engine's own answer in its test, the cause gone, and the boat left as it should be."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from engine_sim.attempt import Attempt
from engine_sim.marking.engine_test import STEADY_SHARE, EngineResult, try_engine
from engine_sim.marking.marksheet import Mark, Reason, make_mark
from engine_sim.marking.replaying import healthy_boat
from engine_sim.marking.scheme import EngineTest, Limits, MarkingScheme
from engine_sim.scenarios import Scenario

LEFT_CLOSED: tuple[tuple[str, str], ...] = (
    ("separator_vent_open", "the separator's vent was left open"),
    ("separator_drain_open", "the separator's drain was left open"),
    ("fine_filter_screw_open", "the fine filter's bleed screw was left open"),
    ("injection_pump_screw_open", "the injection pump's bleed screw was left open"),
)
A_FEW_BUBBLES = frozenset({"screw_froth", "screw_clears", "bowl_air"})
WHY_TEST = "An engine that fires is not yet mended: air that still gets in shows only after minutes, or after a rest."
WHY_CAUSE = "A sign that is cured and a cause that is not will stop the engine again, and seldom in harbour."
WHY_LEFT = "A screw left open lets air in or fuel out; fuel in the water is an offence and fuel in the bilge can burn."


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


def nothing_left(result: EngineResult, healthy: EngineResult, through: bool) -> bool:
    """Say whether the look-over showed what a sound boat shows; a few bubbles do not matter once it came through."""
    small = A_FEW_BUBBLES if through else frozenset()
    return all(own.key in small or any(own.agrees_with(other) for other in healthy.found) for own in result.found)


def started_well(result: EngineResult) -> bool:
    """Say whether the engine started and was still running after the first minutes at idle."""
    return result.stages[0].passed and len(result.stages) > 1 and result.stages[1].passed


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


def cause_reason(gone: bool, moment_s: float, points: float) -> Reason:
    """Return the sentence on the cause, from what the look-over after the test showed."""
    if gone:
        return Reason("Looked over afterwards, nothing of the fault was left.", moment_s, True, points)
    text = "Looked over afterwards, the fuel side still showed something that a sound boat would not."
    return Reason(text, moment_s, False, points, WHY_CAUSE)


def faults_of_leaving(left: Mapping[str, object], limits: Limits) -> list[str]:
    """Return what was not as it should be when the work was handed in, as phrases."""
    wrong = [phrase for key, phrase in LEFT_CLOSED if left.get(key)]
    nuts = left.get("union_nuts_open")
    if isinstance(nuts, tuple) and any(nuts):
        wrong.append("a union nut was left slack")
    if not left.get("shut_off_open"):
        wrong.append("the shut-off was left shut")
    if left.get("stop_control_pulled"):
        wrong.append("the stop control was left pulled")
    if left.get("battery_lamps") == "dead":
        wrong.append("the battery was left switched off")
    spilled = left.get("spilled_ml")
    if isinstance(spilled, int | float) and spilled > limits.spilled_ml:
        wrong.append(f"about {spilled:.0f} mL of fuel was spilled (at most {limits.spilled_ml:.0f} mL is allowed)")
    return wrong


def left_reason(wrong: list[str], cured: bool, moment_s: float, points: float) -> Reason:
    """Return the sentence on how everything was left."""
    if wrong:
        listed = wrong[0] if len(wrong) == 1 else ", ".join(wrong[:-1]) + " and " + wrong[-1]
        return Reason(f"When you handed in, {listed}.", moment_s, False, points, WHY_LEFT)
    if cured:
        return Reason("Everything was left shut, tight and clean.", moment_s, True, points)
    text = (
        "Everything was left shut, but that counts only when the engine comes through its test and the cause is gone."
    )
    return Reason(text, moment_s, False, points)


def mark_outcome(attempt: Attempt, scenario: Scenario, scheme: MarkingScheme) -> Mark:
    """Mark what the engine does from where the learner left it; ``attempt`` is put through the test here."""
    points, test = scheme.outcome, scheme.engine_test
    left, left_s = attempt.outside(), attempt.clock_s
    result = try_engine(attempt, test)
    healthy = healthy_result(healthy_boat(scenario), test)
    ran = result.passed("runs") and kept_its_speed(result, healthy)
    wrong = faults_of_leaving(left, scheme.limits)
    through = ran and result.passed("restarts")
    gone = nothing_left(result, healthy, through)
    reasons = (
        start_reason(result, points.starts),
        run_reason(result, ran, points.runs),
        restart_reason(result, points.restarts, test.standing_minutes),
        cause_reason(gone, attempt.clock_s, points.cause_gone),
        left_reason(wrong, through and gone, left_s, points.left_right),
    )
    return make_mark(sum(reason.points for reason in reasons if reason.good), scheme.weights.outcome, reasons)
