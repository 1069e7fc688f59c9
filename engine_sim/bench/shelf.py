"""The files of one exercise beside its notebook: the ticket in use, the logbook, and earlier logbooks put by.

Nothing is ever deleted: an earlier logbook keeps its ticket in its name, and comes back when that ticket is used again.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from engine_sim.attempt import read_logbook

_PRACTICE = "practice"
_READ_LIMIT_BYTES = 1000


@dataclass(frozen=True, slots=True)
class KnownTicket:
    """A ticket in use: what it reads, and whether the learner drew it to practise."""

    text: str
    practice: bool


class Shelf:
    """Where one exercise keeps its files; it writes nothing while a hand-in is being graded."""

    def __init__(self, exercise: str, folder: str | Path) -> None:
        self.exercise = exercise
        self.folder = Path(folder)

    @property
    def ticket_path(self) -> Path:
        """The file that says which ticket is in use."""
        return self.folder / f"{self.exercise}.ticket"

    @property
    def logbook_path(self) -> Path:
        """The logbook that is handed in."""
        return self.folder / f"{self.exercise}.logbook.jsonl"

    def known(self) -> KnownTicket | None:
        """Return the ticket in use: from its file, or else from the logbook's first line."""
        words = self._ticket_words()
        if words:
            return KnownTicket(words[0], words[1:] == [_PRACTICE])
        from_logbook = self.logbook_ticket()
        return KnownTicket(from_logbook, False) if from_logbook else None

    def logbook_ticket(self) -> str | None:
        """Return the ticket in the logbook's first line; ``None`` without a logbook or where the line is unsound."""
        if not self.logbook_path.is_file():
            return None
        header = read_logbook(self.logbook_path.read_bytes()).header
        return str(header["ticket"]) if header is not None else None

    def _ticket_words(self) -> list[str]:
        if not self.ticket_path.is_file():
            return []
        with self.ticket_path.open("rb") as file:
            return file.read(_READ_LIMIT_BYTES).decode("utf-8", "replace").split()

    def remember(self, ticket: KnownTicket) -> None:
        """Write down which ticket is in use, all at once or not at all."""
        if being_graded():
            return
        beside = self.ticket_path.with_name(self.ticket_path.name + ".new")
        beside.write_text(f"{ticket.text} {_PRACTICE if ticket.practice else ''}".strip() + "\n", encoding="utf-8")
        os.replace(beside, self.ticket_path)

    def put_by(self) -> str:
        """Keep the logbook under a name with its ticket in it and return that name; empty when there was none."""
        if being_graded() or not self.logbook_path.is_file():
            return ""
        ticket = self.logbook_ticket()
        kept = self._free_name("unread" if ticket is None else ticket)
        os.replace(self.logbook_path, kept)
        return kept.name

    def bring_back(self, ticket: str) -> bool:
        """Put the newest logbook kept for this ticket back in use; say whether there was one."""
        kept = self._kept(ticket)
        if being_graded() or not kept or self.logbook_path.exists():
            return False
        os.replace(kept[-1], self.logbook_path)
        return True

    def _name(self, ticket: str, number: int) -> Path:
        return self.folder / f"{self.exercise}.kept-{ticket or 'lesson'}-{number}.logbook.jsonl"

    def _kept(self, ticket: str) -> list[Path]:
        found: list[Path] = []
        while (path := self._name(ticket, len(found) + 1)).exists():
            found.append(path)
        return found

    def _free_name(self, ticket: str) -> Path:
        return self._name(ticket, len(self._kept(ticket)) + 1)


def being_graded() -> bool:
    """Say whether this is nbgrader's own pass over a hand-in, in which nothing may be written."""
    return os.environ.get("NBGRADER_EXECUTION") == "autograde"
