"""The high-pressure side, one line and injector a cylinder: does the pressure of a stroke open the injector?"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import lru_cache

from engine_sim.circuit.own_figures import usual_figures
from engine_sim.circuit.state import CircuitState
from engine_sim.circuit.topology import OPEN_AIR
from engine_sim.fluids import diesel_fuel
from engine_sim.fluids.formulas import injection_line_pressure_pa
from engine_sim.sources import FROM_MEMORY, SourcedValue

_MOST_AIR = SourcedValue(0.95, "1", FROM_MEMORY, "share of a line beyond which more air changes nothing").value
_WATER_BORNE = SourcedValue(0.10, "1", FROM_MEMORY, "share of water in the fuel that burning still bears").value
_WATER_QUENCHES = SourcedValue(0.25, "1", FROM_MEMORY, "share of water at which nothing burns").value
_MOST_OF_DRAW = 0.25


@lru_cache(maxsize=256)
def _peak_pa(line_m3: float, air_m3: float, stroke_m3: float, ambient_pa: float) -> float:
    return injection_line_pressure_pa(line_m3, air_m3, stroke_m3, diesel_fuel.BULK_MODULUS.value, ambient_pa)


@dataclass(slots=True)
class LineFigures:
    """The unchanging figures of a line with its injector."""

    line_volume_m3: float
    plunger_stroke_m3: float
    opening_pressure_pa: float
    dissolved_share: float

    @classmethod
    def usual(cls) -> LineFigures:
        """Return those of a small engine."""
        return cls.of(usual_figures("engine"))

    @classmethod
    def of(cls, figures: object) -> LineFigures:
        """Return those among an engine's figures."""
        numbers = dict(figures)  # type: ignore[call-overload]
        return cls(*(numbers[name] for name in cls.__slots__))


@dataclass(slots=True)
class InjectionLine:
    """One line: the air in it (at ambient pressure) [m3], its shares of water and petrol, its union nut, its injector.

    ``leak_share`` of what it injects dribbles from the injector instead of being sprayed; ``nut_leak_share`` of a
    stroke is lost at a nut that does not seal. ``opening_pressure_pa`` 0 stands for the figure of a sound injector.
    """

    air_m3: float = 0.0
    water_share: float = 0.0
    nut_slack: bool = False
    injects: bool = True
    petrol_share: float = 0.0
    opening_pressure_pa: float = 0.0
    leak_share: float = 0.0
    nut_leak_share: float = 0.0
    figures: LineFigures = field(default_factory=LineFigures.usual)

    def __post_init__(self) -> None:
        if self.opening_pressure_pa <= 0.0:
            self.opening_pressure_pa = self.figures.opening_pressure_pa

    @property
    def draws(self) -> bool:
        """Whether its plunger takes fuel: it injects, or the fuel runs out at the slack nut."""
        return self.injects or self.nut_slack

    def judge(self, air_share: float, ambient_pa: float) -> float:
        """Decide whether a full stroke of fuel with this share of air opens the injector; return its pressure [Pa]."""
        figures = self.figures
        stroke = figures.plunger_stroke_m3 * (1.0 - self.nut_leak_share)
        air = min(self.air_m3 + air_share * stroke, _MOST_AIR * figures.line_volume_m3)
        peak = _peak_pa(figures.line_volume_m3, air, stroke, ambient_pa)
        self.injects = not self.nut_slack and peak >= self.opening_pressure_pa
        return peak

    def take(self, strokes: float, stroke_m3: float, shares: tuple[float, float, float], peak_pa: float) -> None:
        """Carry on the contents over ``strokes`` of ``stroke_m3`` each with these shares of air, water and petrol."""
        air_share, water_share, petrol_share = shares
        volume = self.figures.line_volume_m3
        if self.draws:
            if air_share == water_share == petrol_share == self.air_m3 == self.water_share == self.petrol_share == 0.0:
                return
            stays = math.exp(-strokes * stroke_m3 / volume)
            arriving = air_share * volume
            self.air_m3 = arriving + (self.air_m3 - arriving) * stays
            self.water_share = water_share + (self.water_share - water_share) * stays
            self.petrol_share = petrol_share + (self.petrol_share - petrol_share) * stays
        elif self.air_m3 > 0.0:
            share = min(1.0, peak_pa / self.opening_pressure_pa)
            self.air_m3 *= math.exp(-strokes * self.figures.dissolved_share * share)

    def burns(self) -> float:
        """Return which share of its fuel burns, 1 for clean fuel, 0 for too much water."""
        over = self.water_share - _WATER_BORNE
        if over <= 0.0:
            return 1.0
        return max(0.0, 1.0 - over / (_WATER_QUENCHES - _WATER_BORNE))

    def dribble(self) -> float:
        """Return which share of its fuel dribbles: what leaks, and what a weak spring lets through unsprayed."""
        weak = max(0.0, 1.0 - self.opening_pressure_pa / self.figures.opening_pressure_pa)
        return 1.0 - (1.0 - self.leak_share) * (1.0 - weak)

    def renew(self) -> None:
        """Put in a sound injector and a sound seat for its nut; the line holds what it held."""
        self.leak_share = self.nut_leak_share = 0.0
        self.opening_pressure_pa = self.figures.opening_pressure_pa


@dataclass(slots=True)
class LeakOff:
    """What the injectors let past their needles, led into the return line: it comes back out of what was drawn.

    ``stroke_m3`` is what one injector lets past in a stroke, ``limit_pa`` the pressure in the return line that holds it
    back; ``plungers`` and ``returns`` are the numbers of the link and of the return line's first space.
    """

    plungers: int
    returns: int
    stroke_m3: float
    limit_pa: float

    def follow(self, state: CircuitState, strokes: float, drawn_m3: float) -> float:
        """Give back to the return line what leaked off in so many strokes of ``drawn_m3``; return it for one [m3]."""
        donor = state.topology.end_a[self.plungers]
        held = state.fuel_m3[donor]
        if self.returns == OPEN_AIR or drawn_m3 <= 0.0 or held <= 0.0:
            return 0.0
        over = (state.pressure_pa[self.returns] - state.fluids.ambient_pa) / self.limit_pa
        share = min(1.0, max(0.0, 1.0 - over)) * state.shares(donor)[0]
        one = share * min(self.stroke_m3, _MOST_OF_DRAW * drawn_m3)
        back = one * strokes
        state.fuel_m3[self.returns] += back
        state.passed_fuel_m3[self.plungers] -= back
        part = min(1.0, back / held)
        for inside, passed in (
            (state.dirt_kg, state.passed_dirt_kg),
            (state.petrol_m3, state.passed_petrol_m3),
            (state.dissolved_kg, state.passed_dissolved_kg),
        ):
            carried = inside[donor] * part
            inside[self.returns] += carried
            passed[self.plungers] -= carried
        return one
