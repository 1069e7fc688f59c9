"""What a rule leaves alone: work in which nobody could know, and one job that looks like two. Common practice."""

from __future__ import annotations

from dataclasses import replace

from handmade import track_of

from engine_sim.marking.judges import Verdict
from engine_sim.marking.rules import RULES
from engine_sim.marking.scheme import default_scheme
from engine_sim.marking.track import Track


def judged(rule_id: str, track: Track) -> list[Verdict]:
    """Return the verdicts of one rule."""
    (rule,) = [one for one in RULES if one.id == rule_id]
    return rule.judge(track, default_scheme().limits)


def test_a_valve_that_nobody_knew_to_be_shut_is_nobodys_care():
    """Found shut, and never looked at: an element changed behind it is neither praised nor blamed for that."""
    track = track_of("separator.change_element")
    (moment,) = track.moments
    found_shut = replace(track, moments=(replace(moment, before={**moment.before, "shut_off_open": False}),))
    assert judged("shut_before_opening", found_shut) == []


def test_a_tap_turned_at_while_it_is_open_is_one_drain():
    """Its jar was read before the second turn at the tap, and the last that came was fuel."""
    water, fuel = "separator:drain_runs_water", "separator:drain_runs_fuel"
    work = (
        f"separator.open_drain {water}",
        "separator.read_jar",
        f"separator.open_drain {fuel}",
        "separator.close_drain",
    )
    assert [one.share for one in judged("drain_to_clean_fuel", track_of(*work))] == [1.0]


def test_a_joint_loosened_and_left_for_another_part_is_a_change_with_no_check():
    """Loosened, and an element changed next: nobody knows which of the two did what came."""
    left = ("pump_joint.look", "pump_joint.undo", "separator.change_element", "starter.crank_10")
    assert [one.share for one in judged("one_change_then_check", track_of(*left))] == [0.0, 1.0]
    tried = ("pump_joint.look", "pump_joint.undo", "lift_pump.lever_10", "separator.change_element", "starter.crank_10")
    assert [one.share for one in judged("one_change_then_check", track_of(*tried))] == [1.0, 1.0]
    one_job = ("pump_joint.undo", "tank.blow_back", "lift_pump.lever_10")
    assert [one.share for one in judged("one_change_then_check", track_of(*one_job))] == [1.0]


def test_a_gauge_screwed_in_lets_nothing_in_that_must_be_pumped_out():
    assert judged("prime_before_start", track_of("lift_pump.fit_gauge", "starter.crank_10")) == []
    assert [one.share for one in judged("prime_before_start", track_of("pump_joint.remake", "starter.crank_10"))] == [0]


def test_nuts_that_were_tightened_and_never_ran_again_need_no_look_for_spray():
    fired_slack = ("injector_1.slacken_nut", "starter.crank_5 engine:fires", "engine.stop", "injector_1.tighten_nut")
    assert judged("card_at_the_nuts", track_of(*fired_slack)) == []
    ran_on = (*fired_slack, "starter.crank_5 engine:fires")
    assert [one.share for one in judged("card_at_the_nuts", track_of(*ran_on))] == [0.0]
