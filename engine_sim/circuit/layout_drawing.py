"""Reads what a layout file says about its drawing: where the waterline lies, and where a part shall stand."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from typing import Any

from engine_sim.circuit.layout_lines import Lines
from engine_sim.errors import BadLayout, UnknownName

TABLE = "drawing"
_KEYS = ("waterline_m", "across")


@dataclass(frozen=True, slots=True)
class DrawingHints:
    """What a file wants of its drawing; with none of it the drawing is made from heights and joins alone.

    ``waterline_m`` is the waterline's height above the layout's datum [m]; ``across`` maps a part to the share of the
    drawing's width at which its middle stands [0..1].
    """

    waterline_m: float | None = None
    across: Mapping[str, float] = field(default_factory=dict)


def read_hints(data: Mapping[str, Any], parts: Collection[str], lines: Lines) -> DrawingHints:
    """Return what the table ``[drawing]`` of a layout says. Raises BadLayout with the line for what is wrong in it."""
    table = data.get(TABLE, {})
    if not isinstance(table, dict):
        raise BadLayout(f"{lines.where('', 0, TABLE)}drawing was given as {table!r}; write it as a table [drawing].")
    for key in table:
        if key not in _KEYS:
            raise BadLayout(f"{lines.where(TABLE, 0, key)}{UnknownName('entry of [drawing]', key, _KEYS)}")
    waterline = table.get("waterline_m")
    if waterline is not None:
        waterline = _number(waterline, -10.0, 10.0, f"{lines.where(TABLE, 0, 'waterline_m')}waterline_m", "m")
    across = table.get("across", {})
    where = lines.where(TABLE, 0, "across")
    if not isinstance(across, dict):
        raise BadLayout(f"{where}across was given as {across!r}; write it as {{ part = 0.5 }}.")
    for part in across:
        if part not in parts:
            raise BadLayout(f"{where}{UnknownName('part', part, tuple(parts))}")
    return DrawingHints(
        waterline, {part: _number(x, 0.0, 1.0, f"{where}across of {part}", "") for part, x in across.items()}
    )


def _number(given: object, least: float, most: float, what: str, unit: str) -> float:
    sound = isinstance(given, int | float) and not isinstance(given, bool) and least <= given <= most
    if not sound:
        allowed = f"{least:g} to {most:g} {unit}".strip()
        raise BadLayout(f"{what} was given as {given!r}; allowed is {allowed}. Change it.")
    return float(given)  # type: ignore[arg-type]
