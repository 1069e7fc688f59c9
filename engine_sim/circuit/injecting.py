"""What the plungers draw and what becomes of it: each line, each charge, each cylinder, for one step."""

from __future__ import annotations

from engine_sim.circuit.combustion import air_drawn
from engine_sim.circuit.engine_parts import EngineParts
from engine_sim.circuit.layout import Layout
from engine_sim.circuit.state import CircuitState
from engine_sim.fluids import diesel_fuel
from engine_sim.units import MINUTE_S


class InjectingEngine(EngineParts):
    """An engine at some speed: it drives the pumps, and burns what reaches its cylinders."""

    def __init__(self, layout: Layout) -> None:
        super().__init__(layout)
        self.speed_rpm = 0.0
        self.running = self.cranking = self.in_gear = False
        self.wanted_rpm = self.idle_rpm
        self.injected_m3 = 0.0
        self._valve_lifted = False
        self._air_share = 1.0

    def cycles_per_s(self) -> float:
        """Return cycles (two turns of a four-stroke) a second."""
        return self.speed_rpm / (2.0 * MINUTE_S)

    def drive(self, state: CircuitState) -> None:
        """Set the pumps' strokes and the plungers' draw for the coming step."""
        drives, turns = state.drives, self._turns()
        self.heat.settle_in(state.fluids.temperature_k, turns)
        self.key.follow(self.solenoid_ok and self.solenoid_wired)
        drives.engine_turns, drives.speed_rpm = turns, self.speed_rpm if turns else 0.0
        drives.pump_strokes_per_s = self.cycles_per_s()
        drives.electric_on = self.key.pump_runs()
        drives.plunger_draw_m3_per_s = 0.0
        if not turns:
            return
        air_share = state.shares(self.gallery)[2]
        self.peaks_pa = [line.judge(air_share, state.fluids.ambient_pa) for line in self.lines]
        drawing = sum(1 for line in self.lines if line.draws)
        if drawing and not self.told_to_stop():
            drives.plunger_draw_m3_per_s = self._stroke_m3(state) * drawing * self.cycles_per_s()

    def _turns(self) -> bool:
        return self.running or (self.cranking and self.speed_rpm > 0.0)

    def _stroke_m3(self, state: CircuitState) -> float:
        """Return the volume that one plunger is set to deliver per cycle."""
        if not self.running:
            return self.full_stroke_m3
        speed = max(self.wanted_rpm, self.speed_rpm)
        firing = sum(1 for line, one in zip(self.lines, self.cylinders, strict=True) if line.injects and one.lights)
        wish = self.combustion.injection_for(self._torque_at(speed), firing, speed, self._air_share)
        given = min(self.combustion.full_m3, wish * self.governor.rack_share)
        return given * diesel_fuel.DENSITY_15.value / state.fluids.fuel_density_kg_per_m3 + self.leak_off.stroke_m3

    def _load_share(self) -> float:
        return self.propeller_load if self.in_gear else self.combustion.neutral_share

    def _torque_at(self, speed_rpm: float) -> float:
        """Return the indicated torque that holds a speed [N m]."""
        drag = max(1.0, self.resistance.oil_drag())
        friction = self.combustion.friction_torque_n_m(speed_rpm, drag)
        return friction + self.combustion.load_torque_n_m(speed_rpm, self._load_share())

    def _inject(self, state: CircuitState, step_s: float) -> None:
        """Pass the plungers' flow on to the lines, and burn what arrives in the cylinders."""
        cycles = self.cycles_per_s()
        drawing = sum(1 for line in self.lines if line.draws)
        stopped = self.told_to_stop()
        flow = 0.0 if stopped else state.flow_m3_per_s[self.plungers]
        stroke = flow / (cycles * drawing) if drawing and cycles > 0.0 else 0.0
        shares = self._gallery_shares(state)
        self._light()
        strokes, to_15 = cycles * step_s, state.fluids.fuel_density_kg_per_m3 / diesel_fuel.DENSITY_15.value
        leaked = self.leak_off.follow(state, strokes * drawing, stroke)
        self._air_share = self._air()
        for number, line in enumerate(self.lines):
            sprays = line.nut_leak_share if line.injects else 1.0
            if line.draws and sprays > 0.0:
                self.sprayed_m3[number] += stroke * sprays * (1.0 - shares[0]) * strokes
            if not stopped:
                line.take(strokes, stroke, shares, self.peaks_pa[number])
            injected = (stroke - leaked) * (1.0 - sprays) * (1.0 - shares[0]) if line.injects else 0.0
            self.injected_m3 += injected * strokes
            self._burn(number, injected * to_15, strokes)

    def _gallery_shares(self, state: CircuitState) -> tuple[float, float, float]:
        """Return the shares of air and water in the gallery, and that of petrol in its fuel."""
        fuel, water, air = state.shares(self.gallery)
        petrol = state.petrol_m3[self.gallery]
        return air, water, petrol / state.fuel_m3[self.gallery] if petrol > 0.0 and fuel > 0.0 else 0.0

    def _burn(self, number: int, injected_m3: float, strokes: float) -> None:
        line, one = self.lines[number], self.cylinders[number]
        dribble = line.dribble()
        fuel = injected_m3 * (1.0 - line.water_share)
        self.combustion.burn(one, fuel, line.burns(), dribble, self._air_share)
        self.dribbled_m3 += dribble * fuel * strokes

    def _air(self) -> float:
        """Return the share of its air that it gets at this speed, 1 at the rated speed as built."""
        share = self.speed_rpm / self.combustion.rated_rpm
        drawn = air_drawn(self.intake_loss_pa, share, self.intake_opening)
        return drawn * air_drawn(self.exhaust.back_pressure_pa, share, self.exhaust.opening) / self.clear_air

    def _light(self) -> None:
        """Find out in which cylinders the charge is hot enough."""
        around, warm = self.heat.around_k, self.heat.temperature_k
        tight = self.ignition.tight_charge_k(self.speed_rpm, around, warm)
        for number, (one, line) in enumerate(zip(self.cylinders, self.lines, strict=True)):
            charge = tight
            if one.compression_share < 1.0:
                charge = self.ignition.charge_k(self.speed_rpm, around, warm, one.compression_share)
            charge += self.preheat.gain_k(number)
            one.lights = not self._valve_lifted and self.ignition.lights(charge, line.petrol_share)
