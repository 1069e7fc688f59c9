"""What a feedback page tells: what went well, the three things that cost most, and the moment on which it turned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from engine_sim.marking.diagnosis import WHY_ALL, WHY_EVIDENCE, WHY_PART
from engine_sim.marking.marksheet import MarkSheet, Reason
from engine_sim.marking.method import NOT_FOLLOWED
from engine_sim.marking.track import Moment

if TYPE_CHECKING:
    from engine_sim.marking.coach import Advice, Analysis, Insight

MOST_COSTLY = 3
"""So many things that cost most are told."""
MOST_PRAISE = 6
"""So many things that went well are told on the page; each mark tells all of its own."""
HARD_FAIL, TIME, AFTERWARDS = "hard fail", "time", "cure"
_SAME_S = 0.5
_WORTH_TELLING_MINUTES = 1.0
_LED_BY_CHECKS = ("method", "diagnosis", TIME)
_DURING_WORK = ("safety", "method", HARD_FAIL)
_ONE_MISTAKE = ("diagnosis", AFTERWARDS)
TRIFLE_POINTS = 0.5
"""What cost less than this is no turning point [points]; judgement."""


@dataclass(frozen=True, slots=True)
class Loss:
    """One thing that cost: its reason, the mark it lowered (or ``hard fail``, ``time``), the moment that it is about.

    ``knew`` is what could be known just before it, ``better`` the best check then open; both None where the moment is
    not about finding the fault, or where the coach did not follow.
    """

    reason: Reason
    mark: str
    moment: Moment | None = None
    knew: Insight | None = None
    better: Advice | None = None


@dataclass(frozen=True, slots=True)
class Turning:
    """The moment on which it turned; ``before`` says that the picture shows how things stood before it.

    ``loss`` is what it cost there, None where it is shown because it was found there: ``found`` says that after it
    only one thing was left.
    """

    moment: Moment
    before: bool
    loss: Loss | None = None
    found: bool = False


@dataclass(frozen=True, slots=True)
class Story:
    """What the page tells, in order."""

    well: tuple[Reason, ...]
    losses: tuple[Loss, ...]
    turning: Turning | None

    @property
    def steps(self) -> tuple[int, ...]:
        """The numbers of the logbook's steps that cost most."""
        return tuple(loss.moment.number for loss in self.losses if loss.moment is not None)


def story_of(sheet: MarkSheet) -> Story:
    """Return what the page tells about a sheet."""
    losses = _losses(sheet)
    return Story(_well(sheet), losses, _turning(sheet, losses))


def _well(sheet: MarkSheet) -> tuple[Reason, ...]:
    """Return what earned most, each sentence once, in the order of the work where it has a moment.

    Nothing is praised of a moment at which a caution was broken.
    """
    safety = sheet.marks["safety"].reasons if "safety" in sheet.marks else ()
    ill = {reason.step for reason in (*sheet.hard_fails, *safety) if not reason.good}
    good = [
        reason if name in _DURING_WORK else replace(reason, moment_s=None)
        for name, mark in sheet.marks.items()
        for reason in mark.reasons
        if reason.good and (reason.step == 0 or reason.step not in ill)
    ]
    first = {reason.text: reason for reason in reversed(good)}
    chosen = sorted(first.values(), key=lambda reason: -reason.points)[:MOST_PRAISE]
    return tuple(sorted(chosen, key=lambda reason: reason.moment_s if reason.moment_s is not None else float("inf")))


def _losses(sheet: MarkSheet) -> tuple[Loss, ...]:
    """Return what cost most: hard fails, then lost points, then time that a better check would have saved.

    Of what shows only after the work (an engine that does not keep running) one thing is told before the moments that
    led there: several of them are mostly one and the same.
    """
    told: dict[str, Loss] = {}
    for name, reason in _bad(sheet):
        told.setdefault(reason.text, _loss(sheet, name, reason))
    losses = list(told.values())
    late = [loss for loss in losses if loss.moment is None and not loss.reason.step and loss.mark != HARD_FAIL][1:]
    first = [loss for loss in losses if not any(loss is other for other in late)]
    chosen = [*first, *late][:MOST_COSTLY]
    if sheet.analysis is not None and len(chosen) < MOST_COSTLY:
        chosen += _detours(sheet, sheet.analysis, {loss.moment.number for loss in chosen if loss.moment})
    return tuple(chosen[:MOST_COSTLY])


def _bad(sheet: MarkSheet) -> list[tuple[str, Reason]]:
    """Return what failed or cost points, dearest first, each with its mark; what comes from one mistake is one."""
    cost = [(name, reason) for name in sheet.marks for reason in _mistakes(sheet, name)]
    return [*((HARD_FAIL, reason) for reason in sheet.hard_fails), *sorted(cost, key=lambda pair: -pair[1].points)]


def _mistakes(sheet: MarkSheet, name: str) -> list[Reason]:
    """Return what cost points in a mark, as mistakes; what only follows from an engine not cured is not told again."""
    bad = _lost(sheet, name)
    if name in _ONE_MISTAKE:
        groups: dict[tuple[object, ...], list[Reason]] = {}
        for reason in bad:
            key = (reason.step, reason.moment_s, reason.text if reason.why == WHY_ALL else "")
            groups.setdefault(key if name != AFTERWARDS else (), []).append(reason)
        return [as_one(group) for group in groups.values()]
    if name == "housekeeping" and _lost(sheet, AFTERWARDS):
        return [reason for reason in bad if reason.why]
    return bad


def _lost(sheet: MarkSheet, name: str) -> list[Reason]:
    reasons = sheet.marks[name].reasons if name in sheet.marks else ()
    return [reason for reason in reasons if not reason.good and reason.points > 0]


def as_one(reasons: Sequence[Reason]) -> Reason:
    """Return the costs of one mistake as one reason with all their points.

    Of several with the same why only the first is told, and of evidence nothing where the part was not right.
    """
    wrong_part = any(reason.why == WHY_PART for reason in reasons)
    told = {reason.why: reason.text for reason in reversed(reasons)}
    texts = [text for why, text in reversed(told.items()) if not (wrong_part and why == WHY_EVIDENCE)]
    return replace(reasons[0], text=" ".join(texts), points=sum(reason.points for reason in reasons))


def _loss(sheet: MarkSheet, name: str, reason: Reason) -> Loss:
    """Return a loss with its moment and, where it is about finding the fault, what could be known and done then."""
    moment = moment_of(sheet, reason) if reason.step or name in _DURING_WORK else None
    if moment is None and name not in _DURING_WORK and not reason.step:
        reason = replace(reason, moment_s=None)
    if sheet.analysis is None or not sheet.analysis.insights:
        return Loss(reason, name, moment)
    if name == AFTERWARDS:
        return Loss(reason, name, moment, sheet.analysis.insights[-1])
    if name not in _LED_BY_CHECKS:
        return Loss(reason, name, moment)
    if reason.text == NOT_FOLLOWED and moment is not None:
        return Loss(reason, name, moment, known_at(sheet.analysis, moment.number))
    step = moment.number if moment is not None else reason.step
    knew = known_before(sheet.analysis, step) if step else sheet.analysis.insights[-1]
    if moment is None:
        return Loss(reason, name, moment, knew, still_open(sheet, knew))
    return Loss(reason, name, moment, knew, best_before(sheet.analysis, moment))


def still_open(sheet: MarkSheet, knew: Insight | None) -> Advice | None:
    """Return the best check that was open before the last step, where that step was another and told nothing."""
    last = next((one for one in sheet.track.moments if knew is not None and one.number == knew.step), None)
    if knew is None or last is None or knew.told_bits > 0.0 or len(knew.suspects) < 2:
        return None
    return _other_than(last, knew.best)


def _other_than(moment: Moment, best: Advice | None) -> Advice | None:
    """Return a check as a better move than what was done: another one, and one that could have told something.

    A look that is only to come before anything is opened is the rules' to ask for.
    """
    if best is None or best.saves_minutes <= 0.0:
        return None
    return None if (best.part, best.action) == (moment.part, moment.action) else best


def moment_of(sheet: MarkSheet, reason: Reason) -> Moment | None:
    """Return the moment that a reason is about: by its step, else by its clock, else none."""
    for moment in sheet.track.moments:
        if reason.step and moment.number == reason.step:
            return moment
    if reason.moment_s is None or reason.step:
        return None
    return next(
        (one for one in sheet.track.moments if abs(one.end_s - reason.moment_s) < _SAME_S),
        None,
    )


def known_before(analysis: Analysis, step: int) -> Insight | None:
    """Return what could be known just before the logbook's step of that number."""
    earlier = [insight for insight in analysis.insights if insight.step < step]
    return earlier[-1] if earlier else None


def known_at(analysis: Analysis | None, step: int) -> Insight | None:
    """Return what could be known after the logbook's step of that number."""
    return next((one for one in analysis.insights if one.step == step), None) if analysis is not None else None


def best_before(analysis: Analysis, moment: Moment) -> Advice | None:
    """Return the best check that was open just before a moment, unless the learner did just that."""
    own = next((insight for insight in analysis.insights if insight.step == moment.number), None)
    return _other_than(moment, own.best) if own is not None else None


def _detours(sheet: MarkSheet, analysis: Analysis, told: set[int]) -> list[Loss]:
    """Return the steps after which most time was lost against the best check then open, dearest first."""
    moments = {moment.number: moment for moment in sheet.track.moments}
    costs = [
        (insight.lost_minutes, moments[insight.step])
        for insight in analysis.insights
        if insight.step in moments and insight.step not in told
    ]
    dear = sorted((cost for cost in costs if cost[0] >= _WORTH_TELLING_MINUTES), key=lambda c: (-c[0], c[1].number))
    return [
        Loss(_time_reason(moment, lost), TIME, moment, known_before(analysis, moment.number), best)
        for lost, moment in dear
        if (best := best_before(analysis, moment)) is not None
    ]


def _time_reason(moment: Moment, lost_minutes: float) -> Reason:
    told = f"Another check would have told more for its time: about {lost_minutes:.0f} min sooner on average."
    return Reason(told, moment.end_s, False, 0.0, "", moment.number)


def _turning(sheet: MarkSheet, losses: Sequence[Loss]) -> Turning | None:
    """Return a hard fail, else the costliest moment of method among what is told, else the first that is no trifle.

    Where there is none, it turned where only the truth was left, else where a check first showed something. What came
    after a hard fail turned nothing any more.
    """
    fails_s = [fail.moment_s for fail in sheet.hard_fails if fail.moment_s is not None]
    end_s = min(fails_s, default=float("inf"))
    costly = [loss for loss in losses if loss.moment is not None and loss.moment.start_s <= end_s and not _trifle(loss)]
    costly.sort(key=lambda loss: (loss.mark != HARD_FAIL, loss.mark != "method"))
    if costly and costly[0].moment is not None:
        return Turning(costly[0].moment, costly[0].reason.text != NOT_FOLLOWED, costly[0])
    found = sheet.analysis.found_step if sheet.analysis is not None else 0
    moments = [moment for moment in sheet.track.moments if moment.number == found]
    if moments:
        return Turning(moments[0], False, None, True)
    told = [moment for moment in sheet.track.moments if moment.tells]
    return Turning(told[0], False) if told else None


def _trifle(loss: Loss) -> bool:
    return loss.mark not in (HARD_FAIL, TIME) and loss.reason.points < TRIFLE_POINTS


def each_why_once(reasons: Sequence[Reason]) -> list[Reason]:
    """Return the reasons with every why told only where it first comes."""
    told: set[str] = set()
    kept = []
    for reason in reasons:
        kept.append(replace(reason, why="") if reason.why in told else reason)
        told.add(reason.why)
    return kept
