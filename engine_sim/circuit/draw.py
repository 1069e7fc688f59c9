"""What a port draws: each port takes the layers that lie at its height, a hose piece gives its mixture.

A few millimetres of smoothing keep the flow from jumping when a level passes a port; a seaway widens them.
"""

from __future__ import annotations

from engine_sim.circuit.state import CircuitState, Shares
from engine_sim.circuit.topology import OPEN_AIR
from engine_sim.components import PortSpec
from engine_sim.sources import FROM_MEMORY, SourcedValue

AIR: Shares = (0.0, 0.0, 1.0)
SMOOTHING_M = SourcedValue(0.004, "m", FROM_MEMORY, "least height over which a port feels the layers").value


def drawn_shares(state: CircuitState, number: int, port: PortSpec | None) -> Shares:
    """Return the shares of fuel, water and air that a port draws from a volume now."""
    if number == OPEN_AIR or port is None:
        return AIR
    volume = state.topology.volumes[number]
    stirred = volume.stirred_when_pumped and not state.drives.idle()
    if not volume.layered or stirred:
        return state.shares(number)
    if state.air_kg[number] <= 0.0 and state.water_m3[number] <= 0.0:
        return 1.0, 0.0, 0.0
    return _layered_shares(state, number, port)


def _layered_shares(state: CircuitState, number: int, port: PortSpec) -> Shares:
    volume = state.topology.volumes[number]
    water_top, liquid_top = state.levels_m(number)
    extra = max(0.0, SMOOTHING_M - (port.high_m - port.low_m)) / 2.0 + state.slosh_m
    low = max(volume.bottom_m, port.low_m - extra)
    high = min(volume.top_m, port.high_m + extra)
    span = high - low
    aqua = min(max(water_top - low, 0.0), span) / span
    liquid = min(max(liquid_top - low, 0.0), span) / span
    return liquid - aqua, aqua, 1.0 - liquid
