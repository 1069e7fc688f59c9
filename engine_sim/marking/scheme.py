"""The marking scheme of one exercise: weights, limits, engine test and pass line, read from a TOML file.

The usual scheme, ``usual.toml`` beside this file, marks every exercise that has none of its own.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path

from engine_sim.marking.scheme_sections import (
    MARK_NAMES,
    TITLES,
    BadMarkingScheme,
    CureScheme,
    DiagnosisScheme,
    EngineTest,
    HousekeepingScheme,
    Limits,
    MethodScheme,
    PassLine,
    SafetyScheme,
    Section,
    Weights,
    check_names,
)

__all__ = [
    "EVERY",
    "MARK_NAMES",
    "SCHEME_VERSION",
    "TITLES",
    "BadMarkingScheme",
    "CureScheme",
    "DiagnosisScheme",
    "EngineTest",
    "HousekeepingScheme",
    "Limits",
    "MarkingScheme",
    "MethodScheme",
    "PassLine",
    "SafetyScheme",
    "Weights",
    "default_scheme",
    "load_marking_scheme",
    "parse_marking_scheme",
    "usual_scheme_file",
]

SCHEME_VERSION = 2
EVERY = "every"
"""What a scheme that marks any exercise gives as its exercise."""


@dataclass(frozen=True, slots=True)
class MarkingScheme:
    """Everything an instructor decides about the marks of one exercise."""

    exercise: str
    scheme_version: int
    weights: Weights
    safety: SafetyScheme
    method: MethodScheme
    diagnosis: DiagnosisScheme
    cure: CureScheme
    housekeeping: HousekeepingScheme
    engine_test: EngineTest
    limits: Limits
    pass_line: PassLine


SECTIONS: Mapping[str, type[Section]] = {
    "weights": Weights,
    "safety": SafetyScheme,
    "method": MethodScheme,
    "diagnosis": DiagnosisScheme,
    "cure": CureScheme,
    "housekeeping": HousekeepingScheme,
    "engine_test": EngineTest,
    "limits": Limits,
    "pass_line": PassLine,
}


_NO_POINTS = {"diagnosis": "least_telling_share", "cure": "not_started_share", "housekeeping": "uncured_share"}
"""Marks whose sections hold points that add up to the weight, and the one number in each that is none of them."""


def parts_of_mark(name: str) -> tuple[str, ...]:
    """Return which numbers of a mark's section add up to its weight; none where it is not made of such parts."""
    return tuple(one for one in SECTIONS[name].limits if one != _NO_POINTS[name]) if name in _NO_POINTS else ()


def check_sum(where: str, section: Section, names: tuple[str, ...], weight: float) -> None:
    """Refuse a section whose points do not add up to its weight."""
    total = sum(float(getattr(section, name)) for name in names)
    if not math.isclose(total, weight, abs_tol=1e-9):
        raise BadMarkingScheme(
            f"{where}: {' + '.join(names)} make {total:g}, but the weight is {weight:g}. Make them equal."
        )


def parse_marking_scheme(text: str, where: str = "marking scheme") -> MarkingScheme:
    """Read a scheme from TOML text; ``where`` names it in errors. Raises :class:`BadMarkingScheme`."""
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadMarkingScheme(f"{where}: this is not sound TOML: {error}. Mend that line.") from error
    check_names(where, document, {field.name: None for field in fields(MarkingScheme)})
    exercise, version = document["exercise"], document["scheme_version"]
    if not isinstance(exercise, str) or not exercise:
        raise BadMarkingScheme(f"{where}: exercise was given as {exercise!r}; give the exercise's name in quotes.")
    if version != SCHEME_VERSION or isinstance(version, bool):
        raise BadMarkingScheme(
            f"{where}: scheme_version was given as {version!r}; this version reads {SCHEME_VERSION}."
        )
    parts = {name: kind.read(f"{where}, [{name}]", document[name]) for name, kind in SECTIONS.items()}
    scheme = MarkingScheme(exercise, int(version), **parts)  # type: ignore[arg-type]
    for name in _NO_POINTS:
        check_sum(f"{where}, [{name}]", parts[name], parts_of_mark(name), scheme.weights.of(name))
    return scheme


def load_marking_scheme(path: str | Path) -> MarkingScheme:
    """Read the scheme file at ``path``. Raises :class:`BadMarkingScheme` when it is missing or cannot be used."""
    place = Path(path)
    try:
        text = place.read_text(encoding="utf-8")
    except OSError as error:
        raise BadMarkingScheme(f"{place}: cannot be read ({error.strerror}). Name a marking scheme file.") from error
    except UnicodeDecodeError as error:
        raise BadMarkingScheme(f"{place}: is not text in UTF-8. Name a marking scheme file.") from error
    return parse_marking_scheme(text, str(place))


def usual_scheme_file() -> Path:
    """Return the file of the usual scheme."""
    return Path(__file__).with_name("usual.toml")


@cache
def default_scheme() -> MarkingScheme:
    """Return the usual scheme.

    >>> default_scheme().weights.method
    10.0
    """
    return load_marking_scheme(usual_scheme_file())
