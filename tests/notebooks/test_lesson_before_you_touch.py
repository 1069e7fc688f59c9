"""What the lesson "Before you touch anything" says one notices is what its bench shows."""

from __future__ import annotations

from dataclasses import replace

import pytest
from lesson_steps import Lesson, does, opened

from engine_sim.actions import caution_of
from engine_sim.attempt import Attempt
from engine_sim.scenarios import draw_scenario
from engine_sim.wording import CAUTIONS

pytestmark = pytest.mark.slow

LESSON = Lesson("before_you_touch").text


@pytest.fixture
def attempt() -> Attempt:
    return opened("before_you_touch")


def made_safe(attempt: Attempt) -> Attempt:
    """Do what sections 1 to 4 ask for."""
    does(attempt, "bench", "make_fast", "tell_someone", "look_around")
    does(attempt, "fine_filter", "look")
    does(attempt, "bench", "ventilate", "extinguisher", "put_on_goggles")
    does(attempt, "battery", "isolate")
    does(attempt, "starter", "crank_5")
    does(attempt, "engine", "turn_by_hand")
    does(attempt, "battery", "connect")
    return attempt


def run_for_a_minute(attempt: Attempt) -> str:
    return does(attempt, "starter", "crank_5") + does(attempt, "engine", "run_idle_1min")


def test_the_boat_costs_ten_minutes_and_the_call_one(attempt: Attempt) -> None:
    assert [attempt.act("bench", action).clock_s for action in ("make_fast", "tell_someone")] == [600, 660]
    assert "Ten minutes for the boat and one for the call." in LESSON


def test_a_look_around_finds_the_open_screw_and_no_drop(attempt: Attempt) -> None:
    seen = does(attempt, "bench", "look_around")
    assert attempt.clock_s == 30
    assert "the fine filter's bleed screw open" in seen
    assert "dry all round the engine" in seen
    seen = does(attempt, "fine_filter", "look")
    assert "dry outside" in seen
    assert "The bleed screw stands open" in seen


def test_a_spanner_finds_a_screw_that_an_eye_does_not() -> None:
    """Only what stands wide open is seen: at a third of the gap the same screw looks tight."""
    plan = draw_scenario("before_you_touch", "")
    (screw,) = plan.faults
    assert screw.severity is not None
    attempt = Attempt(replace(plan, faults=(replace(screw, severity=screw.severity / 3.0),)))
    assert "no screw, tap or nut standing open" in does(attempt, "bench", "look_around")
    assert "it was not tight" in does(attempt, "fine_filter", "try_screw")


def test_beside_the_injector_stands_the_caution_and_what_never_to_do(attempt: Attempt) -> None:
    offers = {offer.action: offer for offer in attempt.offers("injector_1")}
    assert offers["finger"].label == "feel for spray with the fingers"
    assert offers["finger"].caution == CAUTIONS["high_pressure"]
    assert "card" in offers


def test_with_the_isolator_off_the_key_turns_nothing(attempt: Attempt) -> None:
    does(attempt, "battery", "isolate")
    assert does(attempt, "starter", "crank_5") == "You turn the key. Nothing."
    turning = next(offer for offer in attempt.offers("engine") if offer.action == "turn_by_hand")
    assert "isolator off" in turning.caution
    assert "one revolution" in does(attempt, "engine", "turn_by_hand")


def test_some_engines_stop_dead_when_the_isolator_goes_off_and_some_do_not() -> None:
    for boat, ends in (("does_it_crank_cold", True), ("before_you_touch", False)):
        attempt = opened(boat)
        if ends:
            does(attempt, "preheat", "mend", "heat_20")
        assert "fires and runs" in does(attempt, "starter", "crank_10")
        does(attempt, "battery", "isolate")
        assert ("dies" in does(attempt, "engine", "look")) is ends


def test_a_minute_without_a_tray_leaves_fuel_under_the_engine(attempt: Attempt) -> None:
    made_safe(attempt)
    assert "ran evenly" in run_for_a_minute(attempt)
    seen = does(attempt, "bench", "look_around")
    assert "wet at: fine filter" in seen
    assert "About 120 ml of fuel lie under the engine" in seen
    assert "some 120 ml of fuel lie under the engine" in LESSON
    assert "smells of diesel" in seen


def once_without_and_once_with_tray(attempt: Attempt) -> Attempt:
    """Do what sections 1 to 5 ask for, up to the tightened screw."""
    run_for_a_minute(made_safe(attempt))
    does(attempt, "engine", "stop")
    does(attempt, "bench", "wipe_up", "lay_tray")
    assert "without bubbles" in does(attempt, "lift_pump", "lever_10")
    assert "while fuel without bubbles still runs" in does(attempt, "fine_filter", "close_screw")
    return attempt


def test_with_tray_and_a_tight_screw_a_little_lies_in_the_tray_and_no_more_comes(attempt: Attempt) -> None:
    once_without_and_once_with_tray(attempt)
    caught = "About 20 ml of fuel lie in the tray"
    assert caught in does(attempt, "bench", "look_around")
    assert "some 20 ml lie in the tray" in LESSON
    assert "ran evenly" in run_for_a_minute(attempt)
    seen = does(attempt, "bench", "look_around")
    assert caught in seen
    assert "under the engine" not in seen


def test_all_that_came_out_goes_ashore_and_none_overboard(attempt: Attempt) -> None:
    run_for_a_minute(once_without_and_once_with_tray(attempt))
    does(attempt, "engine", "stop")
    assert "run from the sump into the jar" in does(attempt, "tank", "sample_sump")
    assert "clear and bright" in does(attempt, "bench", "read_jar")
    assert "into the can for waste" in does(attempt, "bench", "empty_jar")
    assert "dry all round the engine" in does(attempt, "bench", "wipe_up", "look_around")
    began_s = attempt.clock_s
    handed = does(attempt, "bench", "waste_ashore")
    assert 600 < int(handed.split("About ")[1].split(" ml")[0]) < 700
    assert "more than 600 ml" in LESSON
    assert attempt.clock_s - began_s == 1800
    assert attempt.outside()["overboard_ml"] == 0


def test_three_things_at_three_parts_are_an_engineers(attempt: Attempt) -> None:
    kinds = {"injector_1": "injector", "starter": "starter", "engine": "engine"}
    found = [
        offer.label
        for part, kind in kinds.items()
        for offer in attempt.offers(part)
        if caution_of(kind, offer.action) == "engineer"
    ]
    assert found == ["have the injector changed", "have the starter changed", "have water let out of the cylinders"]
    assert "Have the injector changed, have the starter changed, have water let out of the cylinders." in LESSON
