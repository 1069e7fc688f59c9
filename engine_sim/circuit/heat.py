"""How warm the engine is: it warms by burning; its thermostat holds it as long as the raw water can carry the heat."""

from __future__ import annotations

import math
from dataclasses import dataclass

from engine_sim.sources import FROM_MEMORY, SourcedValue

_THERMOSTAT_K = SourcedValue(353.15, "K", FROM_MEMORY, "80 degC, held by the thermostat").value
_OVERHEATS_K = SourcedValue(378.15, "K", FROM_MEMORY, "105 degC, the alarm sounds").value
_SEIZES_K = SourcedValue(423.15, "K", FROM_MEMORY, "150 degC, the pistons seize").value
_HEAT_SHARE = SourcedValue(0.3, "1", FROM_MEMORY, "share of the fuel's heat that goes into the engine").value
_FUEL_J_PER_M3 = SourcedValue(3.6e10, "J/m3", FROM_MEMORY, "net heat of diesel fuel; Heywood, appendix D").value
_S_PER_K = SourcedValue(
    3.0, "s/K", FROM_MEMORY, "heat that warms engine, water and oil by 1 K, over its rated power"
).value
_COOLING_S = SourcedValue(5400.0, "s", FROM_MEMORY, "time in which a standing engine cools").value
_SPARE_COOLING = SourcedValue(
    1.25, "1", FROM_MEMORY, "heat that the raw water can carry, against that at rated power"
).value


@dataclass(slots=True)
class Heat:
    """The engine's temperature [K] and that of the air around it [K].

    ``heat_j_per_k`` warms it by 1 K; ``rated_m3_per_s`` is what it burns at rated power.
    """

    temperature_k: float
    around_k: float
    heat_j_per_k: float
    rated_m3_per_s: float

    @classmethod
    def of(cls, rated_power_w: float, rated_m3_per_s: float, around_k: float) -> Heat:
        """Return the heat of an engine of a rated power [W] that burns so much [m3/s] there."""
        return cls(around_k, around_k, _S_PER_K * rated_power_w, rated_m3_per_s)

    @property
    def overheated(self) -> bool:
        """Whether it is too hot."""
        return self.temperature_k > _OVERHEATS_K

    @property
    def seizes(self) -> bool:
        """Whether it is so hot that it seizes."""
        return self.temperature_k > _SEIZES_K

    def settle_in(self, around_k: float, turns: bool) -> None:
        """Let a standing engine take on the temperature of a boat that has been set to another [K]."""
        if around_k != self.around_k:
            self.around_k = around_k
            if not turns:
                self.temperature_k = around_k

    def follow(self, burnt_m3_per_s: float, water_share: float, step_s: float) -> None:
        """Warm or cool for a step [s], burning so much fuel [m3/s], with a share of the rated raw water.

        From the thermostat's temperature on the raw water takes heat away, up to 1.25 times that of rated power.
        """
        left = math.exp(-step_s / _COOLING_S)
        now = self.around_k + (self.temperature_k - self.around_k) * left
        now += self._warmed_k(burnt_m3_per_s, step_s)
        if now > _THERMOSTAT_K and water_share > 0.0:
            now -= self._warmed_k(_SPARE_COOLING * self.rated_m3_per_s * water_share, step_s)
            now = max(now, _THERMOSTAT_K)
        self.temperature_k = now

    def _warmed_k(self, burnt_m3_per_s: float, step_s: float) -> float:
        return burnt_m3_per_s * _FUEL_J_PER_M3 * _HEAT_SHARE / self.heat_j_per_k * step_s
