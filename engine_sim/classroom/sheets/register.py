"""Every sheet there is, and each as a page of the course: the same HTML, its pictures folded into it.

JupyterLab shows no SVG that stands in a text as it is, but shows it as the source of a picture; so there it stands,
whole, and is taken out again for paper.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from html import escape
from urllib.parse import quote, unquote

from engine_sim.classroom.feedback_pdf import read_picture
from engine_sim.classroom.sheets.fault_finder import fault_finder
from engine_sim.classroom.sheets.glossary import glossary
from engine_sim.classroom.sheets.procedure_cards import procedure_cards
from engine_sim.classroom.sheets.sources import sources
from engine_sim.classroom.sheets.symbols import symbols

FOLDER = "reference"
_CELL_BREAK = "\n\n+++\n\n"
_PICTURE = re.compile(r"<svg\b.*?</svg>", re.DOTALL)
_FOLDED = re.compile(r'<img [^>]*src="data:image/svg\+xml,([^"]*)"[^>]*>')
_SAFE = "=:/,;()'"


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its name, how its HTML is made, how it lies on paper, and the size of its type there [pt]."""

    name: str
    make: Callable[[], str]
    landscape: bool = False
    size_pt: float = 10.5


SHEETS: tuple[Sheet, ...] = (
    Sheet("fault_finder", fault_finder, landscape=True),
    Sheet("procedure_cards", procedure_cards, size_pt=11.0),
    Sheet("symbols", symbols),
    Sheet("glossary", glossary),
    Sheet("sources", sources),
)
"""The sheets in the order in which a learner meets them."""


def page_text(html: str) -> str:
    """Return a sheet's HTML as the text of a page: a new part at each heading of level 2, pictures folded in."""
    folded = _PICTURE.sub(lambda found: _folded(found.group(0)), html)
    parts = re.split(r"(?=<h2\b)", folded)
    return _CELL_BREAK.join(part.strip() for part in parts) + "\n"


def unfolded(page: str) -> str:
    """Return the HTML of a page with its pictures taken out again."""
    return _FOLDED.sub(lambda found: unquote(found.group(1)), page)


def _folded(svg: str) -> str:
    picture = read_picture(svg)
    wide = re.search(r'viewBox="0 0 ([\d.]+)', svg)
    told = escape(f"{picture.title}. {picture.words}")
    return f'<img alt="{told}" width="{wide.group(1) if wide else 800}" src="data:image/svg+xml,{quote(svg, _SAFE)}">'
