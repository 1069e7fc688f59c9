"""The roster: who is in the class, and which ticket each learner has."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from engine_sim.classroom.course_root import ClassroomError, write_file
from engine_sim.errors import BadTicket
from engine_sim.scenarios import check_ticket, new_ticket

COLUMNS = ("learner_id", "first_name", "last_name", "ticket")
LONGEST_ID = 64
MARKS_ALLOWED_IN_ID = "._-@"
EXAMPLE = (
    ("maud", "Maud", "Ankerberg"),
    ("pieter", "Pieter", "Sandoy"),
    ("ines", "Inês", "Valmar"),
)


class RosterError(ClassroomError):
    """The roster cannot be used; the message lists every line that needs a change."""


@dataclass(frozen=True, slots=True)
class Learner:
    """One line of the roster."""

    learner_id: str
    first_name: str
    last_name: str
    ticket: str


@dataclass(frozen=True, slots=True)
class Roster:
    """All lines of a roster, by learner id, with the columns an instructor may have added."""

    columns: tuple[str, ...]
    rows: tuple[dict[str, str], ...]

    @property
    def learners(self) -> dict[str, Learner]:
        """The learners by id, in the order of the file."""
        found = (Learner(*(row[name] for name in COLUMNS)) for row in self.rows)
        return {learner.learner_id: learner for learner in found}


def parse_roster(text: str, where: str) -> Roster:
    """Read a roster from CSV text; raises :class:`RosterError` naming every bad line."""
    reader = csv.reader(io.StringIO(text.lstrip("\ufeff"), newline=""))
    lines = [(reader.line_num, [value.strip() for value in line]) for line in reader if any(v.strip() for v in line)]
    columns = tuple(lines[0][1]) if lines else ()
    missing = [name for name in COLUMNS if name not in columns]
    if missing:
        raise RosterError(
            f"{where}: the first line must name the columns {', '.join(COLUMNS)}; missing: {', '.join(missing)}."
        )
    rows = [(number, dict(zip(columns, line + [""] * len(columns), strict=False))) for number, line in lines[1:]]
    troubles = list(find_troubles(rows))
    if troubles:
        raise RosterError(f"{where} needs a change:\n" + "\n".join(f"  {trouble}" for trouble in troubles))
    return Roster(columns, tuple(row for _, row in rows))


def find_troubles(rows: Iterable[tuple[int, dict[str, str]]]) -> Iterable[str]:
    """Yield one sentence for each line that cannot stay as it is."""
    ids: dict[str, int] = {}
    tickets: dict[str, int] = {}
    for number, row in rows:
        learner, ticket = row["learner_id"], row["ticket"]
        if not is_learner_id(learner):
            yield (
                f"line {number}: learner_id {learner!r} cannot be used. Allowed: up to {LONGEST_ID} letters, figures "
                f"and {MARKS_ALLOWED_IN_ID}, beginning with a letter or figure."
            )
        elif learner.casefold() in ids:
            yield f"line {number}: learner_id {learner!r} is already on line {ids[learner.casefold()]}. Give another."
        ids.setdefault(learner.casefold(), number)
        if ticket:
            yield from find_ticket_troubles(number, ticket, tickets)


def find_ticket_troubles(number: int, ticket: str, tickets: dict[str, int]) -> Iterable[str]:
    """Yield a sentence when a ticket does not read as one or is on an earlier line; remembers it in ``tickets``."""
    plain = same_ticket_form(ticket)
    if plain is None:
        yield f"line {number}: {ticket!r} does not read as a ticket. Type it again, or empty it to get a new one."
    elif plain in tickets:
        yield f"line {number}: ticket {ticket!r} is already on line {tickets[plain]}. Empty it to get a new one."
    else:
        tickets[plain] = number


def is_learner_id(text: str) -> bool:
    """Say whether a text can name a learner and a folder."""
    if not 0 < len(text) <= LONGEST_ID or not text[0].isalnum():
        return False
    return all(letter.isalnum() or letter in MARKS_ALLOWED_IN_ID for letter in text)


def same_ticket_form(ticket: str) -> str | None:
    """Return a ticket in the one form in which two can be compared, or None when it does not read as one."""
    try:
        return str(check_ticket(ticket))
    except BadTicket:
        return None


def read_roster(place: Path) -> Roster:
    """Read the roster file; raises :class:`RosterError` when it is missing or needs a change."""
    try:
        text = place.read_text(encoding="utf-8-sig")
    except FileNotFoundError as error:
        raise RosterError(f"{place} is missing. Make it with: fuelcourse teach {place.parent}") from error
    except UnicodeDecodeError as error:
        raise RosterError(f"{place} is not text in UTF-8. Save it again as CSV in UTF-8.") from error
    return parse_roster(text, str(place))


def write_roster(place: Path, roster: Roster) -> None:
    """Write the roster file, whole or not at all, for its owner only."""
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, roster.columns, extrasaction="ignore", lineterminator="\n")
    writer.writeheader()
    writer.writerows(roster.rows)
    write_file(place, text.getvalue().encode("utf-8"))


def fill_tickets(roster: Roster, draw: Callable[[], str] = new_ticket) -> Roster:
    """Return the roster with a ticket for everyone who has none; given ones stay, and none is given twice."""
    taken = {same_ticket_form(row["ticket"]) for row in roster.rows}
    rows = []
    for row in roster.rows:
        ticket = row["ticket"]
        while not ticket or (not row["ticket"] and same_ticket_form(ticket) in taken):
            ticket = draw()
        taken.add(same_ticket_form(ticket))
        rows.append({**row, "ticket": ticket})
    return Roster(roster.columns, tuple(rows))


def example_roster() -> Roster:
    """Return a roster of invented learners without tickets."""
    return Roster(COLUMNS, tuple(dict(zip(COLUMNS, (*line, ""), strict=True)) for line in EXAMPLE))
