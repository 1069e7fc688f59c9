"""Boats of the shipped exercises with a chosen fault, and tickets that draw one, for the marking tests."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from engine_sim.errors import BadTicket
from engine_sim.marking import MarkingScheme, default_scheme
from engine_sim.scenarios import Scenario, check_ticket, draw_scenario, graded_exercises, pool

EXERCISE = "no_start_harbour"
ALPHABET = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
POOLS = graded_exercises()
"""Every graded exercise."""


@cache
def scheme_of(exercise: str) -> MarkingScheme:
    """Return the scheme by which a shipped exercise is marked."""
    return default_scheme()


def places_of(exercise: str) -> tuple[tuple[str, str], ...]:
    """Return what an exercise can draw, as pairs of fault and part."""
    return tuple((draw.fault, part) for draw in pool(exercise).draws for part in draw.parts)


SCHEME: MarkingScheme = scheme_of(EXERCISE)
PLACES = places_of(EXERCISE)


def all_tickets() -> Iterator[str]:
    """Yield sound tickets, always the same ones in the same order."""
    for number in range(32**3):
        body = "".join(ALPHABET[number // 32**place % 32] for place in (2, 1, 0)) + "WXYZ"
        for last in ALPHABET:
            try:
                yield check_ticket(body + last)
            except BadTicket:
                continue


def tickets_for(fault: str, part: str, exercise: str = EXERCISE) -> Iterator[str]:
    """Yield the tickets that draw this fault at this part."""
    for ticket in all_tickets():
        wrong = draw_scenario(exercise, ticket).faults[0]
        if (wrong.fault, wrong.part) == (fault, part):
            yield ticket


@cache
def ticket_for(fault: str, part: str, exercise: str = EXERCISE) -> str:
    """Return the first ticket that draws this fault at this part."""
    return next(tickets_for(fault, part, exercise))


def boat(fault: str, part: str, exercise: str = EXERCISE) -> Scenario:
    """Return an exercise as drawn with this fault."""
    return draw_scenario(exercise, ticket_for(fault, part, exercise))
