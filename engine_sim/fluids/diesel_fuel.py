"""Diesel fuel: density, viscosity, stiffness, each with the publication it rests on.

The fuel of this course weighs 840 kg/m3 at 15 degC and has 4.60 and 3.00 mm2/s at 20 and 40 degC.
That lies inside EN 590 (820 to 845 kg/m3, 2.00 to 4.50 mm2/s at 40 degC).
"""

from __future__ import annotations

import functools
import math

from engine_sim.fluids._door import require_in_range
from engine_sim.fluids.wax import fuel_class as fuel_class
from engine_sim.fluids.wax import is_hazy as is_hazy
from engine_sim.fluids.wax import wax_factor as wax_factor
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue, published

_D1250 = published("ASTM D1250 / API MPMS chapter 11.1, table 54B (constants of the generalized products)")
_D341 = published("ASTM D341, viscosity-temperature equation of liquid petroleum products")
_EN_590 = published("EN 590, automotive diesel fuel")

DENSITY_15 = SourcedValue(840.0, "kg/m3", COMMON_PRACTICE, "at 15 degC; EN 590 allows 820 to 845")
VISCOSITY_20 = SourcedValue(4.60e-6, "m2/s", COMMON_PRACTICE, "kinematic, at 20 degC, 293.15 K")
VISCOSITY_40 = SourcedValue(3.00e-6, "m2/s", COMMON_PRACTICE, "kinematic, at 40 degC; EN 590 allows 2.00 to 4.50 mm2/s")
BULK_MODULUS = SourcedValue(1.40e9, "Pa", FROM_MEMORY, "at 20 degC and low pressure; 1.3 to 1.6 GPa")
VAPOUR_PRESSURE_LIMIT = SourcedValue(100.0, "Pa", FROM_MEMORY, "20 to 40 degC; so fuel does not boil in a hose")
SURFACE_TENSION = SourcedValue(0.0255, "N/m", FROM_MEMORY, "at 20 degC; 25 to 28 mN/m")
DISSOLVED_AIR = SourcedValue(0.116, "m3/m3", FROM_MEMORY, "Ostwald coefficient at 15 degC; ASTM D2779 method")
CFPP = SourcedValue(263.15, "K", COMMON_PRACTICE, "-10 degC, class D of EN 590")
CLOUD_POINT = SourcedValue(273.15, "K", COMMON_PRACTICE, "0 degC, 10 K above CFPP as in the arctic classes of EN 590")
CONTAMINATION_LIMIT = SourcedValue(24e-6, "kg/kg", _EN_590, "total contamination, at most")
WATER_LIMIT = SourcedValue(200e-6, "kg/kg", _EN_590, "water, at most")

REFERENCE_TEMPERATURE = SourcedValue(288.15, "K", _D1250, "15 degC")
_HEAVY_FROM = SourcedValue(839.0, "kg/m3", _D1250, "where the fuel-oil constants begin")
_HEAVY_K0 = SourcedValue(186.9696, "kg2/(m6 K)", _D1250)
_HEAVY_K1 = SourcedValue(0.4862, "kg/(m3 K)", _D1250)
_LIGHT_K0 = SourcedValue(594.5418, "kg2/(m6 K)", _D1250)
_VCF_SQUARE = SourcedValue(0.8, "1", _D1250)
_D341_SHIFT = SourcedValue(0.7, "mm2/s", _D341)
_POINT_20 = SourcedValue(293.15, "K", _D341, "temperature of the first viscosity point")
_POINT_40 = SourcedValue(313.15, "K", _D341, "temperature of the second viscosity point")

LEAST_DENSITY_15 = SourcedValue(788.0, "kg/m3", _D1250, "lightest fuel the two pairs of constants cover")
GREATEST_DENSITY_15 = SourcedValue(900.0, "kg/m3", COMMON_PRACTICE, "a distillate fuel; ISO 8217 DMA ends at 890")
LEAST_TEMPERATURE = SourcedValue(253.0, "K", COMMON_PRACTICE, "just below -20 degC; D341 holds from the cloud point up")
GREATEST_TEMPERATURE = SourcedValue(333.15, "K", _D341, "60 degC; above it this fuel is thinner than 2 mm2/s")

_MM2 = 1e-6


def _require_temperature(temperature_k: float) -> None:
    require_in_range("diesel fuel temperature", temperature_k, LEAST_TEMPERATURE.value, GREATEST_TEMPERATURE.value, "K")


def thermal_expansion_per_k(density_15_kg_per_m3: float = DENSITY_15.value) -> float:
    """Return the thermal expansion at 15 degC [1/K] of a fuel of ``density_15_kg_per_m3`` [kg/m3], 788 to 900.

    ``K0 / rho^2 + K1 / rho``, ASTM D1250 / API MPMS 11.1 table 54B.
    """
    density = density_15_kg_per_m3
    require_in_range(
        "diesel fuel density at 15 degC", density, LEAST_DENSITY_15.value, GREATEST_DENSITY_15.value, "kg/m3"
    )
    if density < _HEAVY_FROM.value:
        return _LIGHT_K0.value / density**2
    return _HEAVY_K0.value / density**2 + _HEAVY_K1.value / density


def volume_correction(temperature_k: float, density_15_kg_per_m3: float = DENSITY_15.value) -> float:
    """Return the volume correction factor [-], the volume at 15 degC over that at a temperature [K], 253 to 333.15.

    ``exp(-a dt (1 + 0.8 a dt))``, ASTM D1250 / API MPMS 11.1 table 54B; density 788 to 900 kg/m3.
    """
    _require_temperature(temperature_k)
    warmed = thermal_expansion_per_k(density_15_kg_per_m3) * (temperature_k - REFERENCE_TEMPERATURE.value)
    return math.exp(-warmed * (1.0 + _VCF_SQUARE.value * warmed))


def density_kg_per_m3(temperature_k: float, density_15_kg_per_m3: float = DENSITY_15.value) -> float:
    """Return the density [kg/m3] at ``temperature_k`` [K], 253 to 333.15, by ASTM D1250 / API MPMS 11.1."""
    return density_15_kg_per_m3 * volume_correction(temperature_k, density_15_kg_per_m3)


def _double_logarithm(viscosity_m2_per_s: float) -> float:
    return math.log10(math.log10(viscosity_m2_per_s / _MM2 + _D341_SHIFT.value))


@functools.cache
def viscosity_law() -> tuple[float, float]:
    """Return A and B of ``log log(nu + 0.7) = A - B log T`` [mm2/s, K] through the two stated points, ASTM D341."""
    first, second = _double_logarithm(VISCOSITY_20.value), _double_logarithm(VISCOSITY_40.value)
    slope = (first - second) / math.log10(_POINT_40.value / _POINT_20.value)
    return first + slope * math.log10(_POINT_20.value), slope


def kinematic_viscosity_m2_per_s(temperature_k: float) -> float:
    """Return the kinematic viscosity [m2/s] at ``temperature_k`` [K], 253 to 333.15.

    Short form of ASTM D341, which holds down to 2 mm2/s and only above the cloud point (waxed fuel is thicker).
    """
    _require_temperature(temperature_k)
    intercept, slope = viscosity_law()
    shifted: float = 10.0 ** (10.0 ** (intercept - slope * math.log10(temperature_k)))
    return (shifted - _D341_SHIFT.value) * _MM2


def dynamic_viscosity_pa_s(temperature_k: float, density_15_kg_per_m3: float = DENSITY_15.value) -> float:
    """Return the dynamic viscosity [Pa s] at ``temperature_k`` [K], 253 to 333.15: kinematic times density."""
    return kinematic_viscosity_m2_per_s(temperature_k) * density_kg_per_m3(temperature_k, density_15_kg_per_m3)
