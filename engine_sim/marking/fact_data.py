"""The facts of one hand-in as plain data: what a class report counts, kept beside the marks.

They are taken from the finished mark sheet and the diagnoses, so that nobody has to play a logbook again to count how
often the order broke, or where. Times are seconds [s] on the boat's clock.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

KEPT, BROKEN, NOT_AT_STAKE = "kept", "broken", "not at stake"
"""What can be said of a rule or caution."""


@dataclass(frozen=True, slots=True)
class FaultFact:
    """One thing that was really wrong: where and what, by name and in words."""

    part: str
    fault: str
    part_label: str
    fault_label: str


@dataclass(frozen=True, slots=True)
class SignFact:
    """Something named as evidence: where it was noticed, its key and its sentence, and whether that check showed it."""

    part: str
    part_label: str
    key: str
    text: str
    shows: bool


@dataclass(frozen=True, slots=True)
class DiagnosisFact:
    """A diagnosis that counted: where and what, whether both are right, and what was named as evidence."""

    part: str
    fault: str
    part_label: str
    fault_label: str
    right: bool
    named: tuple[SignFact, ...] = ()

    @property
    def misled_by(self) -> tuple[SignFact, ...]:
        """What was named behind a wrong diagnosis although it shows nothing of what was wrong."""
        return () if self.right else tuple(sign for sign in self.named if not sign.shows)


@dataclass(frozen=True, slots=True)
class RuleFact:
    """How one rule of method, or one caution, fared: ``state`` is one of kept, broken, not at stake.

    ``points`` are what it earned or cost; ``step`` and ``moment_s`` [s] say where, 0 and None where it was not at
    stake.
    """

    id: str
    sentence: str
    family: str
    state: str
    points: float = 0.0
    step: int = 0
    moment_s: float | None = None


@dataclass(frozen=True, slots=True)
class CheckFact:
    """A check: ``part.action``, in words, its step, and when it ended [s]."""

    name: str
    words: str
    step: int
    moment_s: float


@dataclass(frozen=True, slots=True)
class MarkFact:
    """One mark, or one sum: its score and its maximum [points]."""

    name: str
    score: float
    maximum: float


@dataclass(frozen=True, slots=True)
class FailFact:
    """Something that fails by itself: its name, its sentence, and when [s]."""

    name: str
    text: str
    moment_s: float | None


@dataclass(frozen=True, slots=True)
class SumFact:
    """One sum: right or wrong, whether it was answered, and the slip that its answer came from (empty for none known).

    ``slip`` is the number of the sum's known slip, -1 for none; ``slip_text`` what is said of it.
    """

    id: str
    title: str
    objective: str
    right: bool
    answered: bool
    slip: int = -1
    slip_text: str = ""


@dataclass(frozen=True, slots=True)
class Conditions:
    """Under which conditions the work was done: weather, the most help allowed, minutes to a shore to leeward [min].

    Temperature [degC] is None for a summer's day or what a fault makes it; ``seaway`` 0 calm to 1 rough.
    """

    temperature_c: float | None = None
    seaway: float = 0.0
    heel_deg: float = 0.0
    pitch_deg: float = 0.0
    help_most: str = ""
    lee_shore_min: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """All the facts of one hand-in. ``clock_s`` is how long the work took and ``cranked_s`` how long it cranked [s].

    ``checks`` counts what was looked at, tried or measured, but for glow plugs and runs, which belong to every start;
    ``told_nothing`` are those of them, made before the fault was found or changed, that left possible all that had been
    possible, as the coach reckons: nothing is known of them without it (``by_coach``). ``rules`` are the rules of
    method, ``cautions`` those of safety, each in its house's order; ``helps`` counts help by its kind.
    """

    exercise: str
    ticket: str = ""
    layout: str = ""
    versions: Mapping[str, object] = field(default_factory=dict)
    conditions: Conditions = field(default_factory=Conditions)
    marks: tuple[MarkFact, ...] = ()
    handed_in: bool = False
    worked: bool = False
    truths: tuple[FaultFact, ...] = ()
    diagnoses: tuple[DiagnosisFact, ...] = ()
    rules: tuple[RuleFact, ...] = ()
    cautions: tuple[RuleFact, ...] = ()
    first_broken: RuleFact | None = None
    first_check: CheckFact | None = None
    checks: int = 0
    told_nothing: tuple[CheckFact, ...] = ()
    by_coach: bool = False
    clock_s: float = 0.0
    cranked_s: float = 0.0
    helps: Mapping[str, int] = field(default_factory=dict)
    cured: bool = False
    passed: bool = False
    hard_fails: tuple[FailFact, ...] = ()
    sums: tuple[SumFact, ...] = ()


def facts_from(data: Mapping[str, Any]) -> Facts:
    """Return facts that were kept as plain data, as :func:`dataclasses.asdict` writes them.

    Raises TypeError or LookupError for data that never was any.
    """
    lists: dict[str, type] = {
        "marks": MarkFact,
        "truths": FaultFact,
        "rules": RuleFact,
        "cautions": RuleFact,
        "told_nothing": CheckFact,
        "hard_fails": FailFact,
        "sums": SumFact,
    }
    made: dict[str, Any] = dict(data)
    made |= {name: tuple(kind(**one) for one in data[name]) for name, kind in lists.items()}
    made["conditions"] = Conditions(**data["conditions"])
    made["diagnoses"] = tuple(_diagnosis_from(one) for one in data["diagnoses"])
    for name, kind in (("first_broken", RuleFact), ("first_check", CheckFact)):
        made[name] = None if data[name] is None else kind(**data[name])
    return Facts(**made)


def _diagnosis_from(data: Mapping[str, Any]) -> DiagnosisFact:
    return DiagnosisFact(**{**data, "named": tuple(SignFact(**one) for one in data["named"])})
