"""Key and stop controls: what current reaches, and whether the injection pump is told to deliver."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from engine_sim.circuit.battery import Battery
from engine_sim.sources import FROM_MEMORY, SourcedValue

_PUMP_A = SourcedValue(2.0, "A", FROM_MEMORY, "drawn by an electric lift pump; 1 to 3 A").value
_PUMP_FROM_V = SourcedValue(6.0, "V", FROM_MEMORY, "below which an electric lift pump stands").value


@dataclass(slots=True)
class Key:
    """The key with what hangs on it. ``solenoid`` holds the figures of a stop solenoid that must be held to run."""

    battery: Battery
    solenoid: Mapping[str, float] | None
    electric_pump: bool
    on: bool = False
    pulled_in: bool = False

    def follow(self, solenoid_ok: bool) -> bool:
        """Let the stop solenoid pull in or let go; return True if it clicked."""
        if self.solenoid is None:
            return False
        before = self.pulled_in
        least_v = self.solenoid["hold_v" if before else "pull_in_v"]
        self.pulled_in = self.on and solenoid_ok and self.battery.supply_v() >= least_v
        return self.pulled_in and not before

    def pump_runs(self) -> bool:
        """Tell whether current reaches the electric lift pump."""
        return self.on and self.electric_pump and self.battery.supply_v() > _PUMP_FROM_V

    def current_a(self) -> float:
        """Return what key-fed things draw now [A]."""
        if not self.on or not self.battery.connected:
            return 0.0
        pump = _PUMP_A if self.electric_pump else 0.0
        return pump + (self.solenoid["current_a"] if self.solenoid is not None and self.pulled_in else 0.0)
