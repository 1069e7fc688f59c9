"""Help by steps: only where it is allowed, said by what is still possible, kept in the logbook, and paid for."""

from __future__ import annotations

import pytest
from bench_wire import kinds, ticket_for

from engine_sim.attempt import Attempt, read_logbook, replay
from engine_sim.attempt.logbook import header_record, line_of, step_record
from engine_sim.bench import helping
from engine_sim.bench.words import NO_HELP, SAID_BEFORE
from engine_sim.errors import NotPermitted, UnknownName
from engine_sim.marking import default_scheme, mark_attempt
from engine_sim.scenarios import HELPS, SetFault, compose_scenario

SHUT = [SetFault("shut_valve", "shut_off")]


def open_boat(**more) -> Attempt:
    return Attempt(compose_scenario("tank_below", SHUT, **more))


def practised(at, fault: str = "shut_valve"):
    """A bench at practice with a drawn fault: the ticket counts as one's own."""
    wire = at(ticket=ticket_for(fault))
    wire.bench.desk._ticket = wire.bench.desk._ticket.__class__(wire.bench.desk._ticket.text, True)
    wire.ask("tank", "choose")
    return wire


def test_who_may_have_the_most_may_have_the_lighter_kinds():
    for most in HELPS:
        allowed = helping.kinds_allowed(open_boat(help_most=most))
        assert allowed == HELPS[: HELPS.index(most) + 1]
    assert helping.kinds_allowed(open_boat()) == ()


def test_help_that_is_not_allowed_is_refused_and_an_unknown_kind_named():
    with pytest.raises(NotPermitted):
        open_boat().ask_help("nudge", "text")
    with pytest.raises(NotPermitted):
        open_boat(help_most="nudge").ask_help("check", "text")
    with pytest.raises(NotPermitted):
        open_boat().left_undone()
    with pytest.raises(UnknownName, match="nudge"):
        open_boat(help_most="shout")


def test_help_goes_from_a_direction_to_a_part_to_the_check():
    attempt = open_boat(help_most="check")
    helper = helping.Helper(attempt)
    assert helper.text("nudge") == helping.TELLS["first"]
    attempt.act("starter", "crank_5")
    attempt.act("stop_control", "look")
    nudge, hint, check = (helper.text(kind) for kind in HELPS)
    assert nudge == helping.TELLS["tank_side"]
    best = helper._coach.best()
    assert hint == helping.TELLS["part"].format(part=attempt.place.label(best.first[0]))
    assert check.startswith(f"Next: {best.label}.")
    attempt.act(*best.first)
    assert helper.text("check") != check


def test_help_is_in_the_logbook_and_plays_again():
    attempt = open_boat(help_most="check")
    steps = [attempt.act("tank", "look"), attempt.ask_help("hint", "Go to this part: shut-off.")]
    steps.append(attempt.act("shut_off", "look"))
    record = header_record(attempt.scenario)
    lines = [line_of(record)]
    for step in steps:
        record = step_record(step, str(record["digest"]))
        lines.append(line_of(record))
    again = replay(read_logbook(b"".join(lines)), attempt.scenario)
    assert again.findings == ()
    assert [step.kind for step in again.attempt.steps] == ["action", "help", "action"]
    cut = b"".join(lines).replace(b"Go to this part", b"Go to that part")
    assert replay(read_logbook(cut), attempt.scenario).findings


def test_help_costs_what_the_scheme_says():
    def method(*asked: str) -> float:
        attempt = open_boat(help_most="check")
        for part, action in (("starter", "crank_5"), ("stop_control", "look"), ("tank", "dip"), ("separator", "look")):
            attempt.act(part, action)
        for kind in asked:
            attempt.ask_help(kind, "text")
        attempt.act("shut_off", "look")
        attempt.act("shut_off", "open")
        attempt.act("starter", "crank_10")
        sheet = mark_attempt(attempt.scenario, attempt.steps, None, default_scheme(), with_coach=False)
        if asked:
            (said,) = [one for one in sheet.marks["method"].reasons if one.text.startswith("You asked for help")]
            assert said.points > 0 and said.why
        return sheet.marks["method"].score

    costs = default_scheme().method
    assert method() - method("nudge") == pytest.approx(costs.nudge_costs)
    assert method() - method("hint", "check") == pytest.approx(costs.hint_costs + costs.check_costs)


def test_what_is_left_undone_is_named_where_help_is_allowed():
    attempt = open_boat(help_most="nudge")
    assert attempt.left_undone() == ()
    attempt.act("fine_filter", "open_screw")
    attempt.act("tank", "open_cap")
    told = " / ".join(attempt.left_undone())
    assert "fine filter" in told and "tank" in told


def test_the_bench_helps_in_practice_and_keeps_it(at, tmp_path):
    wire = practised(at)
    assert [kind for kind, _ in wire.panel()["helps"]] == list(HELPS)
    told = wire.ask("page", "help", which="nudge")
    assert told["notice"] == helping.TELLS["first"] == wire.panel()["help_said"][0]
    assert kinds(tmp_path)[-1] == "help"
    wire.ask("fine_filter", "open_screw")
    assert len(wire.panel()["left_undone"]) == 1


def test_an_instructors_ticket_goes_without_help(at, tmp_path):
    wire = at(ticket=ticket_for("shut_valve"))
    assert wire.panel()["helps"] == [] and wire.panel()["left_undone"] == []
    assert wire.ask("page", "help", which="nudge")["notice"] == NO_HELP
    assert kinds(tmp_path) == []


def test_a_kind_that_does_not_exist_is_told_in_words(at):
    assert practised(at).ask("page", "help", which="shout")["notice"] == NO_HELP


def test_once_the_search_is_over_help_is_about_the_cure_and_the_air():
    attempt = open_boat(help_most="check")
    helper = helping.Helper(attempt)
    for part, action in (("starter", "crank_5"), ("shut_off", "look")):
        attempt.act(part, action)
    assert helper.text("nudge") == helping.TELLS["nothing_more"]
    assert helper.text("hint") == helping.TELLS["part"].format(part="shut-off")
    assert helper.text("check") == helping.TELLS["cure"].format(part="shut-off", fault="shut")
    attempt.act("shut_off", "open")
    attempt.act("separator", "change_element")
    assert helper.text("nudge") == helping.TELLS["air_nudge"]
    assert helper.text("check") == helping.TELLS["air"]


def test_the_same_help_again_is_said_and_costs_nothing(at, tmp_path):
    wire = practised(at)
    first = wire.ask("page", "help", which="nudge")["notice"]
    again = wire.ask("page", "help", which="nudge")["notice"]
    assert again.endswith(first) and again.startswith(SAID_BEFORE)
    assert kinds(tmp_path).count("help") == 1
