"""Lines to write on: a table without words in it, as a picture that page and paper can show."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

_WIDE, _ROW, _HEAD, _LETTERS = 900.0, 40.0, 32.0, 20.0
"""Width of the picture, height of a row to write in and of the row of headings, and size of their letters [unit].

Five units are a millimetre on a sheet of A4 with the course's margins.
"""


def ruled(title: str, columns: Sequence[tuple[str, int]], rows: int, numbered: bool = False) -> str:
    """Return an empty table as SVG: each column's heading with its share of the width [%], and rows to write in.

    With ``numbered`` each row begins with its number.
    """
    high = _HEAD + rows * _ROW
    edges = [0.0]
    for _, share in columns:
        edges.append(edges[-1] + _WIDE * share / 100.0)
    lines = [_line(0.0, _HEAD + row * _ROW, _WIDE, _HEAD + row * _ROW) for row in range(rows + 1)]
    lines += [_line(edge, 0.0, edge, high) for edge in edges[1:-1]]
    names = "".join(
        f'<text x="{edge + 4.0:g}" y="{_HEAD - 10.0:g}" font-size="{_LETTERS:g}" fill="#000">{escape(name)}</text>'
        for edge, (name, _) in zip(edges, columns, strict=False)
    )
    names += "".join(_number(row) for row in range(rows) if numbered)
    told = f"Room to write: {rows} rows under {', '.join(name for name, _ in columns if name)}."
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDE:g} {high:g}" width="100%" role="img" '
        f'font-family="sans-serif" aria-label="{escape(title)}"><title>{escape(title)}</title>'
        f"<desc>{escape(told)}</desc>{''.join(lines)}{names}</svg>"
    )


def _number(row: int) -> str:
    at = _HEAD + (row + 1) * _ROW - 11.0
    return f'<text x="4" y="{at:g}" font-size="{_LETTERS:g}" fill="#000">{row + 1}</text>'


def _line(x1: float, y1: float, x2: float, y2: float) -> str:
    return f'<line x1="{x1:g}" y1="{y1:g}" x2="{x2:g}" y2="{y2:g}" stroke="#555" stroke-width="1.5"/>'
