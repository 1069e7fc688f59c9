"""Burning: from the fuel of each cylinder to torque, the rack that a torque needs, smoke, knock and beat.

For each injection of a volume F in air for a volume S (stoichiometric): useful(F) = F (1 - F / (2 S)), greatest at
F = S. From it goes what heat and leakage take, in proportion to the time of a cycle, h = h_i N_i / N. The rest times a
factor k is the indicated torque; friction grows with speed. k and h_i follow from the figures for rated power and idle.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from engine_sim.errors import BadLayout
from engine_sim.fluids import diesel_fuel
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S, STANDARD_ATMOSPHERE_PA

_SMOKES_FROM = SourcedValue(
    0.75, "1", FROM_MEMORY, "share of its air that a cylinder uses from which the smoke is black"
).value
_LATE_BURNING = SourcedValue(0.5, "1", FROM_MEMORY, "work that fuel does which dribbles, against sprayed fuel").value
_DRIBBLES_BLACK = SourcedValue(0.15, "1", FROM_MEMORY, "share that dribbles from which it smokes and knocks").value
_PETROL_KNOCKS = SourcedValue(0.1, "1", FROM_MEMORY, "share of petrol from which the engine knocks").value


@dataclass(slots=True)
class Cylinder:
    """One cylinder: how tight it is (1 as new), whether its charge lights, what it burns.

    ``burnt_m3`` is what burns in one cycle, ``useful_m3`` what of it does work, ``heat_m3`` what there
    was air for, ``unburnt_m3`` what leaves as white smoke.
    """

    compression_share: float = 1.0
    lights: bool = True
    burnt_m3: float = 0.0
    useful_m3: float = 0.0
    heat_m3: float = 0.0
    unburnt_m3: float = 0.0
    air_used_share: float = 0.0

    @property
    def fires(self) -> bool:
        """Whether it fires."""
        return self.burnt_m3 > 0.0


def air_drawn(loss_pa: float, speed_share: float, opening: float) -> float:
    """Return the share of its air that an engine gets through an opening (1 as built), at a share of its rated speed.

    ``loss_pa`` [Pa] is lost at the rated speed as built; the loss goes with the square of flow and opening.
    """
    squared = loss_pa / STANDARD_ATMOSPHERE_PA * (speed_share / max(opening, 1e-4)) ** 2
    return 2.0 / (1.0 + math.sqrt(1.0 + 4.0 * squared))


class Combustion:
    """What an engine's figures make of fuel; all volumes are those of one injection at 15 degC [m3]."""

    def __init__(self, figures: Mapping[str, float]) -> None:
        self.cylinders = int(figures["cylinders"])
        self.rated_rpm, self.idle_rpm = figures["rated_rpm"], figures["idle_rpm"]
        self.rated_torque_n_m = figures["rated_power_w"] / (2.0 * math.pi * self.rated_rpm / MINUTE_S)
        burnt = figures["rated_power_w"] * figures["specific_consumption_kg_per_j"] / diesel_fuel.DENSITY_15.value
        self.rated_m3 = burnt / (self.cylinders * self.rated_rpm / (2.0 * MINUTE_S))
        self.full_m3 = figures["full_rack_share"] * self.rated_m3
        self.air_m3 = self.rated_m3 / figures["rated_air_share"]
        self.friction_n_m = self.rated_torque_n_m * (1.0 / figures["mechanical_efficiency"] - 1.0)
        self.steady_share = figures["steady_friction_share"]
        self.neutral_share = figures["neutral_load_share"]
        self._refuse_contradictions(figures)
        self.heat_m3, self.torque_per_m3 = self._calibrated(figures["idle_injection_m3"])

    def _refuse_contradictions(self, figures: Mapping[str, float]) -> None:
        if not figures["cylinders"].is_integer():
            given = figures["cylinders"]
            raise BadLayout(f"The engine's cylinders were given as {given:g}; allowed is 1, 2, 3 or 4. Change it.")
        if figures["idle_injection_m3"] >= self.rated_m3:
            raise BadLayout(
                f"The engine's idle_injection_m3 was given as {figures['idle_injection_m3']:g}; allowed is less than "
                f"the {self.rated_m3:.3g} m3 injected at rated power. Change it, rated_power_w or cylinders."
            )

    def _calibrated(self, idle_m3: float) -> tuple[float, float]:
        """Return heat loss at idle [m3] and torque for useful fuel [N m/m3]: rated power and idle both come out."""
        rated, idle = self.useful_m3(self.rated_m3, 1.0), self.useful_m3(idle_m3, 1.0)
        rated_n_m = self.rated_torque_n_m + self.friction_n_m
        idle_n_m = self.friction_torque_n_m(self.idle_rpm) + self.load_torque_n_m(self.idle_rpm, self.neutral_share)
        slower = self.idle_rpm / self.rated_rpm
        heat = max(0.0, (rated_n_m * idle - idle_n_m * rated) / (rated_n_m - idle_n_m * slower))
        return heat, rated_n_m / (self.cylinders * (rated - heat * slower))

    def useful_m3(self, fuel_m3: float, air_share: float) -> float:
        """Return what of an injection does work, with a share of the air."""
        air = air_share * self.air_m3
        fuel = min(fuel_m3, air)
        return fuel * (1.0 - fuel / (2.0 * air))

    def lost_m3(self, speed_rpm: float) -> float:
        """Return what heat and leakage take from each injection at a speed."""
        return self.heat_m3 * self.idle_rpm / max(speed_rpm, 1.0)

    def friction_torque_n_m(self, speed_rpm: float, drag_factor: float = 1.0) -> float:
        """Return the friction [N m] at a speed; ``drag_factor`` how much more the oil drags than warm."""
        rising = self.steady_share + (1.0 - self.steady_share) * speed_rpm / self.rated_rpm
        return self.friction_n_m * rising * drag_factor

    def load_torque_n_m(self, speed_rpm: float, load_share: float) -> float:
        """Return the torque [N m] that a share of the propeller's load takes at a speed."""
        return load_share * self.rated_torque_n_m * (speed_rpm / self.rated_rpm) ** 2

    def torque_n_m(self, useful_m3: float) -> float:
        """Return the indicated torque [N m] of what does work in all cylinders together, losses taken off."""
        return self.torque_per_m3 * useful_m3

    def injection_for(self, torque_n_m: float, firing: int, speed_rpm: float, air_share: float) -> float:
        """Return the injection with which so many cylinders make an indicated torque; no more than the full rack."""
        useful = self.lost_m3(speed_rpm) + torque_n_m / (self.torque_per_m3 * max(1, firing))
        air = air_share * self.air_m3
        if 2.0 * useful >= air:
            return self.full_m3
        return min(self.full_m3, air * (1.0 - math.sqrt(1.0 - 2.0 * useful / air)))

    def rated_m3_per_s(self) -> float:
        """Return what all cylinders burn at rated power [m3/s]."""
        return self.rated_m3 * self.cylinders * self.rated_rpm / (2.0 * MINUTE_S)

    def speed_for(self, torque_n_m: float, load_share: float) -> float:
        """Return the speed [1/min] at which a share of the propeller's load takes a torque [N m]."""
        return self.rated_rpm * math.sqrt(max(0.0, torque_n_m) / (load_share * self.rated_torque_n_m))

    def burn(
        self, cylinder: Cylinder, injected_m3: float, burns_share: float, dribbles_share: float, air_share: float
    ) -> None:
        """Burn what one injection brings into a cylinder: of it burns and dribbles what the shares say."""
        burnt = injected_m3 * burns_share if cylinder.lights else 0.0
        cylinder.burnt_m3, cylinder.unburnt_m3 = burnt, injected_m3 - burnt
        sprayed = 1.0 - (1.0 - _LATE_BURNING) * dribbles_share
        cylinder.useful_m3 = self.useful_m3(burnt, air_share) * sprayed
        cylinder.heat_m3 = min(burnt, air_share * self.air_m3)
        cylinder.air_used_share = burnt / (air_share * self.air_m3)


def smokes_black(cylinder: Cylinder, dribbles_share: float) -> bool:
    """Tell whether a firing cylinder smokes black: too little air for its fuel, or fuel that was not sprayed."""
    return cylinder.fires and (cylinder.air_used_share > _SMOKES_FROM or dribbles_share > _DRIBBLES_BLACK)


def knocks(cylinder: Cylinder, dribbles_share: float, petrol_share: float) -> bool:
    """Tell whether a firing cylinder knocks: petrol in its fuel, or fuel that dribbles."""
    return cylinder.fires and (petrol_share > _PETROL_KNOCKS or dribbles_share > _DRIBBLES_BLACK)
