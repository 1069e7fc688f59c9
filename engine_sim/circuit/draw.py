"""What a port draws: each port takes the layers that lie at its height, a hose piece gives its mixture.

A few millimetres of smoothing keep the flow from jumping when a level passes a port; a seaway widens them.
Droplets that have not settled yet go with the fuel.
"""

from __future__ import annotations

import math

from engine_sim.circuit.state import CircuitState, Look, Shares
from engine_sim.circuit.topology import OPEN_AIR
from engine_sim.components import PortSpec, VolumeSpec
from engine_sim.sources import FROM_MEMORY, SourcedValue

AIR: Shares = (0.0, 0.0, 1.0)
FUEL: Shares = (1.0, 0.0, 0.0)
SMOOTHING_M = SourcedValue(0.004, "m", FROM_MEMORY, "least height over which a port feels the layers").value
SLOSH_SHARE = SourcedValue(
    0.12, "1", FROM_MEMORY, "share of a vessel's height by which its layers swing in a rough sea"
).value

Drawn = tuple[Shares, float]
"""Shares of fuel, water and air that a port draws, and the part of the water that is droplets in the fuel."""


def drawn(state: CircuitState, number: int, port: PortSpec | None, look: Look | None, mixed: bool) -> Drawn:
    """Return what a port draws from a volume now.

    ``look`` is what is in it, None for brim-full of plain fuel; ``mixed`` says that it gives its mixture and no layers.
    """
    if number == OPEN_AIR or port is None:
        return AIR, 0.0
    if look is None:
        return FUEL, 0.0
    if mixed:
        return look[:3], 0.0
    volume = state.topology.volumes[number]
    low, high = _mouth(state, volume, port)
    span = high - low
    aqua = min(max(look[3] - low, 0.0), span) / span
    liquid = min(max(look[4] - low, 0.0), span) / span
    fuel = liquid - aqua
    haze = state.haze_m3[number]
    droplets = fuel * haze / (state.fuel_m3[number] + haze) if haze > 0.0 else 0.0
    return (fuel - droplets, aqua + droplets, 1.0 - liquid), droplets


def _mouth(state: CircuitState, volume: VolumeSpec, port: PortSpec) -> tuple[float, float]:
    """Return between which heights a port feels the layers [m]."""
    extra = state.seaway * SLOSH_SHARE * (volume.top_m - volume.bottom_m)
    if port.high_m - port.low_m < SMOOTHING_M:
        extra += (SMOOTHING_M - (port.high_m - port.low_m)) / 2.0
    deeper = 0.0
    if state.heel_rad != 0.0 or state.pitch_rad != 0.0:
        deeper = port.across_m * math.tan(state.heel_rad) + port.along_m * math.tan(state.pitch_rad)
    low, high = port.low_m - deeper - extra, port.high_m - deeper + extra
    return (
        min(max(volume.bottom_m, low), volume.top_m - SMOOTHING_M),
        max(min(volume.top_m, high), volume.bottom_m + SMOOTHING_M),
    )
