"""Closed spaces: a tank without a breather, a housing to be pumped full, an injector line with air in it."""

from __future__ import annotations

import math

from engine_sim.fluids._door import require_in_range
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import STANDARD_ATMOSPHERE_PA

LEVER_EFFICIENCY = SourcedValue(0.70, "1", FROM_MEMORY, "share of a lever stroke that is delivered")

_GREATEST_VOLUME_M3 = 1e3
_TINY_M3 = 1e-15


def _require_volume(name: str, volume_m3: float) -> None:
    require_in_range(name, volume_m3, _TINY_M3, _GREATEST_VOLUME_M3, "m3")


def _require_pressure(name: str, pressure_pa: float) -> None:
    require_in_range(name, pressure_pa, 1.0, 1e9, "Pa")


def sealed_ullage_suction_pa(ullage_m3: float, drawn_m3: float, ambient_pa: float = STANDARD_ATMOSPHERE_PA) -> float:
    """Return how far below ambient [Pa] a sealed tank falls when ``drawn_m3`` net leaves it, Boyle's law.

    ``p0 dV / (V0 + dV)``; the ullage [m3] is the air space at the start, drawn volume [m3] from 0.
    """
    _require_volume("ullage", ullage_m3)
    require_in_range("drawn volume", drawn_m3, 0.0, _GREATEST_VOLUME_M3, "m3")
    _require_pressure("ambient pressure", ambient_pa)
    return ambient_pa * drawn_m3 / (ullage_m3 + drawn_m3)


def drawn_at_suction_m3(ullage_m3: float, suction_pa: float, ambient_pa: float = STANDARD_ATMOSPHERE_PA) -> float:
    """Return what may leave a sealed tank net [m3] before it is ``suction_pa`` [Pa] below ambient, Boyle's law.

    The inverse of :func:`sealed_ullage_suction_pa`; suction from 0 to just below ambient.
    """
    _require_volume("ullage", ullage_m3)
    _require_pressure("ambient pressure", ambient_pa)
    require_in_range("suction", suction_pa, 0.0, ambient_pa - 1.0, "Pa")
    return ullage_m3 * suction_pa / (ambient_pa - suction_pa)


def priming_strokes(volume_m3: float, stroke_m3: float, efficiency: float = LEVER_EFFICIENCY.value) -> int:
    """Return how many full lever strokes fill a volume [m3] at ``stroke_m3`` [m3] each; efficiency 0.01 to 1 [-]."""
    _require_volume("volume to fill", volume_m3)
    _require_volume("stroke", stroke_m3)
    require_in_range("lever efficiency", efficiency, 0.01, 1.0, "(no unit)")
    return math.ceil(volume_m3 / (stroke_m3 * efficiency))


def _require_line(line_volume_m3: float, air_m3: float, bulk_modulus_pa: float, ambient_pa: float) -> None:
    _require_volume("line volume", line_volume_m3)
    require_in_range("air in the line", air_m3, 0.0, line_volume_m3, "m3")
    require_in_range("bulk modulus", bulk_modulus_pa, 1e6, 1e12, "Pa")
    _require_pressure("ambient pressure", ambient_pa)


def injection_line_pressure_pa(
    line_volume_m3: float,
    air_m3: float,
    stroke_m3: float,
    bulk_modulus_pa: float,
    ambient_pa: float = STANDARD_ATMOSPHERE_PA,
) -> float:
    """Return the absolute pressure [Pa] one plunger stroke makes in a shut injector line holding air [m3] at ambient.

    Root of ``(p - p0)(V - Va)/K + Va (1 - p0/p) = dV``: isothermal air in a rigid line (Merritt, from memory).
    Air 0 to the line's volume, stroke [m3] from 0 and below the line's volume.
    """
    _require_line(line_volume_m3, air_m3, bulk_modulus_pa, ambient_pa)
    require_in_range("plunger stroke", stroke_m3, 0.0, math.nextafter(line_volume_m3, 0.0), "m3")
    give = (line_volume_m3 - air_m3) / bulk_modulus_pa
    middle = air_m3 - stroke_m3 - give * ambient_pa
    root = math.sqrt(middle * middle + 4.0 * give * air_m3 * ambient_pa)
    if middle > 0.0:
        return 2.0 * air_m3 * ambient_pa / (middle + root)
    return (root - middle) / (2.0 * give)


def air_that_stops_injection_m3(
    line_volume_m3: float,
    opening_pa: float,
    stroke_m3: float,
    bulk_modulus_pa: float,
    ambient_pa: float = STANDARD_ATMOSPHERE_PA,
) -> float:
    """Return the air [m3] at ambient with which a stroke just reaches the absolute opening pressure [Pa].

    Zero when even an airless line stays shut; opening pressure from twice ambient to half the bulk modulus.
    """
    _require_line(line_volume_m3, 0.0, bulk_modulus_pa, ambient_pa)
    require_in_range("opening pressure", opening_pa, 2.0 * ambient_pa, bulk_modulus_pa / 2.0, "Pa")
    require_in_range("plunger stroke", stroke_m3, 0.0, line_volume_m3, "m3")
    squeezed = (opening_pa - ambient_pa) / bulk_modulus_pa
    spare_m3 = stroke_m3 - squeezed * line_volume_m3
    return max(0.0, spare_m3 / (1.0 - ambient_pa / opening_pa - squeezed))
