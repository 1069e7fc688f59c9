"""What the lesson on elements tells its readers they will notice is what its benches show when they do as it says."""

from __future__ import annotations

import pytest
from lesson_steps import Lesson, at, check_form, does, opened, plays

from engine_sim.attempt import Attempt

pytestmark = pytest.mark.slow

LESSON = Lesson("elements")
FILLS = (("separator", "open_vent"), ("separator", "fill"), ("separator", "close_vent"), ("shut_off", "open"))


@pytest.fixture
def starved() -> Attempt:
    """The first boat as sections 1 to 3 leave it, with the gauge fitted."""
    attempt = opened("elements")
    for number in (1, 2, 3):
        plays(attempt, LESSON.lists(number)[0])
    return attempt


@pytest.fixture
def second() -> Attempt:
    """The boat whose fine filter is choked, as section 6 leaves it."""
    attempt = opened("elements_fine_filter")
    plays(attempt, LESSON.lists(6)[0])
    return attempt


def gauge_kpa(seen: str) -> int:
    return int(seen.partition("inlet shows ")[2].partition(" kPa")[0])


def test_it_keeps_the_form_of_a_lesson() -> None:
    check_form(LESSON)


def test_the_bowl_shows_a_black_element_and_the_fine_filter_nothing() -> None:
    bowl, fine = plays(opened("elements"), LESSON.lists(1)[0])
    assert "clear fuel to the bottom" in bowl and "smeared dark and the element behind it looks black" in bowl
    assert "element" not in fine


def test_it_loses_speed_in_gear_and_recovers_at_idle() -> None:
    fires, idles, in_gear, idles_again, _ = plays(opened("elements"), LESSON.lists(2)[0])
    assert "fires and runs" in fires and "It ran evenly" in idles and "It ran evenly" in idles_again
    assert "After 7 s the speed begins to waver" in in_gear and "about 1700 rpm" in in_gear
    assert "smoke" not in in_gear and "dies" not in in_gear


def test_the_gauge_shows_the_lift_at_rest_and_all_the_pump_can_suck_while_it_runs() -> None:
    steps = LESSON.lists(3)[0]
    attempt = opened("elements")
    noticed = plays(attempt, steps)
    assert gauge_kpa(at(steps, noticed, "fit the vacuum gauge at the pump's inlet")) == 6
    assert gauge_kpa(at(steps, noticed, "let it idle for 1 min")) == 58
    assert gauge_kpa(at(steps, noticed, "run it in gear for 5 min")) == 60
    assert gauge_kpa(noticed[-1]) <= 10
    does(attempt, "bench", "wait_1min")
    assert gauge_kpa(does(attempt, "lift_pump", "read_vacuum")) in (6, 8)


def test_half_loaded_the_gauge_passes_its_line_while_the_engine_runs_evenly() -> None:
    _, idle, cruise, load, _ = plays(opened("elements_gauge"), LESSON.lists(4)[0])
    assert all("It ran evenly" in seen for seen in (idle, cruise, load))
    assert [gauge_kpa(seen) for seen in (idle, cruise, load)] == [26, 42, 56]
    for figure in ("26 kPa at idle", "42 in gear", "56 under full load"):
        assert figure in LESSON.section(4)


def test_the_separators_element_changed_as_asked_gives_back_the_speed(starved: Attempt) -> None:
    steps = LESSON.lists(5)[0]
    noticed = plays(starved, steps)
    assert "black with dirt all over" in at(steps, noticed, "take bowl and element off")
    assert "had stayed on the seat" in at(steps, noticed, "see whether the old seal came away")
    assert "goes on smoothly" in at(steps, noticed, "fit a new element and seals, wetted with fuel")
    rounds = [seen for seen in noticed if seen.startswith("The lever")]
    assert all("Froth spits" in seen for seen in rounds[:4]) and "Fuel without bubbles" in rounds[4]
    cruise = at(steps, noticed, "run it in gear for 5 min")
    load = at(steps, noticed, "run it under full load for 5 min")
    assert "evenly for 5 min at about 2000 rpm" in cruise and "evenly for 5 min at about 3000 rpm" in load
    assert gauge_kpa(cruise) == gauge_kpa(load) == 6


def test_with_the_shut_off_open_the_fuel_in_the_hose_runs_back_when_the_bowl_is_off(starved: Attempt) -> None:
    does(starved, "separator", "take_bowl_off")
    does(starved, "bench", "wait_1min")
    assert starved.xray().volumes["suction_hose.0"].air_share > 0.9


def test_behind_the_pump_the_gauge_tells_nothing_and_the_flow_tells_all() -> None:
    steps = LESSON.lists(6)[0]
    noticed = plays(opened("elements_fine_filter"), steps)
    idle, cruise = at(steps, noticed, "let it idle for 1 min"), at(steps, noticed, "run it in gear for 5 min")
    assert "It ran evenly" in idle and "about 1450 rpm" in cruise
    assert gauge_kpa(idle) == gauge_kpa(cruise) == 6
    before, behind = (seen for seen in noticed if seen.startswith("The lever"))
    assert "steady pulse" in before and before.endswith("Fuel without bubbles runs from the bleed screw.")
    assert "lever has gone light: there is pressure behind it" in behind and "far less than it should" in behind


def test_the_fine_filter_changed_as_asked_gives_back_the_speed_and_uses_one_element(second: Attempt) -> None:
    steps = LESSON.lists(7)[0]
    noticed = plays(second, steps)
    assert "had stayed on the seat" in at(steps, noticed, "see whether the old ring came away")
    rounds = [seen for seen in noticed if seen.startswith("The lever")]
    assert all("Air hisses" in seen for seen in rounds[:3]) and "Froth spits" in rounds[3]
    assert "Fuel without bubbles" in rounds[4] and "Froth spits" in rounds[5] and "without bubbles" in rounds[6]
    assert "evenly for 5 min at about 2000 rpm" in at(steps, noticed, "run it in gear for 5 min")
    assert "evenly for 5 min at about 3000 rpm" in at(steps, noticed, "run it under full load for 5 min")
    counted, _, ashore = plays(second, LESSON.lists(8)[0])
    assert "nothing lies loose" in counted and "handed in" in ashore
    assert second.aboard()["fine filter element"] == 2 and second.aboard()["sealing ring"] == 7


def test_poured_full_the_fine_filter_bleeds_in_one_round_unfiltered(second: Attempt) -> None:
    does(second, "shut_off", "shut")
    does(second, "fine_filter", "clean_outside", "take_off", "check_ring", "wipe_seat")
    assert "has passed no filter" in does(second, "fine_filter", "pour_full")
    does(second, "fine_filter", "fit_by_hand")
    does(second, "shut_off", "open")
    does(second, "fine_filter", "open_screw")
    assert "uel without bubbles" in does(second, "lift_pump", "lever_60")


def test_a_doubled_ring_weeps_behind_the_pump_and_no_hand_tightens_it(second: Attempt) -> None:
    does(second, "shut_off", "shut")
    does(second, "fine_filter", "clean_outside", "take_off", "wipe_seat", "fit_by_hand")
    does(second, "shut_off", "open")
    does(second, "fine_filter", "open_screw")
    does(second, "lift_pump", *["lever_60"] * 5)
    does(second, "fine_filter", "close_screw")
    assert "fires and runs" in does(second, "starter", "crank_5")
    does(second, "engine", "run_idle_1min")
    assert "wet begins at the filter's sealing ring" in does(second, "fine_filter", "look")
    assert "does not turn any further by hand" in does(second, "fine_filter", "nip_up")


def test_a_doubled_ring_before_the_pump_hisses_and_the_engine_starts_runs_and_dies(starved: Attempt) -> None:
    does(starved, "shut_off", "shut")
    does(starved, "separator", "clean_outside", "take_bowl_off", "wipe_bowl", "fit_wetted")
    for part, action in FILLS:
        does(starved, part, action)
    assert "A hiss at the rim of the bowl" in does(starved, "separator", "look")
    does(starved, "fine_filter", "open_screw")
    does(starved, "lift_pump", *["lever_60"] * 3)
    does(starved, "fine_filter", "close_screw")
    assert "fires and runs" in does(starved, "starter", "crank_5")
    assert "it dies" in does(starved, "engine", "run_idle_1min", "run_idle_5min")
    assert "separator" not in does(starved, "bench", "look_around").partition("wet at")[2]
