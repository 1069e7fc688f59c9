"""Water, fresh and salt: what lies under the fuel in a bowl or a tank."""

from __future__ import annotations

from engine_sim.fluids._door import require_in_range
from engine_sim.sources import FROM_MEMORY, SourcedValue, published
from engine_sim.units import ZERO_CELSIUS_K

_TANAKA = published("Tanaka et al., Recommended table for the density of water, Metrologia 38 (2001) 301")

VISCOSITY_20 = SourcedValue(1.0016e-3, "Pa s", published("IAPWS R12-08, viscosity of ordinary water, at 20 degC"))
BULK_MODULUS = SourcedValue(2.18e9, "Pa", FROM_MEMORY, "at 20 degC and low pressure")
SEA_OVER_FRESH = SourcedValue(1025.0 / 998.2, "1", FROM_MEMORY, "1025 against 998.2 kg/m3 at 20 degC, open sea")

_A1 = SourcedValue(-3.983035, "degC", _TANAKA)
_A2 = SourcedValue(301.797, "degC", _TANAKA)
_A3 = SourcedValue(522_528.9, "degC2", _TANAKA)
_A4 = SourcedValue(69.34881, "degC", _TANAKA)
_A5 = SourcedValue(999.974950, "kg/m3", _TANAKA)
LEAST_TEMPERATURE = SourcedValue(273.15, "K", _TANAKA, "0 degC")
GREATEST_TEMPERATURE = SourcedValue(313.15, "K", _TANAKA, "40 degC")


def fresh_density_kg_per_m3(temperature_k: float) -> float:
    """Return the density of fresh water [kg/m3] at ``temperature_k`` [K], 273.15 to 313.15, by Tanaka et al. (2001)."""
    require_in_range("water temperature", temperature_k, LEAST_TEMPERATURE.value, GREATEST_TEMPERATURE.value, "K")
    celsius = temperature_k - ZERO_CELSIUS_K
    fall = (celsius + _A1.value) ** 2 * (celsius + _A2.value) / (_A3.value * (celsius + _A4.value))
    return _A5.value * (1.0 - fall)


def sea_density_kg_per_m3(temperature_k: float) -> float:
    """Return the density of open-sea water [kg/m3] at ``temperature_k`` [K], 273.15 to 313.15: fresh times a ratio."""
    return fresh_density_kg_per_m3(temperature_k) * SEA_OVER_FRESH.value
