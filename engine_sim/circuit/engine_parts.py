"""What an engine is made of, read from a layout's figures, and what is told or done to its parts."""

from __future__ import annotations

from engine_sim.circuit.battery import Battery
from engine_sim.circuit.combustion import Combustion, Cylinder, air_drawn
from engine_sim.circuit.exhaust import Exhaust
from engine_sim.circuit.governor import Governor
from engine_sim.circuit.heat import Heat
from engine_sim.circuit.high_pressure import InjectionLine, LeakOff, LineFigures
from engine_sim.circuit.ignition import Ignition
from engine_sim.circuit.key import Key
from engine_sim.circuit.layout import Layout
from engine_sim.circuit.oil import Oil
from engine_sim.circuit.own_figures import figures_of, has_part
from engine_sim.circuit.preheat import Preheat
from engine_sim.circuit.starting import HandStart, Resistance, Starter, Turning
from engine_sim.circuit.topology import OPEN_AIR
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

_AROUND_K = SourcedValue(293.15, "K", FROM_MEMORY, "temperature before the boat's is known").value
_LOBE_TURNS = SourcedValue(0.15, "1", FROM_MEMORY, "cam's turn, either way, in which its lobe holds the pump").value
_REST_TURNS = 0.25


class EngineParts:
    """The engine's parts and settings; everything here may be read or set between two stretches of time.

    ``by_hand`` says whether cranking means the handle; it does from the start where there is no starter.
    """

    def __init__(self, layout: Layout) -> None:
        figures = figures_of(layout, "engine")
        self.combustion = Combustion(figures)
        self.ignition = Ignition(figures)
        self.governor = Governor()
        self.heat = Heat.of(figures["rated_power_w"], self.combustion.rated_m3_per_s(), _AROUND_K)
        self.idle_rpm, self.stall_rpm = figures["idle_rpm"], figures["stall_rpm"]
        self.speed_lag_s = figures["speed_lag_s"]
        self.full_stroke_m3 = figures["plunger_stroke_m3"]
        count = self.combustion.cylinders
        line_figures = LineFigures.of(figures)
        self.lines = [InjectionLine(figures=line_figures) for _ in range(count)]
        self.cylinders = [Cylinder() for _ in range(count)]
        self.peaks_pa = [0.0] * count
        self.sprayed_m3 = [0.0] * count
        self.dribbled_m3 = 0.0
        self._find_links(layout)
        self._add_starting(layout)
        self._add_air(layout)
        self.propeller_load = 1.0
        self.stop_pulled = False
        self.solenoid_ok = self.solenoid_wired = True
        self.solenoid_held = False
        self.rest_turns = self.cam_turns = _REST_TURNS

    def _find_links(self, layout: Layout) -> None:
        """Find the numbers of the links and spaces of the circuit that the engine works on."""
        figures = figures_of(layout, "engine")
        links = {link.id: number for number, link in enumerate(layout.blueprint.links)}
        volumes = {volume.id: number for number, volume in enumerate(layout.blueprint.volumes)}
        pump = layout.parts_of("injection_pump", "rotary_injection_pump")[0]
        self.gallery, self.plungers = volumes[f"{pump}.gallery"], links[f"{pump}.plungers"]
        overflow = links.get(f"{pump}.overflow")
        returns = layout.blueprint.links[overflow].b if overflow is not None else None
        weep = next((links[f"{part}.weep"] for part in layout.parts_of("lift_pump") if f"{part}.weep" in links), -1)
        self.oil = Oil(figures["oil_volume_m3"], figures["sump_catches_share"], weep)
        self.leak_off = LeakOff(
            self.plungers,
            volumes[returns.volume] if returns is not None else OPEN_AIR,
            figures["leak_off_m3_per_s"] / (figures["rated_rpm"] / (2.0 * MINUTE_S)),
            figures["leak_off_limit_pa"],
        )

    def _add_starting(self, layout: Layout) -> None:
        figures = figures_of(layout, "engine")
        self.battery = Battery(figures_of(layout, "battery"))
        self.resistance = Resistance(figures["cranking_torque_share"] * self.combustion.rated_torque_n_m)
        self.hand = HandStart(figures_of(layout, "hand_start"), self.resistance, figures["flywheel_kg_m2"])
        self.starter = Starter(figures_of(layout, "starter"), self.resistance, self.battery.figures["cable_ohm"])
        self.preheat = Preheat(figures_of(layout, "preheat"), self.combustion.cylinders)
        self.has_preheat = has_part(layout, "preheat")
        self.by_hand = has_part(layout, "hand_start") and not has_part(layout, "starter")
        self.firing_delay_s = figures["firing_delay_s"]
        if not self.by_hand:
            self.battery.starter = self.starter
        solenoid = figures_of(layout, "stop_solenoid") if has_part(layout, "stop_solenoid") else None
        self.key = Key(self.battery, solenoid, has_part(layout, "electric_pump"))

    def _add_air(self, layout: Layout) -> None:
        figures, own = figures_of(layout, "engine"), figures_of(layout, "exhaust")
        clearance = figures["swept_volume_m3"] / (figures["compression_ratio"] - 1.0)
        self.exhaust = Exhaust(own, clearance)
        self.intake_opening, self.intake_loss_pa = 1.0, figures["intake_loss_pa"]
        self.clear_air = air_drawn(self.intake_loss_pa, 1.0, 1.0) * air_drawn(own["back_pressure_pa"], 1.0, 1.0)

    # ---- key and stop controls ----------------------------------------------------------------------------------

    @property
    def key_on(self) -> bool:
        """Whether the key is on."""
        return self.key.on

    @key_on.setter
    def key_on(self, on: bool) -> None:
        """Turn the key on or off."""
        self.key.on = on
        self.key.follow(self.solenoid_ok and self.solenoid_wired)

    def turn_key_on(self) -> bool:
        """Turn the key on; return True if a stop solenoid was heard to click."""
        before = self.key.pulled_in
        self.key_on = True
        return self.key.pulled_in and not before

    def turn_key_off(self) -> None:
        """Turn the key off; a stop solenoid lets go."""
        self.key_on = False

    def told_to_stop(self) -> bool:
        """Tell whether the injection pump is told to deliver nothing."""
        if self.stop_pulled:
            return True
        return self.key.solenoid is not None and not (self.key.pulled_in or self.solenoid_held)

    # ---- cranking -----------------------------------------------------------------------------------------------

    def catches_s(self) -> float:
        """Return for how long it must fire before it runs by itself [s]."""
        return self.hand.figures["catches_s"] if self.by_hand else self.firing_delay_s

    def turning(self) -> Turning:
        """Return what turning the key would do now; an engine with a handle only is turned by hand."""
        self.resistance.locked = self.exhaust.cylinders_flooded
        if not self.by_hand:
            return self.starter.turn(self.battery)
        best = self.hand.best_rpm()
        return Turning("turns" if best > 0.0 else "thud", best)

    def cranking_sound(self) -> str:
        """Return what is heard when the key is turned: ``dead``, ``click``, ``chatter``, ``thud`` or ``turns``."""
        return self.turning().sound

    def cranking_speed_rpm(self) -> float:
        """Return the speed [1/min] at which the engine would be cranked now."""
        return self.turning().speed_rpm

    def cranking_volts(self) -> tuple[float, float, float]:
        """Return the voltages [V] with the key turned: at the posts, behind their connection, at the starter."""
        turning = self.turning()
        return turning.posts_v, turning.cable_v, turning.starter_v

    def cranking_current_a(self) -> float:
        """Return the current [A] with the key turned."""
        return self.turning().current_a

    def _small_currents_a(self) -> float:
        return self.preheat.current_a(self.battery) + self.key.current_a()

    # ---- the rest -----------------------------------------------------------------------------------------------

    @property
    def cam_on_lobe(self) -> bool:
        """Whether the lift pump's cam stands on its lobe, so that the hand lever does nothing."""
        return abs((self.cam_turns + 0.5) % 1.0 - 0.5) < _LOBE_TURNS

    @cam_on_lobe.setter
    def cam_on_lobe(self, on_lobe: bool) -> None:
        """Set the cam on its lobe, or where the engine comes to rest by itself."""
        self.cam_turns = 0.0 if on_lobe else self.rest_turns

    @property
    def preheat_s(self) -> float:
        """For how long the glow plugs have been on in all [s]."""
        return self.preheat.on_s

    @property
    def temperature_k(self) -> float:
        """The engine's temperature [K]."""
        return self.heat.temperature_k

    def overheated(self) -> bool:
        """Tell whether the engine is too hot."""
        return self.heat.overheated

    def soak(self, temperature_k: float) -> None:
        """Let the engine take on a temperature [K], as after a night."""
        self.heat.temperature_k = temperature_k

    def renew_injector(self, number: int) -> None:
        """Put a sound injector into a cylinder (from 0)."""
        self.lines[number].renew()

    def clear_cylinders(self) -> None:
        """Let the water out of the cylinders by the holes of their injectors."""
        self.exhaust.cylinders_m3 = 0.0
