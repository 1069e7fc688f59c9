"""The engine as the fuel system sees it: starter, governor, torque from the injected fuel, load, stall."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from engine_sim.circuit.high_pressure import InjectionLine
from engine_sim.circuit.state import CircuitState
from engine_sim.components import engine_figures as figures
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

_TORQUE_PER_M3 = figures.RATED_TORQUE_N_M / (
    figures.CYLINDERS * (figures.RATED_INJECTION_M3 - figures.IDLE_INJECTION_M3)
)
_FRICTION_M3 = figures.CYLINDERS * figures.IDLE_INJECTION_M3
_STEADY_RPM_PER_S = SourcedValue(5.0, "1/(min s)", FROM_MEMORY, "change of speed that an ear does not notice").value
_USUAL_CHARGE = SourcedValue(0.85, "1", COMMON_PRACTICE, "charge of a starter battery in use").value
_SHORT_FROM = SourcedValue(0.02, "1", FROM_MEMORY, "shortage of fuel that the governor makes good unnoticed").value
_LOAD_N_M_PER_RPM2 = figures.RATED_TORQUE_N_M / figures.RATED_SPEED_RPM**2


@dataclass(slots=True)
class Battery:
    """A starter battery: its charge as a share of full, and its isolator."""

    charge_share: float = _USUAL_CHARGE
    connected: bool = True

    def cranking_volts(self) -> float:
        """Return the voltage [V] while cranking."""
        rest = figures.BATTERY_VOLTS_EMPTY + figures.BATTERY_VOLTS_SPAN * self.charge_share
        resistance = figures.BATTERY_RESISTANCE_OHM / math.sqrt(max(self.charge_share, 1e-2))
        return rest - figures.CRANKING_CURRENT_A * resistance

    def cranking_speed_rpm(self) -> float:
        """Return the speed [rpm] at which it turns the engine."""
        if not self.connected:
            return 0.0
        span = figures.CRANKING_VOLTS_FULL - figures.CRANKING_VOLTS_NONE
        share = (self.cranking_volts() - figures.CRANKING_VOLTS_NONE) / span
        return figures.CRANKING_SPEED_RPM * max(0.0, share)

    def pass_current(self, current_a: float, time_s: float) -> None:
        """Draw a current (negative: charge) for a time."""
        self.charge_share = min(1.0, max(0.0, self.charge_share - current_a * time_s / figures.BATTERY_CHARGE_C))


@dataclass(slots=True)
class Engine:
    """The engine's own state; ``wanted_rpm`` is where the throttle stands, ``in_gear`` whether the propeller turns."""

    battery: Battery = field(default_factory=Battery)
    lines: list[InjectionLine] = field(default_factory=lambda: [InjectionLine() for _ in range(figures.CYLINDERS)])
    speed_rpm: float = 0.0
    running: bool = False
    cranking: bool = False
    in_gear: bool = False
    wanted_rpm: float = figures.IDLE_SPEED_RPM
    stop_pulled: bool = False
    firing_s: float = 0.0
    cranked_s: float = 0.0
    rack_share: float = 0.0
    short_of_fuel_share: float = 0.0
    injected_m3: float = 0.0
    sprayed_m3: list[float] = field(default_factory=lambda: [0.0] * figures.CYLINDERS)
    steady: bool = True
    peaks_pa: list[float] = field(default_factory=lambda: [0.0] * figures.CYLINDERS)

    def needed_m3(self, speed_rpm: float) -> float:
        """Return what all cylinders together must burn per cycle to hold a speed [m3]."""
        share = 1.0 if self.in_gear else figures.NEUTRAL_LOAD_SHARE
        return _FRICTION_M3 + share * _LOAD_N_M_PER_RPM2 * speed_rpm**2 / _TORQUE_PER_M3

    def cycles_per_s(self) -> float:
        """Return cycles (two turns of a four-stroke) a second."""
        return self.speed_rpm / (2.0 * MINUTE_S)

    def settled(self) -> bool:
        """Tell whether the speed is steady, so that long time steps are sound."""
        return self.steady if self.running else not self.cranking

    def drive(self, state: CircuitState) -> None:
        """Set the lift pump's strokes and the plungers' draw for the coming step."""
        gallery = state.topology.volume_number("injection_pump.gallery")
        air_share = state.shares(gallery)[2] if self._turns() else 0.0
        self.peaks_pa = [line.judge(air_share, state.fluids.ambient_pa) for line in self.lines]
        drawing = [line for line in self.lines if line.injects or line.nut_slack]
        state.drives.engine_turns = self._turns()
        state.drives.pump_strokes_per_s = self.cycles_per_s()
        state.drives.plunger_draw_m3_per_s = 0.0
        if not self.stop_pulled and drawing:
            state.drives.plunger_draw_m3_per_s = self._stroke_m3(len(drawing)) * len(drawing) * self.cycles_per_s()

    def _turns(self) -> bool:
        return self.running or self.cranking

    def _stroke_m3(self, drawing: int) -> float:
        """Return the volume that one plunger is set to deliver per cycle."""
        if not self.running:
            return figures.PLUNGER_STROKE_M3
        wish = self.needed_m3(max(self.wanted_rpm, self.speed_rpm)) / drawing
        return min(figures.GREATEST_INJECTION_M3, wish * max(1.0, self.rack_share))

    def follow(self, state: CircuitState, step_s: float) -> bool:
        """Carry the lines, speed, battery on over one step just taken; return True when it fired or stalled."""
        was_running = self.running
        burnt = self._inject(state, step_s)
        if self.running:
            self._run(burnt, step_s)
        elif self.cranking:
            self._crank(burnt, step_s)
        return self.running != was_running

    def _inject(self, state: CircuitState, step_s: float) -> float:
        """Pass the plungers' flow on to the lines; return what burns per cycle in all cylinders [m3]."""
        cycles = self.cycles_per_s()
        drawing = sum(1 for line in self.lines if line.injects or line.nut_slack)
        if cycles <= 0.0 or self.stop_pulled:
            return 0.0
        fuel, water, air = self._gallery_shares(state)
        flow = state.flow_m3_per_s[state.topology.link_number("injection_pump.plungers")]
        stroke = flow / (cycles * drawing) if drawing else 0.0
        burnt = 0.0
        for number, (line, peak) in enumerate(zip(self.lines, self.peaks_pa, strict=True)):
            if line.nut_slack:
                self.sprayed_m3[number] += stroke * (1.0 - air) * cycles * step_s
            line.take(cycles * step_s, stroke, air, water, peak)
            if line.injects:
                share = line.burns()
                burnt += stroke * (1.0 - air) * (1.0 - line.water_share) * share
                self.injected_m3 += stroke * fuel * cycles * step_s
        return burnt

    @staticmethod
    def _gallery_shares(state: CircuitState) -> tuple[float, float, float]:
        return state.shares(state.topology.volume_number("injection_pump.gallery"))

    def _run(self, burnt_m3: float, step_s: float) -> None:
        """Let the speed follow the balance of torque and load."""
        needed = self.needed_m3(self.wanted_rpm)
        self.short_of_fuel_share = max(0.0, 1.0 - burnt_m3 / needed)
        if self.short_of_fuel_share < _SHORT_FROM:
            self.short_of_fuel_share = 0.0
        self.rack_share = min(5.0, max(1.0, self.rack_share * needed / max(burnt_m3, 0.1 * needed)))
        target = self.wanted_rpm
        if self.short_of_fuel_share > 0.0:
            share = 1.0 if self.in_gear else figures.NEUTRAL_LOAD_SHARE
            spare = (burnt_m3 - _FRICTION_M3) * _TORQUE_PER_M3
            target = min(target, math.sqrt(max(0.0, spare) / (share * _LOAD_N_M_PER_RPM2)))
        before = self.speed_rpm
        self.speed_rpm = target + (before - target) * math.exp(-step_s / figures.SPEED_LAG_S)
        self.steady = abs(self.speed_rpm - before) < _STEADY_RPM_PER_S * step_s
        self.battery.pass_current(-figures.CHARGING_CURRENT_A, step_s)
        if self.stop_pulled or self.speed_rpm < figures.STALL_SPEED_RPM:
            self._stand()

    def _crank(self, burnt_m3: float, step_s: float) -> None:
        """Turn on the starter; fire when fuel burns for long enough at enough speed."""
        self.cranked_s += step_s
        self.battery.pass_current(figures.CRANKING_CURRENT_A, step_s)
        self.speed_rpm = self.battery.cranking_speed_rpm()
        burns = burnt_m3 > _FRICTION_M3 and self.speed_rpm >= figures.FIRING_SPEED_RPM
        self.firing_s = self.firing_s + step_s if burns else 0.0
        if self.firing_s >= figures.FIRING_DELAY_S:
            self.running, self.cranking, self.in_gear = True, False, False
            self.wanted_rpm = self.speed_rpm = figures.IDLE_SPEED_RPM
            self.rack_share, self.short_of_fuel_share = 1.0, 0.0

    def start_cranking(self) -> None:
        """Turn the key."""
        self.cranking, self.firing_s, self.injected_m3 = True, 0.0, 0.0
        self.speed_rpm = self.battery.cranking_speed_rpm()

    def release_key(self) -> None:
        """Let the key go; an engine that has not fired stands."""
        self.cranking = False
        if not self.running:
            self.speed_rpm = 0.0

    def _stand(self) -> None:
        self.running, self.in_gear, self.speed_rpm = False, False, 0.0
        self.wanted_rpm = figures.IDLE_SPEED_RPM
        self.short_of_fuel_share = 0.0
