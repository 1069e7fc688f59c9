"""The sheets on paper: each page of the reference as a PDF of A4, written where it is missing or older."""

from __future__ import annotations

import hashlib
import json
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from engine_sim.classroom.feedback_pdf import feedback_pdf
from engine_sim.classroom.own_folder import FolderUnusable, plain_reason, write_whole
from engine_sim.classroom.sheets.register import FOLDER, SHEETS, Sheet, unfolded
from engine_sim.classroom.shipped import shipped
from engine_sim.version import SIMULATOR_VERSION


def write_sheets(folder: Path) -> tuple[Path, ...]:
    """Write every sheet as ``reference/NAME.pdf`` into a folder, where it is missing or older; return where they are.

    Raises FolderUnusable when the folder cannot be made or written.
    """
    target = folder / FOLDER
    try:
        target.mkdir(parents=True, exist_ok=True)
        return tuple(_written(sheet, target / f"{sheet.name}.pdf") for sheet in SHEETS)
    except OSError as problem:
        raise FolderUnusable(folder, plain_reason(problem)) from problem


def _written(sheet: Sheet, target: Path) -> Path:
    data = (shipped("course") / FOLDER / f"{sheet.name}.ipynb").read_bytes()
    made_of = made_with(data)
    if not target.is_file() or made_of.encode() not in target.read_bytes():
        write_whole(target, feedback_pdf(html_of(data), sheet.landscape, made_of, sheet.size_pt))
    return target


def html_of(page: bytes) -> str:
    """Return the HTML of a page of the reference, given as its file's content."""
    cells = json.loads(page)["cells"]
    return unfolded("\n".join("".join(cell["source"]) for cell in cells))


def made_with(page: bytes) -> str:
    """Return what a PDF says of how it was made: the program's version and a digest of the page."""
    try:
        program = version("fuelcourse")
    except PackageNotFoundError:
        program = "0"
    return f"fuelcourse {program} {SIMULATOR_VERSION} {hashlib.sha256(page).hexdigest()[:16]}"
