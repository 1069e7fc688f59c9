"""Air as an ideal gas: what leaks in, is squeezed and stretched, and has to be bled out."""

from __future__ import annotations

import math

from engine_sim.fluids._door import require_in_range
from engine_sim.sources import SourcedValue, published

_ISO_2533 = published("ISO 2533:1975, standard atmosphere")

GAS_CONSTANT = SourcedValue(287.05287, "J/(kg K)", _ISO_2533, "specific, dry air")
_SUTHERLAND_BETA = SourcedValue(1.458e-6, "kg/(m s K^0.5)", _ISO_2533)
_SUTHERLAND_S = SourcedValue(110.4, "K", _ISO_2533)
LEAST_TEMPERATURE = SourcedValue(200.0, "K", _ISO_2533, "coldest air the formulas are used for")
GREATEST_TEMPERATURE = SourcedValue(1500.0, "K", _ISO_2533, "hottest air Sutherland's formula is used for")
_LEAST_PRESSURE_PA = 1.0
_GREATEST_PRESSURE_PA = 1e8
_GREATEST_VOLUME_M3 = 1e3


def _require(temperature_k: float, pressure_pa: float) -> None:
    require_in_range("air temperature", temperature_k, LEAST_TEMPERATURE.value, GREATEST_TEMPERATURE.value, "K")
    require_in_range("absolute air pressure", pressure_pa, _LEAST_PRESSURE_PA, _GREATEST_PRESSURE_PA, "Pa")


def density_kg_per_m3(temperature_k: float, pressure_pa: float) -> float:
    """Return the density of dry air [kg/m3] at a temperature [K], 200 to 1500, and an absolute pressure [Pa]."""
    _require(temperature_k, pressure_pa)
    return pressure_pa / (GAS_CONSTANT.value * temperature_k)


def dynamic_viscosity_pa_s(temperature_k: float) -> float:
    """Return the dynamic viscosity [Pa s] at ``temperature_k`` [K], 200 to 1500, Sutherland's formula in ISO 2533."""
    require_in_range("air temperature", temperature_k, LEAST_TEMPERATURE.value, GREATEST_TEMPERATURE.value, "K")
    return _SUTHERLAND_BETA.value * temperature_k * math.sqrt(temperature_k) / (temperature_k + _SUTHERLAND_S.value)


def isothermal_volume_m3(volume_m3: float, from_pressure_pa: float, to_pressure_pa: float) -> float:
    """Return the volume [m3] that ``volume_m3`` of gas takes when its absolute pressure [Pa] changes, Boyle's law.

    Volume 0 to 1000 m3, pressures 1 Pa to 100 MPa, temperature unchanged.
    """
    require_in_range("gas volume", volume_m3, 0.0, _GREATEST_VOLUME_M3, "m3")
    for pressure_pa in (from_pressure_pa, to_pressure_pa):
        require_in_range("absolute gas pressure", pressure_pa, _LEAST_PRESSURE_PA, _GREATEST_PRESSURE_PA, "Pa")
    return volume_m3 * from_pressure_pa / to_pressure_pa
