"""Small helpers that the components share: losses per unit of density, and short ways to declare a parameter."""

from __future__ import annotations

from engine_sim.components.component import Parameter
from engine_sim.fluids.formulas import bore_area_m2, local_loss_pa_s2_per_m6, orifice_loss_pa_s2_per_m6
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue, published

_UNIT_DENSITY_KG_PER_M3 = 1.0


def fitting_loss_1_per_m4(velocity_heads: float, bore_m: float) -> float:
    """Return k / (2 A^2) [1/m4] for ``velocity_heads`` k [1] lost at a bore [m]."""
    return local_loss_pa_s2_per_m6(_UNIT_DENSITY_KG_PER_M3, bore_area_m2(bore_m), velocity_heads)


def orifice_loss_1_per_m4(area_m2: float) -> float:
    """Return 1 / (2 (Cd A)^2) [1/m4] for a sharp opening [m2]."""
    return orifice_loss_pa_s2_per_m6(_UNIT_DENSITY_KG_PER_M3, area_m2)


def usual(name: str, value: float, unit: str, low: float, high: float, meaning: str, citation: str = "") -> Parameter:
    """Declare a parameter; with a citation it is published, without one it is common practice."""
    source = published(citation) if citation else COMMON_PRACTICE
    return Parameter(name, SourcedValue(value, unit, source), low, high, meaning)


def remembered(name: str, value: float, unit: str, low: float, high: float, meaning: str) -> Parameter:
    """Declare a parameter whose usual value is cited from memory."""
    return Parameter(name, SourcedValue(value, unit, FROM_MEMORY), low, high, meaning)
