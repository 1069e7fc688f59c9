"""Keeps what was worked out for boats in a folder of the user's own, so that the next program need not do it again.

Preparing a boat with each thing that may be wrong takes seconds and hangs on nothing but the program and the boat.
Nothing about a learner is kept. A file is taken up only where its name says the same program, Python and boat, and
its content is whole; anything else is worked out anew. The folder must be the user's own, as Python's files of compiled
modules are: what is read there is trusted.
"""

from __future__ import annotations

import hashlib
import os
import pickle
import sys
import tempfile
from functools import lru_cache
from pathlib import Path

import engine_sim
from engine_sim.marking.coach.boats import Boats

_DIGEST_BYTES = 32
"""Length of a SHA-256 digest (FIPS 180-4)."""

_PROGRAM_FILES = ("*.py", "*.toml")


def own_cache_folder() -> Path:
    """Return where this user's programs keep what they can work out again: ``XDG_CACHE_HOME`` or the system's usual."""
    chosen = os.environ.get("XDG_CACHE_HOME")
    if chosen:
        return Path(chosen) / "fuelcourse"
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local") / "fuelcourse" / "cache"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches" / "fuelcourse"
    return Path.home() / ".cache" / "fuelcourse"


@lru_cache(maxsize=1)
def _program() -> str:
    """Return a digest of this program and this Python: what another one worked out is not taken up."""
    digest = hashlib.sha256(f"{sys.version} {pickle.DEFAULT_PROTOCOL}".encode())
    folder = Path(engine_sim.__file__).parent
    for place in sorted(path for pattern in _PROGRAM_FILES for path in folder.rglob(pattern)):
        digest.update(str(place.relative_to(folder)).encode() + b"\0" + place.read_bytes())
    return digest.hexdigest()


def _place(folder: Path, boats: Boats) -> Path:
    sound = boats.sound
    layout = Path(sound.layout).read_text(encoding="utf-8") if sound.layout.endswith(".toml") else sound.layout
    name = hashlib.sha256(repr((_program(), layout, sound.weather, sound.tank_fill_share)).encode()).hexdigest()
    return folder / f"boats-{name[:32]}"


def take_up(boats: Boats, folder: Path) -> bool:
    """Take up what was kept for these boats; say whether there was anything whole."""
    try:
        data = _place(folder, boats).read_bytes()
    except OSError:
        return False
    digest, content = data[:_DIGEST_BYTES], data[_DIGEST_BYTES:]
    if hashlib.sha256(content).digest() != digest:
        return False
    boats.take_up(pickle.loads(content))
    return True


def lay_down(boats: Boats, folder: Path) -> None:
    """Keep what has been worked out for these boats, if there is more than before; a full disk does not matter."""
    if not boats.has_grown:
        return
    content = pickle.dumps(boats.worked_out())
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        with tempfile.NamedTemporaryFile(dir=folder, delete=False) as file:
            file.write(hashlib.sha256(content).digest() + content)
        os.replace(file.name, _place(folder, boats))
    except OSError:
        return
    boats.has_grown = False
