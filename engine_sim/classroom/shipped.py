"""Where the course's own files are, in an installed package as in a checkout."""

from __future__ import annotations

from pathlib import Path

import engine_sim
from engine_sim.errors import EngineSimError, UnknownName

SHIPPED_FOLDERS = ("course", "instructors")


class NotShipped(EngineSimError):
    """The installation lacks files that belong to it."""


def shipped(name: str) -> Path:
    """Return the folder ``name`` (``course`` or ``instructors``) that came with this installation.

    Raises UnknownName for another name, and NotShipped when the installation is incomplete.
    """
    if name not in SHIPPED_FOLDERS:
        raise UnknownName("shipped folder", name, SHIPPED_FOLDERS)
    package = Path(engine_sim.__file__).resolve().parent
    for place in (package / "_shipped" / name, package.parent / name):
        if place.is_dir():
            return place
    raise NotShipped(
        f"This installation of the course has no {name!r} folder (looked beside and inside {package}). "
        "Install the course again from its project folder."
    )


def lab_folder() -> Path:
    """Return the folder with the JupyterLab settings and the page opener."""
    return Path(__file__).resolve().parent / "lab"
