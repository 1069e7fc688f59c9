"""What an observation says, its figures apart, so that two boats can be compared: they never agree to the last drop."""

from __future__ import annotations

import re
from dataclasses import dataclass

from engine_sim.observations import Noticed, Observation
from engine_sim.wording import GAUGE_WORDS, SENTENCES

NEAR_SHARE = 0.3
"""How far two figures may lie apart [share of the larger] and still be called the same; judgement."""
NEAR_AT_LEAST = 1.0
"""The same in a small figure's own unit (seconds, centimetres, millilitres); judgement."""
_FIGURES = re.compile(r"\d+(?:\.\d+)?")


LOW_GAUGE = frozenset(SENTENCES["gauge_reads"].format(reading=words) for words in GAUGE_WORDS[:2])
"""How a fuel gauge reads near the bottom. How full a tank was is nobody's sign of anything, only that it is low."""


@dataclass(frozen=True, slots=True, order=True)
class Saying:
    """One thing noticed: where, which, its words without figures, and the figures."""

    part: str
    key: str
    words: str = ""
    figures: tuple[float, ...] = ()

    def agrees_with(self, other: Saying, share: float = NEAR_SHARE, least: float = NEAR_AT_LEAST) -> bool:
        """Say whether both say the same: the same words, and each figure near its like.

        Near is within ``share`` [0..1] of the larger, or within ``least``, in the figure's own unit.
        """
        if (self.part, self.key, self.words) != (other.part, other.key, other.words):
            return False
        pairs = zip(self.figures, other.figures, strict=True)
        return all(abs(own - theirs) <= max(least, share * max(own, theirs)) for own, theirs in pairs)


def saying(noticed: Noticed | Observation) -> Saying:
    """Return what was noticed as a saying."""
    text = noticed.text if isinstance(noticed, Observation) else noticed.text()
    figures = tuple(float(found) for found in _FIGURES.findall(text))
    return Saying(noticed.part, noticed.key, _FIGURES.sub("#", text), figures)


def coarse(noticed: Noticed | Observation) -> Saying:
    """Return what was noticed as a saying in which a fuel gauge says only whether it is low."""
    said = saying(noticed)
    if said.key != "gauge_reads":
        return said
    return Saying(said.part, said.key, "low" if said.words in LOW_GAUGE else "not low")
