"""Names written from right to left, put in the order and the joined letters in which they are printed.

The maker of PDFs sets one letter after the other from the left. A browser does all of this by itself.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

from fpdf.bidi import BidiParagraph

_RANGES = (range(0xFB50, 0xFBC0), range(0xFE80, 0xFEFD))
"""Where the joined forms of Arabic letters stand in Unicode (presentation forms A and B)."""
_RIGHT_TO_LEFT = ("R", "AL")


def as_printed(text: str) -> str:
    """Return a text in the order in which its letters stand on paper, from the left; most stay as they are."""
    if not any(unicodedata.bidirectional(letter) in _RIGHT_TO_LEFT for letter in text):
        return text
    return str(BidiParagraph(text=joined(text)).get_reordered_string())


def joined(text: str) -> str:
    """Return a text with each Arabic letter in the form that its neighbours ask for."""
    forms = _forms()
    found: list[str] = []
    place, joins = 0, False
    while place < len(text):
        many = 2 if text[place : place + 2] in forms else 1
        own = forms.get(text[place : place + many], {})
        follows = _joins_back(text[place + many :]) and "initial" in own
        before, joins = joins and "final" in own, follows if not unicodedata.combining(text[place]) else joins
        kind = ("medial" if follows else "final") if before else ("initial" if follows else "isolated")
        found.append(own.get(kind, text[place : place + many]))
        place += many
    return "".join(found)


def _joins_back(rest: str) -> bool:
    """Say whether the next letter, marks over and under letters left out, joins to the one before it."""
    letter = next((one for one in rest if not unicodedata.combining(one)), "")
    return "final" in _forms().get(letter, {})


@lru_cache(maxsize=1)
def _forms() -> dict[str, dict[str, str]]:
    """Return the forms of each Arabic letter, and of the pairs that are one letter, by how they are joined."""
    found: dict[str, dict[str, str]] = {}
    for code in (code for many in _RANGES for code in many):
        kind, *letters = unicodedata.decomposition(chr(code)).split() or [""]
        base = "".join(chr(int(letter, 16)) for letter in letters)
        if kind.startswith("<") and base and " " not in base:
            found.setdefault(base, {})[kind.strip("<>")] = chr(code)
    return found
