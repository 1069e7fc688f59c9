"""The learner's work as marking sees it: every action with what stood before it, after it, and what it told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fnmatch import fnmatchcase

from engine_sim.observations import Observation

Patterns = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Moment:
    """One action: times [s], what a person standing there saw before and after, and what was noticed."""

    number: int
    part: str
    action: str
    start_s: float
    end_s: float
    before: Mapping[str, object]
    after: Mapping[str, object]
    observations: tuple[Observation, ...] = ()
    refused: bool = False
    tells: bool = False

    @property
    def name(self) -> str:
        """The action as ``part.action``."""
        return f"{self.part}.{self.action}"

    @property
    def keys(self) -> frozenset[str]:
        """The keys of what was noticed."""
        return frozenset(seen.key for seen in self.observations)

    def among(self, patterns: Patterns) -> bool:
        """Say whether the action fits one of the patterns (``part.action``, ``*`` for anything)."""
        return not self.refused and any(fnmatchcase(self.name, pattern) for pattern in patterns)


@dataclass(frozen=True, slots=True)
class Track:
    """All the moments of an attempt, in order; ``followed`` says that the work led to the part that was at fault."""

    moments: tuple[Moment, ...] = ()
    handed_in: bool = False
    followed: bool = False

    def among(self, patterns: Patterns) -> list[Moment]:
        """Return the moments whose action fits one of the patterns."""
        return [moment for moment in self.moments if moment.among(patterns)]

    def before(self, moment: Moment) -> list[Moment]:
        """Return the moments earlier than the one given."""
        return [other for other in self.moments if other.number < moment.number]

    def after(self, moment: Moment) -> list[Moment]:
        """Return the moments later than the one given."""
        return [other for other in self.moments if other.number > moment.number]
