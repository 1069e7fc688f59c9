"""The whole rig: the circuit with its engine, played together; and the mess that work on it makes."""

from __future__ import annotations

import math
from collections.abc import Callable

from engine_sim.circuit.engine import Engine
from engine_sim.circuit.layout import Layout, load_layout
from engine_sim.circuit.state import CircuitState, Fluids
from engine_sim.circuit.stepping import LONGEST_STEP_S, advance, is_quiet
from engine_sim.circuit.topology import Topology
from engine_sim.components import LinkKind
from engine_sim.components import engine_figures as figures
from engine_sim.errors import UnknownName
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue
from engine_sim.units import celsius_to_kelvin

_ROOM_C = SourcedValue(20.0, "degC", COMMON_PRACTICE, "a summer's engine space").value
_STEP_CRANKING_S = SourcedValue(0.2, "s", FROM_MEMORY, "longest step while speed or lever changes matter").value
_STEP_RUNNING_S = SourcedValue(5.0, "s", FROM_MEMORY, "longest step at a steady speed").value
_STEP_QUIET_S = SourcedValue(60.0, "s", FROM_MEMORY, "the same while nothing but plain fuel flows").value
_STEP_WAVERING_S = SourcedValue(0.25, "s", FROM_MEMORY, "longest step while air passes the injection pump").value
_STEP_SHORT_S = SourcedValue(1.0, "s", FROM_MEMORY, "the same while there is little, or its fuel runs short").value
_STEP_LEVER_S = SourcedValue(3.0, "s", FROM_MEMORY, "longest step while the hand lever is worked").value
_STEP_OPEN_S = SourcedValue(0.25, "s", FROM_MEMORY, "the same while a filter is off and its hoses hang open").value
_AIR_MATTERS = SourcedValue(0.003, "1", FROM_MEMORY, "share of air in the gallery from which steps are shorter").value
_AIR_FELT = SourcedValue(0.05, "1", FROM_MEMORY, "share of air in the gallery from which the speed may waver").value


class Rig:
    """The truth about one boat's fuel system and engine. Time moves only through :meth:`play`."""

    def __init__(self, layout: str | Layout = "tank_below", temperature_c: float = _ROOM_C) -> None:
        self.layout = load_layout(layout) if isinstance(layout, str) else layout
        self.layout.require_boat()
        self.topology = Topology(self.layout.blueprint)
        self.circuit = CircuitState.full_of_fuel(self.topology, Fluids.at(celsius_to_kelvin(temperature_c)))
        self.engine = Engine(self.layout)
        self.clock_s = 0.0
        self.lever_strokes_per_s = 0.0
        self.gauge_stuck_at: dict[str, float] = {}
        self.gauge_shift: dict[str, float] = {}
        self.tray_laid = False
        self.spilled_m3 = 0.0
        self.caught_m3 = 0.0
        self.caught_by = {link.id: "jar" for link in self.topology.links if link.id.endswith((".drain", ".sump"))}
        self.wet: set[str] = set()
        self.taken_fuel_m3 = 0.0
        self.taken_water_m3 = 0.0
        self.taken_air_kg = 0.0
        self.taken_dirt_kg = 0.0
        self.taken_petrol_m3 = 0.0
        pump = self.layout.parts_of("injection_pump", "rotary_injection_pump")[0]
        self._gallery = self.topology.volume_number(f"{pump}.gallery")
        self._mouths = [number for name, number in self.topology.link_index.items() if name.endswith(".mouth")]
        self._wavered_s: float | None = None
        self._slowest_rpm = math.inf
        self._wet_openings = self._openings_to_the_air()
        self.watch: Callable[[float], None] | None = None
        for part, numbers in self.layout.figures.items():
            self._fill_part(part, numbers.get("filled_share", 1.0))

    def _fill_part(self, part: str, share: float) -> None:
        """Fill every space of a part with fuel to a share of it, the rest with air."""
        if share < 1.0:
            for volume in self.topology.volumes:
                if volume.part == part:
                    self.circuit.fill(volume.id, share)

    def _openings_to_the_air(self) -> tuple[tuple[int, str], ...]:
        """Return the links, but for the engine's own, by which fuel can leave into the open air: number and id."""
        return tuple(
            (number, link.id)
            for number, link in enumerate(self.topology.links)
            if link.b is None and link.kind is LinkKind.PASSIVE
        )

    def play(self, duration_s: float, *, until_switch: bool = False, patience_s: float = math.inf) -> float:
        """Play so long [s]; ``until_switch``: until it fires or stalls, ``patience_s``: was so long short of fuel."""
        before, sprayed = self._drips(), list(self.engine.sprayed_m3)
        self._wavered_s, self._slowest_rpm, elapsed_s, poorly_s = None, math.inf, 0.0, 0.0

        def set_drives(state: CircuitState, _wish_s: float) -> float:
            self.engine.drive(state)
            if self.lever_strokes_per_s > 0.0 and not self.engine.cam_on_lobe:
                state.drives.pump_strokes_per_s = max(state.drives.pump_strokes_per_s, self.lever_strokes_per_s)
            open_head = not state.drives.idle() and any(state.opening[number] > 0.0 for number in self._mouths)
            return min(_STEP_OPEN_S, self._longest_step()) if open_head else self._longest_step()

        def follow(state: CircuitState, step_s: float) -> bool:
            nonlocal elapsed_s, poorly_s
            elapsed_s += step_s
            if self.watch is not None:
                self.watch(self.clock_s + elapsed_s)
            switched = self.engine.follow(state, step_s)
            if self.engine.running:
                self._slowest_rpm = min(self._slowest_rpm, self.engine.speed_rpm)
            if self._wavered_s is None and self.engine.short_of_fuel_share > WAVERS_FROM:
                self._wavered_s = elapsed_s
            poorly_s = poorly_s + step_s if self.engine.short_of_fuel_share > 0.0 else 0.0
            return (switched and until_switch) or poorly_s >= patience_s

        played = advance(self.circuit, duration_s, set_drives, follow)
        self.clock_s += played
        self._even_out_temperatures(played)
        self._gather_drips(before)
        self._gather_spray(sprayed)
        return played

    def _even_out_temperatures(self, time_s: float) -> None:
        """Let the elements come to the temperature of fuel and space."""
        around = self.circuit.fluids.temperature_k
        left = math.exp(-time_s / _ELEMENT_TIME_S)
        for number, now in self.circuit.element_k.items():
            self.circuit.element_k[number] = around + (now - around) * left

    def _longest_step(self) -> float:
        if not self.engine.settled():
            return _STEP_WAVERING_S if self.engine.running else _STEP_CRANKING_S
        if self.lever_strokes_per_s > 0.0:
            return _STEP_LEVER_S
        if not self.engine.running:
            return LONGEST_STEP_S
        air = self.circuit.shares(self._gallery)[2]
        if air > _AIR_FELT:
            return _STEP_WAVERING_S
        if air > _AIR_MATTERS or self.engine.short_of_fuel_share > 0.0:
            return _STEP_SHORT_S
        return _STEP_QUIET_S if is_quiet(self.circuit) else _STEP_RUNNING_S

    def _drips(self) -> list[float]:
        """Return the fuel and water that has left by each way into the open air [m3], but for the engine's own."""
        circuit = self.circuit
        return [circuit.passed_fuel_m3[number] + circuit.passed_water_m3[number] for number, _ in self._wet_openings]

    def _gather_drips(self, before: list[float]) -> None:
        for (_, name), passed, was in zip(self._wet_openings, self._drips(), before, strict=True):
            lost = passed - was
            if lost <= WET_FROM_M3 or name in self.caught_by:
                continue
            self.wet.add(name if name.endswith((".joint", ".ring")) else name.split(".")[0])
            self.lose(lost * (1.0 - self.engine.oil.catches_share) if name.endswith(".weep") else lost)

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

    def number(self, link: str, name: str) -> float:
        """Return one of a link's own figures, such as a pump's spring pressure, in its SI unit."""
        return self._numbers(link, name)[name]

    def set_number(self, link: str, name: str, value: float) -> None:
        """Change one of a link's own figures; raise UnknownName if the link has none of that name."""
        self._numbers(link, name)[name] = value

    def _numbers(self, link: str, name: str) -> dict[str, float]:
        numbers = self.circuit.numbers[self.topology.link_number(link)]
        if name not in numbers:
            raise UnknownName(f"figure of the link {link!r}", name, numbers)
        return numbers

    def restrict(self, link: str, extra_1_per_m3: float) -> None:
        """Set the laminar resistance [1/m3] that a link has beyond its own: a kink, a collapse, a clogged mouth."""
        self.circuit.extra_laminar_1_per_m3[self.topology.link_number(link)] = extra_1_per_m3

    def set_sea(self, seaway: float, heel_deg: float = 0.0, pitch_deg: float = 0.0) -> None:
        """Set the sea, 0 calm to 1 rough, and how the boat lies [deg]: heel to starboard, pitch bow down."""
        self.circuit.seaway = seaway
        self.circuit.heel_rad, self.circuit.pitch_rad = math.radians(heel_deg), math.radians(pitch_deg)

    def set_temperature(self, fuel_c: float) -> None:
        """Set the temperature of fuel and space [degC]."""
        self.circuit.fluids = Fluids.at(celsius_to_kelvin(fuel_c), self.circuit.fluids.ambient_pa)

    def warm_element(self, part: str, temperature_c: float) -> None:
        """Set the temperature of a filter's element [degC], as when it is warmed by hand."""
        number = self.topology.link_number(f"{part}.element")
        self.circuit.element_k[number] = celsius_to_kelvin(temperature_c)

    def is_open(self, link: str) -> bool:
        """Tell whether a valve, screw, tap or joint lets anything through."""
        return self.circuit.opening[self.topology.link_number(link)] > 0.0

    def gauge_share(self, tank: str) -> float:
        """Return what a tank's gauge shows, 0 to 1: how full it is, unless its needle sticks or is shifted."""
        if tank in self.gauge_stuck_at:
            return self.gauge_stuck_at[tank]
        fuel, aqua, _ = self.shares(tank)
        return min(1.0, max(0.0, fuel + aqua + self.gauge_shift.get(tank, 0.0)))

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
        try:
            turned = self.play(duration_s, until_switch=True)
        finally:
            self.engine.release_key()
        return turned, self.engine.running

    def work_lever(self, strokes: int) -> None:
        """Work the lift pump's hand lever with full, slow strokes; they do nothing while its cam stands on the lobe."""
        self.lever_strokes_per_s = figures.LEVER_STROKES_PER_S
        try:
            self.play(strokes / figures.LEVER_STROKES_PER_S)
        finally:
            self.lever_strokes_per_s = 0.0

    def run(self, duration_s: float, speed_rpm: float, in_gear: bool, patience_s: float = math.inf) -> float:
        """Let a running engine run on at a speed; return how long it did [s]: less if it died, or by ``patience_s``."""
        if not self.engine.running:
            return 0.0
        self.engine.wanted_rpm, self.engine.in_gear = speed_rpm, in_gear
        played = self.play(duration_s, until_switch=True, patience_s=patience_s)
        self.engine.wanted_rpm, self.engine.in_gear = self.engine.idle_rpm, False
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
        """Pour fresh fuel into an open volume; the air that it displaces leaves."""
        number, circuit = self.topology.volume_number(volume), self.circuit
        before_kg = circuit.air_kg[number]
        circuit.fuel_m3[number] += fuel_m3
        circuit.dirt_kg[number] += fuel_m3 * circuit.fuel_dirt_kg_per_m3
        held = circuit.fuel_m3[number] + circuit.water_m3[number]
        room = max(0.0, self.topology.volumes[number].volume_m3 - held)
        circuit.air_kg[number] = room * circuit.pressure_pa[number] / circuit.fluids.gas_factor_j_per_kg
        self.taken_fuel_m3 -= fuel_m3
        self.taken_dirt_kg -= fuel_m3 * circuit.fuel_dirt_kg_per_m3
        self.taken_air_kg += before_kg - circuit.air_kg[number]

    def take_out(self, volume: str) -> None:
        """Empty a volume, as when a housing is opened; what was in it counts as taken away from the circuit."""
        number, circuit = self.topology.volume_number(volume), self.circuit
        self.taken_fuel_m3 += circuit.fuel_m3[number]
        self.taken_water_m3 += circuit.water_m3[number]
        self.taken_air_kg += circuit.air_kg[number] + circuit.dissolved_kg[number]
        self.taken_dirt_kg += circuit.dirt_kg[number]
        self.taken_petrol_m3 += circuit.petrol_m3[number]
        circuit.fill(volume, 0.0)
        self.taken_air_kg -= circuit.air_kg[number]

    def new_element(self, part: str) -> None:
        """Put in a clean element; the dirt on the old one leaves with it."""
        number = self.topology.link_number(f"{part}.element")
        self.taken_dirt_kg += self.circuit.cake_kg[number]
        self.circuit.cake_kg[number] = 0.0

    def stop_engine(self) -> None:
        """Pull the stop control until the engine stands, and push it home again."""
        self.engine.stop_pulled = True
        self.play(_STEP_RUNNING_S, until_switch=True)
        self.engine.stop_pulled = False


_ELEMENT_TIME_S = SourcedValue(
    1200.0, "s", FROM_MEMORY, "time in which a warmed filter cools, or a cold one warms"
).value
WET_FROM_M3 = SourcedValue(0.2e-6, "m3", FROM_MEMORY, "a few drops: from this much a dry tissue shows a weep").value
WAVERS_FROM = SourcedValue(0.1, "1", FROM_MEMORY, "shortage of fuel from which the ear hears the speed waver").value
