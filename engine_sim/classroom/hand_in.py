"""A hand-in, read as data: nothing in it is run, followed, or believed."""

from __future__ import annotations

import json
import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

LOGBOOK_LIMIT_BYTES = 5_000_000
NOTEBOOK_LIMIT_BYTES = 8_000_000
ANSWER_LIMIT_LETTERS = 20_000


@dataclass(frozen=True, slots=True)
class HandInText:
    """What a handed-in notebook says: written answers and marked boxes by their name, and findings."""

    answers: dict[str, list[str]] = field(default_factory=dict)
    findings: tuple[str, ...] = ()


def logbook_name(exercise: str) -> str:
    """Return the name of an exercise's logbook file."""
    return f"{exercise}.logbook.jsonl"


def read_plain_file(place: Path, limit_bytes: int) -> bytes | str:
    """Return the bytes of an ordinary file, or the reason, as words, why it was not read."""
    try:
        found = os.lstat(place)
    except OSError:
        return "is missing"
    if not stat.S_ISREG(found.st_mode):
        return "is a link or something else than a file"
    if found.st_size > limit_bytes:
        return f"is larger than {limit_bytes / 1e6:g} MB"
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        with os.fdopen(os.open(place, flags), "rb") as file:
            return file.read(limit_bytes + 1)[:limit_bytes]
    except OSError as error:
        return f"cannot be read ({error.strerror})"


def is_plain_folder(folder: Path) -> bool:
    """Say whether a folder of a hand-in, and the learner's folder above it, are folders and no links."""
    return all(place.is_dir() and not place.is_symlink() for place in (folder.parent, folder))


def read_logbook_file(folder: Path, exercise: str) -> tuple[bytes | None, tuple[str, ...]]:
    """Return the logbook's bytes, or None with the finding why there are none."""
    if not is_plain_folder(folder):
        return None, ("the handed-in folder is a link; nothing in it was read",)
    found = read_plain_file(folder / logbook_name(exercise), LOGBOOK_LIMIT_BYTES)
    if isinstance(found, str):
        return None, (f"the logbook {found}, so there is nothing to mark",)
    return found, ()


def logbook_ticket(data: bytes | str) -> str:
    """Return the ticket that a logbook's first line names, or an empty text."""
    if isinstance(data, str):
        return ""
    first = parse_json(data[:10_000].split(b"\n", 1)[0])
    ticket = first.get("ticket") if isinstance(first, dict) else None
    return ticket if isinstance(ticket, str) else ""


def parse_json(data: bytes) -> object:
    """Return what JSON text holds, or None when it is not sound JSON."""
    try:
        return json.loads(data.decode("utf-8"))
    except (ValueError, RecursionError):
        return None


def read_notebook(place: Path) -> HandInText:
    """Read a handed-in notebook's texts; what cannot be read becomes a finding."""
    data = read_plain_file(place, NOTEBOOK_LIMIT_BYTES)
    if isinstance(data, str):
        return HandInText(findings=(f"the notebook {data}; the written answer was not read",))
    document = parse_json(data)
    if not isinstance(document, dict) or not isinstance(document.get("cells"), list):
        return HandInText(
            findings=("the notebook is damaged or of a form not known here; the written answer was not read",)
        )
    answers: dict[str, list[str]] = {}
    for name, text in named_boxes(document["cells"]):
        answers.setdefault(name, []).append(text)
    return HandInText(answers)


def named_boxes(cells: list[object]) -> Iterator[tuple[str, str]]:
    """Yield name and text of each part of a notebook that carries a name for marking."""
    for cell in cells:
        if not isinstance(cell, dict):
            continue
        metadata = cell.get("metadata")
        marking = metadata.get("nbgrader") if isinstance(metadata, dict) else None
        name = marking.get("grade_id") if isinstance(marking, dict) else None
        source = cell.get("source")
        if isinstance(source, list) and all(isinstance(line, str) for line in source):
            source = "".join(source)
        if isinstance(name, str) and isinstance(source, str):
            yield name, source
