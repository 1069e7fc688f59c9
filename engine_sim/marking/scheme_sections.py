"""The sections of a marking scheme: what an instructor may set, and what each number may be."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar, Self

from engine_sim.errors import EngineSimError

MARK_NAMES = ("safety", "method", "diagnosis", "cure", "housekeeping")
TITLES = {name: name.capitalize() for name in MARK_NAMES}
"""What each mark is called on every screen."""
"""The five marks, in the order in which they stand everywhere."""


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

    safety: float
    method: float
    diagnosis: float
    cure: float
    housekeeping: float

    limits: ClassVar[Mapping[str, Limit]] = {name: POINTS for name in MARK_NAMES}

    def of(self, name: str) -> float:
        """Return the maximum of one mark [points]."""
        return {
            "safety": self.safety,
            "method": self.method,
            "diagnosis": self.diagnosis,
            "cure": self.cure,
            "housekeeping": self.housekeeping,
        }[name]


@dataclass(frozen=True, slots=True)
class SafetyScheme(Section):
    """How much of the safety mark can be earned [shares 0..1] where nothing was at stake, and after a hard fail."""

    nothing_at_stake_share: float
    hard_fail_share: float

    limits: ClassVar[Mapping[str, Limit]] = {"nothing_at_stake_share": SHARE, "hard_fail_share": SHARE}


@dataclass(frozen=True, slots=True)
class MethodScheme(Section):
    """How much of the method mark is the coach's, and what work that led nowhere earns [0..1], what help costs."""

    coach_share: float
    coach_full_at: float
    coach_none_at: float
    not_followed_share: float
    opened_blind_share: float
    opened_blind_free: float
    unproductive_share: float
    checks_for_unproductive_share: float
    cranking_only_share: float
    nudge_costs: float
    hint_costs: float
    check_costs: float

    limits: ClassVar[Mapping[str, Limit]] = {
        "coach_share": SHARE,
        "coach_full_at": SHARE,
        "coach_none_at": SHARE,
        "not_followed_share": SHARE,
        "opened_blind_share": SHARE,
        "opened_blind_free": Limit(0, 100, 1),
        "unproductive_share": SHARE,
        "checks_for_unproductive_share": Limit(1, 100, 1),
        "cranking_only_share": SHARE,
        "nudge_costs": POINTS,
        "hint_costs": POINTS,
        "check_costs": POINTS,
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
class CureScheme(Section):
    """Points of the cure mark, and the share [0..1] of the last that counts where the engine was left not running."""

    starts: float
    runs: float
    restarts: float
    cause_gone: float
    not_started_share: float

    limits: ClassVar[Mapping[str, Limit]] = {
        "starts": POINTS,
        "runs": POINTS,
        "restarts": POINTS,
        "cause_gone": POINTS,
        "not_started_share": SHARE,
    }


@dataclass(frozen=True, slots=True)
class HousekeepingScheme(Section):
    """Points of the housekeeping mark, and the share [0..1] of it that counts where the engine was not cured."""

    shut_and_tight: float
    valves: float
    clean: float
    waste: float
    stores: float
    note: float
    uncured_share: float

    limits: ClassVar[Mapping[str, Limit]] = {
        "shut_and_tight": POINTS,
        "valves": POINTS,
        "clean": POINTS,
        "waste": POINTS,
        "stores": POINTS,
        "note": POINTS,
        "uncured_share": SHARE,
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
    """Limits that the rules and the marks use [s, mL, number]."""

    crank_in_one_go_s: float
    crank_rest_s: float
    crank_without_finding_s: float
    crank_seacock_open_s: float
    spilled_ml: float
    free_repeats: float

    limits: ClassVar[Mapping[str, Limit]] = {
        "crank_in_one_go_s": Limit(5, 60),
        "crank_rest_s": Limit(0, 600),
        "crank_without_finding_s": Limit(5, 600),
        "crank_seacock_open_s": Limit(5, 600),
        "spilled_ml": Limit(0, 10_000),
        "free_repeats": Limit(0, 100, 1),
    }


@dataclass(frozen=True, slots=True)
class PassLine(Section):
    """Shares [0..1] that must all be reached to pass."""

    total_share: float
    safety_share: float
    method_share: float
    cure_share: float

    limits: ClassVar[Mapping[str, Limit]] = {
        name: SHARE for name in ("total_share", "safety_share", "method_share", "cure_share")
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
