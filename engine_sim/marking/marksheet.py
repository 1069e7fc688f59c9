"""What marking yields: marks with their reasons, findings for the instructor, one picture."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from engine_sim.marking.scheme import MARK_NAMES, MarkingScheme


@dataclass(frozen=True, slots=True)
class Reason:
    """One sentence on a mark: what, when [s since the start, or None], whether it earned, what it weighs and why."""

    text: str
    moment_s: float | None = None
    good: bool = True
    points: float = 0.0
    why: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """A score between 0 and its maximum [points], with the reasons."""

    score: float
    maximum: float
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True)
class MarkSheet:
    """The marks of one hand-in; ``findings`` are for the instructor, ``passed`` is for the three marks together."""

    exercise: str
    marks: Mapping[str, Mark]
    passed: bool
    findings: tuple[str, ...] = ()
    picture_svg: str = ""
    marked_up_to_line: int = 0
    versions: Mapping[str, object] = field(default_factory=dict)

    @property
    def score(self) -> float:
        """The three marks together [points]."""
        return sum(mark.score for mark in self.marks.values())

    @property
    def maximum(self) -> float:
        """The most the three marks can be [points]."""
        return sum(mark.maximum for mark in self.marks.values())


def make_mark(score: float, maximum: float, reasons: tuple[Reason, ...]) -> Mark:
    """Return a mark rounded to a hundredth and held between 0 and ``maximum`` [points]."""
    return Mark(round(min(max(float(score), 0.0), maximum), 2), maximum, reasons)


def is_passed(marks: Mapping[str, Mark], scheme: MarkingScheme) -> bool:
    """Say whether the marks reach every share of the pass line."""
    line = scheme.pass_line
    total, most = sum(m.score for m in marks.values()), sum(m.maximum for m in marks.values())
    order, outcome = marks["order"], marks["outcome"]
    return (
        total >= line.total_share * most
        and order.score >= line.order_share * order.maximum
        and outcome.score >= line.outcome_share * outcome.maximum
    )


def zero_marks(scheme: MarkingScheme, text: str) -> dict[str, Mark]:
    """Return three marks of nothing, each with the one reason ``text``."""
    reason = Reason(text, None, False)
    return {name: Mark(0.0, scheme.weights.of(name), (reason,)) for name in MARK_NAMES}
