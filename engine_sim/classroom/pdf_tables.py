"""Tables of a reference sheet as a PDF: as wide as the page, text to the left, the heading row on every page."""

from __future__ import annotations

import re

from fpdf import FPDF
from fpdf.enums import TableBordersLayout
from fpdf.fonts import FontFace

from engine_sim.classroom.page_tree import Node

SHEET = "sheet"
"""The class of such a table; its first row says how wide its columns are."""
_HEAD_GREY = (221, 228, 234)
"""The ground of a table's heading row (red, green, blue)."""


def sheet_table(pdf: FPDF, node: Node, size_pt: float) -> None:
    """Lay out a table in the type that is set, whose size [pt] is given."""
    rows = [child for child in node.children if isinstance(child, Node) and child.tag == "tr"]
    cells = [[cell for cell in row.children if isinstance(cell, Node)] for row in rows]
    with pdf.table(
        headings_style=FontFace(emphasis="BOLD", fill_color=_HEAD_GREY),
        borders_layout=TableBordersLayout.HORIZONTAL_LINES,
        col_widths=tuple(int(cell.attributes["width"].rstrip("%")) for cell in cells[0]),
        text_align="LEFT",
        v_align="TOP",
        line_height=size_pt * 0.43,
        padding=(0.8, 1.5),
    ) as table:
        for row in cells:
            line = table.row()
            for cell in row:
                line.cell(cell_text(cell), style=FontFace(emphasis="BOLD") if _is_strong(cell) else None)


def cell_text(cell: Node) -> str:
    """Return the text of a table's cell, each item of a list in it on a line of its own."""
    lines: list[str] = []
    for child in cell.children:
        if isinstance(child, str) or child.tag not in ("ol", "ul"):
            text = _plain(child if isinstance(child, str) else child.text())
            lines += [text] if text else []
            continue
        items = [item for item in child.children if isinstance(item, Node)]
        signs = [f"{number}." if child.tag == "ol" else "•" for number in range(1, len(items) + 1)]
        lines += [f"{sign} {_plain(item.text())}" for sign, item in zip(signs, items, strict=True)]
    return "\n".join(lines)


def _plain(text: str) -> str:
    """Return a text with single spaces; one that must not part two words at the end of a line stays what it is."""
    return re.sub(r"[ \t\n]+", " ", text).strip()


def _is_strong(cell: Node) -> bool:
    """Tell whether all in a cell is to be printed bold."""
    return len(cell.children) == 1 and isinstance(cell.children[0], Node) and cell.children[0].tag == "strong"
