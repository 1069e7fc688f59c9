"""How bad a fault is, in words for an instructor: the figure in a unit that people read, and slight, clear or severe.

The words come from the fault's own range, cut in three: by equal steps where the range is narrow, by equal factors
where it is wide.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from engine_sim.circuit.layout import Layout
from engine_sim.faults import Fault, fault
from engine_sim.units import LITRE_M3

DEGREES = ("slight", "clear", "severe")
LESS_IS_WORSE = frozenset({"bore_m", "charge_share", "plugs_left", "temperature_c", "opening", "compression_share"})
"""Figures of which little is bad: what is left open, left over, or how cold it is."""
OF_NO_DEGREE = frozenset({"gauge"})
"""Figures that make a fault look otherwise, but no worse."""
_WIDE, _FAR_BELOW = 50.0, 1000.0
"""From which span on a range is cut by factors, and how far below the usual one a range that begins at nothing is."""
_BAR_PA, _MM2_M2, _MM_M, _PERCENT = 1e5, 1e-6, 1e-3, 0.01
_AS_READ: Mapping[str, tuple[float, str]] = {
    "m2": (_MM2_M2, "mm²"),
    "m3": (LITRE_M3 / 1000.0, "ml"),
    "Pa": (_BAR_PA, "bar"),
    "m": (_MM_M, "mm"),
    "kg": (1.0, "kg"),
    "ohm": (1.0, "ohm"),
    "degC": (1.0, "°C"),
}
_COUNTS = frozenset({"plugs_left"})
_TIMES = frozenset({"times_clean", "load_factor"})


@dataclass(frozen=True, slots=True)
class Severity:
    """One severity: its figure in the fault's own unit, how it reads, and its degree, empty where there is none."""

    value: float
    figure: str
    meaning: str
    degree: str

    def __str__(self) -> str:
        if not self.figure:
            return self.meaning
        return f"{self.meaning}: {self.figure}" + (f", {self.degree}" if self.degree else "")


def severity_in_words(name: str, value: float) -> Severity:
    """Return a severity [the fault's own unit] in words; raises UnknownName for a fault that there is none of."""
    kind = fault(name)
    if kind.severity.low == kind.severity.high:
        return Severity(value, "", kind.severity.meaning, "")
    degree = "" if kind.severity.name in OF_NO_DEGREE else DEGREES[_third(kind, value)]
    return Severity(value, _figure(kind, value), kind.severity.meaning, degree)


def severities_to_choose(name: str, layout: Layout, part: str) -> tuple[Severity, ...]:
    """Return severities to choose from, slight to severe, the usual one at this part among them.

    Raises UnknownName for a fault that there is none of, or that cannot sit there.
    """
    kind = fault(name)
    usual = kind.usual_severity(layout, part)
    if kind.severity.low == kind.severity.high:
        return (severity_in_words(name, usual),)
    there, back = _scale(kind)
    low, high = there(kind.severity.low), there(kind.severity.high)
    middles = [_round(back(low + (high - low) * share)) for share in (1.0 / 6.0, 0.5, 5.0 / 6.0)]
    kept = [one for one in middles if _third(kind, one) != _third(kind, usual)]
    held = [min(max(one, kind.severity.low), kind.severity.high) for one in (*kept, usual)]
    return tuple(severity_in_words(name, one) for one in sorted(held, key=lambda one: (_third(kind, one), one)))


def _third(kind: Fault, value: float) -> int:
    """Return in which third of its range a severity lies: 0 for slight to 2 for severe."""
    there, _ = _scale(kind)
    low, high = there(kind.severity.low), there(kind.severity.high)
    third = min(2, max(0, math.floor(3.0 * (there(value) - low) / (high - low))))
    return 2 - third if kind.severity.name in LESS_IS_WORSE else third


def _scale(kind: Fault) -> tuple[Callable[[float], float], Callable[[float], float]]:
    """Return how a fault's range is cut: what a severity counts as, and the way back."""
    item = kind.severity
    least = item.low if item.low > 0.0 else abs(item.usual.value) / _FAR_BELOW
    is_share = item.usual.unit == "1" and item.high <= 1.0
    if is_share or item.low < 0.0 or least <= 0.0 or item.high / least < _WIDE:
        return float, float
    return (lambda value: math.log(max(value, least))), math.exp


def _round(value: float) -> float:
    """Return a figure with two digits that count."""
    return float(f"{value:.1e}")


def _figure(kind: Fault, value: float) -> str:
    name, unit = kind.severity.name, kind.severity.usual.unit
    if unit in _AS_READ:
        one, sign = _AS_READ[unit]
        return f"{_plain(value / one)} {sign}"
    if name in _COUNTS:
        return f"{value:g}"
    return f"{value:g} times" if name in _TIMES else f"{_plain(value / _PERCENT)} %"


def _plain(figure: float) -> str:
    """Return a figure with three digits that count, and no powers of ten."""
    return f"{float(f'{figure:.3g}'):.10f}".rstrip("0").rstrip(".")
