"""Petrol, and diesel fuel with petrol in it: lighter, far thinner, and dangerous to run on or to handle in a cabin."""

from __future__ import annotations

import math

from engine_sim.fluids import diesel_fuel, viscosity_law
from engine_sim.fluids._door import require_in_range
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue, published

_D1250 = published("ASTM D1250 / API MPMS chapter 11.1, table 54B (constants of the gasolines)")
_EN_228 = published("EN 228, unleaded petrol (from memory)")

DENSITY_15 = SourcedValue(745.0, "kg/m3", COMMON_PRACTICE, "at 15 degC; EN 228 allows 720 to 775")
LEAST_DENSITY_15 = SourcedValue(720.0, "kg/m3", _EN_228, "at 15 degC")
GREATEST_DENSITY_15 = SourcedValue(770.0, "kg/m3", _D1250, "where the gasoline constants end; EN 228 ends at 775")
VISCOSITY_20 = SourcedValue(0.60e-6, "m2/s", FROM_MEMORY, "kinematic, at 20 degC; 0.5 to 0.8 mm2/s")
VISCOSITY_40 = SourcedValue(0.50e-6, "m2/s", FROM_MEMORY, "kinematic, at 40 degC")
_K0 = SourcedValue(346.4228, "kg2/(m6 K)", _D1250)
_K1 = SourcedValue(0.4388, "kg/(m3 K)", _D1250)
_VCF_SQUARE = SourcedValue(0.8, "1", _D1250)
_T15 = SourcedValue(288.15, "K", _D1250, "15 degC").value
_T20 = SourcedValue(293.15, "K", FROM_MEMORY, "20 degC, of the first viscosity point").value
_T40 = SourcedValue(313.15, "K", FROM_MEMORY, "40 degC, of the second viscosity point").value
LEAST_TEMPERATURE = SourcedValue(253.0, "K", COMMON_PRACTICE, "just below -20 degC, as for diesel fuel")
GREATEST_TEMPERATURE = SourcedValue(333.15, "K", COMMON_PRACTICE, "60 degC, as for diesel fuel; it boils from about 30")


def _require_temperature(temperature_k: float) -> None:
    require_in_range("petrol temperature", temperature_k, LEAST_TEMPERATURE.value, GREATEST_TEMPERATURE.value, "K")


def density_kg_per_m3(temperature_k: float, density_15_kg_per_m3: float = DENSITY_15.value) -> float:
    """Return the density of petrol [kg/m3] at a temperature [K], 253 to 333.15, ASTM D1250 / API MPMS 11.1.

    Density at 15 degC 720 to 770 kg/m3.
    """
    _require_temperature(temperature_k)
    density = density_15_kg_per_m3
    require_in_range("petrol density at 15 degC", density, LEAST_DENSITY_15.value, GREATEST_DENSITY_15.value, "kg/m3")
    warmed = (_K0.value / density**2 + _K1.value / density) * (temperature_k - _T15)
    return density * math.exp(-warmed * (1.0 + _VCF_SQUARE.value * warmed))


def kinematic_viscosity_m2_per_s(temperature_k: float) -> float:
    """Return the kinematic viscosity of petrol [m2/s] at a temperature [K], 253 to 333.15, ASTM D341 full form."""
    _require_temperature(temperature_k)
    points = ((_T20, VISCOSITY_20.value), (_T40, VISCOSITY_40.value))
    return viscosity_law.through_points_m2_per_s(temperature_k, points)


def blend_density_kg_per_m3(petrol_share: float, temperature_k: float) -> float:
    """Return the density [kg/m3] of diesel fuel with a share [1] of petrol by volume, at 253 to 333.15 K.

    Volumes are taken to add up.
    """
    require_in_range("share of petrol", petrol_share, 0.0, 1.0, "(no unit)")
    diesel = diesel_fuel.density_kg_per_m3(temperature_k)
    return diesel + petrol_share * (density_kg_per_m3(temperature_k) - diesel)


def blend_kinematic_viscosity_m2_per_s(petrol_share: float, temperature_k: float) -> float:
    """Return the kinematic viscosity [m2/s] of diesel fuel with a share [1] of petrol by volume, at 253 to 333.15 K.

    ``log log Z`` weighed by volume, ASTM D7152.
    """
    diesel = diesel_fuel.kinematic_viscosity_m2_per_s(temperature_k)
    return viscosity_law.blend_m2_per_s(diesel, kinematic_viscosity_m2_per_s(temperature_k), petrol_share)


def blend_dynamic_viscosity_pa_s(petrol_share: float, temperature_k: float) -> float:
    """Return the dynamic viscosity [Pa s] of diesel fuel with a share [1] of petrol in it, at 253 to 333.15 K."""
    density = blend_density_kg_per_m3(petrol_share, temperature_k)
    return blend_kinematic_viscosity_m2_per_s(petrol_share, temperature_k) * density
