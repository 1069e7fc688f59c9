"""The bench: the page on which a learner works an exercise with the hands.

In a notebook, one hidden line is enough: ``bench("no_start_harbour")``, or ``at_the_wall()`` for a room.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from engine_sim.bench.bench import Bench
from engine_sim.bench.presenter_desk import PresenterDesk
from engine_sim.bench.progress_page import ProgressPage, Seen
from engine_sim.bench.sums_page import sums
from engine_sim.errors import UnknownName
from engine_sim.scenarios import also_sealed_in, exercises

__all__ = ["Bench", "ProgressPage", "Seen", "at_the_wall", "bench", "sums"]

_benches: dict[tuple[str, Path], Bench] = {}


def bench(exercise: str, folder: str | Path = ".") -> Bench:
    """Return the bench for an exercise whose files stand in ``folder``; asked again, the same one.

    An instructor's own exercise lies sealed in that folder; where its file is missing or damaged the bench says so.

    Raises :class:`~engine_sim.errors.UnknownName` for an exercise that does not exist.
    """
    also_sealed_in(folder)
    if exercise not in exercises() and not (Path(folder) / f"{exercise}.ipynb").is_file():
        raise UnknownName("exercise", exercise, exercises())
    key = (exercise, Path(folder).resolve())
    if key not in _benches:
        _benches[key] = Bench(exercise, key[1])
    return _benches[key]


@cache
def at_the_wall() -> Bench:
    """Return the bench for a wall: a fault set in secret and found by show of hands, or a logbook gone through."""
    return Bench(desk=PresenterDesk())
