"""Time played in pieces is the same time; whoever lost patience with an engine short of fuel stops it earlier."""

from __future__ import annotations

import math

import pytest
from rigs import faulty_rig, sound_rig

from engine_sim.circuit import stepping
from engine_sim.circuit.rig import Rig


def steps_of(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """Return a list that fills with the length of each step taken from now on [s]."""
    taken: list[float] = []
    one_step = stepping._one_step

    def counted(state, step_s):
        found = one_step(state, step_s)
        taken.append(found[0])
        return found

    monkeypatch.setattr(stepping, "_one_step", counted)
    return taken


def test_a_boat_that_nobody_touched_goes_on_with_long_steps_and_stands_alike(monkeypatch):
    whole, pieces = sound_rig(), sound_rig()
    whole.play(1200.0)
    taken = steps_of(monkeypatch)
    for _ in range(60):
        pieces.play(20.0)
    assert len(taken) < 60 * 3
    assert pieces.circuit.pressure_pa == pytest.approx(whole.circuit.pressure_pa, abs=20.0)
    assert pieces.circuit.fuel_m3 == pytest.approx(whole.circuit.fuel_m3, abs=1e-7)


@pytest.mark.parametrize("touch", ["valve", "level", "sea"])
def test_after_anything_was_touched_the_first_step_is_short(monkeypatch, touch):
    rig = sound_rig()
    rig.play(1200.0)
    if touch == "valve":
        rig.set_open("shut_off", 0.0)
    elif touch == "level":
        rig.circuit.fill("tank", 0.5)
    else:
        rig.set_sea(1.0)
    taken = steps_of(monkeypatch)
    rig.play(20.0)
    assert taken[0] <= stepping.FIRST_STEP_S


def test_patience_ends_a_run_short_of_fuel_and_no_other():
    """With its pick-up clogged the engine runs on for long, and never gets all its fuel."""

    def ran_s(rig: Rig, patience_s: float) -> float:
        assert rig.crank(10.0)[1]
        played = rig.run(600.0, 2000.0, in_gear=True, patience_s=patience_s)
        assert rig.engine.running
        return played

    clogged = ("tank_below", "blocked_pick_up", "tank")
    assert ran_s(sound_rig(), 60.0) == pytest.approx(600.0)
    assert ran_s(faulty_rig(*clogged), math.inf) == pytest.approx(600.0)
    assert 60.0 <= ran_s(faulty_rig(*clogged), 60.0) < 90.0
