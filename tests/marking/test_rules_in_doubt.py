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
