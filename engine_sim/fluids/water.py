"""Water, fresh and salt: what lies under the fuel in a bowl or a tank."""

from __future__ import annotations

import math

from engine_sim.fluids._door import require_in_range
from engine_sim.sources import FROM_MEMORY, SourcedValue, published
from engine_sim.units import ZERO_CELSIUS_K

_TANAKA = published("Tanaka et al., Recommended table for the density of water, Metrologia 38 (2001) 301")
_SR6 = published("IAPWS SR6-08, properties of liquid water at 0.1 MPa, equation for the viscosity")
_EOS_80 = published("UNESCO technical papers in marine science 44 (1983), one-atmosphere equation of state EOS-80")
_SHARQAWY = published("Sharqawy, Lienhard and Zubair, Desalination and Water Treatment 16 (2010) 354, viscosity")

VISCOSITY_20 = SourcedValue(1.0016e-3, "Pa s", published("IAPWS R12-08, viscosity of ordinary water, at 20 degC"))
BULK_MODULUS = SourcedValue(2.18e9, "Pa", FROM_MEMORY, "at 20 degC and low pressure")
SALINITY = SourcedValue(0.035, "kg/kg", FROM_MEMORY, "open sea")
GREATEST_SALINITY = SourcedValue(0.042, "kg/kg", _EOS_80, "saltiest water the equation covers")
FREEZES_AT = SourcedValue(273.15, "K", FROM_MEMORY, "fresh; the open sea freezes near -1.9 degC")

_A1 = SourcedValue(-3.983035, "degC", _TANAKA)
_A2 = SourcedValue(301.797, "degC", _TANAKA)
_A3 = SourcedValue(522_528.9, "degC2", _TANAKA)
_A4 = SourcedValue(69.34881, "degC", _TANAKA)
_A5 = SourcedValue(999.974950, "kg/m3", _TANAKA)
LEAST_TEMPERATURE = SourcedValue(273.15, "K", _TANAKA, "0 degC")
GREATEST_TEMPERATURE = SourcedValue(313.15, "K", _TANAKA, "40 degC")

_VISCOSITY_TERMS = (
    (SourcedValue(280.68e-6, "Pa s", _SR6), SourcedValue(-1.9, "1", _SR6)),
    (SourcedValue(511.45e-6, "Pa s", _SR6), SourcedValue(-7.7, "1", _SR6)),
    (SourcedValue(61.131e-6, "Pa s", _SR6), SourcedValue(-19.6, "1", _SR6)),
    (SourcedValue(0.45903e-6, "Pa s", _SR6), SourcedValue(-40.0, "1", _SR6)),
)
_REDUCING = SourcedValue(300.0, "K", _SR6).value
LEAST_VISCOSITY_TEMPERATURE = SourcedValue(253.15, "K", _SR6, "undercooled; brine and urea solution are liquid there")
GREATEST_VISCOSITY_TEMPERATURE = SourcedValue(383.15, "K", _SR6)

# Coefficients of the powers of the temperature [degC], lowest first, with each power of the salinity.
_SALT = (
    SourcedValue(8.24493e-1, "kg/m3", _EOS_80, "a gram a kilogram"),
    SourcedValue(-4.0899e-3, "kg/(m3 K)", _EOS_80),
    SourcedValue(7.6438e-5, "kg/(m3 K2)", _EOS_80),
    SourcedValue(-8.2467e-7, "kg/(m3 K3)", _EOS_80),
    SourcedValue(5.3875e-9, "kg/(m3 K4)", _EOS_80),
)
_SALT_POWER_3_2 = (
    SourcedValue(-5.72466e-3, "kg/m3", _EOS_80),
    SourcedValue(1.0227e-4, "kg/(m3 K)", _EOS_80),
    SourcedValue(-1.6546e-6, "kg/(m3 K2)", _EOS_80),
)
_SALT_SQUARE = SourcedValue(4.8314e-4, "kg/m3", _EOS_80)
_THICKENS = (
    SourcedValue(1.541, "1", _SHARQAWY, "a kilogram of salt a kilogram"),
    SourcedValue(1.998e-2, "1/K", _SHARQAWY),
    SourcedValue(-9.52e-5, "1/K2", _SHARQAWY),
)
_THICKENS_SQUARE = (
    SourcedValue(7.974, "1", _SHARQAWY),
    SourcedValue(-7.561e-2, "1/K", _SHARQAWY),
    SourcedValue(4.724e-4, "1/K2", _SHARQAWY),
)


def within_table_k(temperature_k: float) -> float:
    """Return the temperature [K] at which the density of water is taken: no colder than 0, no warmer than 40 degC.

    For a fuel system that is colder or warmer: ice is left out, and water changes little beyond.
    """
    return min(GREATEST_TEMPERATURE.value, max(LEAST_TEMPERATURE.value, temperature_k))


def _polynomial(coefficients: tuple[SourcedValue, ...], celsius: float) -> float:
    total = 0.0
    for coefficient in reversed(coefficients):
        total = total * celsius + coefficient.value
    return total


def _require_salinity(salinity_share: float) -> None:
    require_in_range("salinity", salinity_share, 0.0, GREATEST_SALINITY.value, "kg/kg")


def fresh_density_kg_per_m3(temperature_k: float) -> float:
    """Return the density of fresh water [kg/m3] at ``temperature_k`` [K], 273.15 to 313.15, by Tanaka et al. (2001)."""
    require_in_range("water temperature", temperature_k, LEAST_TEMPERATURE.value, GREATEST_TEMPERATURE.value, "K")
    celsius = temperature_k - ZERO_CELSIUS_K
    fall = (celsius + _A1.value) ** 2 * (celsius + _A2.value) / (_A3.value * (celsius + _A4.value))
    return _A5.value * (1.0 - fall)


def sea_density_kg_per_m3(temperature_k: float, salinity_share: float = SALINITY.value) -> float:
    """Return the density of sea water [kg/m3] at ``temperature_k`` [K], 273.15 to 313.15, at the surface.

    Fresh water by Tanaka et al. (2001) and what the salt adds by EOS-80 (UNESCO 1983); salinity 0 to 0.042 kg/kg.
    """
    _require_salinity(salinity_share)
    salt, celsius = salinity_share * 1e3, temperature_k - ZERO_CELSIUS_K
    root = math.sqrt(salt)
    added = _polynomial(_SALT, celsius) + root * _polynomial(_SALT_POWER_3_2, celsius) + salt * _SALT_SQUARE.value
    return fresh_density_kg_per_m3(temperature_k) + salt * added


def dynamic_viscosity_pa_s(temperature_k: float) -> float:
    """Return the dynamic viscosity of fresh water [Pa s] at ``temperature_k`` [K], 253.15 to 383.15, IAPWS SR6-08."""
    low, high = LEAST_VISCOSITY_TEMPERATURE.value, GREATEST_VISCOSITY_TEMPERATURE.value
    require_in_range("water temperature", temperature_k, low, high, "K")
    reduced = temperature_k / _REDUCING
    return math.fsum(scale.value * math.pow(reduced, power.value) for scale, power in _VISCOSITY_TERMS)


def sea_dynamic_viscosity_pa_s(temperature_k: float, salinity_share: float = SALINITY.value) -> float:
    """Return the dynamic viscosity of sea water [Pa s] at ``temperature_k`` [K], 273.15 to 383.15.

    Fresh water times ``1 + A S + B S^2``, Sharqawy, Lienhard and Zubair (2010); salinity 0 to 0.042 kg/kg.
    """
    _require_salinity(salinity_share)
    require_in_range("sea water temperature", temperature_k, LEAST_TEMPERATURE.value, 383.15, "K")
    celsius = temperature_k - ZERO_CELSIUS_K
    thickened = _polynomial(_THICKENS, celsius) + salinity_share * _polynomial(_THICKENS_SQUARE, celsius)
    return dynamic_viscosity_pa_s(temperature_k) * (1.0 + salinity_share * thickened)
