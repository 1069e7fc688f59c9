"""What marking yields: five marks with their reasons, hard fails, findings for the instructor, and the work itself."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from engine_sim.marking.scheme import MARK_NAMES, MarkingScheme
from engine_sim.marking.track import Track
from engine_sim.scenarios import Scenario

if TYPE_CHECKING:
    from engine_sim.marking.coach import Analysis


_JUST_SHORT = 1e-6
"""By how little a sum of points may miss a tenth, since sums of fractions do [tenths]."""


@dataclass(frozen=True, slots=True)
class Reason:
    """One sentence on a mark: what, when [s since the start, or None], whether it earned, what it weighs and why.

    ``points`` are what it earned where it is ``good`` and what it cost where it is not; ``step`` is the number of the
    logbook's step that it is about, 0 where it is about none; ``about`` the id of the rule or the name of
    the mishap that it is about, if any.
    """

    text: str
    moment_s: float | None = None
    good: bool = True
    points: float = 0.0
    why: str = ""
    step: int = 0
    about: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """A score between 0 and its maximum [points], with the reasons."""

    score: float
    maximum: float
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkSheet:
    """The marks of one hand-in; ``findings`` are for the instructor, ``passed`` is for all the marks together.

    A hard fail is a result of its own: with one of them nothing is passed, whatever the points. ``track`` is the
    work as it was played, ``analysis`` what the coach says about it (None where it was not asked or cannot say).
    """

    exercise: str
    marks: Mapping[str, Mark]
    passed: bool
    hard_fails: tuple[Reason, ...] = ()
    findings: tuple[str, ...] = ()
    marked_up_to_line: int = 0
    versions: Mapping[str, object] = field(default_factory=dict)
    track: Track = field(default_factory=Track)
    analysis: Analysis | None = None
    scenario: Scenario
    handed_in: bool = False

    @property
    def score(self) -> float:
        """All the marks together [points]."""
        return sum(mark.score for mark in self.marks.values())

    @property
    def maximum(self) -> float:
        """The most that all the marks together can be [points]."""
        return sum(mark.maximum for mark in self.marks.values())

    @property
    def cured(self) -> bool:
        """Tell whether the engine came through its test and the cause is gone: nothing bad is said of the cure."""
        reasons = self.marks["cure"].reasons
        return bool(reasons) and all(reason.good for reason in reasons)


def make_mark(score: float, maximum: float, reasons: tuple[Reason, ...]) -> Mark:
    """Return a mark in whole tenths, held between 0 and ``maximum`` [points]: only what lost nothing is whole."""
    tenths = math.floor(min(max(float(score), 0.0), maximum) * 10.0 + _JUST_SHORT)
    return Mark(tenths / 10.0, maximum, reasons)


def is_passed(marks: Mapping[str, Mark], scheme: MarkingScheme, hard_fails: Sequence[Reason] = ()) -> bool:
    """Say whether the marks reach every share of the pass line, and nothing happened that fails by itself."""
    line = scheme.pass_line
    total, most = sum(m.score for m in marks.values()), sum(m.maximum for m in marks.values())
    least = {"safety": line.safety_share, "method": line.method_share, "cure": line.cure_share}
    reached = all(marks[name].score >= share * marks[name].maximum for name, share in least.items())
    return not hard_fails and total >= line.total_share * most and reached


def zero_marks(scheme: MarkingScheme, text: str) -> dict[str, Mark]:
    """Return five marks of nothing, each with the one reason ``text``."""
    reason = Reason(text, None, False)
    return {name: Mark(0.0, scheme.weights.of(name), (reason,)) for name in MARK_NAMES}
