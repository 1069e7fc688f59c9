"""The whole rig: the circuit with its engine, played together; and the mess that work on it makes."""

from __future__ import annotations

import math
from collections.abc import Mapping

from engine_sim.circuit.engine import Engine
from engine_sim.circuit.layout import Layout, load_layout
from engine_sim.circuit.state import CircuitState, Fluids
from engine_sim.circuit.stepping import LONGEST_STEP_S, advance
from engine_sim.circuit.topology import OPEN_AIR, Topology
from engine_sim.components import LinkKind
from engine_sim.components import engine_figures as figures
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue, published
from engine_sim.units import celsius_to_kelvin

_ROOM_C = SourcedValue(20.0, "degC", COMMON_PRACTICE, "a summer's engine space").value
_HALF_FULL = SourcedValue(0.5, "1", COMMON_PRACTICE, "filling of the tank unless the scenario says otherwise").value
_DIRT_KG_PER_M3 = SourcedValue(
    0.020075, "kg/m3", published("EN 590: total contamination at most 24 mg/kg, at 836.45 kg/m3")
).value
_STEP_CRANKING_S = SourcedValue(0.1, "s", FROM_MEMORY, "longest step while speed or lever changes matter").value
_STEP_RUNNING_S = SourcedValue(2.0, "s", FROM_MEMORY, "longest step at a steady speed").value


class Rig:
    """The truth about one boat's fuel system and engine. Time moves only through :meth:`play`."""

    def __init__(self, layout: str | Layout = "tank_below", temperature_c: float = _ROOM_C) -> None:
        self.layout = load_layout(layout) if isinstance(layout, str) else layout
        self.topology = Topology(self.layout.blueprint)
        self.circuit = CircuitState.full_of_fuel(self.topology, Fluids.at(celsius_to_kelvin(temperature_c)))
        self.circuit.fuel_dirt_kg_per_m3 = _DIRT_KG_PER_M3
        self.engine = Engine()
        self.clock_s = 0.0
        self.lever_strokes_per_s = 0.0
        self.gauge_stuck_at: float | None = None
        self.tray_laid = False
        self.spilled_m3 = 0.0
        self.caught_m3 = 0.0
        self.wet: set[str] = set()
        self.taken_fuel_m3 = 0.0
        self.taken_water_m3 = 0.0
        self.taken_air_kg = 0.0
        self._wavered_s: float | None = None
        self._slowest_rpm = math.inf
        self.circuit.fill("tank", _HALF_FULL)
        for volume in self.topology.volumes:
            if volume.part == "return_line":
                self.circuit.fill(volume.id, 0.0)

    def play(self, duration_s: float, *, until_switch: bool = False) -> float:
        """Let time pass [s]; with ``until_switch`` stop when the engine fires or stalls. Return the time played."""
        before, sprayed = dict(self._drips()), list(self.engine.sprayed_m3)
        self._wavered_s, self._slowest_rpm = None, math.inf
        elapsed_s = 0.0

        def set_drives(state: CircuitState, _wish_s: float) -> float:
            self.engine.drive(state)
            if self.lever_strokes_per_s > 0.0:
                state.drives.pump_strokes_per_s = max(state.drives.pump_strokes_per_s, self.lever_strokes_per_s)
            return self._longest_step()

        def follow(state: CircuitState, step_s: float) -> bool:
            nonlocal elapsed_s
            elapsed_s += step_s
            switched = self.engine.follow(state, step_s)
            if self.engine.running:
                self._slowest_rpm = min(self._slowest_rpm, self.engine.speed_rpm)
            if self._wavered_s is None and self.engine.short_of_fuel_share > WAVERS_FROM:
                self._wavered_s = elapsed_s
            return switched and until_switch

        played = advance(self.circuit, duration_s, set_drives, follow)
        self.clock_s += played
        self._gather_drips(before)
        self._gather_spray(sprayed)
        return played

    def _longest_step(self) -> float:
        if not self.engine.settled():
            return _STEP_CRANKING_S
        if self.engine.running or self.lever_strokes_per_s > 0.0:
            return _STEP_RUNNING_S
        return LONGEST_STEP_S

    def _drips(self) -> Mapping[str, float]:
        """Return the fuel and water that has left by each way into the open air [m3], but for the engine's own."""
        circuit = self.circuit
        return {
            link.id: circuit.passed_fuel_m3[number] + circuit.passed_water_m3[number]
            for number, link in enumerate(self.topology.links)
            if self.topology.end_b[number] == OPEN_AIR and link.kind is LinkKind.PASSIVE
        }

    def _gather_drips(self, before: Mapping[str, float]) -> None:
        for name, passed in self._drips().items():
            lost = passed - before[name]
            if lost <= WET_FROM_M3 or name.endswith(".drain"):
                continue
            self.wet.add(name.split(".")[0] if not name.endswith(".joint") else name)
            self.lose(lost)

    def _gather_spray(self, before: list[float]) -> None:
        for number, (was, now) in enumerate(zip(before, self.engine.sprayed_m3, strict=True), 1):
            if now - was > WET_FROM_M3:
                self.wet.add(f"injector_{number}")
                self.lose(now - was)

    def lose(self, fuel_m3: float) -> None:
        """Count fuel that has come out: into the tray where one is laid, else into the boat."""
        if self.tray_laid:
            self.caught_m3 += fuel_m3
        else:
            self.spilled_m3 += fuel_m3

    def set_open(self, link: str, opening: float) -> None:
        """Open (1), shut (0) or partly open a valve, screw, tap or joint."""
        self.circuit.opening[self.topology.link_number(link)] = opening

    def is_open(self, link: str) -> bool:
        """Tell whether a valve, screw, tap or joint lets anything through."""
        return self.circuit.opening[self.topology.link_number(link)] > 0.0

    def passed(self, link: str) -> tuple[float, float, float]:
        """Return what has passed a link since the start: fuel [m3], water [m3], air [m3 at ambient pressure]."""
        number, circuit = self.topology.link_number(link), self.circuit
        gas = circuit.passed_air_kg[number] * circuit.fluids.gas_factor_j_per_kg / circuit.fluids.ambient_pa
        return circuit.passed_fuel_m3[number], circuit.passed_water_m3[number], gas

    def shares(self, volume: str) -> tuple[float, float, float]:
        """Return the shares of fuel, water and air in a volume."""
        return self.circuit.shares(self.topology.volume_number(volume))

    def pressure_pa(self, volume: str) -> float:
        """Return a volume's pressure [Pa, absolute]."""
        return self.circuit.pressure_pa[self.topology.volume_number(volume)]

    def crank(self, duration_s: float) -> tuple[float, bool]:
        """Turn the starter for so long [s], or until it fires; return the time turned [s] and whether it fired."""
        if self.engine.running:
            return 0.0, False
        self.engine.start_cranking()
        turned = self.play(duration_s, until_switch=True)
        self.engine.release_key()
        return turned, self.engine.running

    def work_lever(self, strokes: int) -> None:
        """Work the lift pump's hand lever with full, slow strokes."""
        self.lever_strokes_per_s = figures.LEVER_STROKES_PER_S
        self.play(strokes / figures.LEVER_STROKES_PER_S)
        self.lever_strokes_per_s = 0.0

    def run(self, duration_s: float, speed_rpm: float, in_gear: bool) -> float:
        """Let a running engine run on at a speed; return how long it did [s], less than asked only if it died."""
        if not self.engine.running:
            return 0.0
        self.engine.wanted_rpm, self.engine.in_gear = speed_rpm, in_gear
        played = self.play(duration_s, until_switch=True)
        self.engine.wanted_rpm, self.engine.in_gear = figures.IDLE_SPEED_RPM, False
        return played

    def waver_s(self) -> float | None:
        """Return how long into the last stretch of time the running engine first wavered [s], None if it did not."""
        return self._wavered_s

    def slowest_rpm(self) -> float:
        """Return the lowest speed of the running engine in the last stretch of time [rpm]."""
        return self._slowest_rpm

    def start_afresh(self) -> None:
        """Set clock, mess and wet places to nothing, as the learner comes to a wiped engine."""
        self.clock_s, self.spilled_m3, self.caught_m3 = 0.0, 0.0, 0.0
        self.wet.clear()
        self.engine.cranked_s = 0.0

    def pour_in(self, volume: str, fuel_m3: float) -> None:
        """Pour clean fuel into an open volume; the air that it displaces leaves."""
        number, circuit = self.topology.volume_number(volume), self.circuit
        before_kg = circuit.air_kg[number]
        circuit.fuel_m3[number] += fuel_m3
        held = circuit.fuel_m3[number] + circuit.water_m3[number]
        room = max(0.0, self.topology.volumes[number].volume_m3 - held)
        circuit.air_kg[number] = room * circuit.pressure_pa[number] / circuit.fluids.gas_factor_j_per_kg
        self.taken_fuel_m3 -= fuel_m3
        self.taken_air_kg += before_kg - circuit.air_kg[number]

    def take_out(self, volume: str) -> None:
        """Empty a volume, as when a housing is opened; what was in it counts as taken away from the circuit."""
        number, circuit = self.topology.volume_number(volume), self.circuit
        self.taken_fuel_m3 += circuit.fuel_m3[number]
        self.taken_water_m3 += circuit.water_m3[number]
        self.taken_air_kg += circuit.air_kg[number]
        circuit.fill(volume, 0.0)
        self.taken_air_kg -= circuit.air_kg[number]

    def stop_engine(self) -> None:
        """Pull the stop control until the engine stands, and push it home again."""
        self.engine.stop_pulled = True
        self.play(_STEP_RUNNING_S, until_switch=True)
        self.engine.stop_pulled = False


WET_FROM_M3 = SourcedValue(0.2e-6, "m3", FROM_MEMORY, "a few drops: from this much a dry tissue shows a weep").value
WAVERS_FROM = SourcedValue(0.1, "1", FROM_MEMORY, "shortage of fuel from which the ear hears the speed waver").value
