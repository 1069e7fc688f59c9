"""Writes an instructor's exercise as a pool (TOML), out of plain choices as a form gives them; it is read back at once.

What can be chosen has the names that a pool's entries have (:mod:`engine_sim.scenarios.reader`).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from engine_sim.errors import BadScenario, UnknownName
from engine_sim.scenarios.own_boat import toml_value
from engine_sim.scenarios.reader import Draw, Pool, read_pool, shipped_exercises

LONGEST_NAME, LONGEST_TITLE, LONGEST_STORY = 32, 80, 1500
LEAST_MINUTES, MOST_MINUTES = 5, 240
_NAME = re.compile(r"[a-z][a-z0-9_]*")
_TEXTS = ("title", "story")
_USUAL: Mapping[str, object] = {
    "version": 1,
    "title": "An engine in trouble",
    "story": "Find out why, cure it, leave everything shut, tight and clean, and hand in.",
    "layout": "tank_below",
    "permits_xray": False,
    "help_most": "check",
    "minutes": 30,
}
"""What an exercise is where nothing was chosen."""
_MAY_BE_LEFT_OUT = ("temperature_c", "seaway", "heel_deg", "pitch_deg", "tank_fill_share", "lee_shore_min", "number")
_CHOICES = ("id", *_USUAL, *_MAY_BE_LEFT_OUT, "objectives", "draw")
_OF_A_DRAW = ("fault", "parts", "severities")


def write_pool_text(choices: Mapping[str, object]) -> str:
    """Return the text of an own exercise; ``choices`` are as a pool's entries, ``draw`` a list of such.

    What is left out, or None, is as usual. An own exercise always needs a ticket.

    >>> draw = [{"fault": "slack_joint", "parts": ["pump_joint"], "severities": [1.2e-8, 2e-8]}]
    >>> read_pool(write_pool_text({"id": "air_again", "draw": draw})).draws[0].possible_severity
    (1.2e-08, 2e-08)

    Raises BadScenario, OutOfRange or UnknownName, in sentences, for what cannot be.
    """
    given = {name: value for name, value in choices.items() if value is not None}
    for name in given:
        if name not in _CHOICES:
            raise UnknownName("choice of an exercise", str(name), _CHOICES)
    check_own_name(given.get("id"))
    for name in _TEXTS:
        _check_text(name, given.get(name, _USUAL[name]))
    _check_minutes(given.get("minutes", _USUAL["minutes"]))
    text = _written(dict(_USUAL) | given)
    if not read_pool(text).draws:
        raise BadScenario("An exercise needs a fault that can be drawn, and none was chosen. Choose at least one.")
    return text


def choices_of(pool: Pool) -> dict[str, Any]:
    """Return the choices that an exercise was written from, to change them; its version is left to who saves it."""
    weather = {name: getattr(pool.weather, name) for name in ("temperature_c", "seaway", "heel_deg", "pitch_deg")}
    plain = {name: getattr(pool, name) for name in ("id", *_USUAL, "tank_fill_share", "lee_shore_min", "number")}
    return {
        **plain,
        **weather,
        "objectives": list(pool.objectives),
        "draw": [_choices_of_draw(draw) for draw in pool.draws],
    }


def _choices_of_draw(draw: Draw) -> dict[str, Any]:
    also = {"also": [_choices_of_draw(more) for more in draw.also]} if draw.also else {}
    return {"fault": draw.fault, "parts": list(draw.parts), "severities": list(draw.possible_severity), **also}


def check_own_name(name: object) -> str:
    """Return the name of an own exercise; raise BadScenario where it cannot be one, or is one of the course's."""
    allowed = f"a to z, figures and _, a letter first, {LONGEST_NAME} at most, as in air_again"
    if not isinstance(name, str) or not _NAME.fullmatch(name) or len(name) > LONGEST_NAME:
        raise BadScenario(f"The exercise's short name was given as {name!r}; allowed: {allowed}. Choose such a name.")
    if name in shipped_exercises():
        raise BadScenario(f"The course has an exercise called {name!r} itself. Choose another short name for yours.")
    return name


def _check_text(name: str, text: object) -> None:
    most = LONGEST_TITLE if name == "title" else LONGEST_STORY
    if not isinstance(text, str) or not text.strip() or len(text) > most:
        long = f"{len(text)} letters" if isinstance(text, str) else repr(text)
        raise BadScenario(f"The exercise's {name} was given with {long}; allowed are 1 to {most} letters. Change it.")
    strange = next((letter for letter in text if not letter.isprintable() and (letter, name) != ("\n", "story")), "")
    if strange:
        raise BadScenario(f"The exercise's {name} holds {strange!r}, which cannot be printed. Take it out.")


def _check_minutes(minutes: object) -> None:
    if not isinstance(minutes, int) or isinstance(minutes, bool) or not LEAST_MINUTES <= minutes <= MOST_MINUTES:
        raise BadScenario(
            f"The exercise's minutes were given as {minutes!r}; allowed are whole minutes from {LEAST_MINUTES} to "
            f"{MOST_MINUTES}. Say about how long a learner takes."
        )


def _written(choices: Mapping[str, Any]) -> str:
    """Return the choices as TOML: what holds for the whole exercise, then each draw with what comes with it."""
    head = ("id", *_USUAL, *_MAY_BE_LEFT_OUT, "objectives")
    lines = [f"{name} = {_value(choices[name])}" for name in head if name in choices]
    lines.append("needs_ticket = true")
    for draw in _tables(choices.get("draw", [])):
        lines += ["", "[[draw]]", *_entries(draw)]
        for also in _tables(draw.get("also") or []):
            lines += ["", "[[draw.also]]", *_entries(also)]
    return "\n".join((*lines, ""))


def _tables(given: object) -> list[Mapping[str, Any]]:
    if not isinstance(given, list | tuple) or not all(isinstance(one, Mapping) for one in given):
        raise BadScenario(f"The faults were given as {given!r}; each must name a fault, its parts and severities.")
    for one in given:
        for name in one:
            if name not in (*_OF_A_DRAW, "also"):
                raise UnknownName("choice of a fault", str(name), (*_OF_A_DRAW, "also"))
    return list(given)


def _entries(draw: Mapping[str, Any]) -> list[str]:
    """Return one fault's entries; what is left out, or empty, is as usual: every place, its usual severity."""
    kept = {name: draw[name] for name in _OF_A_DRAW if draw.get(name) not in (None, [], ())}
    return [f"{name} = {_value(value)}" for name, value in kept.items()]


def _value(value: object) -> str:
    if isinstance(value, tuple):
        value = list(value)
    if not isinstance(value, str | bool | int | float | list):
        raise BadScenario(f"{value!r} was given where a text, a number or a list of such belongs. Change it.")
    return toml_value(value)
