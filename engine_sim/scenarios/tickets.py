"""Tickets: a short code that fixes a learner's draw, with a check character against slips of the pen.

Seven characters and one check character by the Luhn mod N rule, written as two groups of four.
"""

from __future__ import annotations

import secrets

from engine_sim.errors import BadTicket

ALPHABET = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Letters and digits that cannot be taken for one another (no 0, 1, I, O)."""

_LENGTH = 8
_GROUP = 4


def new_ticket() -> str:
    """Return a fresh random ticket."""
    body = "".join(secrets.choice(ALPHABET) for _ in range(_LENGTH - 1))
    return _grouped(body + _check_character(body))


def check_ticket(given: str) -> str:
    """Return a ticket in its plain form, whatever case, blanks and dashes it came in; raise BadTicket if it is none."""
    plain = "".join(character for character in str(given).upper() if character not in " -\t\n\r")
    if len(plain) != _LENGTH or any(character not in ALPHABET for character in plain):
        raise BadTicket(
            f"{str(given)[:40]!r} is not a ticket: a ticket has {_LENGTH} letters and digits in two groups, "
            "without 0, 1, I and O. Read it again from the slip."
        )
    if _check_character(plain[:-1]) != plain[-1]:
        raise BadTicket(
            f"The ticket {_grouped(plain)!r} is mistyped. Compare it with your slip of paper, letter by letter."
        )
    return _grouped(plain)


def _grouped(plain: str) -> str:
    return f"{plain[:_GROUP]}-{plain[_GROUP:]}"


def _check_character(body: str) -> str:
    """Return the Luhn mod N check character of a ticket's body."""
    base, total = len(ALPHABET), 0
    for place, character in enumerate(reversed(body)):
        code = ALPHABET.index(character) * (2 if place % 2 == 0 else 1)
        total += code // base + code % base
    return ALPHABET[-total % base]
