"""The words that stand on a drawing of the boat, beside the names of its parts."""

from __future__ import annotations

DRAWING_WORDS: dict[str, str] = {
    "start": "The fuel system of a small marine diesel, from the tank to the injectors.",
    "injectors": "injectors",
    "waterline": "waterline",
}
