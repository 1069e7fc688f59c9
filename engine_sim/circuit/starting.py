"""What turns the engine: the electric starter with its heat, or a starting handle; each a balance of torques."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from engine_sim.circuit.battery import Battery, HotSpot, terminal
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

_RAD_PER_S_PER_RPM = 2.0 * math.pi / MINUTE_S
_CRANKING_RPM = SourcedValue(220.0, "1/min", FROM_MEMORY, "usual range 150 to 300").value
_WARM_OIL_K = SourcedValue(293.15, "K", FROM_MEMORY, "temperature for which the cranking torque is given").value
_OIL_DOUBLES_K = SourcedValue(25.0, "K", FROM_MEMORY, "cold that doubles the drag of the oil").value
_LEAST_DRAG = SourcedValue(0.5, "1", FROM_MEMORY, "drag of hot oil, against that at 20 degC").value
_COMPRESSION_SHARE = SourcedValue(
    0.4, "1", FROM_MEMORY, "share of the cranking torque that compression takes; friction takes the rest"
).value
_PEAK_OVER_MEAN = SourcedValue(8.0, "1", FROM_MEMORY, "torque at the top of a compression, against its mean").value
_OVER_COMPRESSION_RPM = SourcedValue(30.0, "1/min", FROM_MEMORY, "an arm pulling it over its compressions").value
_LEAST_RPM = SourcedValue(
    12.0, "1/min", FROM_MEMORY, "below this no piston comes over its compression: it counts as standing"
).value
_CHATTER_SHARE = 0.5


@dataclass(slots=True)
class Resistance:
    """What cranking meets, by temperature and compression: a part that is always there and one that grows with speed.

    ``torque_n_m`` is what it takes at 220 rpm and 20 degC, all cylinders tight.
    """

    torque_n_m: float
    locked: bool = False
    compression_share: float = 1.0
    temperature_k: float = _WARM_OIL_K

    def oil_drag(self) -> float:
        """Return how much more the oil drags than at 20 degC [1]."""
        return max(_LEAST_DRAG, float(2.0 ** ((_WARM_OIL_K - self.temperature_k) / _OIL_DOUBLES_K)))

    def parts(self, lifted: bool = False) -> tuple[float, float]:
        """Return the steady torque [N m] and the slope of the rest with speed [N m min]; ``lifted``: no compression."""
        friction = (1.0 - _COMPRESSION_SHARE) * self.oil_drag() * self.torque_n_m
        compression = 0.0 if lifted else _COMPRESSION_SHARE * self.compression_share * self.torque_n_m
        return compression + 0.5 * friction, 0.5 * friction / _CRANKING_RPM


@dataclass(frozen=True, slots=True)
class Turning:
    """What turning the key does: its sound, the speed [1/min], the current [A] and the voltages along the heavy cable.

    ``sound`` is ``dead``, ``click``, ``chatter``, ``thud`` or ``turns``. The voltages [V] are those at the battery's
    posts, behind its connection, and at the starter.
    """

    sound: str
    speed_rpm: float = 0.0
    current_a: float = 0.0
    posts_v: float = 0.0
    cable_v: float = 0.0
    starter_v: float = 0.0


@dataclass(slots=True)
class Starter:
    """The electric starter; ``extra_ohm`` is what a bad connection at it adds to the heavy cable."""

    figures: Mapping[str, float]
    resistance: Resistance
    cable_ohm: float
    extra_ohm: float = 0.0
    solenoid_ok: bool = True
    burnt: bool = False
    terminal: HotSpot = field(default_factory=terminal)
    winding: HotSpot = field(init=False)

    def __post_init__(self) -> None:
        self.winding = HotSpot(self.figures["heat_j_per_k"], self.figures["cooling_s"])

    @property
    def terminal_k(self) -> float:
        """The temperature of its terminal [K]."""
        return self.terminal.temperature_k

    @property
    def winding_k(self) -> float:
        """The temperature of its windings [K]."""
        return self.winding.temperature_k

    def turn(self, battery: Battery) -> Turning:
        """Return what it does with this battery now."""
        source_v = battery.source_v
        if not battery.connected:
            return Turning("dead", posts_v=source_v)
        if not self.solenoid_ok or source_v < self.figures["pull_in_v"]:
            return Turning("dead", 0.0, 0.0, source_v, source_v, source_v)
        if self.burnt:
            return Turning("click", 0.0, 0.0, source_v, source_v, source_v)
        speed = 0.0 if self.resistance.locked else self._speed(source_v, battery)
        made_v = self.figures["volts_per_rpm"] * speed
        current = (source_v - made_v) / self._ohm(battery)
        posts_v = source_v - current * battery.resistance_ohm
        if speed > 0.0:
            return self._turning("turns", speed, current, posts_v, battery)
        if posts_v < self.figures["hold_v"]:
            return self._turning("chatter", 0.0, _CHATTER_SHARE * current, posts_v, battery)
        return self._turning("thud" if self.resistance.locked else "click", 0.0, current, posts_v, battery)

    def _ohm(self, battery: Battery) -> float:
        inside = battery.resistance_ohm + self.figures["resistance_ohm"]
        return inside + battery.extra_ohm + self.cable_ohm + self.extra_ohm

    def _speed(self, source_v: float, battery: Battery) -> float:
        """Return the speed [1/min] at which its torque is what the engine takes."""
        steady, slope = self.resistance.parts()
        per_rpm = self.figures["volts_per_rpm"]
        by_volt = self.figures["efficiency"] * per_rpm / _RAD_PER_S_PER_RPM / self._ohm(battery)
        speed = (by_volt * source_v - steady) / (slope + by_volt * per_rpm)
        return speed if speed >= _LEAST_RPM else 0.0

    def _turning(self, sound: str, speed: float, current: float, posts_v: float, battery: Battery) -> Turning:
        cable_v = posts_v - current * battery.extra_ohm
        return Turning(sound, speed, current, posts_v, cable_v, cable_v - current * (self.cable_ohm + self.extra_ohm))

    def carry_current(self, current_a: float, time_s: float, around_k: float) -> None:
        """Heat windings and terminal by a current [A] for a time [s]; too hot, the windings burn."""
        squared = current_a * current_a
        self.winding.pass_heat(squared * self.figures["resistance_ohm"], time_s, around_k)
        self.terminal.pass_heat(squared * self.extra_ohm, time_s, around_k)
        if self.winding.temperature_k >= self.figures["burns_at_k"]:
            self.burnt = True


@dataclass(slots=True)
class HandStart:
    """The starting handle: with the lever lifted the engine is spun up, then the lever is dropped and it coasts on."""

    figures: Mapping[str, float]
    resistance: Resistance
    flywheel_kg_m2: float
    lever_lifted: bool = True

    def best_rpm(self) -> float:
        """Return how fast an arm spins the engine [1/min]: by its power or its reach, or not at all."""
        if self.resistance.locked:
            return 0.0
        steady, slope = self.resistance.parts(lifted=self.lever_lifted)
        if not self.lever_lifted:
            free = self.resistance.parts(lifted=True)[0]
            peak = free + _PEAK_OVER_MEAN * (steady - free)
            return 0.0 if peak > self.figures["arm_torque_n_m"] else _OVER_COMPRESSION_RPM
        rpm = self.figures["arm_rpm"]
        power = (steady + slope * rpm) * rpm * _RAD_PER_S_PER_RPM
        return rpm * min(1.0, self.figures["arm_power_w"] / power)

    def speed_rpm(self, since_s: float) -> tuple[float, bool]:
        """Return the speed [1/min] so long [s] after one began, and whether the valve is lifted then."""
        spin, coast = self.figures["spin_up_s"], self.figures["coast_s"]
        now, best = since_s % (spin + coast), self.best_rpm()
        if now < spin:
            return best * max(0.1, now / spin), self.lever_lifted
        steady, slope = self.resistance.parts()
        slowing = (steady + slope * best) / self.flywheel_kg_m2 / _RAD_PER_S_PER_RPM
        return max(0.0, best - slowing * (now - spin)), False
