"""The method mark: the rules that the learner's work triggered, what the coach says, and whether it got anywhere."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from engine_sim.marking.judges import Rule, Verdict, judge_rule
from engine_sim.marking.judges_precedence import opened_blind
from engine_sim.marking.marksheet import Mark, Reason, make_mark
from engine_sim.marking.rules import RULES
from engine_sim.marking.rules_precedence import FAMILY as PRECEDENCE_FAMILY
from engine_sim.marking.scheme import Limits, MarkingScheme, MethodScheme
from engine_sim.marking.signs import CHECKS, CRANKS, FAULT_CHANGES, FUEL_WORK
from engine_sim.marking.track import Moment, Track

if TYPE_CHECKING:
    from engine_sim.marking.coach import Analysis

NOTHING_DONE = "Nothing was done on the engine, so there is no method of work to mark."
NOT_FOLLOWED = "A check showed that something was wrong, but you did not follow it to the part that caused it."
BLINDLY = "You opened or changed {parts} parts one after the other while looks that cost nothing were still to be made."
LEAST_AT_STAKE = 6.0
"""Points of rules that weigh the whole mark where fewer were at stake: one slip alone is not half a mark; judgement."""
NARROW_ENOUGH = 0.5
"""Share of the likeliest thing left from which the search counts as done [of all that is possible]; judgement."""
CHECKS_WHY = "A good check takes a minute, has an answer that you don't know yet, and halves what could be wrong."
WORK_WHY = (
    "A check that shows something wrong, followed to its part, finds the next fault too; trying part after part "
    "finds it by luck."
)
HELP_WHY = "Help is there to be used while you practise; on the water there is nobody to ask, so it costs a little."
OPENED_WHY = (
    "Opening one part after another comes upon it in the end, at the price of air and dirt at each. A check "
    "from outside says first which part is worth opening."
)


def verdicts_of(rule: Rule, track: Track, limits: Limits, analysis: Analysis | None) -> list[Verdict]:
    """Return a rule's verdicts.

    No rule of precedence is broken by what the coach would have done at that moment too, nor by work that begins when
    the search is over. What is excused was not done either: it is not at stake, and nothing is praised for it.
    """
    found = rule.judge(track, limits)
    if analysis is None or rule.family != PRECEDENCE_FAMILY:
        return found
    best = {one.step: one.best for one in analysis.insights}

    def as_the_coach(moment: Moment) -> bool:
        if 0 < analysis.found_step < moment.number:
            return True
        advice = best.get(moment.number)
        return advice is not None and (advice.part, advice.action) == (moment.part, moment.action)

    counted = [one for one in found if one.kept or not as_the_coach(one.moment)]
    excused = len(counted) < len(found)
    return [] if excused and all(one.kept for one in counted) else counted


def work_share(track: Track, method: MethodScheme) -> float:
    """Return how much of the method mark can be earned [0..1]: all once a check showed the fault and led to it.

    Where one part after another was opened with the cheap looks still to make, it was luck that led there.
    """
    if not track.moments:
        return 0.0
    most = method.opened_blind_share if len(opened_blind(track)) > method.opened_blind_free else 1.0
    return min(most, _found_share(track, method))


def _found_share(track: Track, method: MethodScheme) -> float:
    """Return how much can be earned by how far the checks led [0..1]."""
    if any(moment.tells for moment in track.moments):
        return 1.0 if track.followed else method.not_followed_share
    checks = {moment.name for moment in track.among(CHECKS)}
    share = method.unproductive_share * min(1.0, len(checks) / method.checks_for_unproductive_share)
    return max(share, method.cranking_only_share)


def work_reason(track: Track, method: MethodScheme, most: float) -> Reason:
    """Return the sentence on whether the work got anywhere, what it cost [points], and why.

    Where no check came upon it, the moment is that of the first thing opened or changed all the same.
    """
    share = work_share(track, method)
    lost = most * (1.0 - share)
    first = next((moment for moment in track.moments if moment.tells), None)
    blindly = opened_blind(track)
    if len(blindly) > method.opened_blind_free and share < _found_share(track, method):
        text = BLINDLY.format(parts=len(blindly))
        turn = blindly[int(method.opened_blind_free)]
        return Reason(text, turn.end_s, False, lost, OPENED_WHY, turn.number)
    if first is not None and share >= 1.0:
        text = "Your checks came upon what was wrong, and you followed them up."
        return Reason(text, first.end_s, True, step=first.number)
    if first is not None:
        return Reason(NOT_FOLLOWED, first.end_s, False, lost, WORK_WHY, first.number)
    seen = next((moment for moment in track.moments if moment.number == track.opened_at), None)
    if seen is not None:
        text = "You saw what was wrong only when that part was opened: no check before had led you there."
        return Reason(text, seen.end_s, False, lost, OPENED_WHY, seen.number)
    blind = next(iter(track.among((*FUEL_WORK, *FAULT_CHANGES))), track.moments[-1])
    if not track.among(CHECKS):
        what = "the engine was turned" if track.among(CRANKS) else "something was done"
        text = f"Although {what}, no check was made that could show what was wrong, so method earns next to nothing."
        return Reason(text, blind.end_s, False, lost, WORK_WHY, blind.number)
    text = "None of the checks you made came upon what was wrong, so only a part of the method mark can be earned."
    return Reason(text, blind.end_s, False, lost, WORK_WHY, blind.number)


def coach_grade(analysis: Analysis, method: MethodScheme) -> float:
    """Return how well the checks were chosen [0..1]: all from ``coach_full_at`` of the best that could be done on.

    Who did not get as far as to leave one thing likelier than all others together has it in proportion.
    """
    reach = method.coach_full_at - method.coach_none_at
    over = analysis.efficiency() - method.coach_none_at
    grade = min(1.0, max(0.0, over / reach)) if reach > 0.0 else float(over >= 0.0)
    return grade * narrowed(analysis)


def narrowed(analysis: Analysis) -> float:
    """Return how far the work had narrowed down what was possible [0..1], by the likeliest thing left at its end."""
    if analysis.found_step or not analysis.insights:
        return float(bool(analysis.found_step))
    suspects = analysis.insights[-1].suspects
    return min(1.0, max((one.share for one in suspects), default=0.0) / NARROW_ENOUGH)


def coach_reason(analysis: Analysis, grade: float, most: float) -> Reason:
    """Return the sentence on how well the checks were chosen; ``most`` is what it can earn or cost [points]."""
    if grade >= 1.0:
        return Reason("The checks that you made told much for the time they took.", None, True, most, CHECKS_WHY)
    dearest = max(analysis.insights, key=lambda one: one.lost_minutes, default=None)
    text = "Your checks took much longer to narrow it down than they had to."
    if narrowed(analysis) < 1.0:
        text = "Your checks left many things possible."
    if dearest is None or dearest.lost_minutes <= 0.0:
        return Reason(text, None, False, most * (1.0 - grade), CHECKS_WHY)
    return Reason(text, dearest.moment_s, False, most * (1.0 - grade), CHECKS_WHY, dearest.step)


def mark_method(track: Track, analysis: Analysis | None, scheme: MarkingScheme) -> Mark:
    """Mark the method of work by :data:`RULES` and, where there is an analysis, by how well the checks were chosen.

    Nobody is marked on checks that were not needed: a rule that nothing triggered is not at stake.
    """
    most = scheme.weights.method
    if not track.moments:
        return Mark(0.0, most, (Reason(NOTHING_DONE, None, False, most),))
    judged = [(rule, judge_rule(rule, verdicts_of(rule, track, scheme.limits, analysis))) for rule in RULES]
    found = [(rule, reason, share) for rule, one in judged if one is not None for reason, share in (one,)]
    worked = work_share(track, scheme.method)
    coached = scheme.method.coach_share if analysis is not None else 0.0
    worth = most * worked * (1.0 - coached) / max(LEAST_AT_STAKE, sum(rule.points for rule, _, _ in found))
    score = most * worked * (1.0 - coached) - worth * sum(rule.points * (1.0 - share) for rule, _, share in found)
    reasons = [work_reason(track, scheme.method, most)]
    reasons += [replace(reason, points=reason.points * worth) for _, reason, _ in found]
    if analysis is not None and coached:
        grade, worth = coach_grade(analysis, scheme.method), most * worked * coached
        score += grade * worth
        coached_reason = coach_reason(analysis, grade, worth)
        if track.among(CHECKS):
            reasons.append(coached_reason)
        elif not coached_reason.good:
            reasons[0] = replace(reasons[0], points=reasons[0].points + coached_reason.points)
    helped = help_reason(track, scheme.method)
    if helped is not None:
        score, reasons = max(0.0, score - helped.points), [*reasons, helped]
    return make_mark(score, most, tuple(reasons))


def help_reason(track: Track, method: MethodScheme) -> Reason | None:
    """Return the sentence on the help that was asked for, with what it cost [points]; None where none was."""
    costs = {"nudge": method.nudge_costs, "hint": method.hint_costs, "check": method.check_costs}
    if not track.helps:
        return None
    lost = sum(costs[one.kind] for one in track.helps)
    times = "once" if len(track.helps) == 1 else f"{len(track.helps)} times"
    first = track.helps[0]
    return Reason(f"You asked for help {times}.", first.moment_s, lost <= 0.0, lost, HELP_WHY, first.step)
