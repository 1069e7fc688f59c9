"""The pressures along the way of the fuel, from the tank in use to the injection pump, in flow order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from engine_sim.actions import parts_of
from engine_sim.attempt import VolumeXRay
from engine_sim.circuit.layout import Layout
from engine_sim.drawing.ways import can_hoses
from engine_sim.units import KILOPASCAL_PA, STANDARD_ATMOSPHERE_PA

_VALVES = ("shut_off_valve",)
"""Parts on the way without a space of their own."""
VESSEL_M = 0.15
"""How much of the way a vessel takes on the plot [m]; drawing choice."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A place on the way: how far from the tank its middle lies [m], its pressure against the air around [kPa]."""

    at_m: float
    kpa: float
    part: str


def along_the_way(layout: Layout, volumes: Mapping[str, VolumeXRay], unused: Sequence[str] = ()) -> list[Stretch]:
    """Return the pressures from tank to injection pump in flow order, without ``unused`` tanks and their hoses."""
    found: list[Stretch] = []
    gone_m = 0.0
    returns = [part.component for part in parts_of(layout) if part.kind == "return_line"]
    hidden = {*unused, *layout.parts_of("fuel_can"), *returns, *can_hoses(layout)}
    for part in layout.parts:
        inside = [name for name, one in volumes.items() if one.part == part]
        if part in hidden:
            continue
        if not inside and layout.kinds[part] in _VALVES:
            found.append(Stretch(gone_m, found[-1].kpa if found else 0.0, part))
        length_m = layout.figures[part].get("length_m", VESSEL_M)
        if found and found[-1].part in layout.parts_of(*_VALVES) and inside:
            behind = (volumes[inside[0]].pressure_pa - STANDARD_ATMOSPHERE_PA) / KILOPASCAL_PA
            found.append(Stretch(gone_m, behind, found[-1].part))
        for name in inside:
            step_m = length_m / len(inside)
            kpa = (volumes[name].pressure_pa - STANDARD_ATMOSPHERE_PA) / KILOPASCAL_PA
            found.append(Stretch(gone_m + step_m / 2, kpa, part))
            gone_m += step_m
    return found
