"""Names of any script on paper: Latin, Greek and Cyrillic as they come, right-to-left ones in the order of the eye.

The course's type has no Hebrew or Arabic letters; those come from the open type that the pictures' library carries.
"""

from __future__ import annotations

import importlib.util
import unicodedata
from functools import lru_cache
from pathlib import Path

from fpdf import FPDF
from fpdf.bidi import BidiParagraph

from engine_sim.classroom.feedback_pdf import TYPE

OTHER_TYPE = "other"
OTHER_FILES = {"": "DejaVuSans.ttf", "B": "DejaVuSans-Bold.ttf"}
RIGHT_TO_LEFT = frozenset({"R", "AL"})
CUT = "\u2026"
NO_SUCH_LETTER = "?"


def with_other_letters(pdf: FPDF) -> None:
    """Let a PDF take letters that the course's type lacks from the other one, where that is there."""
    for style, name in OTHER_FILES.items():
        place = other_type_file(name)
        if place is not None:
            pdf.add_font(OTHER_TYPE, style, str(place))
    if other_type_file(OTHER_FILES[""]) is not None:
        pdf.set_fallback_fonts([OTHER_TYPE], exact_match=False)


@lru_cache(maxsize=4)
def other_type_file(name: str) -> Path | None:
    """Return where a file of the other type lies, or None."""
    found = importlib.util.find_spec("matplotlib")
    folders = [Path(folder) for folder in (found.submodule_search_locations or ())] if found else []
    places = [folder / "mpl-data" / "fonts" / "ttf" / name for folder in folders]
    return next((place for place in places if place.is_file()), None)


def printable(pdf: FPDF, text: str) -> str:
    """Return a text with a question mark for each letter that no type has; blanks of all kinds become single ones."""
    plain = " ".join(unicodedata.normalize("NFC", text).split())
    known = [font.cmap for font in pdf.fonts.values() if hasattr(font, "cmap")]
    kept = (letter for letter in plain if unicodedata.category(letter) not in ("Cc", "Cf"))
    return "".join(letter if any(ord(letter) in one for one in known) else NO_SUCH_LETTER for letter in kept)


def for_the_eye(text: str) -> str:
    """Return one line as its letters stand from left to right; Arabic letters are joined as in writing."""
    if not any(unicodedata.bidirectional(letter) in RIGHT_TO_LEFT for letter in text):
        return text
    return str(BidiParagraph(joined(text)).get_reordered_string())


@lru_cache(maxsize=1)
def joining_forms() -> dict[str, dict[str, str]]:
    """Return, for each Arabic letter, its forms by where they stand (isolated, initial, medial, final)."""
    forms: dict[str, dict[str, str]] = {}
    for code in range(0xFE80, 0xFEFD):
        kind, *letters = unicodedata.decomposition(chr(code)).split()
        if len(letters) == 1:
            forms.setdefault(chr(int(letters[0], 16)), {})[kind.strip("<>")] = chr(code)
    return forms


def joined(text: str) -> str:
    """Return Arabic letters in the forms in which they join their neighbours; everything else as it is."""
    forms = joining_forms()
    said = []
    for index, letter in enumerate(text):
        own = forms.get(letter, {})
        before = index > 0 and "initial" in forms.get(text[index - 1], {}) and "final" in own
        after = index + 1 < len(text) and "final" in forms.get(text[index + 1], {}) and "initial" in own
        where = {(True, True): "medial", (True, False): "final", (False, True): "initial"}.get(
            (before, after), "isolated"
        )
        said.append(own.get(where, letter))
    return "".join(said)


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
            return size_pt, [for_the_eye(line) for line in lines]
    last = lines[most - 1]
    while pdf.get_string_width(last + CUT) > width_mm:
        last = last[:-1]
    return sizes_pt[-1], [for_the_eye(line) for line in (*lines[: most - 1], last + CUT)]


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
