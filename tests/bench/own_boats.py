"""Own boats as a form may describe them: every one there can be, and a few in which every two answers meet."""

from __future__ import annotations

import itertools
from functools import cache

from engine_sim.scenarios.own_boat import OwnBoat, blank_answers, boat_from
from engine_sim.scenarios.own_layout import layout_text
from engine_sim.wording import OWN_CHOICES

NAME = "Saltwind"
Answers = dict[str, str]


def boat_with(**answers: str) -> OwnBoat:
    """Return the commonest boat with some answers of its own."""
    return boat_from(blank_answers() | {"name": NAME} | answers)


@cache
def every() -> tuple[Answers, ...]:
    """Return every combination of what can be chosen."""
    return tuple(dict(zip(OWN_CHOICES, some, strict=True)) for some in itertools.product(*OWN_CHOICES.values()))


@cache
def layouts() -> dict[str, Answers]:
    """Return the text of every layout that the form can give, each with one set of answers that gives it."""
    found: dict[str, Answers] = {}
    for answers in every():
        found.setdefault(layout_text(boat_with(**answers)), answers)
    return found


@cache
def a_few() -> tuple[Answers, ...]:
    """Return a few boats among which every two answers to two questions are found together."""
    pairs = list(itertools.combinations(OWN_CHOICES, 2))
    left = {((a, x), (b, y)) for a, b in pairs for x in OWN_CHOICES[a] for y in OWN_CHOICES[b]}
    found = []
    while left:
        best = max(every(), key=lambda answers: len(left & set(itertools.combinations(answers.items(), 2))))
        left -= set(itertools.combinations(best.items(), 2))
        found.append(best)
    return tuple(found)


def named(answers: Answers) -> str:
    """Return a boat's answers as the name of a test."""
    return "-".join(answers.values())
