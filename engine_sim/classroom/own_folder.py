"""The learner's own folder: the course's pages are copied into it, and nobody's work is ever overwritten."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from engine_sim.errors import EngineSimError

KEEPING = ".fuelcourse"
RECORD = "handed_out.json"
COPIED_FOLDERS = ("notebooks", "exercises", "reference")


class FolderUnusable(EngineSimError):
    """The folder named for the course cannot hold it."""

    def __init__(self, folder: Path, reason: str) -> None:
        super().__init__(
            f"The course cannot be kept in the folder {folder}: {reason}. It needs a folder that you may write in. "
            "Name another one with --folder, for example: fuelcourse study --folder my-course"
        )


@dataclass(frozen=True, slots=True)
class Update:
    """What happened to the pages in the learner's folder; names are relative to it."""

    new: tuple[str, ...]
    renewed: tuple[str, ...]
    kept: tuple[str, ...]


def page_digest(data: bytes) -> str:
    """Return a digest of what a page says: its text, but not what the benches showed on it."""
    try:
        cells = json.loads(data)["cells"]
        said = json.dumps([[cell["cell_type"], "".join(cell["source"])] for cell in cells])
    except (ValueError, KeyError, TypeError):
        return hashlib.sha256(data).hexdigest()
    return hashlib.sha256(said.encode()).hexdigest()


def fill_own_folder(course: Path, folder: Path) -> Update:
    """Copy the pages of ``course`` into ``folder``: new ones, and newer ones where the learner's is untouched.

    A page that the learner changed is left alone and named in ``Update.kept`` when a newer one exists.
    Raises FolderUnusable when the folder cannot be made or written.
    """
    try:
        (folder / KEEPING).mkdir(parents=True, exist_ok=True)
        return _fill(course, folder)
    except OSError as problem:
        raise FolderUnusable(folder, plain_reason(problem)) from problem


def _fill(course: Path, folder: Path) -> Update:
    record = _read_record(folder)
    done: dict[str, list[str]] = {"new": [], "renewed": [], "kept": [], "same": []}
    for name, data in _pages(course):
        state = _place(folder / name, data, record.get(name))
        done[state].append(name)
        if state != "kept":
            record[name] = page_digest(data)
    write_whole(folder / KEEPING / RECORD, json.dumps(record, indent=1, sort_keys=True).encode())
    return Update(tuple(done["new"]), tuple(done["renewed"]), tuple(done["kept"]))


def _place(target: Path, data: bytes, handed_out: str | None) -> str:
    if not target.exists():
        target.parent.mkdir(parents=True, exist_ok=True)
        write_whole(target, data)
        return "new"
    theirs, ours = page_digest(target.read_bytes()), page_digest(data)
    if theirs == ours:
        return "same"
    if theirs == handed_out:
        write_whole(target, data)
        return "renewed"
    return "same" if handed_out == ours else "kept"


def _pages(course: Path) -> Iterator[tuple[str, bytes]]:
    for part in COPIED_FOLDERS:
        for page in sorted((course / part).rglob("*.ipynb")):
            if ".ipynb_checkpoints" not in page.parts:
                yield page.relative_to(course).as_posix(), page.read_bytes()


def _read_record(folder: Path) -> dict[str, str]:
    try:
        found = json.loads((folder / KEEPING / RECORD).read_bytes())
    except (FileNotFoundError, ValueError):
        return {}
    return {str(name): str(digest) for name, digest in found.items()} if isinstance(found, dict) else {}


def write_whole(target: Path, data: bytes) -> None:
    """Write a file so that a crash in the middle leaves the old one or the new one, never half of it."""
    beside = target.with_name(f"{target.name}.new")
    beside.write_bytes(data)
    os.replace(beside, target)


def plain_reason(problem: OSError) -> str:
    """Return in plain words why a folder could not be made or written."""
    if isinstance(problem, FileExistsError | NotADirectoryError):
        return "a file stands where the folder should be"
    if isinstance(problem, PermissionError):
        return "you may not write there"
    return problem.strerror or str(problem)
