"""The logbook: written before it is shown, replayed on opening, held by one window, proof against slips and edits."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest

from engine_sim.attempt import Diagnosis, open_exercise, read_logbook, replay
from engine_sim.errors import LogbookInUse
from engine_sim.scenarios import draw_scenario

TICKET = "PCFT-M63D"
EXERCISE = "no_start_harbour"


@pytest.fixture
def worked(tmp_path):
    """A folder with a logbook of six steps."""
    with open_exercise(EXERCISE, TICKET, tmp_path) as opened:
        attempt = opened.attempt
        attempt.act("starter", "crank_5")
        attempt.act("stop_control", "look")
        attempt.note("Stop control is home – now the tank")
        attempt.act("tank", "dip")
        attempt.diagnose(Diagnosis("separator_joint", "slack_joint", (1, 2)))
        attempt.act("separator_joint", "wipe_and_try")
    return tmp_path


def logbook(folder):
    return folder / f"{EXERCISE}.logbook.jsonl"


def replayed(data: bytes):
    return replay(read_logbook(data), draw_scenario(EXERCISE, TICKET))


def test_step_is_on_disk_before_it_is_returned(tmp_path):
    with open_exercise(EXERCISE, TICKET, tmp_path) as opened:
        step = opened.attempt.act("tank", "dip")
        last = json.loads(logbook(tmp_path).read_bytes().splitlines()[-1])
        assert (last["n"], last["part"], last["action"]) == (step.number, "tank", "dip")


def test_opening_again_stands_where_it_was_left(worked):
    before = logbook(worked).read_bytes()
    with open_exercise(EXERCISE, TICKET, worked) as opened:
        assert len(opened.attempt.steps) == 6
        assert opened.attempt.diagnosis == Diagnosis("separator_joint", "slack_joint", (1, 2))
        assert opened.notices == ()
        opened.attempt.act("shut_off", "look")
    assert logbook(worked).read_bytes().startswith(before)


def test_line_cut_off_by_a_power_failure_is_set_aside_and_the_rest_stands(worked):
    path = logbook(worked)
    whole = path.read_bytes()
    path.write_bytes(whole[:-20])
    with open_exercise(EXERCISE, TICKET, worked) as opened:
        assert len(opened.attempt.steps) == 5
        assert "cut off" in opened.notices[0]
        opened.attempt.act("separator_joint", "wipe_and_try")
    assert path.read_bytes() == whole
    assert (worked / f"{path.name}.set-aside-1").read_bytes() == whole[:-20]


@pytest.mark.parametrize(
    ("name", "change"),
    [
        ("edited", lambda lines: [*lines[:2], lines[2].replace(b"look", b"push_home"), *lines[3:]]),
        ("reordered", lambda lines: [*lines[:2], lines[4], lines[3], lines[2], *lines[5:]]),
        ("left_out", lambda lines: [*lines[:2], *lines[3:]]),
        ("doubled", lambda lines: [*lines[:3], lines[2], *lines[3:]]),
        ("note_changed", lambda lines: [*lines[:3], lines[3].replace(b"tank", b"pump"), *lines[4:]]),
        ("evidence_changed", lambda lines: [*lines[:5], lines[5].replace(b"[1,2]", b"[2,1]"), *lines[6:]]),
    ],
)
def test_hand_edited_logbook_counts_up_to_the_edit(worked, name, change):
    data = b"".join(change(logbook(worked).read_bytes().splitlines(keepends=True)))
    done = replayed(data)
    first = {"note_changed": 2, "evidence_changed": 4, "doubled": 2}.get(name, 1)
    assert len(done.attempt.steps) == first
    assert done.findings


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\x00\xff\xfe" * 100,
        b"{" * 5000 + b"\n",
        b"[" * 19000 + b"]" * 900 + b"\n",
        b'{"kind":"opened","clock_s":NaN}\n',
        b"null\n",
        b'"opened"\n',
        b"1" * 19000 + b"\n",
        b"x" * 6_000_000,
    ],
    ids=["empty", "binary", "braces", "deep", "nan", "null", "string", "long_number", "oversized"],
)
def test_rubbish_is_read_as_a_finding_and_never_raises(data):
    reading = read_logbook(data)
    assert reading.header is None and reading.findings
    assert replay(reading, draw_scenario(EXERCISE, TICKET)).attempt.steps == ()


def test_records_that_name_what_does_not_exist_stop_the_replay(worked):
    lines = logbook(worked).read_bytes().splitlines(keepends=True)
    for changed in (
        lines[1].replace(b"crank_5", b"crank_500"),
        lines[1].replace(b'"starter"', b'["starter"]'),
        lines[1].replace(b'"clock_s":10.0', b'"clock_s":true'),
        lines[1].replace(b'"n":1', b'"n":1e400'),
    ):
        assert changed != lines[1]
        done = replayed(b"".join([lines[0], changed, *lines[2:]]))
        assert len(done.attempt.steps) == 0 and done.findings


def test_logbook_of_another_ticket_says_so(worked):
    done = replay(read_logbook(logbook(worked).read_bytes()), draw_scenario(EXERCISE, "WQR6-E5ED"))
    assert any("ticket" in finding for finding in done.findings)


HOLD = """
import sys
from engine_sim.attempt import open_exercise
opened = open_exercise("no_start_harbour", "PCFT-M63D", sys.argv[1])
opened.attempt.act("tank", "dip")
print("held", flush=True)
sys.stdin.read()
"""


def test_second_window_is_told_and_cannot_spoil_the_logbook(tmp_path):
    command = [sys.executable, "-c", HOLD, str(tmp_path)]
    holder = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    try:
        assert holder.stdout.readline().strip() == "held"
        before = logbook(tmp_path).read_bytes()
        with pytest.raises(LogbookInUse, match="open in another window"):
            open_exercise(EXERCISE, TICKET, tmp_path)
        assert logbook(tmp_path).read_bytes() == before
    finally:
        holder.kill()
        holder.wait()
        holder.stdin.close()
        holder.stdout.close()
    with open_exercise(EXERCISE, TICKET, tmp_path) as opened:
        assert len(opened.attempt.steps) == 1, "killed, and nothing lost"


def test_file_changed_by_another_hand_is_not_written_over(tmp_path):
    with open_exercise(EXERCISE, TICKET, tmp_path) as opened:
        opened.attempt.act("tank", "dip")
        with logbook(tmp_path).open("ab") as file:
            file.write(b"{}\n")
        with pytest.raises(LogbookInUse, match="changed by another window"):
            opened.attempt.act("tank", "read_gauge")
        assert logbook(tmp_path).read_bytes().endswith(b"{}\n")


def test_same_process_gets_the_same_exercise(tmp_path):
    with open_exercise(EXERCISE, TICKET, tmp_path) as opened:
        assert open_exercise(EXERCISE, TICKET, os.fspath(tmp_path)) is opened


def test_nothing_is_written_while_work_is_marked(tmp_path, monkeypatch):
    monkeypatch.setenv("NBGRADER_EXECUTION", "autograde")
    with open_exercise(EXERCISE, TICKET, tmp_path) as opened:
        opened.attempt.act("tank", "dip")
    assert list(tmp_path.iterdir()) == []
