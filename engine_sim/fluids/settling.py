"""What sinks in fuel, or rises in water: drops and dirt small enough for Stokes' law."""

from __future__ import annotations

from engine_sim.fluids._door import require_in_range
from engine_sim.sources import FROM_MEMORY, SourcedValue, published
from engine_sim.units import STANDARD_GRAVITY_M_PER_S2

_STOKES_FACTOR = SourcedValue(18.0, "1", published("Stokes' law, any text on fluid mechanics"))
DIRT_DENSITY = SourcedValue(2600.0, "kg/m3", FROM_MEMORY, "mineral dust; rust is heavier, slime far lighter")

_TINY = 1e-12


def _require_fluid(name: str, density_kg_per_m3: float, viscosity_pa_s: float) -> None:
    require_in_range(f"density of the {name}", density_kg_per_m3, _TINY, 1e4, "kg/m3")
    require_in_range(f"dynamic viscosity of the {name}", viscosity_pa_s, _TINY, 1e3, "Pa s")


def settling_speed_m_per_s(
    diameter_m: float, drop_density_kg_per_m3: float, fuel_density_kg_per_m3: float, dynamic_viscosity_pa_s: float
) -> float:
    """Return how fast a small sphere sinks [m/s] (negative: rises), Stokes' law ``g d^2 drho / (18 mu)``.

    For a grain of dirt, and a drop whose skin is stiff with surfactant; one that is clean goes faster by
    :func:`mobile_drop_factor`. Diameter 1e-6 to 1e-3 m, viscosity that of the liquid it sinks in.
    Refused where the Reynolds number passes 1, beyond which Stokes' law fails.
    """
    require_in_range("drop diameter", diameter_m, 1e-6, 1e-3, "m")
    _require_fluid("liquid", fuel_density_kg_per_m3, dynamic_viscosity_pa_s)
    require_in_range("density of the drop", drop_density_kg_per_m3, _TINY, 1e4, "kg/m3")
    excess = drop_density_kg_per_m3 - fuel_density_kg_per_m3
    speed = STANDARD_GRAVITY_M_PER_S2 * diameter_m**2 * excess / (_STOKES_FACTOR.value * dynamic_viscosity_pa_s)
    reynolds = abs(speed) * diameter_m * fuel_density_kg_per_m3 / dynamic_viscosity_pa_s
    require_in_range("Reynolds number of a sinking drop", reynolds, 0.0, 1.0, "(no unit)")
    return speed


def mobile_drop_factor(drop_viscosity_pa_s: float, dynamic_viscosity_pa_s: float) -> float:
    """Return by how much faster a clean drop sinks than a hard sphere [1], 1 to 1.5, Hadamard and Rybczynski (1911).

    ``3 (1 + k) / (2 + 3 k)``, k the drop's dynamic viscosity [Pa s] over that of the liquid around it [Pa s].
    """
    _require_fluid("drop", 1.0, drop_viscosity_pa_s)
    _require_fluid("liquid", 1.0, dynamic_viscosity_pa_s)
    ratio = drop_viscosity_pa_s / dynamic_viscosity_pa_s
    return 3.0 * (1.0 + ratio) / (2.0 + 3.0 * ratio)


def settling_time_s(height_m: float, speed_m_per_s: float) -> float:
    """Return how long [s] what sinks at a speed [m/s], above 0, takes through a height [m], 0 to 1000."""
    require_in_range("height", height_m, 0.0, 1e3, "m")
    require_in_range("settling speed", speed_m_per_s, 1e-15, 1.0, "m/s")
    return height_m / speed_m_per_s
