"""What the bench keeps to itself, and how it lives with other windows and pages."""

from __future__ import annotations

import itertools
import json
import subprocess
import sys
import xml.etree.ElementTree as ET

import pytest
from bench_wire import EXERCISE, LESSON, logbook, ticket_for, tickets

from engine_sim.bench import bench
from engine_sim.errors import UnknownName

FIRST, SECOND = itertools.islice(tickets(), 2)


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
    ids = {node.get("id") for node in ET.fromstring(wire.bench.skeleton).iter()}
    assert set(wire.scene()) <= ids


def test_every_part_of_the_boat_has_its_place_on_the_drawing_in_flow_order(at):
    wire = at(LESSON)
    assert [spot["part"] for spot in wire.bench.spots] == [part.id for part in wire.bench.desk.attempt.parts()]


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
    untouched = wire.bench._repr_mimebundle_()[0]["image/svg+xml"]
    wire.ask("shut_off", "look")
    shut = wire.bench._repr_mimebundle_()[0]["image/svg+xml"]
    wire.ask("shut_off", "open")
    opened = wire.bench._repr_mimebundle_()[0]["image/svg+xml"]
    assert 'class="valve unknown"' in untouched
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
