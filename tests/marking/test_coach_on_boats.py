"""The coach on boats: what drops out and what stays, hand-worked on short attempts; one boat, so that it is quick."""

from __future__ import annotations

import pytest

from engine_sim.attempt import Attempt
from engine_sim.marking.coach import Coach, analyse
from engine_sim.marking.coach.causes import causes_of
from engine_sim.marking.coach.follower import STILL_ACTIONS, Follower
from engine_sim.marking.coach.likelihood import WEIGHTS
from engine_sim.marking.coach.outcomes import alike, signs_of
from engine_sim.scenarios import SetFault, compose_scenario

BOAT = "high_tank"


def played(*deeds: str, fault: str = "shut_valve", part: str = "shut_off") -> Attempt:
    attempt = Attempt(compose_scenario(BOAT, [SetFault(fault, part)]))
    for deed in deeds:
        attempt.act(*deed.split("."))
    return attempt


def left(attempt: Attempt) -> set[tuple[str, str]]:
    """What is still possible after an attempt: fault and part."""
    coach = Coach(attempt.scenario)
    for step in attempt.steps:
        coach.see(step)
    return {said for number in coach.alive for said in coach.causes[number].said}


def test_before_anything_is_done_all_that_stops_an_engine_is_possible():
    everything = left(played())
    assert {("shut_valve", "shut_off"), ("empty_tank", "tank"), ("flat_battery", "battery")} <= everything
    assert ("slack_joint", "separator_joint") in everything and ("slack_joint", "pump_joint") in everything
    assert not {fault for fault, _ in everything} & {"cam_on_lobe", "gauge_wrong"}


def test_what_the_eye_sees_settles_it():
    assert left(played("shut_off.look")) == {("shut_valve", "shut_off")}


def test_an_open_handle_leaves_all_but_the_shut_valve():
    before = left(played(fault="empty_tank", part="tank"))
    after = left(played("shut_off.look", fault="empty_tank", part="tank"))
    assert before - after == {("shut_valve", "shut_off")}


def test_a_dipstick_tells_an_empty_tank_from_all_others():
    assert left(played("tank.dip", fault="empty_tank", part="tank")) == {("empty_tank", "tank")}


def test_a_gauge_says_no_more_than_whether_the_tank_is_low():
    """Nobody knows how full it was: an eighth more, because water lies in it, is no sign."""
    before = left(played(fault="water_in_bowl", part="separator"))
    after = left(played("tank.read_gauge", fault="water_in_bowl", part="separator"))
    assert ("water_in_bowl", "tank") in after and before - after <= {("empty_tank", "tank")}


def test_a_brisk_turn_clears_battery_and_starter():
    after = left(played("starter.crank_5"))
    assert ("shut_valve", "shut_off") in after
    assert not after & {("flat_battery", "battery"), ("isolator_off", "battery"), ("failed_starter", "starter")}


def test_what_moves_nothing_tells_nothing():
    assert left(played("bench.lay_tray", "bench.put_on_goggles")) == left(played())


@pytest.mark.parametrize(
    ("fault", "part"),
    [("shut_valve", "shut_off"), ("water_in_bowl", "separator"), ("stop_control_pulled", "stop_control")],
)
def test_the_truth_never_drops_out_and_shows_by_itself_the_same(fault, part):
    """The boat that follows with the true fault shows what the learner's own showed, though its looks cost no time."""
    deeds = ("bench.look_around", "tank.dip", "starter.crank_5", "stop_control.look", "separator.look", "shut_off.look")
    attempt = played(*deeds, fault=fault, part=part)
    assert (fault, part) in left(attempt)
    follower = Follower(attempt.scenario)
    for step in attempt.steps:
        assert alike(signs_of(step.observations), follower.do(step.part, step.action)), step


def test_faults_at_once_are_one_thing_that_may_be_wrong():
    pair = [SetFault("shut_valve", "shut_off"), SetFault("water_in_bowl", "separator")]
    causes = causes_of(compose_scenario(BOAT, pair))
    (truth,) = [cause for cause in causes if cause.is_truth]
    assert truth.said == (("shut_valve", "shut_off"), ("water_in_bowl", "separator"))
    assert truth.weight < min(WEIGHTS["shut_valve"], WEIGHTS["water_in_bowl"])


def test_knowledge_grows_step_by_step_and_shares_add_up():
    attempt = played("starter.crank_5", "stop_control.look", "tank.dip", "shut_off.look", "shut_off.open")
    analysis = analyse(attempt.scenario, attempt.steps)
    assert [insight.step for insight in analysis.insights] == [0, 1, 2, 3, 4, 5]
    many = [len(insight.suspects) for insight in analysis.insights]
    assert many == sorted(many, reverse=True) and many[0] > 30 and many[-1] == 1
    for insight in analysis.insights:
        assert sum(one.share for one in insight.suspects) == pytest.approx(1.0)
        assert list(insight.suspects) == sorted(insight.suspects, key=lambda one: (-one.share, one.part, one.fault))
    assert analysis.found_step == 4
    assert analysis.insights[1].told_bits > 0.1 and analysis.insights[5].told_bits == 0.0
    assert analysis.insights[1].best is not None and analysis.insights[5].best is None


def test_the_model_run_ends_with_a_check_that_shows_the_fault():
    analysis = analyse(played().scenario, ())
    assert (analysis.model[-1].part, analysis.model[-1].action) == ("shut_off", "look")
    assert all(advice.minutes > 0.0 and advice.why.endswith(".") for advice in analysis.model)


def test_idle_looks_and_parts_changed_on_a_guess_cost_more_than_sound_checks():
    sound = analyse(played().scenario, played("starter.crank_5", "shut_off.look").steps)
    idle = analyse(played().scenario, played("engine.look_propeller", "starter.crank_5", "shut_off.look").steps)
    swapped = analyse(played().scenario, played("fine_filter.change_element", "shut_off.look").steps)
    assert sound.best_minutes == idle.best_minutes == swapped.best_minutes
    assert sound.best_minutes <= sound.own_minutes < idle.own_minutes < swapped.own_minutes
    assert 0.0 < swapped.efficiency() < idle.efficiency() < sound.efficiency() <= 1.0


def test_luck_does_not_count():
    """Looking at the shut-off first of all happens to hit on this boat, and costs over all boats what it costs."""
    hit = analyse(played().scenario, played("shut_off.look").steps)
    missed = played("shut_off.look", fault="empty_tank", part="tank")
    assert hit.insights[1].lost_minutes == pytest.approx(
        analyse(missed.scenario, missed.steps).insights[1].lost_minutes
    )


@pytest.mark.parametrize("look", ["shut_off.look", "separator.look", "tank.dip", "stop_control.look"])
def test_a_look_that_is_to_be_made_anyway_costs_the_search_nothing_once(look):
    """In an order from tank to pump nobody loses by having dipped the tank before the engine was turned."""
    steps = played(look, look, fault="slack_joint", part="pump_joint").steps
    first, again = analyse(played(fault="slack_joint", part="pump_joint").scenario, steps).insights[1:3]
    assert first.lost_minutes == 0.0 < again.lost_minutes


def test_strokes_that_feel_as_before_settle_nothing():
    """How long a lever stays soft is a matter of how much air there is; the next stroke after a screw counts again."""
    attempt = Attempt(compose_scenario("tank_below", [SetFault("slack_joint", "pump_joint")]))
    attempt.act("lift_pump", "lever_10")
    once = left(attempt)
    for _ in range(2):
        attempt.act("lift_pump", "lever_10")
    soft = [{"lever_spongy", "lever_air"} & {seen.key for seen in step.observations} for step in attempt.steps]
    assert all(soft)
    assert left(attempt) == once and len(once) > 1


@pytest.mark.parametrize("boat", ["electric_pump", "single_cylinder"])
def test_what_counts_as_still_moves_nothing_on_any_boat(boat):
    """Such an action plays no time of its own but the key's two seconds for the lamps, and opens or shuts nothing."""
    scenario = compose_scenario(boat, [SetFault("shut_valve", "shut_off")])
    attempt = Attempt(scenario)
    for part in attempt.parts():
        for offer in attempt.offers(part.id):
            if offer.action in STILL_ACTIONS:
                follower = Follower(scenario)
                before = list(follower.place.rig.circuit.opening)
                follower.do(part.id, offer.action)
                assert follower.place.rig.clock_s <= 2.0, (part.id, offer.action)
                assert list(follower.place.rig.circuit.opening) == before


def test_a_check_that_was_made_is_not_asked_for_again():
    coach = Coach(played().scenario)
    attempt = played()
    asked = []
    while (check := coach.best()) is not None and len(asked) < 30:
        asked.append(check.name)
        for part, name in check.deeds:
            coach.see(attempt.act(part, name))
    assert len(asked) == len(set(asked)) >= 2


def test_a_hazy_sample_from_the_tank_leaves_water_in_the_tank_possible():
    after = left(played("tank.sample_sump", fault="water_in_bowl", part="separator"))
    assert {("water_in_bowl", "separator"), ("water_in_bowl", "tank")} <= after


def worked_below(fault: str, part: str, *work: str) -> set[tuple[str, str]]:
    """What is still possible after some work on the boat whose tank lies below."""
    attempt = Attempt(compose_scenario("tank_below", [SetFault(fault, part)]))
    for name in work:
        attempt.act(*name.split("."))
    return left(attempt)


def test_what_a_restart_would_do_is_no_sign_where_the_engine_died_on_one_boat_only():
    """An engine that fires once and dies may have water, a shut valve or a choked element: two turns tell nothing."""
    still = worked_below("water_in_bowl", "separator", "starter.crank_5", "starter.crank_10", "starter.crank_10")
    assert {("water_in_bowl", "separator"), ("shut_valve", "shut_off"), ("loaded_element", "separator")} <= still


def test_how_a_screw_spits_tells_no_place_where_air_comes_in_from_another():
    pumped = ("starter.crank_5", "fine_filter.open_screw", *("lift_pump.lever_60",) * 3)
    still = worked_below("slack_joint", "separator_joint", *pumped)
    assert {("slack_joint", "separator_joint"), ("slack_joint", "pump_joint")} <= still


def test_a_first_turn_says_nothing_of_where_on_the_fuel_side_it_is():
    """No smoke, white smoke or a start that dies: how long the skipper went on decides that, and nobody knows."""
    for fault, part in (("air_in_filter", "fine_filter"), ("slack_joint", "pump_joint"), ("shut_valve", "shut_off")):
        still = worked_below(fault, part, "starter.crank_5")
        assert {("shut_valve", "shut_off"), ("empty_tank", "tank"), ("loaded_element", "separator")} <= still
        assert ("flat_battery", "battery") not in still


def test_an_engine_that_fires_is_not_told_to_stop():
    assert ("stop_control_pulled", "stop_control") not in worked_below("shut_valve", "shut_off", "starter.crank_5")
    assert ("stop_control_pulled", "stop_control") in worked_below("air_in_filter", "fine_filter", "starter.crank_5")


def test_a_stop_pulled_on_an_engine_that_runs_rules_out_nothing_on_one_that_stands():
    still = worked_below("blocked_pick_up", "tank", "starter.crank_5", "engine.stop", "exhaust.look", "tank.look")
    assert {("shut_valve", "shut_off"), ("empty_tank", "tank"), ("loaded_element", "separator")} <= still
