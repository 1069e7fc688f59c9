"""The few plain pieces of HTML that a sheet is made of: headings, paragraphs, lists, tables and figures.

No blank line stands in it, so that it can stand in a text of a notebook as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from engine_sim.classroom.feedback_pdf import CARD
from engine_sim.classroom.pdf_tables import SHEET
from engine_sim.wording import SCREW_WORDS, SENTENCES


def heading(level: int, text: str) -> str:
    """Return a heading of level 1 to 3."""
    return f"<h{level}>{escape(text)}</h{level}>\n"


def card_heading(text: str) -> str:
    """Return a heading of level 2 that begins a page of its own on paper."""
    return f'<h2 class="{CARD}">{escape(text)}</h2>\n'


def paragraph(text: str) -> str:
    """Return a paragraph."""
    return f"<p>{escape(text)}</p>\n"


def strong(text: str) -> str:
    """Return a paragraph that must not be overlooked."""
    return f"<p><strong>{escape(text)}</strong></p>\n"


def bullets(items: Iterable[str]) -> str:
    """Return a list without numbers, or nothing where there are no items."""
    return _list("ul", items)


def numbered(items: Iterable[str]) -> str:
    """Return a list with numbers, or nothing where there are no items."""
    return _list("ol", items)


def _list(tag: str, items: Iterable[str]) -> str:
    lines = "".join(f"<li>{escape(item)}</li>" for item in items)
    return f"<{tag}>{lines}</{tag}>\n" if lines else ""


def table(columns: Sequence[tuple[str, int]], rows: Iterable[Sequence[str]]) -> str:
    """Return a table: each column's heading and its share of the width [%]; the cells are HTML already."""
    head = "".join(f'<th width="{share}%">{escape(name)}</th>' for name, share in columns)
    body = "".join(f"<tr>{''.join(f'<td>{cell}</td>' for cell in row)}</tr>\n" for row in rows)
    return f'<table class="{SHEET}">\n<tr>{head}</tr>\n{body}</table>\n'


def figure(svg: str, caption: str = "") -> str:
    """Return a picture with its caption."""
    said = f"<figcaption>{escape(caption)}</figcaption>" if caption else ""
    return f"<figure>{svg}{said}</figure>\n"


def time_words(seconds: float) -> str:
    """Return a time as a person tells it: ``20 s``, ``1½ min``, ``4 h``."""
    if seconds < 60.0:
        return f"{seconds:.0f} s"
    if seconds < 5400.0:
        halves = round(seconds / 30.0)
        whole, half = divmod(halves, 2) if halves < 20 else (round(seconds / 60.0), 0)
        return f"{whole}{'½' if half else ''} min"
    return f"{seconds / 3600.0:.0f} h"


def sentence(key: str) -> str:
    """Return what the bench says under a key; of several screws it speaks of the one that every filter has."""
    return SENTENCES[key].replace("{screw}", SCREW_WORDS["screw"])
