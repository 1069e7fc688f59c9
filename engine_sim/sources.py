"""Where a number comes from: every physical number in this project is a :class:`SourcedValue`."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Kind(Enum):
    """How well founded a number is."""

    PUBLISHED = "published"
    COMMON_PRACTICE = "common practice, no source"
    FROM_MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Source:
    """A publication, or the plain statement that there is none."""

    kind: Kind
    citation: str = ""

    def __post_init__(self) -> None:
        if self.kind is Kind.PUBLISHED and not self.citation:
            raise ValueError("A published source needs its citation.")


@dataclass(frozen=True, slots=True)
class SourcedValue:
    """A number with its unit and source; ``note`` says under which conditions it holds."""

    value: float
    unit: str
    source: Source
    note: str = ""

    def __float__(self) -> float:
        return self.value


COMMON_PRACTICE = Source(Kind.COMMON_PRACTICE)
FROM_MEMORY = Source(Kind.FROM_MEMORY)


def published(citation: str) -> Source:
    """Name a publication as the source of a number."""
    return Source(Kind.PUBLISHED, citation)
