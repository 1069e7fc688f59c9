"""Glow plugs: current, heat, and what they add to the temperature of the charge."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from engine_sim.circuit.battery import Battery
from engine_sim.sources import FROM_MEMORY, SourcedValue

_RATED_V = SourcedValue(12.0, "V", FROM_MEMORY, "for which the plugs are made").value


@dataclass(slots=True)
class Preheat:
    """The glow plugs of an engine; ``on`` while somebody holds the switch, ``supply_ok`` while current reaches them."""

    figures: Mapping[str, float]
    cylinders: int
    on: bool = False
    supply_ok: bool = True
    plugs_ok: list[bool] = field(default_factory=list)
    glow_share: list[float] = field(default_factory=list)
    stem_share: list[float] = field(default_factory=list)
    on_s: float = 0.0

    def __post_init__(self) -> None:
        self.plugs_ok = [True] * self.cylinders
        self.glow_share = [0.0] * self.cylinders
        self.stem_share = [0.0] * self.cylinders

    def current_a(self, battery: Battery) -> float:
        """Return what they draw now [A]."""
        if not self.on or not self.supply_ok:
            return 0.0
        return sum(self.plugs_ok) * self.figures["plug_a"] * battery.supply_v() / _RATED_V

    def follow(self, battery: Battery, time_s: float) -> None:
        """Let the plugs warm or cool for a time [s]."""
        if not self.on and max(self.stem_share) < 1e-6:
            return
        self.on_s += time_s if self.on else 0.0
        heats = (battery.supply_v() / _RATED_V) ** 2 if self.on and self.supply_ok else 0.0
        for number, sound in enumerate(self.plugs_ok):
            goal = min(1.0, heats) if sound else 0.0
            lag_s = self.figures["heating_s"] if goal > self.glow_share[number] else self.figures["cooling_s"]
            self.glow_share[number] = goal + (self.glow_share[number] - goal) * math.exp(-time_s / lag_s)
            left = math.exp(-time_s / self.figures["stem_s"])
            self.stem_share[number] = (
                self.glow_share[number] + (self.stem_share[number] - self.glow_share[number]) * left
            )

    def gain_k(self, number: int) -> float:
        """Return what the plug of a cylinder (from 0) adds to the temperature of its charge [K]."""
        return self.figures["gain_k"] * self.glow_share[number]

    def stem_k(self, number: int, around_k: float) -> float:
        """Return the temperature of the outer end of a plug [K] in air of a temperature [K]."""
        return around_k + self.figures["stem_rise_k"] * self.stem_share[number]
