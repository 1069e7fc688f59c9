"""Flow through hoses, holes and filter paper, and the pressure of a column."""

from __future__ import annotations

import math

from engine_sim.fluids._door import require_in_range
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue, published
from engine_sim.units import STANDARD_GRAVITY_M_PER_S2

_POISEUILLE = published("Hagen-Poiseuille law, any text on fluid mechanics")

LAMINAR_LIMIT = SourcedValue(
    2000.0, "1", FROM_MEMORY, "Reynolds number up to which a pipe's flow is surely laminar; any text on fluid mechanics"
)
SHARP_EDGE_DISCHARGE = SourcedValue(0.62, "1", FROM_MEMORY, "sharp-edged orifice at high Reynolds number")
ENTRY_AND_EXIT_LOSS = SourcedValue(1.5, "1", FROM_MEMORY, "sharp entry 0.5 and exit 1.0, in velocity heads")
_POISEUILLE_FACTOR = SourcedValue(128.0, "1", _POISEUILLE)
LEAST_BORE = SourcedValue(1e-6, "m", COMMON_PRACTICE, "a leak thinner than this is tight")
GREATEST_BORE = SourcedValue(0.5, "m", COMMON_PRACTICE, "wider than any fuel line of a small craft")

_GREATEST_LENGTH_M = 1e3
_GREATEST_FLOW_M3_PER_S = 1.0
_GREATEST_VISCOSITY_PA_S = 1e3
_GREATEST_DENSITY_KG_PER_M3 = 1e4
_GREATEST_AREA_M2 = 1e2
_GREATEST_RESISTANCE = 1e20

_TINY = 1e-12


def _require_bore(bore_m: float) -> None:
    require_in_range("bore", bore_m, LEAST_BORE.value, GREATEST_BORE.value, "m")


def _require_positive(name: str, value: float, high: float, unit: str) -> None:
    require_in_range(name, value, _TINY, high, unit)


def laminar_resistance_geometry(bore_m: float, length_m: float) -> float:
    """Return ``128 L / (pi D^4)`` [1/m3]: times the dynamic viscosity [Pa s] it is the resistance [Pa s/m3].

    Bore 1e-6 to 0.5 m, length 0 to 1000 m.
    Hagen-Poiseuille law: laminar flow only, see :func:`reynolds_number`.
    """
    _require_bore(bore_m)
    require_in_range("length", length_m, 0.0, _GREATEST_LENGTH_M, "m")
    return _POISEUILLE_FACTOR.value * length_m / (math.pi * bore_m**4)


def reynolds_number(flow_m3_per_s: float, bore_m: float, kinematic_viscosity_m2_per_s: float) -> float:
    """Return the Reynolds number [-] ``4 |Q| / (pi D nu)`` of a round pipe; bore 1e-6 to 0.5 m, viscosity above 0."""
    _require_bore(bore_m)
    require_in_range("flow", abs(flow_m3_per_s), 0.0, _GREATEST_FLOW_M3_PER_S, "m3/s")
    _require_positive("kinematic viscosity", kinematic_viscosity_m2_per_s, 1.0, "m2/s")
    return 4.0 * abs(flow_m3_per_s) / (math.pi * bore_m * kinematic_viscosity_m2_per_s)


def laminar_pressure_drop_pa(
    flow_m3_per_s: float,
    bore_m: float,
    length_m: float,
    kinematic_viscosity_m2_per_s: float,
    density_kg_per_m3: float,
) -> float:
    """Return the friction loss [Pa] of a straight round hose, with the sign of the flow, Hagen-Poiseuille law.

    Refused with :class:`OutOfRange` where the flow is not laminar (Reynolds number above 2000).
    """
    reynolds = reynolds_number(flow_m3_per_s, bore_m, kinematic_viscosity_m2_per_s)
    require_in_range("Reynolds number of a laminar flow", reynolds, 0.0, LAMINAR_LIMIT.value, "(no unit)")
    _require_positive("density", density_kg_per_m3, _GREATEST_DENSITY_KG_PER_M3, "kg/m3")
    viscosity_pa_s = kinematic_viscosity_m2_per_s * density_kg_per_m3
    return laminar_resistance_geometry(bore_m, length_m) * viscosity_pa_s * flow_m3_per_s


def head_pressure_pa(density_kg_per_m3: float, height_m: float) -> float:
    """Return ``rho g h`` [Pa], the pressure a column adds below it; a negative height [m] is a lift.

    Density 0 to 10 000 kg/m3, height -1000 to 1000 m.
    """
    require_in_range("density", density_kg_per_m3, 0.0, _GREATEST_DENSITY_KG_PER_M3, "kg/m3")
    require_in_range("height", height_m, -_GREATEST_LENGTH_M, _GREATEST_LENGTH_M, "m")
    return density_kg_per_m3 * STANDARD_GRAVITY_M_PER_S2 * height_m


def bore_area_m2(bore_m: float) -> float:
    """Return the area [m2] of a round opening of ``bore_m`` [m], 1e-6 to 0.5."""
    _require_bore(bore_m)
    return math.pi * bore_m**2 / 4.0


def local_loss_pa_s2_per_m6(density_kg_per_m3: float, area_m2: float, velocity_heads: float) -> float:
    """Return K of ``dp = K q |q|`` [Pa s2/m6] for a loss of so many velocity heads ``v^2/2g`` in an area [m2]."""
    _require_positive("density", density_kg_per_m3, _GREATEST_DENSITY_KG_PER_M3, "kg/m3")
    _require_positive("area", area_m2, _GREATEST_AREA_M2, "m2")
    require_in_range("number of velocity heads", velocity_heads, 0.0, 1e6, "velocity heads")
    return velocity_heads * density_kg_per_m3 / (2.0 * area_m2**2)


def orifice_loss_pa_s2_per_m6(
    density_kg_per_m3: float, area_m2: float, discharge_coefficient: float = SHARP_EDGE_DISCHARGE.value
) -> float:
    """Return K of ``dp = K q |q|`` [Pa s2/m6] of a hole, ``rho / (2 (Cd A)^2)``; coefficient above 0 to 1."""
    _require_positive("discharge coefficient", discharge_coefficient, 1.0, "(no unit)")
    return local_loss_pa_s2_per_m6(density_kg_per_m3, area_m2, 1.0) / discharge_coefficient**2


def flow_m3_per_s(pressure_drop_pa: float, linear_pa_s_per_m3: float, square_pa_s2_per_m6: float) -> float:
    """Return the flow [m3/s] that loses ``pressure_drop_pa`` [Pa] in ``R q + K q |q|``; R above 0, K from 0.

    ``2 dp / (R + sqrt(R^2 + 4 K |dp|))``: closed form, smooth, with the finite slope 1/R at zero flow.
    """
    _require_positive("linear resistance", linear_pa_s_per_m3, math.inf, "Pa s/m3")
    require_in_range("square resistance", square_pa_s2_per_m6, 0.0, math.inf, "Pa s2/m6")
    root = math.sqrt(linear_pa_s_per_m3**2 + 4.0 * square_pa_s2_per_m6 * abs(pressure_drop_pa))
    return 2.0 * pressure_drop_pa / (linear_pa_s_per_m3 + root)


def cake_resistance_per_m(
    specific_resistance_m_per_kg: float, load_kg_per_m3: float, filtered_m3: float, area_m2: float
) -> float:
    """Return the resistance [1/m] of the dirt on a filter element, ``alpha c V / A``, Ruth (1935).

    Specific resistance [m/kg] and load [kg/m3] from 0, volume filtered so far [m3] from 0, area [m2] above 0.
    """
    require_in_range("specific cake resistance", specific_resistance_m_per_kg, 0.0, _GREATEST_RESISTANCE, "m/kg")
    require_in_range("dirt load", load_kg_per_m3, 0.0, _GREATEST_DENSITY_KG_PER_M3, "kg/m3")
    require_in_range("filtered volume", filtered_m3, 0.0, 1e6, "m3")
    _require_positive("filter area", area_m2, _GREATEST_AREA_M2, "m2")
    return specific_resistance_m_per_kg * load_kg_per_m3 * filtered_m3 / area_m2


def medium_resistance_per_m(
    clean_drop_pa: float, flow_m3_per_s: float, area_m2: float, dynamic_viscosity_pa_s: float
) -> float:
    """Return the resistance [1/m] of a clean element, ``dp A / (mu Q)``, from its clean drop [Pa] at a flow [m3/s].

    Drop 0 to 10 MPa; flow, area [m2] and viscosity [Pa s] above 0.
    """
    require_in_range("clean pressure drop", clean_drop_pa, 0.0, 1e7, "Pa")
    _require_positive("flow", flow_m3_per_s, _GREATEST_FLOW_M3_PER_S, "m3/s")
    _require_positive("filter area", area_m2, _GREATEST_AREA_M2, "m2")
    _require_positive("dynamic viscosity", dynamic_viscosity_pa_s, _GREATEST_VISCOSITY_PA_S, "Pa s")
    return clean_drop_pa * area_m2 / (dynamic_viscosity_pa_s * flow_m3_per_s)


def cake_pressure_drop_pa(
    flow_m3_per_s: float, area_m2: float, dynamic_viscosity_pa_s: float, medium_per_m: float, cake_per_m: float
) -> float:
    """Return the pressure drop [Pa] over an element, ``mu (Q/A) (Rm + Rc)``, Ruth (1935), with the sign of the flow.

    Both resistances [1/m] from 0 to 1e20; linear in the dirt: complete blocking of pores would be steeper.
    """
    require_in_range("flow", abs(flow_m3_per_s), 0.0, _GREATEST_FLOW_M3_PER_S, "m3/s")
    _require_positive("filter area", area_m2, _GREATEST_AREA_M2, "m2")
    _require_positive("dynamic viscosity", dynamic_viscosity_pa_s, _GREATEST_VISCOSITY_PA_S, "Pa s")
    for resistance in (medium_per_m, cake_per_m):
        require_in_range("filter resistance", resistance, 0.0, _GREATEST_RESISTANCE, "1/m")
    return dynamic_viscosity_pa_s * flow_m3_per_s / area_m2 * (medium_per_m + cake_per_m)
