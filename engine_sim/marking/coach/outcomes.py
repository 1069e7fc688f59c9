"""What a check showed, so that two boats can be compared: the words, and figures as far as they can be expected."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

from engine_sim.observations import Noticed, Observation

_TIMING = frozenset({"dies_meanwhile", "spilled"})
"""What comes a step sooner or later by how bad a fault is: it tells no fault from another."""

_WATERY = frozenset({"jar_water", "jar_hazy", "jar_one_layer"})
"""How a sample with water in it looks: in one layer, hazy or in two by how long it stood and how much there is."""

_NEAR_FACTOR = 2.0
"""Figures of the same kind that lie within this factor could come from the same fault, more or less bad; judgement."""

_NEAR_DIFFERENCE = 2.0
"""The same as a plain difference, for small figures (seconds, centimetres); judgement."""

_FIGURES = re.compile(r"\d+(?:\.\d+)?")


@dataclass(frozen=True, slots=True)
class Sign:
    """One thing noticed: where, which, its words without figures, and the figures."""

    part: str
    key: str
    words: str
    figures: tuple[float, ...]

    def is_like(self, other: Sign) -> bool:
        """Tell whether both could come from the same fault: the same words, and figures that are near."""
        if (self.part, self.key, self.words) != (other.part, other.key, other.words):
            return False
        return all(_near(own, theirs) for own, theirs in zip(self.figures, other.figures, strict=True))


Signs = tuple[Sign, ...]


def _near(one: float, other: float) -> bool:
    low, high = sorted((one, other))
    return high - low <= _NEAR_DIFFERENCE or high <= _NEAR_FACTOR * low


def _sign(part: str, key: str, text: str) -> Sign:
    figures = tuple(float(found) for found in _FIGURES.findall(text))
    return Sign(part, key, _FIGURES.sub("#", text), figures)


def signs_of(noticed: Iterable[Noticed | Observation]) -> Signs:
    """Return what was noticed as signs, in a fixed order, without what only timing decides."""
    found = {
        Sign(one.part, "jar_watery", "", ())
        if one.key in _WATERY
        else _sign(one.part, one.key, one.text if isinstance(one, Observation) else one.text())
        for one in noticed
        if one.key not in _TIMING
    }
    return tuple(sorted(found, key=lambda sign: (sign.part, sign.key, sign.words, sign.figures)))


def alike(one: Signs, other: Signs) -> bool:
    """Tell whether two boats showed the same at the same check."""
    return len(one) == len(other) and all(a.is_like(b) for a, b in zip(one, other, strict=True))


def answer_of(signs: Signs) -> str:
    """Return signs as one word, the same for what is much the same: figures count by their power of two."""
    return ";".join(
        f"{sign.part}.{sign.key}:{sign.words}:{','.join(str(_power(figure)) for figure in sign.figures)}"
        for sign in signs
    )


def _power(figure: float) -> int:
    return round(math.log2(max(1.0, figure)))
