"""The page's own files, as they are put together for the page."""

from __future__ import annotations

from importlib.resources import files


def shipped_text(*names: str) -> str:
    """Return files of this package one after the other: scripts that are one when they reach the page."""
    folder = files("engine_sim.bench")
    return "\n".join(folder.joinpath(name).read_text(encoding="utf-8") for name in names)
