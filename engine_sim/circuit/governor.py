"""The governor: it gives the fuel that holds the wanted speed, up to its full rack."""

from __future__ import annotations

from dataclasses import dataclass

from engine_sim.sources import FROM_MEMORY, SourcedValue

_MOST_RACK = SourcedValue(5.0, "1", FROM_MEMORY, "how far it opens to make good what does not arrive").value
_LEAST_SHARE = SourcedValue(0.1, "1", FROM_MEMORY, "shortage beyond which it opens no faster").value


@dataclass(slots=True)
class Governor:
    """``rack_share`` is by how much it opens beyond what a sound engine needs for the speed."""

    rack_share: float = 1.0

    def reset(self) -> None:
        """Come back to what a sound engine needs."""
        self.rack_share = 1.0

    def correct(self, needed_m3: float, had_m3: float) -> None:
        """Open or close by what was needed to hold the speed against what did work."""
        change = needed_m3 / max(had_m3, _LEAST_SHARE * needed_m3)
        self.rack_share = min(_MOST_RACK, max(1.0, self.rack_share * change))
