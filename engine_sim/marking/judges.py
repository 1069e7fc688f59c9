"""What a rule of order is, and the small functions that judge one: verdicts on single moments of a track."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from engine_sim.marking.marksheet import Reason
from engine_sim.marking.scheme import Limits
from engine_sim.marking.track import Boat, Moment, Patterns, Track


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a rule was kept at one moment; ``share`` [0..1] of that moment's worth.

    ``left_out`` names the steps that a job lacked, in a sailor's words, for the sentence on it.
    """

    moment: Moment
    share: float
    left_out: tuple[str, ...] = ()

    @property
    def kept(self) -> bool:
        """Say whether nothing was lost."""
        return self.share >= 1.0


Judge = Callable[[Track, Limits], list[Verdict]]
"""Looks through a track and returns a verdict on each moment at which the rule was at stake; none where it was not."""


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule: what it asks, what is said when it was kept and when it was not, why, and its points.

    ``family`` groups rules: those of ``precedence`` are about what comes before opening and changing.
    """

    id: str
    sentence: str
    kept: str
    broken: str
    why: str
    points: float
    judge: Judge
    family: str = ""


def verdict(moment: Moment, kept: bool) -> Verdict:
    """Return a whole verdict for or against."""
    return Verdict(moment, 1.0 if kept else 0.0)


def judge_rule(rule: Rule, verdicts: list[Verdict]) -> tuple[Reason, float] | None:
    """Return the reason and the share kept [0..1] of one rule by its verdicts, or None when nothing triggered it."""
    if not verdicts:
        return None
    share = sum(one.share for one in verdicts) / len(verdicts)
    lost = [one for one in verdicts if not one.kept]
    if not lost:
        first = verdicts[0].moment
        return Reason(rule.kept, first.end_s, True, rule.points, rule.why, first.number, rule.id), share
    times = f" (this happened {len(lost)} times)" if len(lost) > 1 else ""
    missed, first = rule.points * (1.0 - share), lost[0].moment
    return Reason(_broken(rule, lost) + times, first.end_s, False, missed, rule.why, first.number, rule.id), share


def _broken(rule: Rule, lost: list[Verdict]) -> str:
    """Return what is said when a rule was not kept, with what was left out."""
    named = tuple(dict.fromkeys(name for one in lost for name in one.left_out))
    return f"{rule.broken.removesuffix('.')}: {', '.join(named)}." if named else rule.broken


def done_before(track: Track, moment: Moment, needs: Patterns) -> bool:
    """Say whether one of ``needs`` was done earlier than ``moment``."""
    return any(other.among(needs) for other in track.before(moment))


def is_possible(boat: Boat, need: Patterns) -> bool:
    """Say whether the boat has a part of the kind that the first of the patterns names; an unknown boat has each."""
    head = need[0].split(".", 1)[0]
    return not boat.kinds or "*" in head or head in boat.kinds or boat.has(head)


def only_where(holds: Callable[[Track], bool], judge_one: Judge) -> Judge:
    """Judge only on boats for which ``holds`` says so."""

    def judge(track: Track, limits: Limits) -> list[Verdict]:
        return judge_one(track, limits) if holds(track) else []

    return judge
