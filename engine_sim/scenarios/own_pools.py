"""Instructors' own exercises: folders that were announced are looked through for them, besides the shipped ones.

A class's folder keeps them as ``NAME.toml``; a learner's folder has ``NAME.exercise``, which is the same, sealed. A
shipped exercise is never replaced by one of the same name.
"""

from __future__ import annotations

from pathlib import Path

from engine_sim.errors import BadScenario
from engine_sim.scenarios.sealed import SEALED_SUFFIX, unseal

OPEN_SUFFIX = ".toml"
_announced: list[tuple[Path, str]] = []


def also_from(folder: str | Path, suffix: str = OPEN_SUFFIX) -> None:
    """Announce a folder with exercises whose files end in ``suffix``; the one announced last comes first.

    A folder that is not there is passed over; no file is read before its exercise is asked for.
    """
    place = (Path(folder).resolve(), suffix)
    if place in _announced:
        _announced.remove(place)
    if place[0].is_dir():
        _announced.insert(0, place)


def also_sealed_in(folder: str | Path) -> None:
    """Announce a learner's folder, in which exercises lie sealed."""
    also_from(folder, SEALED_SUFFIX)


def own_names() -> tuple[str, ...]:
    """Return the names of the exercises in the folders that were announced."""
    return tuple(sorted({name for folder, suffix in _announced for name in names_in(folder, suffix)}))


def names_in(folder: Path, suffix: str = OPEN_SUFFIX) -> tuple[str, ...]:
    """Return the names of the exercises in a folder; none where there is no such folder."""
    try:
        found = [entry.name for entry in folder.iterdir() if entry.name.endswith(suffix) and entry.is_file()]
    except OSError:
        return ()
    return tuple(sorted(name.removesuffix(suffix) for name in found if not name.startswith(".")))


def own_text(name: str) -> str | None:
    """Return the text (TOML) of an own exercise, or None where no announced folder has it.

    Raises BadScenario for a file that cannot be read or is damaged, or is missing beside the page that it belongs to.
    """
    for folder, suffix in _announced:
        if name in names_in(folder, suffix):
            return read_own(folder / f"{name}{suffix}")
        if suffix == SEALED_SUFFIX and (folder / f"{name}.ipynb").is_file():
            raise BadScenario(
                f"{name}{SEALED_SUFFIX} is missing. It came from your instructor together with this page: put it into "
                "the same folder, or ask for it again."
            )
    return None


def read_own(file: Path) -> str:
    """Return the text (TOML) in an exercise's file, sealed or not; raise BadScenario where it cannot be read."""
    try:
        data = file.read_bytes()
        return unseal(data, file.name) if file.suffix == SEALED_SUFFIX else data.decode("utf-8")
    except (OSError, UnicodeDecodeError) as wrong:
        why = wrong.strerror if isinstance(wrong, OSError) else "it holds signs that are no text"
        raise BadScenario(f"{file.name} cannot be read: {why}. Put a sound copy in its place.") from wrong
