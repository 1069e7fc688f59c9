"""The bench without a page: messages in, messages out, files on disk."""

from __future__ import annotations

import errno
import itertools
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from bench_wire import EXERCISE, LESSON, Wire, ticket_for, tickets

from engine_sim.attempt import read_logbook
from engine_sim.bench import Bench, bench
from engine_sim.errors import UnknownName

FIRST, SECOND = itertools.islice(tickets(), 2)


@pytest.fixture
def at(tmp_path):
    """Open benches in a folder; all are let go of at the end."""
    made: list[Bench] = []

    def open_bench(exercise: str = EXERCISE, ticket: str | None = None) -> Wire:
        wire = Wire(Bench(exercise, tmp_path))
        made.append(wire.bench)
        if ticket is not None:
            wire.ask("page", "ticket", text=ticket)
        return wire

    yield open_bench
    for one in made:
        one.desk.close()


def logbook(folder: Path, exercise: str = EXERCISE) -> bytes:
    return (folder / f"{exercise}.logbook.jsonl").read_bytes()


def kinds(folder: Path, exercise: str = EXERCISE) -> list[str]:
    return [record["kind"] for record in read_logbook(logbook(folder, exercise)).records]


# ---- tickets ----


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


# ---- work ----


def test_choosing_a_part_shows_what_can_be_done_and_takes_no_time(at, tmp_path):
    wire = at(ticket=FIRST)
    wire.ask("tank", "choose")
    chosen = wire.panel()["chosen"]
    assert chosen["label"] == "tank"
    assert {"look", "read_gauge", "dip"} <= {offer["action"] for offer in chosen["offers"]}
    assert "takes 90 s · needs dipstick, rag" in {offer["facts"] for offer in chosen["offers"]}
    assert wire.panel()["clock"] == "0:00:00"
    assert kinds(tmp_path) == []


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
    assert set(told["scene"]) == {"stop-knob", "desc"}
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


# ---- nothing of the truth leaks ----


def test_the_choices_are_the_same_whatever_the_truth_is(at):
    wire = at()
    seen = set()
    for fault in ("shut_valve", "empty_tank", "slack_joint", "stop_control_pulled"):
        wire.ask("page", "ticket", text=ticket_for(fault))
        panel = wire.panel()
        seen.add(json.dumps([panel["parts"], panel["faults"]]))
    assert len(seen) == 1


def test_without_permission_nothing_inside_leaves_the_bench(at):
    wire = at(ticket=ticket_for("air_in_filter"))
    wire.ask("fine_filter", "choose")
    told = wire.ask("page", "xray")
    assert told["notice"] == "X-ray is not allowed in this exercise."
    state = wire.bench.get_state()
    assert not state["panel"]["xray_allowed"]
    assert state["panel"]["chosen"]["inside"] == []
    assert [name for name in state["scene"] if name.startswith("x")] == []
    assert "xray" not in state["skeleton"]


def test_a_fault_that_cannot_be_seen_changes_nothing_that_is_sent(at):
    """Two tickets whose faults show nothing from outside send the same first page, but for the ticket itself."""
    wire, pages = at(), []
    for fault in ("air_in_filter", "slack_joint"):
        wire.ask("page", "ticket", text=ticket_for(fault))
        state = wire.bench.get_state()
        panel = {key: value for key, value in state["panel"].items() if key not in ("ticket", "summary")}
        outside = {"gauge", "desc"} | {name for name in state["scene"] if name.startswith(("bowl", "wet"))}
        scene = {name: shown for name, shown in state["scene"].items() if name not in outside}
        pages.append(json.dumps([panel, scene], sort_keys=True))
    assert pages[0] == pages[1]


def test_the_lesson_shows_the_inside_and_can_hide_it(at):
    wire = at(LESSON)
    assert not wire.panel()["xray_on"]
    wire.ask("fine_filter", "choose")
    assert wire.panel()["chosen"]["inside"] == []
    wire.ask("page", "xray")
    assert any("full of fuel" in text for text in wire.panel()["chosen"]["inside"])
    assert wire.scene()["xray-hoses"]["visibility"] == "visible"
    told = wire.ask("page", "xray")
    assert told["scene"]["xray-hoses"] == {"visibility": "hidden"}
    assert wire.panel()["chosen"]["inside"] == []


def test_every_volume_of_the_circuit_has_its_place_on_the_drawing(at):
    wire = at(LESSON)
    wire.ask("page", "xray")
    drawn = {name.removesuffix("-fuel") for name in wire.scene()}
    volumes = wire.bench.desk.attempt.xray().volumes
    names = {"x-" + name.replace("_", "-").replace(".", "-") for name in volumes} - {"x-separator-bowl"}
    assert names <= drawn


# ---- two windows ----

HOLD = """
import sys
from engine_sim.attempt import open_exercise
opened = open_exercise(sys.argv[1], sys.argv[2], sys.argv[3])
print("held", flush=True)
sys.stdin.readline()
"""


def test_a_second_window_is_told_and_can_try_again(at, tmp_path):
    ticket = FIRST
    (tmp_path / f"{EXERCISE}.ticket").write_text(ticket)
    command = [sys.executable, "-c", HOLD, EXERCISE, ticket, str(tmp_path)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as other:
        assert other.stdout.readline() == "held\n"
        wire = at()
        assert wire.panel()["mode"] == "in_use"
        assert "another window" in wire.panel()["message"]
        wire.ask("page", "retry")
        assert wire.panel()["mode"] == "in_use"
        before = logbook(tmp_path)
        wire.ask("page", "fresh")
        assert (wire.panel()["mode"], logbook(tmp_path)) == ("in_use", before)
        other.communicate("let go\n")
    wire.ask("page", "retry")
    assert wire.panel()["mode"] == "work"


def test_a_logbook_changed_by_another_hand_stops_this_window_and_stays(at, tmp_path):
    wire = at(ticket=FIRST)
    path = tmp_path / f"{EXERCISE}.logbook.jsonl"
    path.write_bytes(path.read_bytes() + b"\n")
    changed = path.read_bytes()
    wire.ask("tank", "look")
    assert wire.panel()["mode"] == "in_use"
    assert path.read_bytes() == changed


# ---- the widget ----


def test_the_same_exercise_in_the_same_folder_is_the_same_bench(tmp_path):
    one = bench(LESSON, tmp_path)
    assert bench(LESSON, str(tmp_path)) is one
    one.desk.close()


def test_an_unknown_exercise_is_named_with_the_nearest():
    with pytest.raises(UnknownName, match="Did you mean 'first_look'"):
        bench("first_lok")


def test_while_marking_nothing_is_written(at, tmp_path, monkeypatch):
    monkeypatch.setenv("NBGRADER_EXECUTION", "autograde")
    wire = at(ticket=FIRST)
    wire.ask("tank", "look")
    wire.ask("page", "again")
    assert list(tmp_path.iterdir()) == []


def test_a_page_without_the_bench_gets_a_still_picture_of_now(at):
    wire = at(ticket=ticket_for("shut_valve"))
    shut = wire.bench._repr_mimebundle_()[0]["image/svg+xml"]
    wire.ask("shut_off", "open")
    opened = wire.bench._repr_mimebundle_()[0]["image/svg+xml"]
    assert 'class="valve shut"' in shut
    assert 'class="valve open"' in opened


def test_a_page_that_opens_late_gets_everything(at):
    wire = at(ticket=FIRST)
    wire.ask("tank", "look")
    wire.ask("shut_off", "choose")
    (update,) = wire.bring({"part": "page", "action": "refresh", "seq": 0})
    state = update["state"]
    assert (state["turn"], len(state["noticed"]), state["panel"]["chosen"]["part"]) == (3, 1, "shut_off")
    assert state["_esm"].startswith("//")
