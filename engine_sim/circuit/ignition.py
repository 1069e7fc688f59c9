"""Compression and ignition: is the charge hot enough at the end of the stroke?

T = T1 r^(n - 1), polytropic (Heywood, Internal Combustion Engine Fundamentals, from memory). The slower the engine
turns, the more heat and air are lost: n = n0 - c / N. What the charge needs follows from the least air temperature at
which this kind of chamber starts without preheat.
"""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.sources import FROM_MEMORY, SourcedValue

_WARM_K = SourcedValue(353.15, "K", FROM_MEMORY, "temperature of a warm engine, 80 degC").value
_WARM_SPAN_K = SourcedValue(60.0, "K", FROM_MEMORY, "from a cold engine to a warm one").value
_WARM_SAVES = SourcedValue(0.25, "1", FROM_MEMORY, "of the loss, in a warm engine; fires from 80 rpm").value
_CHARGE_WARMS = SourcedValue(0.5, "1", FROM_MEMORY, "share of the engine's warmth that the drawn air takes up").value
_PETROL_NEEDS_K = SourcedValue(150.0, "K", FROM_MEMORY, "by how much hotter petrol must be to light").value
_LEAST_INDEX = 1.0


class Ignition:
    """The compression of an engine and what its charge needs."""

    def __init__(self, figures: Mapping[str, float]) -> None:
        self.ratio = figures["compression_ratio"]
        self.index, self.loss_per_min = figures["polytropic_index"], figures["index_loss_per_min"]
        self._tight_at = (0.0, 0.0, 0.0)
        self._tight_k = 0.0
        self.needed_k = self.charge_k(figures["least_air_rpm"], figures["least_air_k"], figures["least_air_k"])

    def polytropic_index(self, speed_rpm: float, engine_k: float) -> float:
        """Return n of the compression at a speed [1/min] in an engine of a temperature [K]."""
        warm = min(1.0, max(0.0, 1.0 - (_WARM_K - engine_k) / _WARM_SPAN_K))
        loss = self.loss_per_min / max(speed_rpm, 1.0) * (1.0 - _WARM_SAVES * warm)
        return max(_LEAST_INDEX, self.index - loss)

    def charge_k(self, speed_rpm: float, air_k: float, engine_k: float, compression_share: float = 1.0) -> float:
        """Return the temperature [K] of the air at the end of the stroke; a leaking cylinder reaches less pressure."""
        index = self.polytropic_index(speed_rpm, engine_k)
        drawn_k = air_k + _CHARGE_WARMS * max(0.0, engine_k - air_k)
        tight = compression_share ** ((index - 1.0) / index)
        return float(drawn_k * self.ratio ** (index - 1.0) * tight)

    def tight_charge_k(self, speed_rpm: float, air_k: float, engine_k: float) -> float:
        """Return the same for a tight cylinder; nothing is worked out again while nothing changes."""
        now = (speed_rpm, air_k, engine_k)
        if now != self._tight_at:
            self._tight_at, self._tight_k = now, self.charge_k(speed_rpm, air_k, engine_k)
        return self._tight_k

    def lights(self, charge_k: float, petrol_share: float) -> bool:
        """Tell whether fuel with a share of petrol lights in a charge of a temperature [K]."""
        return charge_k >= self.needed_k + _PETROL_NEEDS_K * petrol_share
