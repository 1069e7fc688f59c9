"""Safety: cautions kept and broken on boats of every layout, and what fails by itself.

Sources of what is asked: spray through the skin (hand-surgery outlines), oil in the water (MARPOL Annex I, 33 CFR
151.10), starter duty (US Army TM 10-3930-671-24; the shorter turns of small boats are common practice, no source).
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from deeds import LAYOUTS, READY, SCHEME, boat, marked, played, turn
from handmade import track_of as handmade

from engine_sim.marking.judges import judge_rule
from engine_sim.marking.replaying import play_steps, track_of
from engine_sim.marking.safety import HARD_FAILS, SAFETY_RULES, hard_fails_of, mark_safety
from engine_sim.scenarios import SetFault, compose_scenario

ON_EVERY_BOAT = pytest.mark.parametrize("layout", LAYOUTS)
STOP = ("stop_control_pulled", "stop_control")
RULES = {rule.id: rule for rule in SAFETY_RULES}
FIRES = ("stop_control.push_home",)


def share_of(rule: str, layout: str, *work: str):
    """Return the share kept of one rule after some work on a boat told to stop; None where it was not at stake."""
    scenario = boat(layout, STOP)
    track = track_of(scenario, played(scenario, *work).steps)
    found = judge_rule(RULES[rule], RULES[rule].judge(track, SCHEME.limits))
    return None if found is None else found[1]


def safety_of(scenario, *work: str):
    """Return the safety mark and what failed by itself after some work."""
    recorder, _ = play_steps(scenario, played(scenario, *work).steps)
    fails = hard_fails_of(recorder.mishaps)
    return mark_safety(recorder.track(scenario), fails, scenario.weather.seaway, SCHEME), fails


def cost(scenario, *work: str) -> str:
    """Return everything that cost points, in one text."""
    return " | ".join(reason.text for reason in safety_of(scenario, *work)[0].reasons if not reason.good)


def test_every_caution_is_a_rule_with_its_why():
    assert len(RULES) == len(SAFETY_RULES)
    for rule in SAFETY_RULES:
        assert rule.points > 0.0 and rule.sentence and rule.kept and rule.broken and rule.why


@ON_EVERY_BOAT
@pytest.mark.parametrize(
    ("rule", "kept_by"),
    [
        ("fresh_air", ("bench.ventilate", "bench.extinguisher")),
        ("tray_laid", ("bench.lay_tray",)),
        ("gloves_on", ("bench.put_on_goggles",)),
    ],
)
def test_what_comes_before_fuel_is_opened(layout, rule, kept_by):
    opened = "fine_filter.open_screw"
    assert share_of(rule, layout, opened, *kept_by) == 0.0
    assert share_of(rule, layout, *kept_by, opened) == 1.0
    assert share_of(rule, layout, *kept_by, "tank.dip", "shut_off.look") is None


@ON_EVERY_BOAT
@pytest.mark.parametrize("rule", ["fresh_air", "tray_laid", "gloves_on"])
def test_a_sample_from_the_sump_opens_fuel(layout, rule):
    assert share_of(rule, layout, "tank.sample_sump") == 0.0


@ON_EVERY_BOAT
@pytest.mark.parametrize("rule", ["fresh_air", "tray_laid", "gloves_on"])
def test_listening_at_the_filler_cap_opens_no_fuel(layout, rule):
    assert share_of(rule, layout, "tank.crack_cap", "tank.close_cap") is None


def test_an_engine_that_dies_under_the_hand_stood_still():
    runs = ("stop_control.push_home", "starter.crank_5 engine:fires", "fine_filter.open_screw engine:dies_meanwhile")
    judge = RULES["engine_stopped"].judge
    assert [one.share for one in judge(handmade(*runs), SCHEME.limits)] == [1.0]
    assert [one.share for one in judge(handmade(*runs[:2], "fine_filter.open_screw"), SCHEME.limits)] == [0.0]


@ON_EVERY_BOAT
def test_goggles_at_a_union_nut(layout):
    assert share_of("goggles_at_high_pressure", layout, "injector_1.slacken_nut") == 0.0
    assert share_of("goggles_at_high_pressure", layout, "bench.put_on_goggles", "injector_1.slacken_nut") == 1.0


@ON_EVERY_BOAT
def test_the_fuel_side_is_opened_only_while_the_engine_stands(layout):
    runs = (*FIRES, turn(layout))
    assert share_of("engine_stopped", layout, *runs, "fine_filter.open_screw") == 0.0
    assert share_of("engine_stopped", layout, *runs, "engine.stop", "fine_filter.open_screw") == 1.0
    assert share_of("engine_stopped", layout, "fine_filter.open_screw") is None


@ON_EVERY_BOAT
def test_the_isolator_where_there_is_one(layout):
    assert share_of("isolator_off", layout, "engine.turn_by_hand") == (None if layout == "single_cylinder" else 0.0)
    if layout != "single_cylinder":
        assert share_of("isolator_off", layout, "battery.isolate", "engine.turn_by_hand") == 1.0


def test_cranking_too_long_in_one_go_and_with_rests():
    long, short, rest = "starter.crank_30", "starter.crank_10", "starter.rest"
    assert share_of("starter_rested", "tank_below", long) == 0.0
    assert share_of("starter_rested", "tank_below", short, short) == 0.5
    assert share_of("starter_rested", "tank_below", short, rest, short) == 1.0
    assert share_of("starter_rested", "single_cylinder", "hand_start.swing_10") is None


@ON_EVERY_BOAT
def test_the_seacock_while_cranking_and_on_firing(layout):
    again = (turn(layout),) * 7
    assert share_of("seacock_minded", layout, turn(layout)) is None
    assert share_of("seacock_minded", layout, *again) == 0.0
    assert share_of("seacock_minded", layout, "exhaust.shut_seacock", *again) == 1.0
    fires = ("exhaust.shut_seacock", *FIRES, turn(layout))
    assert share_of("seacock_minded", layout, *fires, "engine.run_idle_5min") < 1.0
    assert share_of("seacock_minded", layout, *fires, "exhaust.open_seacock", "engine.run_idle_1min") == 1.0


@ON_EVERY_BOAT
def test_hot_parts_are_left_to_cool(layout):
    ran = (*FIRES, turn(layout), "engine.run_idle_5min", "engine.stop")
    assert share_of("cooled_first", layout, *ran, "exhaust.look_elbow") == 0.0
    assert share_of("cooled_first", layout, *ran, "bench.cool", "exhaust.look_elbow") == 1.0


@pytest.mark.parametrize("layout", ["tank_below", "metal_bowl"])
def test_an_engine_is_not_turned_on_petrol_that_was_found(layout):
    scenario = boat(layout, ("petrol_in_fuel", "tank"))
    found = (
        "bench.lay_tray",
        "shut_off.shut",
        "separator.open_vent",
        "separator.open_drain",
        "separator.close_drain",
        "separator.close_vent",
        "separator.read_jar",
    )
    rule = RULES["wrong_fuel_not_run"]
    for after, share in (((), 1.0), (("starter.crank_5",), 0.0), (("tank.wipe_out", "starter.crank_5"), 1.0)):
        attempt = played(scenario, *found, *after)
        assert any(seen.key == "jar_petrol" for seen in attempt.observations)
        judged = judge_rule(rule, rule.judge(track_of(scenario, attempt.steps), SCHEME.limits))
        assert judged is not None and judged[1] == share


def test_in_a_seaway_the_boat_is_made_fast_first_and_in_a_calm_nobody_asks():
    calm = boat("tank_below", STOP)
    rough = compose_scenario("tank_below", [SetFault(*STOP)], seaway=0.5)
    work = (*READY, "fine_filter.open_screw", "fine_filter.close_screw")
    assert "before the boat lay safely" not in cost(calm, *work)
    assert "before the boat lay safely" in cost(rough, *work)
    assert "before the boat lay safely" not in cost(rough, "bench.make_fast", *work)


@ON_EVERY_BOAT
def test_safe_work_earns_all_and_careless_work_next_to_nothing(layout):
    scenario = boat(layout, STOP)
    opened = ("fine_filter.open_screw", "fine_filter.close_screw", "injector_1.slacken_nut", "injector_1.tighten_nut")
    assert safety_of(scenario, *READY, *opened)[0].score == SCHEME.weights.safety
    careless, _ = safety_of(scenario, *opened)
    assert careless.score == 0.0
    assert round(sum(reason.points for reason in careless.reasons if not reason.good), 6) == SCHEME.weights.safety


def test_a_caution_broken_once_is_not_made_up_for_by_keeping_it_often():
    """Many short turns after the long one still leave half of it lost; the reason says what it cost."""
    scenario = boat("tank_below", STOP)
    long, short = (
        ("starter.crank_30", "starter.rest"),
        ("exhaust.shut_seacock", *("starter.crank_5", "starter.rest") * 8),
    )
    (kept, _), (broken, _) = safety_of(scenario, *short), safety_of(scenario, *long, *short)
    (reason,) = [one for one in broken.reasons if one.text == RULES["starter_rested"].broken]
    assert kept.score == kept.maximum and broken.score < 0.9 * broken.maximum
    assert broken.score == pytest.approx(broken.maximum - reason.points, abs=0.1)


def test_doing_nothing_or_only_looking_earns_nothing():
    scenario = boat("tank_below", STOP)
    assert safety_of(scenario)[0].score == 0.0
    assert safety_of(scenario, "tank.dip", "shut_off.look")[0].score == 0.0


def test_work_in_which_nothing_could_hurt_earns_all():
    scenario = boat("single_cylinder", ("shut_valve", "shut_off"))
    work = ("shut_off.look", "shut_off.open", "hand_start.swing_10")
    assert safety_of(scenario, *work)[0].score == SCHEME.weights.safety


# ---- what fails by itself ----------------------------------------------------------------------------------------


def hard_fails(scenario, *work: str) -> set[str]:
    """Return the names of what failed by itself after some work."""
    _, fails = safety_of(scenario, *work)
    assert all(one.text.startswith(HARD_FAILS[one.about][0].split("{")[0]) for one in fails)
    return {one.about for one in fails}


FLOODING = ("starter.crank_30", "starter.rest") * 8


@pytest.mark.parametrize("layout", ["tank_below", "high_tank"])
def test_cranking_on_floods_the_engine(layout):
    mark, fails = safety_of(boat(layout, STOP), *FLOODING)
    assert fails and fails[0].text.startswith(HARD_FAILS["flooded"][0])
    assert fails[0].step and fails[0].moment_s and fails[0].why
    assert mark.score == 0.0


def test_cranking_a_locked_engine_bends_a_rod():
    assert hard_fails(boat("high_tank", STOP), *FLOODING) == {"flooded", "rod_bent"}


def test_the_same_cranking_with_the_seacock_shut_floods_nothing():
    assert hard_fails(boat("tank_below", STOP), "exhaust.shut_seacock", *FLOODING) == set()


@pytest.mark.parametrize("layout", ["tank_below", "electric_pump"])
def test_a_hand_in_the_spray(layout):
    work = (*READY, *FIRES, "starter.crank_10", "injector_1.slacken_nut")
    assert hard_fails(boat(layout, STOP), *work, "injector_1.finger") == {"hurt"}
    assert hard_fails(boat(layout, STOP), *work, "injector_1.card") == set()


DRAINED = (*READY, "shut_off.shut", "separator.open_vent", "separator.open_drain", "separator.close_drain")


@ON_EVERY_BOAT
def test_a_jar_over_the_side_and_a_jar_into_the_can(layout):
    scenario = boat(layout, STOP)
    _, fails = safety_of(scenario, *DRAINED, "bench.tip_overboard")
    assert [one.text.startswith("Oily waste, about") and " ml " in one.text for one in fails] == [True]
    assert hard_fails(scenario, *DRAINED, "bench.empty_jar") == set()
    assert hard_fails(scenario, "bench.tip_overboard") == set()


def test_a_hard_fail_fails_whatever_the_points():
    easy = replace(
        SCHEME, pass_line=replace(SCHEME.pass_line, total_share=0.0, safety_share=0.0, method_share=0.0, cure_share=0.0)
    )
    assert marked(played(boat("tank_below", STOP), *DRAINED, "bench.empty_jar"), easy).passed
    assert not marked(played(boat("tank_below", STOP), *DRAINED, "bench.tip_overboard"), easy).passed
