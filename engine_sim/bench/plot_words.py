"""The words of the two plots: their axes, their limit lines, and what they show for those who do not see them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from engine_sim.bench.way import Stretch

PLOT = {
    "pressure_title": "Pressure along the way of the fuel",
    "way_m": "way from the tank, m",
    "kpa": "pressure against the air around, kPa",
    "air_around": "air around: below it a leak draws air in, above it fuel drips out",
    "clean": "at the pump's inlet: no lower with clean elements",
    "change": "at the pump's inlet, with the way open: change the element",
    "minutes": "time gone, min",
}
PRESSURE = "pressure"
GAUGE_NAMES = {
    "vacuum": ("Vacuum gauge at the pump's inlet", "kPa below the air around"),
    "volts": ("Voltmeter", "V"),
    "dip": ("Dipstick", "cm"),
    "rpm": ("Engine speed", "rpm"),
}


def pressure_told(way: Sequence[Stretch], labels: Mapping[str, str]) -> str:
    """Return in words where the pressure is lowest on the way, and where it stands above the air around."""
    lowest, highest = (choose(way, key=lambda one: one.kpa) for choose in (min, max))
    return (
        f"The pressure is lowest {_where(lowest, labels)}, {_against(lowest.kpa)}, "
        f"and highest {_where(highest, labels)}, {_against(highest.kpa)}."
    )


def _where(one: Stretch, labels: Mapping[str, str]) -> str:
    return f"in the {labels[one.part]}" if one.part in labels else f"in a hose {one.at_m:.1f} m from the tank"


def _against(kpa: float) -> str:
    return f"{abs(kpa):.0f} kPa {'below' if kpa < 0 else 'above'} the air around"


def trend_told(gauge: str, points: Sequence[tuple[float, float]]) -> str:
    """Return in words what a gauge showed: each reading with its minute."""
    name, unit = GAUGE_NAMES[gauge]
    told = "; ".join(f"{figure:g} after {minute:.0f} min" for minute, figure in points)
    return f"{name}, {unit}: {told}."
