"""AUS 32, the urea solution sold beside diesel fuel: heavier than water, it sinks to the bowl and dries to crystals."""

from __future__ import annotations

from engine_sim.fluids import water
from engine_sim.fluids._door import require_in_range
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue, published

_ISO_22241 = published("ISO 22241-1, AUS 32, quality requirements")

LEAST_DENSITY_20 = SourcedValue(1087.0, "kg/m3", _ISO_22241, "at 20 degC, at least")
GREATEST_DENSITY_20 = SourcedValue(1093.0, "kg/m3", _ISO_22241, "at 20 degC, at most")
LEAST_UREA = SourcedValue(0.318, "kg/kg", _ISO_22241, "urea, at least")
GREATEST_UREA = SourcedValue(0.332, "kg/kg", _ISO_22241, "urea, at most")
DENSITY_20 = SourcedValue(1090.0, "kg/m3", COMMON_PRACTICE, "at 20 degC, the middle of what ISO 22241-1 allows")
FREEZES_AT = SourcedValue(261.65, "K", FROM_MEMORY, "-11.5 degC")
_EXPANSION = SourcedValue(0.45, "kg/(m3 K)", FROM_MEMORY, "by which the density falls for each kelvin, near 20 degC")
VISCOSITY_25 = SourcedValue(1.4e-3, "Pa s", FROM_MEMORY, "at 25 degC")
_T20 = SourcedValue(293.15, "K", COMMON_PRACTICE, "20 degC").value
_T25 = SourcedValue(298.15, "K", COMMON_PRACTICE, "25 degC").value
GREATEST_TEMPERATURE = SourcedValue(313.15, "K", COMMON_PRACTICE, "40 degC; warmer, it decays")


def _require_temperature(temperature_k: float) -> None:
    name = "temperature of the urea solution"
    require_in_range(name, temperature_k, FREEZES_AT.value, GREATEST_TEMPERATURE.value, "K")


def density_kg_per_m3(temperature_k: float) -> float:
    """Return the density of AUS 32 [kg/m3] at ``temperature_k`` [K], 261.65 to 313.15, about ISO 22241-1's middle."""
    _require_temperature(temperature_k)
    return DENSITY_20.value - _EXPANSION.value * (temperature_k - _T20)


def dynamic_viscosity_pa_s(temperature_k: float) -> float:
    """Return the dynamic viscosity of AUS 32 [Pa s] at ``temperature_k`` [K], 261.65 to 313.15.

    1.4 mPa s at 25 degC (from memory), thickening with the cold as water does.
    """
    _require_temperature(temperature_k)
    return VISCOSITY_25.value * water.dynamic_viscosity_pa_s(temperature_k) / water.dynamic_viscosity_pa_s(_T25)
