"""Reads the printed tables in ``tests/published_values`` and compares in their own units and digits."""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

FOLDER = Path(__file__).parents[1] / "published_values"
COMMENTS = ("what", "source", "values", "tolerance")
A_THOUSANDTH = 0.001  # the tolerance of every worked check, but density (5e-6) and viscosity (0.001 mm2/s)


def read_comments(name: str) -> dict[str, str]:
    """Return what a table says about itself: what it is, its source, where its values come from, its tolerance."""
    lines = [line[2:] for line in (FOLDER / name).read_text("utf-8").splitlines() if line.startswith("# ")]
    return dict(line.split(": ", 1) for line in lines)


def read_rows(name: str) -> list[dict[str, str]]:
    """Return the rows of a table as printed, by column name."""
    lines = [line for line in (FOLDER / name).read_text("utf-8").splitlines() if not line.startswith("#")]
    rows = list(csv.DictReader(lines))
    assert rows, f"{name} holds no rows"
    return rows


def half_last_digit(printed: str) -> float:
    """Return half a unit of the last digit that is printed."""
    exponent = Decimal(printed).as_tuple().exponent
    assert isinstance(exponent, int)
    return 0.5 * 10.0**exponent


def assert_printed(computed: float, printed: str, relative: float = 0.0, absolute: float = 0.0) -> None:
    """Hold a number against the printed one: to its digits, or to the tolerance that the table states."""
    allowed = max(half_last_digit(printed), relative * abs(float(printed)), absolute)
    assert abs(computed - float(printed)) <= allowed * (1 + 1e-9), (
        f"{computed!r} against the printed {printed}, allowed {allowed:g}"
    )
