"""Benches opened in a folder of their own."""

from __future__ import annotations

import pytest
from bench_wire import EXERCISE, Wire

from engine_sim.bench import Bench


@pytest.fixture
def at(tmp_path):
    """Open benches in a folder; all are let go of at the end."""
    made: list[Bench] = []

    def open_bench(exercise: str = EXERCISE, ticket: str | None = None) -> Wire:
        wire = Wire(Bench(exercise, tmp_path))
        made.append(wire.bench)
        if ticket is not None:
            wire.ask("page", "ticket", text=ticket)
        return wire

    yield open_bench
    for one in made:
        one.desk.close()
