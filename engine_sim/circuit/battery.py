"""The starter battery: its charge, its voltage under load and after it, its isolator, its connection."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Protocol

from engine_sim.circuit.own_figures import usual_figures
from engine_sim.sources import FROM_MEMORY, SourcedValue

_LEAST_CHARGE = SourcedValue(1e-2, "1", FROM_MEMORY, "charge below which its resistance rises no further").value
_SAME_K = SourcedValue(1e-3, "K", FROM_MEMORY, "difference of temperature too small to follow").value
_SAME_V = SourcedValue(1e-6, "V", FROM_MEMORY, "sag of the voltage too small to follow").value
_AROUND_K = SourcedValue(293.15, "K", FROM_MEMORY, "where it stands before anything else is known").value


@dataclass(slots=True)
class HotSpot:
    """Something that a current heats and the air around it cools: a terminal, a winding."""

    heat_j_per_k: float
    cooling_s: float
    temperature_k: float = _AROUND_K

    def pass_heat(self, power_w: float, time_s: float, around_k: float) -> None:
        """Let it take up a power [W] for a time [s] in air of a temperature [K]."""
        if power_w == 0.0 and abs(self.temperature_k - around_k) < _SAME_K:
            self.temperature_k = around_k
            return
        end_k = around_k + power_w * self.cooling_s / self.heat_j_per_k
        self.temperature_k = end_k + (self.temperature_k - end_k) * math.exp(-time_s / self.cooling_s)


_TERMINAL_J_PER_K = SourcedValue(40.0, "J/K", FROM_MEMORY, "a terminal with the end of its cable").value
_TERMINAL_S = SourcedValue(120.0, "s", FROM_MEMORY, "time in which a terminal cools").value


def terminal() -> HotSpot:
    """Return a terminal of a heavy cable."""
    return HotSpot(_TERMINAL_J_PER_K, _TERMINAL_S)


class Turned(Protocol):
    """What a starter does with a battery."""

    @property
    def speed_rpm(self) -> float:
        """The speed at which it turns the engine [1/min]."""


class Turner(Protocol):
    """A starter, as its battery knows it."""

    def turn(self, battery: Battery) -> Turned:
        """Return what it does with a battery now."""


@dataclass(slots=True)
class Battery:
    """A starter battery; ``extra_ohm`` is what a bad connection at it adds to the heavy cable.

    Under load its voltage falls by its resistance, which grows as the charge falls, and sags on for some seconds; at
    rest that sag comes back, the charge does not.
    """

    figures: Mapping[str, float] = field(default_factory=lambda: usual_figures("battery"))
    charge_share: float = -1.0
    connected: bool = True
    extra_ohm: float = 0.0
    current_a: float = 0.0
    charging: bool = False
    sag_v: float = 0.0
    terminal: HotSpot = field(default_factory=terminal)
    starter: Turner | None = None

    def __post_init__(self) -> None:
        if self.charge_share < 0.0:
            self.charge_share = self.figures["charge_share"]

    @property
    def terminal_k(self) -> float:
        """The temperature of its terminal [K]."""
        return self.terminal.temperature_k

    @property
    def rest_v(self) -> float:
        """What it would show after a long rest [V]."""
        return self.figures["empty_v"] + self.figures["span_v"] * self.charge_share

    @property
    def source_v(self) -> float:
        """What it could show now without load [V]."""
        return self.rest_v - self.sag_v

    @property
    def resistance_ohm(self) -> float:
        """Its inner resistance [ohm]."""
        return self.figures["resistance_ohm"] / math.sqrt(max(self.charge_share, _LEAST_CHARGE))

    def volts(self) -> float:
        """Return what a voltmeter at its posts shows now [V]."""
        if self.charging:
            return self.figures["charging_v"]
        return self.source_v - self.current_a * self.resistance_ohm

    def supply_v(self) -> float:
        """Return what reaches the panel [V]: nothing behind an isolator that is off."""
        return self.volts() if self.connected else 0.0

    def cranking_speed_rpm(self) -> float:
        """Return the speed [1/min] at which its starter turns the engine."""
        return self.starter.turn(self).speed_rpm if self.starter is not None else 0.0

    def pass_current(self, current_a: float, time_s: float, around_k: float = _AROUND_K) -> None:
        """Draw a current [A] (negative: charge) for a time [s] in air of a temperature [K]."""
        still = self.sag_v < _SAME_V and (current_a == 0.0 or (current_a < 0.0 and self.charge_share >= 1.0))
        self.current_a, self.charging = current_a, current_a < 0.0
        self.terminal.pass_heat(current_a * current_a * self.extra_ohm, time_s, around_k)
        if still:
            self.sag_v = 0.0
            return
        self.charge_share = min(1.0, max(0.0, self.charge_share - current_a * time_s / self.figures["charge_a_s"]))
        sag_v = max(0.0, current_a) * self.figures["tiring_ohm"] / math.sqrt(max(self.charge_share, _LEAST_CHARGE))
        lag_s = self.figures["tiring_s"] if sag_v > self.sag_v else self.figures["recovery_s"]
        self.sag_v = sag_v + (self.sag_v - sag_v) * math.exp(-time_s / lag_s)
