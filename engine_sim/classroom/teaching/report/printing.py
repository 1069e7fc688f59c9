"""A page of the instructor's side as a PDF: as the project prints its pages, with letters for every name.

The course's type has Latin, Greek and Cyrillic letters. Names in others are set in the type that matplotlib brings.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping

from engine_sim.classroom.feedback_pdf import Picture, Sheets, read_picture
from engine_sim.classroom.page_tree import Node, read_page
from engine_sim.classroom.teaching.name_letters import with_other_letters
from engine_sim.classroom.teaching.right_to_left import as_printed

_PICTURE = re.compile(r"<svg\b.*?</svg>", re.DOTALL)
_LAST_OF_OURS = 0x52F
"""The last letter of Cyrillic in Unicode; those after it are seldom in the course's type."""


def page_pdf(
    page: str, marked: str, size_pt: float, headings: Mapping[str, tuple[float, float]] | None = None
) -> tuple[bytes, int]:
    """Return a page, given as HTML, as a PDF in a size of type [pt], and how many sheets it has.

    ``headings`` gives the size of each heading [pt] and the room above it [mm], where they are not the usual ones.
    """
    pictures: list[Picture] = []

    def taken_out(found: re.Match[str]) -> str:
        pictures.append(read_picture(found.group(0)))
        return f'<img alt="{len(pictures) - 1}">'

    tree = read_page(_PICTURE.sub(taken_out, page))
    sheets = Sheets(pictures, False, marked, size_pt)
    sheets.headings = {**sheets.headings, **(headings or {})}
    if any(ord(letter) > _LAST_OF_OURS and unicodedata.category(letter)[0] == "L" for letter in page):
        turn_letters(tree)
        with_other_letters(sheets.pdf)
    data = sheets.print(tree)
    return data, len(sheets.pdf.pages)


def turn_letters(node: Node) -> None:
    """Put every text of a page in the order in which it is printed."""
    for place, child in enumerate(node.children):
        if isinstance(child, str):
            node.children[place] = as_printed(child)
        else:
            turn_letters(child)
