"""The engine as the fuel system sees it: turned, fired, held at its speed by its governor, stopped."""

from __future__ import annotations

import math

from engine_sim.circuit.combustion import Cylinder, knocks, smokes_black
from engine_sim.circuit.injecting import InjectingEngine
from engine_sim.circuit.layout import Layout
from engine_sim.circuit.state import CircuitState
from engine_sim.sources import FROM_MEMORY, SourcedValue

_STEADY_RPM_PER_S = SourcedValue(5.0, "1/(min s)", FROM_MEMORY, "change of speed that an ear does not notice").value
_SHORT_FROM = SourcedValue(0.02, "1", FROM_MEMORY, "shortage of fuel that the governor makes good unnoticed").value
_FULL_FROM = SourcedValue(0.98, "1", FROM_MEMORY, "share of the full rack that counts as full").value
_HOLDS_SPEED = SourcedValue(0.97, "1", FROM_MEMORY, "share of the wanted speed below which it labours").value
_SMOKES_M3 = SourcedValue(1e-7, "m3", FROM_MEMORY, "fuel injected and not burnt that shows as smoke").value
_MISSES_BELOW = SourcedValue(0.75, "1", FROM_MEMORY, "share of the best cylinder's work that is heard as a miss").value
_UNBURNT_SHOWS = SourcedValue(0.3, "1", FROM_MEMORY, "share of a cylinder's fuel left unburnt that shows").value
_BENDS_AFTER_S = SourcedValue(6.0, "s", FROM_MEMORY, "the starter straining at a locked engine till a rod bends").value
_BENT_ROD_LEAVES = SourcedValue(
    0.6, "1", FROM_MEMORY, "of its compression pressure, to a cylinder with a bent rod"
).value


class Engine(InjectingEngine):
    """The engine; ``wanted_rpm`` is where the throttle stands, ``in_gear`` whether the propeller turns.

    ``propeller_load`` is 1 for a clean propeller, more for a fouled one; ``intake_opening`` 1 for a clear air intake.
    """

    def __init__(self, layout: Layout) -> None:
        super().__init__(layout)
        self.firing_s = self.cranked_s = self.since_s = self.locked_s = 0.0
        self.short_of_fuel_share = 0.0
        self.steady = True
        self.rod_bent = False
        self._sound = "dead"
        self._smoke = "none"
        self._overloaded = self._labours = False
        self._key_was_on = False

    # ---- what others ask ----------------------------------------------------------------------------------------

    def settled(self) -> bool:
        """Tell whether the speed is steady, so that long time steps are sound."""
        return self.steady if self.running else not self.cranking

    def smoke(self) -> str:
        """Return the smoke that shows now: ``none``, ``white`` (fuel that does not burn), ``black`` or ``blue``."""
        return self._smoke

    def knocks(self) -> bool:
        """Tell whether the engine knocks."""
        pairs = zip(self.cylinders, self.lines, strict=True)
        return self.running and any(knocks(one, line.dribble(), line.petrol_share) for one, line in pairs)

    def beat(self) -> str:
        """Return how it runs: ``even``, or ``uneven`` where a cylinder does little or nothing."""
        works = [one.useful_m3 for one in self.cylinders]
        return "uneven" if self.running and min(works) < _MISSES_BELOW * max(works) else "even"

    def labours(self) -> bool:
        """Tell whether it runs at its full rack and still does not reach the wanted speed."""
        return self.running and self._labours

    # ---- hands --------------------------------------------------------------------------------------------------

    def start_cranking(self) -> None:
        """Turn the key to start, or take the handle; nothing happens to an engine that runs."""
        if self.running:
            return
        self._key_was_on = self.key.on
        self.turn_key_on()
        self.cranking, self.firing_s, self.since_s, self.injected_m3 = True, 0.0, 0.0, 0.0
        self._set_cranking_speed(0.0)

    def release_key(self) -> None:
        """Let the key go; an engine that has not fired stands, and the key is where it was before."""
        self.cranking = False
        self.battery.current_a = 0.0
        if not self.running:
            self.speed_rpm = 0.0
            self.key_on = self._key_was_on

    def turn_by_hand(self) -> None:
        """Turn the engine by hand for one revolution: the cam goes on by half a turn."""
        self.cam_turns += 0.5

    # ---- step by step -------------------------------------------------------------------------------------------

    def follow(self, state: CircuitState, step_s: float) -> bool:
        """Carry the lines, speed, battery on over one step just taken; return True when it fired or stalled."""
        was_running = self.running
        if self._turns():
            self._inject(state, step_s)
        elif not self.cranking:
            self._smoke = "none"
        if self.running:
            self._run(step_s)
        elif self.cranking:
            self._crank(step_s)
        self._carry_on(state, step_s, was_running)
        return self.running != was_running

    def _run(self, step_s: float) -> None:
        """Let the speed follow the balance of torque and load."""
        combustion, firing = self.combustion, [one for one in self.cylinders if one.fires]
        torque = self._torque_at(self.wanted_rpm)
        had = sum(one.useful_m3 for one in firing)
        lost = max(1, len(firing)) * combustion.lost_m3(self.wanted_rpm)
        needed = lost + torque / combustion.torque_per_m3
        burnt = sum(one.burnt_m3 for one in firing)
        self._overloaded = bool(firing) and burnt >= _FULL_FROM * combustion.full_m3 * len(firing)
        short = max(0.0, 1.0 - had / needed)
        self.short_of_fuel_share = 0.0 if self._overloaded or short < _SHORT_FROM else short
        self.governor.correct(needed, had)
        target = self.wanted_rpm
        if short >= _SHORT_FROM:
            drag = max(1.0, self.resistance.oil_drag())
            given = combustion.torque_n_m(had - len(firing) * combustion.lost_m3(self.speed_rpm))
            spare = given - combustion.friction_torque_n_m(self.speed_rpm, drag)
            target = min(target, combustion.speed_for(spare, self._load_share()))
        before = self.speed_rpm
        self.speed_rpm = target + (before - target) * math.exp(-step_s / self.speed_lag_s)
        self.steady = abs(self.speed_rpm - before) < _STEADY_RPM_PER_S * step_s
        self._labours = self._overloaded and self.speed_rpm < _HOLDS_SPEED * self.wanted_rpm
        self._smoke = self._running_smoke()
        if self.told_to_stop() or self.heat.seizes or self.speed_rpm < self.stall_rpm:
            self._stand()

    def _running_smoke(self) -> str:
        pairs = list(zip(self.cylinders, self.lines, strict=True))
        if any(smokes_black(one, line.dribble()) for one, line in pairs):
            return "black"
        if any(self._smokes_white(one) for one in self.cylinders):
            return "white"
        return "blue" if self.oil.overfull else "none"

    @staticmethod
    def _smokes_white(one: Cylinder) -> bool:
        return one.unburnt_m3 > _UNBURNT_SHOWS * (one.burnt_m3 + one.unburnt_m3)

    def _set_cranking_speed(self, step_s: float) -> None:
        """Turn for a step: by the starter, with its current, or by hand."""
        self.resistance.locked = self.exhaust.cylinders_flooded
        self.resistance.compression_share = sum(one.compression_share for one in self.cylinders) / len(self.cylinders)
        self.resistance.temperature_k = self.heat.temperature_k
        if self.by_hand:
            self.since_s += step_s
            self.speed_rpm, self._valve_lifted = self.hand.speed_rpm(self.since_s)
            self._sound = "thud" if self.resistance.locked else "turns"
            return
        turning = self.starter.turn(self.battery)
        self.speed_rpm, self._sound, self._valve_lifted = turning.speed_rpm, turning.sound, False
        current = turning.current_a + self._small_currents_a()
        self.battery.pass_current(current, step_s, self.heat.around_k)
        self.starter.carry_current(turning.current_a, step_s, self.heat.around_k)

    def _crank(self, step_s: float) -> None:
        """Turn on; fire when fuel burns for long enough to carry the engine up to its idle speed."""
        self.cranked_s += step_s
        combustion, idle = self.combustion, self.idle_rpm
        given = sum(max(0.0, one.useful_m3 - combustion.lost_m3(idle)) for one in self.cylinders)
        carries = combustion.torque_n_m(given) > self._torque_at(idle)
        self.firing_s = self.firing_s + step_s if carries else 0.0
        self._smoke = "white" if self.injected_m3 > _SMOKES_M3 else "none"
        if self.firing_s >= self.catches_s():
            self._catch()
            return
        self._set_cranking_speed(step_s)
        self._strain(step_s)

    def _strain(self, step_s: float) -> None:
        """Let a rod bend where the starter is kept at an engine that water has locked."""
        if self._sound != "thud" or self.rod_bent:
            return
        self.locked_s += step_s
        if self.locked_s > _BENDS_AFTER_S:
            self.rod_bent = True
            self.cylinders[0].compression_share *= _BENT_ROD_LEAVES

    def _catch(self) -> None:
        self.running, self.cranking, self.in_gear = True, False, False
        self.wanted_rpm = self.speed_rpm = self.idle_rpm
        self.governor.reset()
        self.short_of_fuel_share = 0.0
        self._valve_lifted, self._smoke = False, "none"

    def _carry_on(self, state: CircuitState, step_s: float, ran: bool) -> None:
        """Let battery, heat, oil and exhaust go on for the step."""
        around = self.heat.around_k
        burnt = self.cycles_per_s() * sum(one.heat_m3 for one in self.cylinders) if self.running else 0.0
        self.exhaust.follow(self.speed_rpm, self.running, step_s)
        self.heat.follow(burnt, self.exhaust.flow_m3_per_s / self.exhaust.figures["water_m3_per_s"], step_s)
        self.resistance.temperature_k = self.heat.temperature_k
        self.oil.follow(state, self.dribbled_m3)
        self.dribbled_m3 = 0.0
        if self.running:
            self.battery.pass_current(-self.battery.figures["charging_a"], step_s, around)
        elif not self.cranking:
            self.battery.pass_current(self._small_currents_a(), step_s, around)
        if not self.cranking:
            self.starter.carry_current(0.0, step_s, around)
        if self.has_preheat:
            self.preheat.follow(self.battery, step_s)

    def _stand(self) -> None:
        self.running, self.in_gear, self.speed_rpm = False, False, 0.0
        self.wanted_rpm = self.idle_rpm
        self.short_of_fuel_share = 0.0
        self._overloaded = False
        self._smoke = "none"
        self.cam_turns = self.rest_turns
        self.battery.charging, self.battery.current_a = False, 0.0
        self.turn_key_off()
