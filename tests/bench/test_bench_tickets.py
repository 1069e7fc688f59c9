"""Tickets at the bench: asked for, checked, remembered, begun again; no work is ever lost."""

from __future__ import annotations

import itertools
import json

from bench_wire import EXERCISE, LESSON, logbook, tickets

from engine_sim.attempt import Attempt
from engine_sim.scenarios import draw_scenario
from engine_sim.wording import FAULTS

FIRST, SECOND = itertools.islice(tickets(), 2)


def test_without_a_ticket_it_asks_for_one_and_writes_nothing(at, tmp_path):
    wire = at()
    assert wire.panel()["mode"] == "ticket"
    assert list(tmp_path.iterdir()) == []


def test_a_mistyped_ticket_is_told_and_nothing_is_written(at, tmp_path):
    told = at().ask("page", "ticket", text="not a ticket")
    assert "is not a ticket" in told["notice"]
    assert list(tmp_path.iterdir()) == []


def test_a_typed_ticket_opens_and_is_remembered(at, tmp_path):
    ticket = FIRST
    wire = at(ticket=f" {ticket.lower()} ")
    assert wire.panel()["mode"] == "work"
    assert wire.panel()["ticket"] == ticket
    assert not wire.panel()["practice"]
    assert (tmp_path / f"{EXERCISE}.ticket").read_text() == f"{ticket}\n"
    wire.bench.desk.close()
    assert at().panel()["ticket"] == ticket


def test_a_spoiled_ticket_file_asks_again_and_keeps_the_logbook(at, tmp_path):
    ticket = FIRST
    wire = at(ticket=ticket)
    wire.ask("tank", "look")
    wire.bench.desk.close()
    (tmp_path / f"{EXERCISE}.ticket").write_bytes(b"\xff\xfe nonsense")
    again = at()
    assert again.panel()["mode"] == "ticket"
    again.ask("page", "ticket", text=ticket)
    assert len(again.noticed()) == 1


def test_the_lesson_needs_no_ticket(at):
    assert at(LESSON).panel()["mode"] == "work"


def test_practice_starts_again_with_a_fresh_ticket_and_keeps_the_old_logbook(at, tmp_path):
    wire = at()
    wire.ask("page", "fresh")
    first = wire.panel()["ticket"]
    assert wire.panel()["practice"]
    wire.ask("tank", "look")
    before = logbook(tmp_path)
    told = wire.ask("page", "again")
    kept = tmp_path / f"{EXERCISE}.kept-{first}-1.logbook.jsonl"
    assert kept.name in told["notice"]
    assert kept.read_bytes() == before
    assert wire.panel()["ticket"] != first
    assert wire.noticed() == []


def test_an_instructors_ticket_cannot_start_again(at, tmp_path):
    wire = at(ticket=FIRST)
    wire.ask("tank", "look")
    before = logbook(tmp_path)
    assert "Only practice" in wire.ask("page", "again")["notice"]
    assert logbook(tmp_path) == before


def test_a_ticket_used_before_comes_back_where_it_was_left(at, tmp_path):
    first, second = FIRST, SECOND
    wire = at(ticket=first)
    wire.ask("tank", "look")
    wire.ask("page", "ticket", text=second)
    assert wire.noticed() == []
    wire.ask("shut_off", "look")
    told = wire.ask("page", "ticket", text=first)
    assert "worked with this ticket before" in told["notice"]
    assert [entry["where"] for entry in wire.noticed()] == ["tank"]
    assert (tmp_path / f"{EXERCISE}.kept-{second}-1.logbook.jsonl").exists()


def test_the_same_ticket_typed_again_changes_nothing(at, tmp_path):
    ticket = FIRST
    wire = at(ticket=ticket)
    wire.ask("tank", "look")
    before = logbook(tmp_path)
    wire.ask("page", "other_ticket")
    assert wire.panel()["mode"] == "ticket"
    wire.ask("page", "ticket", text=ticket)
    assert (wire.panel()["mode"], logbook(tmp_path)) == ("work", before)


def test_the_lesson_starts_again_and_keeps_the_old_logbook(at, tmp_path):
    wire = at(LESSON)
    wire.ask("tank", "look")
    before = logbook(tmp_path, LESSON)
    wire.ask("page", "again")
    assert wire.noticed() == []
    assert (tmp_path / f"{LESSON}.kept-lesson-1.logbook.jsonl").read_bytes() == before


def truth_of(scenario):
    names = {part.id: part.label for part in Attempt(scenario).parts()}
    return [f"What it was: {names[one.part]} – {FAULTS[one.fault]}." for one in scenario.faults]


def test_practice_is_told_the_truth_after_hand_in_and_not_before(at):
    wire = at()
    wire.ask("page", "fresh")
    wire.ask("tank", "look")
    wire.ask("page", "diagnose", which="battery", fault="flat_battery", evidence=[])
    assert "What it was" not in json.dumps(wire.sent)
    assert wire.panel()["truth"] == []
    wire.ask("page", "hand_in")
    assert wire.panel()["truth"] == [
        *truth_of(draw_scenario(EXERCISE, wire.panel()["ticket"])),
        "What you said: battery – flat.",
        "The engine stands still now.",
        "“Mark my attempt” gives your marks with their reasons; a fresh ticket sets another fault.",
    ]


def test_with_an_instructors_ticket_the_truth_never_leaves(at):
    wire = at(ticket=FIRST)
    wire.ask("page", "hand_in")
    wire.ask("tank", "choose")
    wire.ask("page", "save")
    assert wire.panel()["handed_in"]
    assert wire.panel()["truth"] == []
    everything = json.dumps([wire.sent, wire.bench.get_state()], ensure_ascii=False)
    assert "What it was" not in everything
    assert "severity" not in everything


def test_a_slip_is_a_warning_and_a_success_is_none(at):
    wire = at()
    wire.ask("page", "ticket", text="not a ticket")
    assert wire.panel()["warning"]
    wire.ask("page", "ticket", text=FIRST)
    assert not wire.panel()["warning"]
