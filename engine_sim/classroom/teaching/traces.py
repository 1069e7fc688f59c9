"""What gives a learner away in a file: id, ticket and name as whole words, and how lines with them are taken out.

A name that is also an ordinary word of the course ("Water", "Walker" is none) is looked for together with the other
name only: hiding it alone would spoil what stands there of others.
"""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from engine_sim.classroom.course_plan import all_exercises
from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.hand_in import logbook_ticket, parse_json
from engine_sim.classroom.roster import Learner, same_ticket_form
from engine_sim.classroom.teaching.receipts import ORDINARY_LINES

HIDDEN = "(forgotten)"
WORD = re.compile(r"[^\W_]+")


@dataclass(frozen=True, slots=True)
class Traces:
    """The words that name one learner and no other, as patterns of whole words: plain, and as JSON may write them."""

    learner_id: str
    ticket: str
    words: tuple[str, ...]
    pattern: re.Pattern[str]

    @classmethod
    def of(cls, course: CourseRoot, learner: Learner, others: Iterable[Learner]) -> Traces:
        """Return what names a learner; a single name that another has too, or an ordinary word, is not taken alone."""
        shared = {word.casefold() for one in others for word in names_of(one)} | ordinary_words(course)
        names = [name.strip() for name in (learner.first_name, learner.last_name)]
        single = [name for name in (learner.learner_id, *names) if name.casefold() not in shared]
        whole = [" ".join(names).strip(), ", ".join(reversed(names)), learner.ticket, learner.ticket.replace("-", "")]
        whole = [one for one in whole if one.casefold() not in shared]
        found = dict.fromkeys(word for word in (*whole, *single) if word.strip(" ,"))
        both = dict.fromkeys(form for word in found for form in (word, json.dumps(word)[1:-1]))
        words = tuple(sorted(both, key=len, reverse=True))
        every = "|".join(map(re.escape, words)) if words else r"(?!)"
        return cls(
            learner.learner_id, learner.ticket, words, re.compile(rf"(?<![^\W_])(?:{every})(?![^\W_])", re.IGNORECASE)
        )

    def in_text(self, text: str) -> bool:
        """Say whether a text names the learner."""
        return bool(self.pattern.search(text))

    def in_file(self, place: Path) -> bool:
        """Say whether a file names the learner, in its name or in its bytes whatever they are."""
        return self.in_text(place.name) or self.in_text(place.read_bytes().decode("utf-8", "replace"))

    def is_own_logbook(self, place: Path) -> bool:
        """Say whether a file is a logbook that was made with the learner's ticket."""
        ticket = same_ticket_form(logbook_ticket(place.read_bytes()))
        return ticket is not None and ticket == same_ticket_form(self.ticket)

    def hidden(self, text: str) -> str:
        """Return a text with the learner's names and ticket hidden."""
        return self.pattern.sub(HIDDEN, text)


def names_of(learner: Learner) -> tuple[str, ...]:
    """Return the words that name somebody."""
    names = (learner.first_name.strip(), learner.last_name.strip())
    return (learner.learner_id, *names, *(word for name in names for word in name.split()))


def ordinary_words(course: CourseRoot) -> frozenset[str]:
    """Return the words, in small letters, of the exercises' names and titles and of what receipts say."""
    exercises = all_exercises(course.folder)
    said = [*(one.id for one in exercises), *(one.title for one in exercises), *ORDINARY_LINES]
    said += [title for one in exercises for title in one.places.values()]
    return frozenset(word.casefold() for text in said for word in WORD.findall(text))


def without_lines(place: Path, traces: Traces) -> bytes:
    """Return a table's, register's or receipt's content without the learner's lines, the names in others' hidden."""
    data = place.read_bytes()
    if place.suffix == ".json":
        return findings_without(data, traces)
    text = data.decode("utf-8", "surrogateescape")
    kept = (line_without(line, place.suffix, traces) for line in text.splitlines(keepends=True))
    return "".join(kept).encode("utf-8", "surrogateescape")


def line_without(line: str, suffix: str, traces: Traces) -> str:
    """Return one line with nothing of the learner in it; an empty text where it is the learner's own."""
    if suffix == ".jsonl":
        return register_line_without(line, traces)
    if suffix == ".csv":
        return "" if traces.learner_id in cells_of(line) else traces.hidden(line)
    begins = line.strip()
    own = any(begins.startswith(f"{name}{sign}") for name in (traces.learner_id, *traces.words) for sign in (":", " ("))
    return "" if own else traces.hidden(line)


def cells_of(line: str) -> list[str]:
    """Return the cells of one line of a table."""
    try:
        return [cell.strip() for cell in next(csv.reader([line]), [])]
    except csv.Error:
        return []


def register_line_without(line: str, traces: Traces) -> str:
    """Return a line of the register of marks; of others' lines the reason alone can name the learner."""
    found = parse_json(line.encode("utf-8", "surrogateescape"))
    if not isinstance(found, dict):
        return "" if traces.in_text(line) else line
    if found.get("learner_id") == traces.learner_id:
        return ""
    reason = str(found.get("reason", ""))
    if not traces.in_text(reason):
        return line
    return json.dumps(found | {"reason": traces.hidden(reason)}, ensure_ascii=False) + "\n"


def findings_without(data: bytes, traces: Traces) -> bytes:
    """Return a list of findings without the learner's."""
    rows = parse_json(data)
    if not isinstance(rows, list):
        return data
    kept = [row for row in rows if not (isinstance(row, dict) and row.get("learner_id") == traces.learner_id)]
    return traces.hidden(json.dumps(kept, ensure_ascii=False, indent=1)).encode("utf-8")
