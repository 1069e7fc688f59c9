"""Friction in a hose from laminar through transition to turbulent flow, cheap enough for every link at every step.

The loss is the laminar one times :func:`turbulent_factor`: ``dp = R q F(Re)``, R the laminar resistance.
Up to Reynolds 2 000 F is 1 (Hagen-Poiseuille), from 4 000 on it is 0.3164 Re^0.75 / 64 (Blasius, smooth pipe).
Between them a cubic joins value and slope of both, so that F and its slope are continuous and F never falls.

A solver that keeps ``dp = R q + K q |q|`` takes :func:`friction_shares` at the last flow it knows: ``R`` times
the first share is its linear resistance and ``R`` times the second share, divided by ``|q|``, its square one.
Both are positive, and repeating it converges to the very ``R q F(Re)``.
"""

from __future__ import annotations

import math

from engine_sim.fluids._door import require_in_range
from engine_sim.fluids.flow import LAMINAR_LIMIT, laminar_resistance_geometry, reynolds_number
from engine_sim.sources import FROM_MEMORY, SourcedValue, published

TURBULENT_FROM = SourcedValue(4000.0, "1", FROM_MEMORY, "Reynolds number of a round pipe; any text on fluid mechanics")
BLASIUS_FACTOR = SourcedValue(0.3164, "1", published("Blasius (1913), friction of smooth pipes, f = 0.3164 Re^-0.25"))
_BLASIUS_EXPONENT = SourcedValue(0.75, "1", BLASIUS_FACTOR.source, "of F: the quarter power of f, times Re of 64/Re")
_LAMINAR_FACTOR = SourcedValue(64.0, "1", published("Hagen-Poiseuille law, friction factor 64/Re"))
GREATEST_REYNOLDS = SourcedValue(1e5, "1", BLASIUS_FACTOR.source, "up to which Blasius' formula holds")
LEAST_LINEAR_SHARE = SourcedValue(
    0.05, "1", FROM_MEMORY, "of the loss, kept linear so that no slope at zero flow is infinite"
)
_MOST_STEPS = 60

_SCALE: float = BLASIUS_FACTOR.value / _LAMINAR_FACTOR.value
_LOW, _HIGH, _POWER = LAMINAR_LIMIT.value, TURBULENT_FROM.value, _BLASIUS_EXPONENT.value
_WIDTH = _HIGH - _LOW
_RISE: float = _SCALE * _HIGH**_POWER - 1.0
_END: float = _POWER * (1.0 + _RISE) / _HIGH * _WIDTH
# The cubic 1 + t^2 (a + b t), t from 0 to 1: slope 0 where it begins, Blasius' value and slope where it ends.
_A, _B = 3.0 * _RISE - _END, _END - 2.0 * _RISE
_FLOOR, _ONE_SIDED = LEAST_LINEAR_SHARE.value, 1.0


def _blasius_factor(reynolds: float) -> float:
    factor: float = _SCALE * reynolds**_POWER
    return factor


def turbulent_factor(reynolds: float) -> float:
    """Return by how much friction exceeds the laminar loss at the same flow [1]: 1 up to Reynolds 2 000, then more.

    Reynolds number from 0; published up to 1e5 (Blasius), continued by the same law beyond.
    """
    if reynolds <= _LOW:
        return 1.0
    if reynolds >= _HIGH:
        return _blasius_factor(reynolds)
    part = (reynolds - _LOW) / _WIDTH
    return 1.0 + part * part * (_A + _B * part)


def turbulent_exponent(reynolds: float) -> float:
    """Return the local power [1] with which the factor grows, ``d ln F / d ln Re``: 0 laminar, 0.75 turbulent.

    Reynolds number from 0. In the transition it rises above 1, for there the friction factor itself rises.
    """
    if reynolds <= _LOW:
        return 0.0
    if reynolds >= _HIGH:
        return _POWER
    part = (reynolds - _LOW) / _WIDTH
    slope = part * (2.0 * _A + 3.0 * _B * part) / _WIDTH
    return slope * reynolds / turbulent_factor(reynolds)


def friction_shares(reynolds: float) -> tuple[float, float]:
    """Return the factor in two parts [1]: of a loss linear in the flow, and of one with the flow's square.

    Their sum is :func:`turbulent_factor`; together they also have its slope where the law is no steeper than a square
    (all but the transition). Reynolds number from 0; both parts from 0, the linear one never nothing.
    """
    if reynolds <= _LOW:
        return 1.0, 0.0
    factor = turbulent_factor(reynolds)
    square = factor * min(turbulent_exponent(reynolds), _ONE_SIDED - _FLOOR)
    return factor - square, square


def _laminar_pa_s_per_m3(
    bore_m: float, length_m: float, kinematic_viscosity_m2_per_s: float, density_kg_per_m3: float
) -> float:
    require_in_range("kinematic viscosity", kinematic_viscosity_m2_per_s, 1e-12, 1.0, "m2/s")
    require_in_range("density", density_kg_per_m3, 1e-12, 1e4, "kg/m3")
    return laminar_resistance_geometry(bore_m, length_m) * kinematic_viscosity_m2_per_s * density_kg_per_m3


def _require_known_friction(reynolds: float) -> None:
    require_in_range("Reynolds number in a hose", reynolds, 0.0, GREATEST_REYNOLDS.value, "(no unit)")


def hose_pressure_drop_pa(
    flow_m3_per_s: float, bore_m: float, length_m: float, kinematic_viscosity_m2_per_s: float, density_kg_per_m3: float
) -> float:
    """Return the friction loss [Pa] of a straight smooth round hose with the sign of the flow, laminar to turbulent.

    Bore 1e-6 to 0.5 m, length 0 to 1000 m; refused beyond Reynolds number 1e5, where Blasius' formula ends.
    """
    laminar = _laminar_pa_s_per_m3(bore_m, length_m, kinematic_viscosity_m2_per_s, density_kg_per_m3)
    reynolds = reynolds_number(flow_m3_per_s, bore_m, kinematic_viscosity_m2_per_s)
    _require_known_friction(reynolds)
    return laminar * turbulent_factor(reynolds) * flow_m3_per_s


def _next_flow_m3_per_s(flow: float, reynolds: float, laminar: float, drop: float) -> float:
    """Return the flow that loses ``drop`` with the shares that the friction has at the last flow."""
    linear, square = friction_shares(reynolds)
    resistance = laminar * linear
    if square <= 0.0:
        return drop / resistance
    return 2.0 * drop / (resistance + math.sqrt(resistance**2 + 4.0 * laminar * square * drop / flow))


def hose_flow_m3_per_s(
    pressure_drop_pa: float,
    bore_m: float,
    length_m: float,
    kinematic_viscosity_m2_per_s: float,
    density_kg_per_m3: float,
) -> float:
    """Return the flow [m3/s] that a pressure drop [Pa] drives through a straight smooth round hose.

    The inverse of :func:`hose_pressure_drop_pa`, by the solver's own way: :func:`friction_shares` at the last flow,
    then ``dp = R q + K q |q|`` in closed form, until nothing changes. Drop -1e8 to 1e8 Pa, length 1e-6 to 1000 m.
    """
    require_in_range("pressure drop", pressure_drop_pa, -1e8, 1e8, "Pa")
    require_in_range("length of a hose that limits the flow", length_m, 1e-6, 1e3, "m")
    laminar = _laminar_pa_s_per_m3(bore_m, length_m, kinematic_viscosity_m2_per_s, density_kg_per_m3)
    per_flow = reynolds_number(1.0, bore_m, kinematic_viscosity_m2_per_s)
    drop = abs(pressure_drop_pa)
    flow, last = drop / laminar, math.inf
    for _ in range(_MOST_STEPS):
        if math.isclose(flow, last, rel_tol=1e-14):
            break
        flow, last = _next_flow_m3_per_s(flow, per_flow * flow, laminar, drop), flow
    _require_known_friction(per_flow * flow)
    return math.copysign(flow, pressure_drop_pa)
