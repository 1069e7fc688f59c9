"""The marking scheme of one exercise: weights, limits, engine test and pass line, read from a TOML file."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import ClassVar, Self

from engine_sim.errors import EngineSimError

MARK_NAMES = ("order", "diagnosis", "outcome")
SCHEME_VERSION = 1


class BadMarkingScheme(EngineSimError):
    """A marking scheme file cannot be used; the message says where, what was given and what is allowed."""


@dataclass(frozen=True, slots=True)
class Limit:
    """What a number in a scheme may be: ``low`` to ``high``, in whole steps of ``step`` when that is not 0."""

    low: float
    high: float
    step: float = 0.0

    def allows(self, value: float) -> bool:
        """Say whether a number lies inside this limit."""
        if not math.isfinite(value) or not self.low <= value <= self.high:
            return False
        return self.step == 0.0 or math.isclose(value / self.step, round(value / self.step), abs_tol=1e-9)

    def words(self) -> str:
        """Return the limit as a phrase for an error message."""
        steps = f", in steps of {self.step:g}" if self.step else ""
        return f"{self.low:g} to {self.high:g}{steps}"


POINTS = Limit(0.0, 1000.0)
SHARE = Limit(0.0, 1.0)


class Section:
    """One table of the file; a subclass's fields are its keys and ``limits`` says what each may be."""

    limits: ClassVar[Mapping[str, Limit]] = {}

    @classmethod
    def read(cls, where: str, table: object) -> Self:
        """Build the section from a parsed table, or raise :class:`BadMarkingScheme`."""
        if not isinstance(table, dict):
            raise BadMarkingScheme(f"{where}: the table is missing. Add it with {', '.join(cls.limits)}.")
        check_names(where, table, cls.limits)
        return cls(**{name: read_number(where, name, table[name], limit) for name, limit in cls.limits.items()})


@dataclass(frozen=True, slots=True)
class Weights(Section):
    """The most that each mark can be [points]."""

    order: float
    diagnosis: float
    outcome: float

    limits: ClassVar[Mapping[str, Limit]] = {name: POINTS for name in MARK_NAMES}

    def of(self, name: str) -> float:
        """Return the maximum of one mark [points]."""
        return {"order": self.order, "diagnosis": self.diagnosis, "outcome": self.outcome}[name]


@dataclass(frozen=True, slots=True)
class OrderScheme(Section):
    """How much of the order mark work can earn that did not lead to the fault [shares 0..1]."""

    not_followed_share: float
    unproductive_share: float
    checks_for_unproductive_share: float
    cranking_only_share: float

    limits: ClassVar[Mapping[str, Limit]] = {
        "not_followed_share": SHARE,
        "unproductive_share": SHARE,
        "checks_for_unproductive_share": Limit(1, 100, 1),
        "cranking_only_share": SHARE,
    }


@dataclass(frozen=True, slots=True)
class DiagnosisScheme(Section):
    """Points of the diagnosis mark, and the share of things named that must show the fault."""

    side: float
    part: float
    fault: float
    evidence: float
    least_telling_share: float

    limits: ClassVar[Mapping[str, Limit]] = {
        "side": POINTS,
        "part": POINTS,
        "fault": POINTS,
        "evidence": POINTS,
        "least_telling_share": SHARE,
    }


@dataclass(frozen=True, slots=True)
class OutcomeScheme(Section):
    """Points of the outcome mark."""

    starts: float
    runs: float
    restarts: float
    cause_gone: float
    left_right: float

    limits: ClassVar[Mapping[str, Limit]] = {
        name: POINTS for name in ("starts", "runs", "restarts", "cause_gone", "left_right")
    }


@dataclass(frozen=True, slots=True)
class EngineTest(Section):
    """What is asked of the engine after hand-in: tries of 10 s, and minutes."""

    start_tries: float
    idle_minutes: float
    cruise_minutes: float
    standing_minutes: float
    restart_idle_minutes: float

    limits: ClassVar[Mapping[str, Limit]] = {
        "start_tries": Limit(1, 10, 1),
        "idle_minutes": Limit(1, 60, 1),
        "cruise_minutes": Limit(0, 120, 5),
        "standing_minutes": Limit(0, 240, 30),
        "restart_idle_minutes": Limit(1, 60, 1),
    }


@dataclass(frozen=True, slots=True)
class Limits(Section):
    """Limits that the rules and the outcome use [s, mL, number]."""

    crank_in_one_go_s: float
    crank_rest_s: float
    crank_without_finding_s: float
    spilled_ml: float
    free_repeats: float

    limits: ClassVar[Mapping[str, Limit]] = {
        "crank_in_one_go_s": Limit(5, 60),
        "crank_rest_s": Limit(0, 600),
        "crank_without_finding_s": Limit(5, 600),
        "spilled_ml": Limit(0, 10_000),
        "free_repeats": Limit(0, 100, 1),
    }


@dataclass(frozen=True, slots=True)
class PassLine(Section):
    """Shares [0..1] that must all be reached to pass."""

    total_share: float
    order_share: float
    outcome_share: float

    limits: ClassVar[Mapping[str, Limit]] = {name: SHARE for name in ("total_share", "order_share", "outcome_share")}


@dataclass(frozen=True, slots=True)
class MarkingScheme:
    """Everything an instructor decides about the marks of one exercise."""

    exercise: str
    scheme_version: int
    weights: Weights
    order: OrderScheme
    diagnosis: DiagnosisScheme
    outcome: OutcomeScheme
    engine_test: EngineTest
    limits: Limits
    pass_line: PassLine


SECTIONS: Mapping[str, type[Section]] = {
    "weights": Weights,
    "order": OrderScheme,
    "diagnosis": DiagnosisScheme,
    "outcome": OutcomeScheme,
    "engine_test": EngineTest,
    "limits": Limits,
    "pass_line": PassLine,
}


def check_names(where: str, given: Mapping[str, object], allowed: Mapping[str, object]) -> None:
    """Refuse names that are missing or not known."""
    for name in given:
        if name not in allowed:
            raise BadMarkingScheme(f"{where}: {name!r} is not known here. Allowed: {', '.join(allowed)}.")
    for name in allowed:
        if name not in given:
            raise BadMarkingScheme(f"{where}: {name!r} is missing. Add a line for it.")


def read_number(where: str, name: str, value: object, limit: Limit) -> float:
    """Return a number of the file, or raise :class:`BadMarkingScheme`."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not limit.allows(float(value)):
        raise BadMarkingScheme(
            f"{where}: {name} was given as {value!r}; allowed is a number {limit.words()}. Change it."
        )
    return float(value)


def check_sum(where: str, section: Section, leave_out: tuple[str, ...], weight: float) -> None:
    """Refuse a section whose points do not add up to its weight."""
    names = [name for name in section.limits if name not in leave_out]
    total = sum(float(getattr(section, name)) for name in names)
    if not math.isclose(total, weight, abs_tol=1e-9):
        raise BadMarkingScheme(
            f"{where}: {' + '.join(names)} make {total:g}, but the weight is {weight:g}. Make them equal."
        )


def parse_marking_scheme(text: str, where: str = "marking scheme") -> MarkingScheme:
    """Read a scheme from TOML text; ``where`` names it in errors. Raises :class:`BadMarkingScheme`."""
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadMarkingScheme(f"{where}: this is not sound TOML: {error}. Mend that line.") from error
    check_names(where, document, {field.name: None for field in fields(MarkingScheme)})
    exercise, version = document["exercise"], document["scheme_version"]
    if not isinstance(exercise, str) or not exercise:
        raise BadMarkingScheme(f"{where}: exercise was given as {exercise!r}; give the exercise's name in quotes.")
    if version != SCHEME_VERSION or isinstance(version, bool):
        raise BadMarkingScheme(
            f"{where}: scheme_version was given as {version!r}; this version reads {SCHEME_VERSION}."
        )
    parts = {name: kind.read(f"{where}, [{name}]", document[name]) for name, kind in SECTIONS.items()}
    scheme = MarkingScheme(exercise, int(version), **parts)  # type: ignore[arg-type]
    check_sum(f"{where}, [diagnosis]", scheme.diagnosis, ("least_telling_share",), scheme.weights.diagnosis)
    check_sum(f"{where}, [outcome]", scheme.outcome, (), scheme.weights.outcome)
    return scheme


def load_marking_scheme(path: str | Path) -> MarkingScheme:
    """Read the scheme file at ``path``. Raises :class:`BadMarkingScheme` when it is missing or cannot be used."""
    place = Path(path)
    try:
        text = place.read_text(encoding="utf-8")
    except OSError as error:
        raise BadMarkingScheme(f"{place}: cannot be read ({error.strerror}). Name a marking scheme file.") from error
    except UnicodeDecodeError as error:
        raise BadMarkingScheme(f"{place}: is not text in UTF-8. Name a marking scheme file.") from error
    return parse_marking_scheme(text, str(place))
