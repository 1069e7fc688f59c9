"""The oil in the sump: its level, and the fuel that finds its way into it."""

from __future__ import annotations

from dataclasses import dataclass

from engine_sim.circuit.state import CircuitState
from engine_sim.sources import FROM_MEMORY, SourcedValue

_OVERFULL = SourcedValue(1.15, "1", FROM_MEMORY, "level from which the crankshaft whips oil into the cylinders").value
_WASHED_DOWN = SourcedValue(0.3, "1", FROM_MEMORY, "share of dribbled fuel that runs down past the rings").value


@dataclass(slots=True)
class Oil:
    """Oil and fuel in the sump. ``weep`` is the link of a torn diaphragm, or -1; ``catches_share`` of it runs in."""

    full_m3: float
    catches_share: float
    weep: int = -1
    fuel_m3: float = 0.0
    passed_m3: float = 0.0

    @property
    def level_share(self) -> float:
        """How full the sump is, 1 at the upper mark."""
        return 1.0 + self.fuel_m3 / self.full_m3

    @property
    def diluted_share(self) -> float:
        """The share of fuel in it."""
        return self.fuel_m3 / (self.full_m3 + self.fuel_m3)

    @property
    def overfull(self) -> bool:
        """Whether the crankshaft dips into it."""
        return self.level_share > _OVERFULL

    def follow(self, state: CircuitState, dribbled_m3: float) -> None:
        """Take in what the lift pump's torn diaphragm and dribbling injectors let down in a step [m3]."""
        if dribbled_m3 > 0.0:
            self.fuel_m3 += _WASHED_DOWN * dribbled_m3
        if self.weep >= 0:
            passed = state.passed_fuel_m3[self.weep]
            self.fuel_m3 += self.catches_share * max(0.0, passed - self.passed_m3)
            self.passed_m3 = passed

    def change(self) -> None:
        """Drain it and fill up with fresh oil to the upper mark."""
        self.fuel_m3 = 0.0
