"""A way that has become narrow: how bad it is is told by the pressure that a usual flow loses there."""

from __future__ import annotations

from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.fluids import diesel_fuel
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue
from engine_sim.units import celsius_to_kelvin

_FLOW_M3_PER_S = SourcedValue(30e-3 / 3600.0, "m3/s", COMMON_PRACTICE, "30 L/h, what a lift pump passes").value
_TEMPERATURE_C = SourcedValue(20.0, "degC", COMMON_PRACTICE, "at which restrictions are compared").value
_MOST_PA = SourcedValue(1e9, "Pa", FROM_MEMORY, "wholly blocked").value


def lost_there(usual: SourcedValue) -> Parameter:
    """Return how bad a narrowed way is: the pressure that it loses [Pa], from nothing to wholly blocked."""
    return Parameter("drop_pa", usual, 0.0, _MOST_PA, "pressure lost there at 30 L/h of fuel at 20 degC")


def restrict(rig: Rig, link: str, drop_pa: float) -> None:
    """Narrow a link so that 30 L/h of fuel at 20 degC lose so much pressure there [Pa]."""
    viscosity = diesel_fuel.dynamic_viscosity_pa_s(celsius_to_kelvin(_TEMPERATURE_C))
    rig.restrict(link, drop_pa / (viscosity * _FLOW_M3_PER_S))
