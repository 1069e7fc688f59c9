"""Air dissolved in fuel: how much it holds, and how much comes out when it is sucked at.

ASTM D2779, solubility of gases in petroleum liquids (constants from memory). ``Lc`` is the Ostwald coefficient in a
liquid of relative density 0.85; the Ostwald coefficient ``L`` is the volume of gas, at the temperature and pressure
there are, that a volume of liquid holds. What it would release at rest comes out slowly in fact.
"""

from __future__ import annotations

import math

from engine_sim.fluids._door import require_in_range
from engine_sim.fluids.air import GAS_CONSTANT
from engine_sim.fluids.diesel_fuel import DENSITY_15
from engine_sim.sources import SourcedValue, published
from engine_sim.units import STANDARD_ATMOSPHERE_PA

_D2779 = published("ASTM D2779, estimation of solubility of gases in petroleum liquids (constants from memory)")

AIR_L0 = SourcedValue(0.098, "1", _D2779, "Ostwald coefficient of air at 273 K, relative density 0.85")
_AT_273 = SourcedValue(0.300, "1", _D2779)
_SLOPE = SourcedValue(0.639, "1", _D2779)
_CRITICAL = SourcedValue(700.0, "K", _D2779)
_L0_SCALE = SourcedValue(3.333, "1", _D2779)
_DENSITY_SCALE = SourcedValue(7.70, "1", _D2779)
_DENSITY_END = SourcedValue(0.980, "1", _D2779, "relative density at which nothing would dissolve")
_BUNSEN = SourcedValue(2697.0, "K/MPa", _D2779)
LEAST_TEMPERATURE = SourcedValue(228.15, "K", _D2779, "-45 degC")
GREATEST_TEMPERATURE = SourcedValue(423.15, "K", _D2779, "150 degC")
LEAST_DENSITY_15 = SourcedValue(630.0, "kg/m3", _D2779, "lightest liquid")
GREATEST_DENSITY_15 = SourcedValue(970.0, "kg/m3", _D2779, "heaviest liquid")
_WATER_KG_PER_M3 = 1000.0
_LEAST_PA, _GREATEST_PA = 1e3, 1e6


def _require_pressure(pressure_pa: float) -> None:
    require_in_range("absolute pressure over the fuel", pressure_pa, _LEAST_PA, _GREATEST_PA, "Pa")


def ostwald_reference_coefficient(temperature_k: float) -> float:
    """Return Lc [m3/m3], the Ostwald coefficient of air in a liquid of relative density 0.85, at 228 to 423 K.

    ``0.300 exp[0.639 (700 - T)/T ln(3.333 L0)]``, ASTM D2779.
    """
    require_in_range("fuel temperature", temperature_k, LEAST_TEMPERATURE.value, GREATEST_TEMPERATURE.value, "K")
    slope = _SLOPE.value * (_CRITICAL.value - temperature_k) / temperature_k
    return _AT_273.value * math.exp(slope * math.log(_L0_SCALE.value * AIR_L0.value))


def ostwald_coefficient(temperature_k: float, density_15_kg_per_m3: float = DENSITY_15.value) -> float:
    """Return L [m3/m3], the volume of air, as it is there, that a volume of fuel holds: ``7.70 Lc (0.980 - d)``.

    Temperature 228 to 423 K, density at 15 degC 630 to 970 kg/m3; ASTM D2779.
    """
    density = density_15_kg_per_m3
    require_in_range("fuel density at 15 degC", density, LEAST_DENSITY_15.value, GREATEST_DENSITY_15.value, "kg/m3")
    lighter = _DENSITY_END.value - density / _WATER_KG_PER_M3
    return _DENSITY_SCALE.value * ostwald_reference_coefficient(temperature_k) * lighter


def bunsen_coefficient(
    temperature_k: float, density_15_kg_per_m3: float = DENSITY_15.value, pressure_pa: float = STANDARD_ATMOSPHERE_PA
) -> float:
    """Return B [m3/m3], the volume of air at 0 degC and 101.325 kPa that a volume of fuel holds: ``2697 p L / T``.

    Temperature 228 to 423 K, density at 15 degC 630 to 970 kg/m3, absolute pressure 1 kPa to 1 MPa; ASTM D2779.
    """
    _require_pressure(pressure_pa)
    pressure_mpa = pressure_pa / 1e6
    return _BUNSEN.value * pressure_mpa * ostwald_coefficient(temperature_k, density_15_kg_per_m3) / temperature_k


def saturation_kg_per_m3_pa(temperature_k: float, density_15_kg_per_m3: float = DENSITY_15.value) -> float:
    """Return the mass of air that a volume of fuel holds for each pascal over it [kg/(m3 Pa)], ``L / (R T)``.

    Henry's law with ASTM D2779's coefficient; temperature 228 to 423 K, density at 15 degC 630 to 970 kg/m3.
    """
    return ostwald_coefficient(temperature_k, density_15_kg_per_m3) / (GAS_CONSTANT.value * temperature_k)


def released_share(
    saturated_pa: float, pressure_pa: float, temperature_k: float, density_15_kg_per_m3: float = DENSITY_15.value
) -> float:
    """Return the volume of air [m3/m3 of fuel], as it is at ``pressure_pa``, that saturated fuel lets go at rest.

    ``L (p1 - p2) / p2``, both pressures [Pa] absolute, 1 kPa to 1 MPa; 0 if the pressure rises.
    """
    _require_pressure(saturated_pa)
    _require_pressure(pressure_pa)
    fall = max(0.0, saturated_pa - pressure_pa)
    return ostwald_coefficient(temperature_k, density_15_kg_per_m3) * fall / pressure_pa
