"""What a person at the engine notices: by eye, ear, hand, nose or gauge, never the truth itself."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from engine_sim.wording import SENTENCES

SENSES = ("see", "hear", "feel", "smell", "gauge", "system")

Params = Mapping[str, str | int | float]


@dataclass(frozen=True, slots=True)
class Noticed:
    """One thing noticed, before it has a number and a time."""

    part: str
    sense: str
    key: str
    params: Params = field(default_factory=dict)

    def text(self) -> str:
        """Return the sentence that a learner reads."""
        return SENTENCES[self.key].format(**self.params)


@dataclass(frozen=True, slots=True)
class Observation:
    """One thing noticed, numbered through the attempt; ``clock_s`` is the time since the start [s]."""

    number: int
    clock_s: float
    part: str
    sense: str
    key: str
    text: str


def see(part: str, key: str, /, **params: str | int | float) -> Noticed:
    """Return something seen."""
    return Noticed(part, "see", key, params)


def hear(part: str, key: str, /, **params: str | int | float) -> Noticed:
    """Return something heard."""
    return Noticed(part, "hear", key, params)


def feel(part: str, key: str, /, **params: str | int | float) -> Noticed:
    """Return something felt."""
    return Noticed(part, "feel", key, params)


def smell(part: str, key: str, /, **params: str | int | float) -> Noticed:
    """Return something smelled."""
    return Noticed(part, "smell", key, params)


def read(part: str, key: str, /, **params: str | int | float) -> Noticed:
    """Return something read off a gauge."""
    return Noticed(part, "gauge", key, params)


def told(part: str, key: str, /, **params: str | int | float) -> Noticed:
    """Return something that the bench says of itself."""
    return Noticed(part, "system", key, params)
