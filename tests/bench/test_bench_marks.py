"""“Mark my attempt”: marks at once for practice that is handed in, and never for an instructor's ticket."""

from __future__ import annotations

import json
from functools import partial

import pytest
from bench_wire import EXERCISE, LESSON, tickets

from engine_sim.attempt import Attempt
from engine_sim.bench import marking_words, own_marks
from engine_sim.bench.shelf import KnownTicket, Shelf
from engine_sim.errors import SolverFailed
from engine_sim.marking import MARK_NAMES, TITLES, default_scheme, mark_attempt
from engine_sim.scenarios import draw_scenario

TICKET = next(tickets())
STAGES = [marking_words.TELLS[name] for name in ("thinking", "playing", "writing")]


@pytest.fixture
def by_rules_alone(monkeypatch):
    """Leave out the coach, which takes long; all else is marked as usual."""
    monkeypatch.setattr(own_marks, "analyse", lambda *given: None)
    monkeypatch.setattr(own_marks, "mark_attempt", partial(mark_attempt, with_coach=False))


@pytest.fixture
def practised(at, tmp_path):
    """Give a bench at a practice ticket that is always the same, with little work done on it."""
    Shelf(EXERCISE, tmp_path).remember(KnownTicket(TICKET, True))
    wire = at()
    for part, action in (("bench", "look_around"), ("tank", "dip"), ("shut_off", "look")):
        wire.ask(part, action)
    return wire


def test_marks_are_not_offered_before_the_hand_in(practised):
    assert not practised.panel()["may_mark"]
    told = practised.ask("page", "marks")
    assert told["notice"] == marking_words.NOT_HERE
    assert practised.panel()["warning"] and practised.panel()["marks"] is None


def test_handing_in_practice_offers_the_marks_and_says_so(practised):
    told = practised.ask("page", "hand_in")
    assert practised.panel()["may_mark"] and practised.panel()["marks"] is None
    assert marking_words.WAITING in told["notice"]


def test_the_marks_are_those_of_marking_itself_with_every_reason(practised, by_rules_alone):
    practised.ask("page", "hand_in")
    assert practised.ask("page", "marks")["notice"] == marking_words.TELLS["done"]
    attempt = practised.bench.desk.attempt
    sheet = mark_attempt(attempt.scenario, attempt.steps, attempt.diagnosis, default_scheme(), with_coach=False)
    shown = practised.panel()["marks"]
    assert [name for name, _ in shown["rows"]] == [*TITLES.values(), "Together"]
    assert [points for _, points in shown["rows"][:-1]] == [
        marking_words.points(sheet.marks[name].score, sheet.marks[name].maximum) for name in MARK_NAMES
    ]
    assert shown["verdict"] == marking_words.TELLS["not_passed"]
    assert len(shown["pages"]) == 1 + len(MARK_NAMES)
    assert "What cost you most" in shown["pages"][0]


def test_it_says_in_words_how_far_the_marking_is(practised, by_rules_alone):
    practised.ask("page", "hand_in")
    before = len(practised.sent)
    practised.ask("page", "marks")
    told = [sent["content"] for sent in practised.sent[before:] if sent["method"] == "custom"]
    assert [one["notice"] for one in told if one["kind"] == "working"] == ["", *STAGES]
    assert told[-1]["kind"] == "answer"


def test_asking_again_marks_nothing_twice(practised, by_rules_alone, monkeypatch):
    practised.ask("page", "hand_in")
    practised.ask("page", "marks")
    first = practised.panel()["marks"]
    monkeypatch.setattr(own_marks, "mark_attempt", None)
    practised.ask("page", "marks")
    assert practised.panel()["marks"] == first


def test_starting_again_takes_the_marks_away(practised, by_rules_alone):
    practised.ask("page", "hand_in")
    practised.ask("page", "marks")
    practised.ask("page", "again")
    assert practised.panel()["marks"] is None
    assert not practised.panel()["may_mark"]


def test_an_instructors_ticket_is_never_marked_at_the_bench(at, monkeypatch):
    monkeypatch.setattr(own_marks, "mark_attempt", None)
    wire = at(ticket=TICKET)
    wire.ask("tank", "look")
    wire.ask("page", "hand_in")
    assert not wire.panel()["may_mark"]
    assert wire.ask("page", "marks")["notice"] == marking_words.NOT_HERE
    assert wire.panel()["marks"] is None
    assert "What cost you most" not in json.dumps([wire.sent, wire.bench.get_state()])


def test_a_lesson_with_nothing_wrong_has_no_marks(at):
    wire = at(LESSON)
    wire.ask("page", "hand_in")
    assert not wire.panel()["may_mark"]
    assert wire.ask("page", "marks")["notice"] == marking_words.NOT_HERE


def test_work_that_cannot_be_gone_through_is_said_in_words(practised, monkeypatch):
    def fails(*_given):
        raise SolverFailed("no step settles")

    monkeypatch.setattr(own_marks, "analyse", fails)
    practised.ask("page", "hand_in")
    practised.ask("page", "marks")
    assert practised.panel()["marks"]["verdict"] == marking_words.TELLS["not_marked"]


@pytest.mark.slow
def test_with_the_coach_the_page_shows_what_was_still_possible(tmp_path):
    attempt = Attempt(draw_scenario(EXERCISE, TICKET))
    for part, action in (("tank", "dip"), ("shut_off", "look"), ("fine_filter", "open_screw")):
        attempt.act(part, action)
    attempt.hand_in()
    told: list[str] = []
    shown = own_marks.marked(attempt, tmp_path, told.append)
    assert told == STAGES
    assert "What was still possible" in shown["pages"][0]
    assert "A good run of checks" in shown["pages"][0]
