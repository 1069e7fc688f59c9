"""The bench without a page: messages in, messages out, files on disk."""

from __future__ import annotations

import errno
import itertools
import json
import os

import pytest
from bench_wire import EXERCISE, kinds, logbook, ticket_for, tickets

from engine_sim.attempt import Attempt
from engine_sim.bench import groups
from engine_sim.circuit import layout_names
from engine_sim.scenarios import compose_scenario

LONGEST_GROUP = 10
FIRST, SECOND = itertools.islice(tickets(), 2)


def test_choosing_a_part_shows_what_can_be_done_and_takes_no_time(at, tmp_path):
    wire = at(ticket=FIRST)
    wire.ask("tank", "choose")
    chosen = wire.panel()["chosen"]
    assert chosen["label"] == "tank"
    assert {"look", "read_gauge", "dip"} <= {offer["action"] for offer in chosen["offers"]}
    assert "takes 90 s · needs dipstick, rag" in {offer["facts"] for offer in chosen["offers"]}
    assert wire.panel()["clock"] == "0:00:00"
    assert kinds(tmp_path) == []


def test_what_can_be_done_stands_under_headings_looking_first(at):
    wire = at(ticket=FIRST)
    for part in wire.panel()["parts"]:
        wire.ask(part["id"], "choose")
        offers = wire.panel()["chosen"]["offers"]
        runs = [heading for heading, _ in itertools.groupby(offer["heading"] for offer in offers)]
        assert len(runs) == len(set(runs)) <= 4
        assert (offers[0]["action"], runs[0]) == ("look", "Look and measure")
        offered = {offer.action for offer in wire.bench.desk.attempt.offers(part["id"])}
        assert {offer["action"] for offer in offers} == offered
        assert max(sum(offer["heading"] == run for offer in offers) for run in runs) <= LONGEST_GROUP


def test_a_heading_names_no_action_that_there_is_not():
    boats = [Attempt(compose_scenario(layout, [])) for layout in layout_names()]
    known = {offer.action for boat in boats for part in boat.parts() for offer in boat.offers(part.id)}
    assert len(groups.named()) == len(set(groups.named()))
    assert [name for name in groups.named() if name not in known] == []


def test_only_parts_that_can_be_said_to_be_wrong_are_offered_for_the_diagnosis(at):
    panel = at(ticket=FIRST).panel()
    sayable = {part for fault in panel["faults"] for part in fault["parts"]}
    assert {part["id"] for part in panel["parts"]} == sayable
    assert "bench" not in sayable


def test_cautions_come_with_the_offers(at):
    wire = at(ticket=FIRST)
    wire.ask("injector_1", "choose")
    slacken = next(o for o in wire.panel()["chosen"]["offers"] if o["action"] == "slacken_nut")
    assert "through skin" in slacken["caution"]


def test_an_action_moves_the_clock_and_says_what_is_noticed(at, tmp_path):
    wire = at(ticket=FIRST)
    told = wire.ask("tank", "read_gauge")
    assert told["noticed"][0]["head"] == "tank – read the fuel gauge"
    assert told["noticed"][0]["seen"][0]["sense"] == "gauge"
    assert wire.panel()["clock"] == "0:00:05"
    assert kinds(tmp_path) == ["action"]


def test_only_what_changed_is_sent(at):
    wire = at(ticket=ticket_for("stop_control_pulled"))
    wire.ask("stop_control", "choose")
    told = wire.ask("stop_control", "push_home")
    assert set(told["scene"]) == {"stop_control-knob", "stop_control-unseen", "desc"}
    assert {"faults", "parts", "title", "cautions"}.isdisjoint(told["panel"])
    assert len(json.dumps(told)) < 2500


def test_after_a_restart_it_stands_where_it_was_left(at, tmp_path):
    wire = at(ticket=FIRST)
    for part, action in (("shut_off", "shut"), ("bench", "lay_tray"), ("fine_filter", "open_screw")):
        wire.ask(part, action)
    wire.ask("page", "note", text="The shut-off was open.")
    seen = wire.scene(), wire.noticed(), wire.panel()["clock"]
    wire.bench.desk.close()
    again = at()
    assert (again.scene(), again.noticed(), again.panel()["clock"]) == seen


def test_a_double_click_acts_once(at, tmp_path):
    wire = at(ticket=FIRST)
    turn = wire.turn
    wire.ask("tank", "look", seq=turn)
    told = wire.ask("tank", "look", seq=turn)
    assert (told["kind"], told["notice"]) == ("refused", "That was pressed twice; it was done once.")
    assert kinds(tmp_path) == ["action"]


def test_a_press_while_another_is_worked_is_refused_and_said(at, tmp_path, monkeypatch):
    wire = at(ticket=FIRST)
    told: list[dict] = []
    plain = wire.bench.desk.handle

    def handle(part, action, message):
        told.append(wire.ask("tank", "dip"))
        plain(part, action, message)

    monkeypatch.setattr(wire.bench.desk, "handle", handle)
    wire.ask("tank", "look")
    assert told[0]["kind"] == "refused"
    assert "still working" in told[0]["notice"]
    assert kinds(tmp_path) == ["action"]
    monkeypatch.undo()
    assert wire.ask("tank", "look")["kind"] == "answer"


@pytest.mark.parametrize(
    "message",
    [
        {"part": "mast", "action": "look"},
        {"part": "tank", "action": "paint"},
        {"part": "page", "action": "mark_me_ten"},
        {"part": 7, "action": ["look"]},
        {"part": "page", "action": "diagnose", "which": "mast", "fault": "shut_valve", "evidence": []},
        {"part": "page", "action": "diagnose", "which": "tank", "fault": "shut_valve", "evidence": [1]},
        {"part": "page", "action": "note", "text": {"a": 1}},
        {"part": "page", "action": "note", "text": "x" * 2001},
    ],
    ids=lambda message: f"{message['part']}-{message['action']}"[:30],
)
def test_what_makes_no_sense_is_told_and_changes_nothing(at, tmp_path, message):
    wire = at(ticket=FIRST)
    before = logbook(tmp_path)
    told = wire.bring(message | {"seq": wire.turn, "view": "v", "press": 1})
    assert told[-1]["content"]["notice"] or any(m["content"].get("notice") for m in told if m["method"] == "custom")
    assert logbook(tmp_path) == before


def test_a_message_that_is_no_message_is_refused(at, tmp_path):
    wire = at(ticket=FIRST)
    told = wire.bring(["look"])
    assert told[0]["content"]["kind"] == "refused"


def test_notes_are_kept_in_the_logbook_and_shown(at, tmp_path):
    wire = at(ticket=FIRST)
    wire.ask("page", "note", text="  Bowl is clear.  ")
    assert wire.panel()["note_kept"]
    assert wire.noticed()[0]["text"] == "Bowl is clear."
    assert not wire.ask("page", "note", text=" ")["panel"].get("note_kept", False)
    assert kinds(tmp_path) == ["note"]


def test_a_diagnosis_can_change_until_hand_in(at, tmp_path):
    wire = at(ticket=FIRST)
    wire.ask("shut_off", "look")
    wire.ask("page", "diagnose", which="shut_off", fault="shut_valve", evidence=[1, 99, "1"])
    assert wire.panel()["diagnosis"]["evidence"] == [1]
    wire.ask("page", "diagnose", which="tank", fault="empty_tank", evidence=[])
    assert wire.panel()["diagnosis"]["part"] == "tank"
    wire.ask("page", "hand_in")
    told = wire.ask("page", "diagnose", which="shut_off", fault="shut_valve", evidence=[])
    assert "handed in" in told["notice"]
    assert wire.panel()["diagnosis"]["part"] == "tank"
    assert kinds(tmp_path) == ["action", "diagnosis", "diagnosis", "hand_in"]


def test_after_hand_in_nothing_can_be_changed(at, tmp_path):
    wire = at(ticket=FIRST)
    wire.ask("page", "hand_in")
    before = logbook(tmp_path)
    for part, action, more in (("tank", "look", {}), ("page", "note", {"text": "late"}), ("page", "hand_in", {})):
        wire.ask(part, action, **more)
    wire.ask("tank", "choose")
    assert wire.panel()["handed_in"]
    assert wire.panel()["chosen"]["offers"] == []
    assert logbook(tmp_path) == before


def test_save_gives_the_logbook_as_it_stands_on_disk(at, tmp_path):
    wire = at(ticket=FIRST)
    wire.ask("tank", "look")
    told = wire.ask("page", "save")
    assert told["file"]["name"] == f"{EXERCISE}.logbook.jsonl"
    assert told["file"]["text"].encode() == logbook(tmp_path)


def test_a_full_disk_is_told_and_the_bench_stands_where_the_logbook_stands(at, tmp_path, monkeypatch):
    wire = at(ticket=FIRST)
    wire.ask("tank", "look")
    clock = wire.panel()["clock"]

    def no_room(step):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    wire.bench.desk.attempt.keep_with(no_room)
    told = wire.ask("shut_off", "shut")
    assert "could not be written" in told["notice"]
    assert (wire.panel()["mode"], wire.panel()["clock"]) == ("work", clock)
    assert len(wire.noticed()) == 1
    assert wire.ask("shut_off", "shut")["noticed"][0]["where"] == "shut-off"


def test_what_the_own_hand_did_is_no_evidence(at):
    wire = at(ticket=FIRST)
    wire.ask("bench", "lay_tray")
    wire.ask("tank", "read_gauge")
    laid, read = wire.noticed()
    assert [seen["shows"] for seen in laid["seen"]] == [False]
    assert [seen["shows"] for seen in read["seen"]] == [True]
