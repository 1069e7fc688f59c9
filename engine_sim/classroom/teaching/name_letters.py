"""Names of any script on paper: Latin, Greek and Cyrillic as they come, right-to-left ones in the order of the eye.

The course's type has no Hebrew or Arabic letters; those come from the open type that the pictures' library carries.
"""

from __future__ import annotations

import unicodedata
from pathlib import Path

from fpdf import FPDF

from engine_sim.classroom.feedback_pdf import TYPE
from engine_sim.classroom.teaching.right_to_left import as_printed

OTHER_TYPE = "other"
OTHER_FILES = {"": "DejaVuSans.ttf", "B": "DejaVuSans-Bold.ttf"}
CUT = "\u2026"
NO_SUCH_LETTER = "?"


def with_other_letters(pdf: FPDF) -> None:
    """Let a PDF take letters that the course's type lacks from the other one."""
    import matplotlib

    folder = Path(matplotlib.get_data_path(), "fonts", "ttf")
    for style, name in OTHER_FILES.items():
        pdf.add_font(OTHER_TYPE, style, str(folder / name))
    pdf.set_fallback_fonts([OTHER_TYPE], exact_match=False)


def printable(pdf: FPDF, text: str) -> str:
    """Return a text with a question mark for each letter that no type has; blanks of all kinds become single ones."""
    plain = " ".join(unicodedata.normalize("NFC", text).split())
    known = [font.cmap for font in pdf.fonts.values() if hasattr(font, "cmap")]
    kept = (letter for letter in plain if unicodedata.category(letter) not in ("Cc", "Cf"))
    return "".join(letter if any(ord(letter) in one for one in known) else NO_SUCH_LETTER for letter in kept)


def lines_that_fit(
    pdf: FPDF, text: str, width_mm: float, most: int, sizes_pt: tuple[float, ...], style: str = ""
) -> tuple[float, list[str]]:
    """Return the largest of the sizes of type [pt] at which a text fits into some lines, and the lines for the eye.

    At the smallest size what is too long is cut, with a sign that it was.
    """
    plain = printable(pdf, text)
    lines: list[str] = []
    for size_pt in sizes_pt:
        pdf.set_font(TYPE, style, size_pt)
        lines = wrapped(pdf, plain, width_mm)
        if len(lines) <= most:
            return size_pt, [as_printed(line) for line in lines]
    last = lines[most - 1]
    while pdf.get_string_width(last + CUT) > width_mm:
        last = last[:-1]
    return sizes_pt[-1], [as_printed(line) for line in (*lines[: most - 1], last + CUT)]


def wrapped(pdf: FPDF, text: str, width_mm: float) -> list[str]:
    """Return a text in lines not wider than ``width_mm``; a word that is too long alone is parted."""
    lines, line = [], ""
    for word in text.split(" "):
        longer = f"{line} {word}".strip()
        if pdf.get_string_width(longer) <= width_mm:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while pdf.get_string_width(line) > width_mm:
            part = next(n for n in range(len(line) - 1, 0, -1) if n == 1 or pdf.get_string_width(line[:n]) <= width_mm)
            lines.append(line[:part])
            line = line[part:]
    return [*lines, line]
