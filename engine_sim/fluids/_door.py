"""The check at the door of every formula: a number outside its range is refused, and so is one that is no number."""

from __future__ import annotations

from engine_sim.errors import OutOfRange


def require_in_range(name: str, value: float, low: float, high: float, unit: str) -> None:
    """Raise :class:`OutOfRange` unless ``low <= value <= high`` (also when ``value`` is not a number)."""
    if not low <= value <= high:
        raise OutOfRange(name, value, low, high, unit)
