"""The files of an own engine beside its page: answers, layout, cards. Each is replaced whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from engine_sim.bench.own_words import ANSWERS_FILE, FROM_THE_FORM, LAYOUT_FILE, TELLS, UNREAD_FILE
from engine_sim.errors import EngineSimError
from engine_sim.scenarios.own_boat import OwnBoat, answers_text, read_answers
from engine_sim.scenarios.own_layout import layout_text

_PART = ".part"


class NotWritten(EngineSimError):
    """A file could not be written."""

    def __init__(self, name: str, why: OSError) -> None:
        super().__init__(TELLS["not_written"].format(name=name, why=why.strerror or why))


class OwnFiles:
    """The folder of the page."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def answers(self) -> dict[str, str]:
        """Return the answers that were kept, none where there is no file; raises BadOwnBoat where it makes no sense."""
        path = self.folder / ANSWERS_FILE
        return read_answers(path.read_bytes().decode("utf-8", "replace")) if path.is_file() else {}

    def keep(self, boat: OwnBoat) -> None:
        """Write answers and layout; raises NotWritten."""
        self.write(ANSWERS_FILE, answers_text(boat).encode())
        self.write(LAYOUT_FILE, f"# {FROM_THE_FORM}\n{layout_text(boat)}".encode())

    def put_by(self) -> None:
        """Keep the file of answers that could not be read under another name; raises NotWritten."""
        try:
            os.replace(self.folder / ANSWERS_FILE, self.folder / UNREAD_FILE)
        except OSError as error:
            raise NotWritten(UNREAD_FILE, error) from error

    def write(self, name: str, data: bytes) -> None:
        """Write a file whole, or leave the old one; raises NotWritten."""
        part = self.folder / f"{name}{_PART}"
        try:
            part.write_bytes(data)
            os.replace(part, self.folder / name)
        except OSError as error:
            part.unlink(missing_ok=True)
            raise NotWritten(name, error) from error
