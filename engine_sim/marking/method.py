"""The order mark: the rules that the learner's work triggered, and whether the work got anywhere."""

from __future__ import annotations

from dataclasses import replace

from engine_sim.marking.marksheet import Mark, Reason, make_mark
from engine_sim.marking.rules import RULES, Rule
from engine_sim.marking.scheme import MarkingScheme, OrderScheme
from engine_sim.marking.signs import CHECKS, CRANKS
from engine_sim.marking.track import Track

NOTHING_DONE = "Nothing was done on the engine, so there is no order of work to mark."


def judge_rule(rule: Rule, track: Track, scheme: MarkingScheme) -> tuple[Reason, float] | None:
    """Return the reason and the share kept [0..1] of one rule, or None when nothing triggered it."""
    verdicts = rule.judge(track, scheme.limits)
    if not verdicts:
        return None
    share = sum(one.share for one in verdicts) / len(verdicts)
    lost = [one for one in verdicts if not one.kept]
    if not lost:
        return Reason(rule.kept, verdicts[0].moment.end_s, True, rule.points, rule.why), share
    times = f" (this happened {len(lost)} times)" if len(lost) > 1 else ""
    missed = rule.points * (1.0 - share)
    return Reason(rule.broken + times, lost[0].moment.end_s, False, missed, rule.why), share


def work_share(track: Track, order: OrderScheme) -> float:
    """Return how much of the order mark can be earned [0..1]: all once a check showed the fault and led to it."""
    if not track.moments:
        return 0.0
    if any(moment.tells for moment in track.moments):
        return 1.0 if track.followed else order.not_followed_share
    checks = {moment.name for moment in track.among(CHECKS)}
    share = order.unproductive_share * min(1.0, len(checks) / order.checks_for_unproductive_share)
    return max(share, order.cranking_only_share)


def work_reason(track: Track, share: float, most: float) -> Reason:
    """Return the sentence on whether the work got anywhere, and what it cost [points]."""
    lost = most * (1.0 - share)
    if share >= 1.0:
        first = next(moment for moment in track.moments if moment.tells)
        return Reason("Your checks came upon what was wrong, and you followed them up.", first.end_s, True)
    if any(moment.tells for moment in track.moments):
        first = next(moment for moment in track.moments if moment.tells)
        text = "A check showed that something was wrong, but you did not follow it to the part that caused it."
        return Reason(text, first.end_s, False, lost)
    if not track.among(CHECKS):
        what = "the starter was turned" if track.among(CRANKS) else "something was done"
        text = f"Although {what}, no check was made that could show what was wrong, so the order earns next to nothing."
        return Reason(text, None, False, lost)
    text = "None of the checks you made came upon what was wrong, so only a part of the order mark can be earned."
    return Reason(text, None, False, lost)


def mark_order(track: Track, scheme: MarkingScheme) -> Mark:
    """Mark the order of work by :data:`RULES`; nobody is marked on checks that were not needed."""
    most = scheme.weights.order
    if not track.moments:
        return Mark(0.0, most, (Reason(NOTHING_DONE, None, False, most),))
    judged = [(rule, found) for rule in RULES if (found := judge_rule(rule, track, scheme)) is not None]
    at_stake = sum(rule.points for rule, _ in judged)
    worked = work_share(track, scheme.order)
    worth = most * worked / at_stake if at_stake else 0.0
    kept = sum(rule.points * share for rule, (_, share) in judged)
    reasons = [replace(reason, points=reason.points * worth) for _, (reason, _) in judged]
    return make_mark(worth * kept, most, (work_reason(track, worked, most), *reasons))
