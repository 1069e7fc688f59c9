"""Gives a marking scheme other weights: the parts of a mark follow in proportion, all else stays as written."""

from __future__ import annotations

from collections.abc import Mapping

import tomlkit
from tomlkit.items import Table

from engine_sim.marking.scheme import MarkingScheme, parse_marking_scheme, parts_of_mark
from engine_sim.marking.scheme_sections import MARK_NAMES, TITLES, BadMarkingScheme, Limit

CHOOSABLE = Limit(1.0, 100.0, 0.5)
"""What a mark may weigh where an instructor chooses it [points]; judgement."""
_DIGITS = 10


def reweighed(text: str, exercise: str, weights: Mapping[str, float]) -> str:
    """Return the text of a scheme (TOML) for one exercise with the given weights [points]; others stay as they are.

    Comments and all other numbers stay. Raises BadMarkingScheme for a weight that cannot be, and for a text that was
    no scheme.
    """
    before = parse_marking_scheme(text)
    document = tomlkit.parse(text)
    document["exercise"] = exercise
    for name, weight in weights.items():
        check_weight(name, weight)
        _table(document, "weights")[name] = float(weight)
        for part in parts_of_mark(name):
            _table(document, name)[part] = _points_of(before, name, part, weight)
    written = tomlkit.dumps(document)
    parse_marking_scheme(written, exercise)
    return written


def check_weight(name: str, weight: float) -> None:
    """Raise BadMarkingScheme where a mark is none of the five, or cannot weigh so much."""
    if name not in MARK_NAMES:
        raise BadMarkingScheme(f"{name!r} is no mark. There are {', '.join(MARK_NAMES)}.")
    if not CHOOSABLE.allows(weight):
        raise BadMarkingScheme(
            f"{TITLES[name]} was given {weight:g} points; a mark may have {CHOOSABLE.words()}. Change that number."
        )


def _points_of(before: MarkingScheme, name: str, part: str, weight: float) -> float:
    """Return what a part of a mark is worth when the whole of it gets another weight [points]."""
    whole = before.weights.of(name)
    if not whole:
        return weight / len(parts_of_mark(name))
    return round(float(getattr(getattr(before, name), part)) * weight / whole, _DIGITS)


def _table(document: tomlkit.TOMLDocument, name: str) -> Table:
    found = document[name]
    assert isinstance(found, Table)
    return found
