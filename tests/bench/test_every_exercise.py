"""Every graded exercise opens at the bench, and each of its parts can be chosen there (lessons are run by nbval)."""

from __future__ import annotations

from pathlib import Path

import pytest
from bench_wire import Wire

from engine_sim.bench import Bench
from engine_sim.scenarios import graded_exercises

QUICK = ("after_the_winter", "full_by_the_gauge")
CASES = [pytest.param(name, marks=[] if name in QUICK else [pytest.mark.slow]) for name in graded_exercises()]


@pytest.mark.parametrize("exercise", CASES)
def test_an_exercise_opens_and_every_part_can_be_chosen(exercise: str, tmp_path: Path) -> None:
    wire = Wire(Bench(exercise, tmp_path))
    wire.ask("page", "fresh")
    assert wire.panel()["mode"] == "work"
    for spot in wire.bench.spots:
        wire.ask(str(spot["part"]), "choose")
        assert wire.panel()["chosen"]["offers"], spot["part"]
    assert wire.bench.picture().startswith("<svg")
    wire.bench.desk.close()
