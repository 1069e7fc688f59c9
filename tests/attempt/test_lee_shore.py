"""A shore to leeward: the boat drifts while nobody sees to her, and an anchor or a running engine stops that."""

from __future__ import annotations

import pytest

from engine_sim.attempt import Attempt
from engine_sim.errors import OutOfRange
from engine_sim.marking import default_scheme, mark_attempt
from engine_sim.scenarios import SetFault, compose_scenario


def off_a_shore(minutes: float = 30.0) -> Attempt:
    faults = [SetFault("stop_control_pulled", "stop_control")]
    return Attempt(compose_scenario("tank_below", faults, seaway=0.7, lee_shore_min=minutes))


def keys(attempt: Attempt) -> list[str]:
    return [seen.key for seen in attempt.observations]


def test_the_shore_is_seen_from_the_engine_and_comes_nearer_as_time_passes() -> None:
    attempt = off_a_shore()
    attempt.act("bench", "look_around")
    attempt.act("bench", "wait_5min")
    attempt.act("bench", "wait_5min")
    attempt.act("bench", "look_around")
    told = [seen.text for seen in attempt.observations if seen.key == "shore_near"]
    assert told == [
        "The shore lies to leeward, about 30 minutes of drifting away.",
        "The shore lies to leeward, about 20 minutes of drifting away.",
    ]


def test_who_lets_the_boat_drift_is_ashore_once_and_fails_by_that_alone() -> None:
    attempt = off_a_shore()
    attempt.act("bench", "wait_30min")
    attempt.act("bench", "wait_5min")
    assert keys(attempt).count("ashore") == 1
    attempt.act("stop_control", "push_home")
    sheet = mark_attempt(attempt.scenario, attempt.steps, None, default_scheme(), with_coach=False)
    assert [fail.text for fail in sheet.hard_fails] == ["The boat drifted ashore while all hands were at the engine."]
    assert sheet.marks["safety"].score == 0.0 and not sheet.passed


def test_an_anchor_stops_the_drift_but_takes_its_own_ten_minutes() -> None:
    attempt = off_a_shore()
    attempt.act("bench", "make_fast")
    attempt.act("bench", "wait_30min")
    assert "ashore" not in keys(attempt) and attempt.place.drifted_s == 600.0
    too_late = off_a_shore(5.0)
    too_late.act("bench", "make_fast")
    assert "ashore" in keys(too_late)


def test_an_engine_that_runs_holds_the_boat_off() -> None:
    attempt = off_a_shore()
    attempt.act("stop_control", "push_home")
    attempt.act("starter", "crank_5")
    drifted_s = attempt.place.drifted_s
    attempt.act("engine", "run_idle_5min")
    assert attempt.place.drifted_s == drifted_s < 60.0


def test_without_a_shore_nobody_drifts_ashore() -> None:
    attempt = Attempt(compose_scenario("tank_below", [SetFault("shut_valve", "shut_off")], seaway=0.7))
    attempt.act("bench", "wait_night")
    attempt.act("bench", "look_around")
    assert not {"ashore", "shore_near"} & set(keys(attempt))
    assert attempt.outside()["shore_min"] is None


def test_a_shore_too_near_to_do_anything_is_refused() -> None:
    with pytest.raises(OutOfRange, match="lee_shore_min"):
        off_a_shore(1.0)
