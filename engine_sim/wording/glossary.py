"""The glossary: one thing, one name, what it means, and what it is called elsewhere; kept as a table beside this."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

GLOSSARY_FILE = "glossary.csv"


@dataclass(frozen=True, slots=True)
class Entry:
    """One name: the kinds of part that bear it, what it means in a sentence, its other names in the trade.

    ``not_to_be_called`` are the words that the course leaves alone, those other names among them.
    """

    name: str
    kinds: tuple[str, ...]
    means: str
    also_called: tuple[str, ...]
    not_to_be_called: tuple[str, ...]


@cache
def glossary() -> tuple[Entry, ...]:
    """Return every entry, in the order of the fuel's way."""
    text = files("engine_sim.wording").joinpath(GLOSSARY_FILE).read_text("utf-8")
    return tuple(
        Entry(
            row["name"], _words(row["kinds"]), row["means"], _words(row["also called"]), _words(row["not to be called"])
        )
        for row in csv.DictReader(text.splitlines())
    )


def _words(text: str) -> tuple[str, ...]:
    return tuple(word for word in text.split("|") if word)
