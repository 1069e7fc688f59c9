"""The pieces of HTML of a report: tables whose heads say what they head, and cells that hold no markup of anybody's."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from engine_sim.classroom.pdf_tables import SHEET
from engine_sim.classroom.sheets.markup import bullets, figure, paragraph, strong

__all__ = ["bullets", "figure", "figures_of", "heading", "paragraph", "percent", "strong", "table"]

Cell = str | int | float


def heading(level: int, text: str, name: str = "") -> str:
    """Return a heading of level 1 to 3; ``name`` lets a table be named by it."""
    return f'<h{level} id="{name}">{escape(text)}</h{level}>\n' if name else f"<h{level}>{escape(text)}</h{level}>\n"


def table(named_by: str, columns: Sequence[tuple[str, int]], rows: Iterable[Sequence[Cell]]) -> str:
    """Return a table: each column's head and its share of the width [%]; the first cell of a row is the row's head.

    ``named_by`` is the name of the heading that it stands under. A table without rows is a sentence.
    """
    head = "".join(f'<th scope="col" width="{share}%">{escape(name)}</th>' for name, share in columns)
    lines = []
    for first, *others in rows:
        cells = "".join(_cell(value) for value in others)
        lines.append(f'<tr><th scope="row">{_text(first)}</th>{cells}</tr>\n')
    if not lines:
        return paragraph("None.")
    return f'<table class="{SHEET}" aria-labelledby="{named_by}">\n<tr>{head}</tr>\n{"".join(lines)}</table>\n'


def _cell(value: Cell) -> str:
    return f"<td>{_text(value)}</td>" if isinstance(value, str) else f'<td class="number">{_text(value)}</td>'


def _text(value: Cell) -> str:
    return f"<bdi>{escape(value)}</bdi>" if isinstance(value, str) else f"{value:g}"


def percent(share: float | None) -> str:
    """Return a share [0..1] in whole percent, or a dash for none."""
    return "-" if share is None else f"{share * 100:.0f}\N{NO-BREAK SPACE}%"


def figures_of(value: float | None) -> str:
    """Return a correlation as it is printed, with a true minus, or a dash for none."""
    return "-" if value is None else f"{value:.2f}".replace("-", "\N{MINUS SIGN}")
