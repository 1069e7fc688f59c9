"""The attempt: what can be done, what comes of wrong moves, what may be seen."""

from __future__ import annotations

import doctest
import subprocess
import sys

import pytest

import engine_sim.attempt.attempt as attempt_module
from engine_sim.attempt import Attempt, Diagnosis, open_exercise
from engine_sim.errors import BadScenario, BadTicket, NotPermitted, UnknownName
from engine_sim.scenarios import check_ticket, draw_scenario, new_ticket
from engine_sim.scenarios.tickets import ALPHABET
from engine_sim.wording import OWN_DEEDS, SENTENCES

TICKET = "PCFT-M63D"


def graded() -> Attempt:
    return Attempt(draw_scenario("no_start_harbour", TICKET))


def test_examples_in_the_docstrings_hold():
    assert doctest.testmod(attempt_module).failed == 0


def test_every_part_offers_looking_but_the_bench():
    attempt = graded()
    for part in attempt.parts():
        names = {offer.action for offer in attempt.offers(part.id)}
        assert names & {"look", "look_around"}


def test_time_moves_only_through_actions():
    attempt = graded()
    attempt.note("nothing yet")
    attempt.outside()
    assert attempt.clock_s == 0.0
    attempt.act("tank", "dip")
    assert attempt.clock_s == pytest.approx(90.0)


def test_unknown_names_are_refused_with_the_nearest():
    attempt = graded()
    with pytest.raises(UnknownName, match="Did you mean 'separator'"):
        attempt.act("seperator", "look")
    with pytest.raises(UnknownName, match="Did you mean 'open_screw'"):
        attempt.act("fine_filter", "open_scew")
    with pytest.raises(UnknownName, match="part that can be 'shut'"):
        attempt.diagnose(Diagnosis("tank", "shut_valve"))
    with pytest.raises(BadScenario, match="There is no observation 9"):
        attempt.diagnose(Diagnosis("shut_off", "shut_valve", (9,)))
    assert attempt.steps == ()


def test_wrong_move_is_an_observation_that_says_why():
    attempt = graded()
    assert [seen.key for seen in attempt.act("separator", "fill").observations] == ["not_possible"]
    assert [seen.key for seen in attempt.act("engine", "run_idle_1min").observations] == ["engine_stands"]


def test_nothing_can_be_done_after_handing_in():
    attempt = graded()
    attempt.hand_in()
    refused = attempt.act("tank", "dip")
    assert refused.kind == "refused" and refused.observations[0].key == "handed_in"
    assert len(attempt.steps) == 1 and attempt.clock_s == 0.0


def test_inside_is_shown_only_where_the_scenario_permits_it():
    with pytest.raises(NotPermitted, match="does not show the inside"):
        graded().xray()
    lesson = Attempt(draw_scenario("first_look", ""))
    inside = lesson.xray()
    for volume in inside.volumes.values():
        assert volume.fuel_share + volume.water_share + volume.air_share == pytest.approx(1.0)


def test_what_is_seen_outside_holds_no_truth():
    """With the gauge stuck the view shows the needle, not the level."""
    rig_views = [Attempt(draw_scenario("no_start_harbour", ticket)) for ticket in tickets_of("empty_tank", 1)]
    for attempt in rig_views:
        assert attempt.outside()["gauge_reading"] > 0.3
        assert attempt.place.rig.shares("tank")[0] < 0.08


def tickets_of(fault: str, count: int) -> list[str]:
    """Find tickets that draw a fault."""
    found: list[str] = []
    while len(found) < count:
        ticket = new_ticket()
        if draw_scenario("no_start_harbour", ticket).faults[0].fault == fault:
            found.append(ticket)
    return found


def test_ticket_is_read_in_any_writing_and_slips_are_found():
    assert check_ticket(" pcft m63d ") == TICKET
    plain = TICKET.replace("-", "")
    for place, right in enumerate(plain):
        for wrong in ALPHABET:
            if wrong != right:
                with pytest.raises(BadTicket, match="mistyped"):
                    check_ticket(plain[:place] + wrong + plain[place + 1 :])
    for bad in ("", "PCFT", "PCFT-M63D-X", "PCFT-M60D", "PCFT-M6ÖD"):
        with pytest.raises(BadTicket, match="is not a ticket"):
            check_ticket(bad)


def test_tickets_draw_every_fault_of_the_pool_about_equally():
    drawn = [draw_scenario("no_start_harbour", new_ticket()).faults[0].fault for _ in range(1400)]
    counts = {fault: drawn.count(fault) for fault in set(drawn)}
    assert len(counts) == 7
    assert all(120 < count < 290 for count in counts.values()), counts


PLAY = """
import sys
from engine_sim.attempt import open_exercise
with open_exercise("no_start_harbour", "PCFT-M63D", sys.argv[1]) as opened:
    for step in sys.argv[2].split():
        opened.attempt.act(*step.split("."))
    sys.stdout.buffer.write(opened.logbook_bytes())
"""
WORK = "starter.crank_5 tank.dip fine_filter.open_screw lift_pump.lever_60 fine_filter.close_screw starter.crank_10"


def test_same_ticket_and_actions_give_the_same_logbook_in_any_process(tmp_path):
    with open_exercise("no_start_harbour", TICKET, tmp_path) as opened:
        for step in WORK.split():
            opened.attempt.act(*step.split("."))
        here = opened.logbook_bytes()
    for seed in ("1", "4242"):
        folder = tmp_path / seed
        folder.mkdir()
        command = [sys.executable, "-c", PLAY, str(folder), WORK]
        there = subprocess.run(command, env={"PYTHONHASHSEED": seed}, capture_output=True, check=True, timeout=120)
        assert there.stdout == here


def keys(step) -> list[str]:
    return [seen.key for seen in step.observations]


def test_screw_tightened_right_after_the_lever_is_tightened_while_it_flows():
    attempt = Attempt(draw_scenario("first_look", ""))
    attempt.act("fine_filter", "open_screw")
    attempt.act("lift_pump", "lever_10")
    assert keys(attempt.act("fine_filter", "close_screw")) == ["screw_shut_flowing"]
    attempt.act("fine_filter", "open_screw")
    attempt.act("lift_pump", "lever_10")
    attempt.act("fine_filter", "look")
    assert keys(attempt.act("fine_filter", "close_screw")) == ["screw_shut_still"], "by now nothing comes"
    assert keys(attempt.act("fine_filter", "close_screw")) == ["screw_shut"]


def test_union_nut_slackened_at_the_running_engine_sprays_and_wets():
    attempt = Attempt(draw_scenario("first_look", ""))
    assert "fires" in keys(attempt.act("starter", "crank_10"))
    assert keys(attempt.act("injector_2", "slacken_nut")) == [
        "nut_slackened",
        "nut_sprays",
        "spray_near_eyes",
        "beat_stumbles",
    ]
    assert "beat_uneven" in keys(attempt.act("engine", "look"))
    attempt.act("bench", "wait_10s")
    assert "injector_2" in attempt.outside()["weeping"]
    assert keys(attempt.act("starter", "crank_5")) == ["already_runs"]


def test_every_key_that_is_no_evidence_has_its_sentence():
    assert set(SENTENCES) >= OWN_DEEDS
