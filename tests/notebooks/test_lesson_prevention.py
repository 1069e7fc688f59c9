"""What the lesson on prevention says its readers will notice is what its bench shows."""

from __future__ import annotations

import pytest
from lesson_steps import Lesson, does, opened

from engine_sim.attempt import Attempt
from engine_sim.bench.words import PAGE
from engine_sim.fluids.diesel_fuel import volume_correction

pytestmark = pytest.mark.slow

LESSON = Lesson("prevention").text


@pytest.fixture
def attempt() -> Attempt:
    return opened("prevention")


def run(attempt: Attempt) -> str:
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    return does(attempt, "engine", "run_cruise_5min")


def wet_screw_tightened(attempt: Attempt) -> None:
    """The lesson's section 1."""
    run(attempt)
    does(attempt, "engine", "stop")
    does(attempt, "fine_filter", "close_screw")
    does(attempt, "bench", "wipe_up")


def test_it_is_dry_before_the_run_and_wet_after_it_and_the_screw_only_looks_tight(attempt: Attempt) -> None:
    assert "dry all round" in does(attempt, "bench", "look_around")
    assert "ran evenly" in run(attempt)
    does(attempt, "engine", "stop")
    around = does(attempt, "bench", "look_around")
    assert "wet at: fine filter" in around
    assert "of fuel lie under the engine" in around
    assert "looks tight" in does(attempt, "fine_filter", "look")
    assert "turns under the spanner" in does(attempt, "fine_filter", "try_screw")
    does(attempt, "fine_filter", "close_screw")
    assert "every bleed screw tight" in does(attempt, "fine_filter", "try_screw")


def test_with_only_the_wet_screw_tightened_it_starts_next_morning_and_dies(attempt: Attempt) -> None:
    wet_screw_tightened(attempt)
    assert "dry all round" in does(attempt, "bench", "look_around")
    does(attempt, "bench", "wait_night")
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    began_s = attempt.clock_s
    assert "it dies" in does(attempt, "engine", "run_idle_5min")
    assert attempt.clock_s - began_s < 180


def test_with_the_screw_left_loose_the_air_finds_its_way_out_again(attempt: Attempt) -> None:
    run(attempt)
    does(attempt, "engine", "stop")
    does(attempt, "bench", "wait_night")
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    assert "ran evenly" in does(attempt, "engine", "run_idle_5min")


def test_the_dry_joint_is_found_by_air_in_the_clear_hose_and_cured_by_half_a_turn(attempt: Attempt) -> None:
    """The lesson's sections 1, 2 and 4 one after the other."""
    wet_screw_tightened(attempt)
    joint = does(attempt, "separator_joint", "look")
    assert "dry and clean" in joint
    assert "air" in joint
    assert "dry and clean" in does(attempt, "pump_joint", "look")
    assert "turns under your fingers" in does(attempt, "separator_joint", "wipe_and_try")
    assert "half turn" in does(attempt, "separator_joint", "nip_up")
    assert "ran evenly" in run(attempt)
    assert all("you see clear fuel" in does(attempt, part, "look") for part in ("separator_joint", "pump_joint"))
    does(attempt, "engine", "stop")
    assert "dry all round" in does(attempt, "bench", "look_around")
    cans = 1
    while "It takes no more" not in does(attempt, "tank", "add_fuel"):
        cans += 1
    assert cans == 4
    assert attempt.xray().volumes["tank"].air_share > 0.04, "room for the fuel to swell"
    does(attempt, "bench", "lay_tray", "wait_night")
    sample = does(attempt, "tank", "sample_sump")
    assert "clear and bright" in sample
    assert "one layer" in sample
    assert "fires and runs" in does(attempt, "starter", "crank_5")
    assert "ran evenly" in does(attempt, "engine", "run_idle_5min", "stop")
    assert "dry all round" in does(attempt, "bench", "look_around")


def test_a_note_is_kept_and_the_spares_can_be_read(attempt: Attempt) -> None:
    assert attempt.note("12 May, 812 h. Screw loose, tightened.").kind == "note"
    carried = attempt.aboard()
    assert carried["separator element"] >= 2
    assert carried["lift pump"] == 1
    assert PAGE["aboard"] in LESSON
    assert PAGE["notes"] in LESSON


def test_sixty_litres_swell_as_the_lesson_says() -> None:
    assert 60.0 / volume_correction(303.15) == pytest.approx(60.8, abs=0.05)
