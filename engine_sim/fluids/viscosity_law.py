"""The viscosity law of petroleum liquids, ASTM D341 in its full form, and the mixing of two of them.

``log log Z = A - B log T`` with ``Z = nu + 0.7 + exp(-1.47 - 1.84 nu - 0.51 nu^2)``, nu in mm2/s and T in K.
Above 2 mm2/s the exponential is nothing, which leaves the short form that :mod:`diesel_fuel` uses.
"""

from __future__ import annotations

import math

from engine_sim.fluids._door import require_in_range
from engine_sim.sources import SourcedValue, published

_D341 = published("ASTM D341, viscosity-temperature equation of liquid petroleum products")

SHIFT = SourcedValue(0.7, "mm2/s", _D341)
_C0 = SourcedValue(-1.47, "1", _D341)
_C1 = SourcedValue(-1.84, "s/mm2", _D341)
_C2 = SourcedValue(-0.51, "s2/mm4", _D341)
_D0 = SourcedValue(-0.7487, "1", _D341)
_D1 = SourcedValue(-3.295, "s/mm2", _D341)
_D2 = SourcedValue(0.6119, "s2/mm4", _D341)
_D3 = SourcedValue(-0.3193, "s3/mm6", _D341)
LEAST_VISCOSITY = SourcedValue(0.21e-6, "m2/s", _D341, "thinnest liquid the full form holds for")
GREATEST_VISCOSITY = SourcedValue(2e-2, "m2/s", _D341, "thickest liquid the law is used for")

_MM2 = 1e-6


def double_logarithm_value(viscosity_m2_per_s: float) -> float:
    """Return ``log log Z`` [1] of a kinematic viscosity [m2/s], 0.21e-6 to 0.02, ASTM D341 full form."""
    require_in_range("kinematic viscosity", viscosity_m2_per_s, LEAST_VISCOSITY.value, GREATEST_VISCOSITY.value, "m2/s")
    nu = viscosity_m2_per_s / _MM2
    return math.log10(math.log10(nu + SHIFT.value + math.exp(_C0.value + _C1.value * nu + _C2.value * nu * nu)))


def viscosity_m2_per_s(double_logarithm_value: float) -> float:
    """Return the kinematic viscosity [m2/s] of a ``log log Z`` [1], ASTM D341's own approximate inverse."""
    least, greatest = -2.0, 1.0
    require_in_range("log log Z", double_logarithm_value, least, greatest, "(no unit)")
    nu: float = 10.0 ** (10.0**double_logarithm_value) - SHIFT.value
    small = math.exp(_D0.value + nu * (_D1.value + nu * (_D2.value + nu * _D3.value)))
    return (nu - small) * _MM2


def through_points_m2_per_s(temperature_k: float, points: tuple[tuple[float, float], tuple[float, float]]) -> float:
    """Return the kinematic viscosity [m2/s] at a temperature [K] of a liquid known at two, ASTM D341 full form.

    Each point is a temperature [K] and the kinematic viscosity [m2/s] there.
    """
    (first_k, first), (second_k, second) = points
    for temperature in (temperature_k, first_k, second_k):
        require_in_range("temperature", temperature, 200.0, 450.0, "K")
    at_first, at_second = double_logarithm_value(first), double_logarithm_value(second)
    slope = (at_first - at_second) / math.log10(second_k / first_k)
    return viscosity_m2_per_s(at_first - slope * math.log10(temperature_k / first_k))


def blend_m2_per_s(first_m2_per_s: float, second_m2_per_s: float, second_share: float) -> float:
    """Return the kinematic viscosity [m2/s] of two petroleum liquids mixed: ``log log Z`` by volume (ASTM D7152).

    Viscosities 0.21e-6 to 0.02 m2/s at the same temperature, share of the second by volume 0 to 1.
    """
    require_in_range("share by volume", second_share, 0.0, 1.0, "(no unit)")
    first, second = double_logarithm_value(first_m2_per_s), double_logarithm_value(second_m2_per_s)
    return viscosity_m2_per_s(first + second_share * (second - first))
