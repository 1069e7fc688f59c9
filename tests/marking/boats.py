"""Boats with a chosen fault, and tickets that draw one, for the marking tests."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from learners import KINDS

from engine_sim.attempt import Attempt
from engine_sim.errors import BadTicket
from engine_sim.marking import MarkingScheme, load_marking_scheme
from engine_sim.marking.mark import mark_work
from engine_sim.marking.marksheet import Mark, is_passed
from engine_sim.scenarios import Scenario, check_ticket, draw_scenario, pool

EXERCISE = "no_start_harbour"
ALPHABET = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
SCHEME: MarkingScheme = load_marking_scheme(Path(__file__).parents[2] / f"instructors/scenarios/{EXERCISE}.toml")
PLACES: tuple[tuple[str, str], ...] = tuple((draw.fault, part) for draw in pool(EXERCISE).draws for part in draw.parts)


def all_tickets():
    """Yield sound tickets, always the same ones in the same order."""
    for number in range(32**3):
        body = "".join(ALPHABET[number // 32**place % 32] for place in (2, 1, 0)) + "WXYZ"
        for last in ALPHABET:
            try:
                yield check_ticket(body + last)
            except BadTicket:
                continue


def tickets_for(fault: str, part: str):
    """Yield the tickets that draw this fault at this part."""
    for ticket in all_tickets():
        wrong = draw_scenario(EXERCISE, ticket).faults[0]
        if (wrong.fault, wrong.part) == (fault, part):
            yield ticket


@cache
def ticket_for(fault: str, part: str) -> str:
    """Return the first ticket that draws this fault at this part."""
    return next(tickets_for(fault, part))


def boat(fault: str, part: str) -> Scenario:
    """Return the exercise as drawn with this fault."""
    return draw_scenario(EXERCISE, ticket_for(fault, part))


@cache
def marks_of(kind: str, fault: str, part: str) -> dict[str, Mark]:
    """Return the marks of a kind of learner on a boat; played once a session."""
    scenario = boat(fault, part)
    attempt = Attempt(scenario)
    KINDS[kind](attempt)
    marks, _ = mark_work(scenario, attempt.steps, attempt.diagnosis, SCHEME)
    return marks


def total(kind: str, fault: str, part: str) -> float:
    """Return the three marks together [points]."""
    return sum(mark.score for mark in marks_of(kind, fault, part).values())


def passes(kind: str, fault: str, part: str) -> bool:
    """Say whether a kind of learner passes on a boat."""
    return is_passed(marks_of(kind, fault, part), SCHEME)
