"""Whatever is handed in as a logbook, marking gives a sheet: what is sound counts, and nothing is gained by forging."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from boats import EXERCISE, SCHEME, ticket_for
from learners import KINDS

from engine_sim.attempt import Attempt
from engine_sim.attempt.logbook import header_record, line_of, step_record
from engine_sim.errors import BadTicket, UnknownName
from engine_sim.marking import BadMarkingScheme, MarkSheet, feedback_html, mark_logbook
from engine_sim.scenarios import draw_scenario

TICKET = ticket_for("stop_control_pulled", "stop_control")
OTHER = ticket_for("shut_valve", "shut_off")


def logbook_of(kind: str, ticket: str) -> bytes:
    """Return the logbook that a kind of learner leaves."""
    scenario = draw_scenario(EXERCISE, ticket)
    attempt = Attempt(scenario)
    KINDS[kind](attempt)
    records = [header_record(scenario)]
    for step in attempt.steps:
        records.append(step_record(step, str(records[-1]["digest"])))
    return b"".join(line_of(record) for record in records)


GOOD = logbook_of("tank to pump", TICKET)
LAZY = logbook_of("does nothing", TICKET)
LINES = GOOD.splitlines(keepends=True)


def mark(data: bytes | None) -> MarkSheet:
    """Mark and check what holds for every sheet."""
    sheet = mark_logbook(data, EXERCISE, TICKET, SCHEME)
    assert set(sheet.marks) == {"order", "diagnosis", "outcome"}
    for name, one in sheet.marks.items():
        assert 0.0 <= one.score <= one.maximum == SCHEME.weights.of(name)
        assert one.reasons
        assert feedback_html(sheet, name).startswith("<section")
    return sheet


def scores(sheet: MarkSheet) -> list[float]:
    return [one.score for one in sheet.marks.values()]


def test_an_honest_logbook_is_marked_whole_and_twice_alike():
    sheet = mark(GOOD)
    assert scores(sheet) == [10.0, 5.0, 10.0]
    assert (sheet.passed, sheet.findings, sheet.marked_up_to_line) == (True, (), len(LINES))
    assert mark(GOOD) == sheet


NOTHING_MARKED: dict[str, tuple[bytes | None, str]] = {
    "missing": (None, "No logbook was handed in"),
    "empty": (b"", "No logbook was handed in"),
    "binary": (bytes(range(256)) * 40, "could be read"),
    "50 MB": (b"x" * 50_000_000, "could be read"),
    "deeply nested": (b"[" * 15_000 + b"]" * 15_000 + b"\n", "could be read"),
    "deeply nested short": (b"[" * 9_000 + b"\n", "could be read"),
    "not records": (b"1\n2\n3\n", "could be read"),
    "header with NaN": (LINES[0].replace(b'"scenario_version":1', b'"scenario_version":NaN'), "could be read"),
    "header edited": (LINES[0].replace(TICKET.encode(), OTHER.encode()) + b"".join(LINES[1:]), "could be read"),
    "header missing": (b"".join(LINES[1:]), "could be read"),
    "another's logbook": (logbook_of("tank to pump", OTHER), "another ticket"),
}


@pytest.mark.parametrize("case", sorted(NOTHING_MARKED))
def test_nothing_marked(case):
    data, says = NOTHING_MARKED[case]
    sheet = mark(data)
    assert scores(sheet) == [0.0, 0.0, 0.0]
    assert not sheet.passed
    assert any(says in finding for finding in sheet.findings)


def test_the_lesson_handed_in_for_the_exercise_is_not_marked():
    lesson = line_of(header_record(draw_scenario("first_look", "")))
    assert any("another exercise" in finding for finding in mark(lesson).findings)


@cache
def scores_of_the_first_three_lines() -> list[float]:
    return scores(mark(b"".join(LINES[:3])))


def edited_line(number: int, change: Callable[[dict[str, object]], object]) -> bytes:
    """Return the good logbook with one line's record changed by hand."""
    record = json.loads(LINES[number])
    change(record)
    return b"".join([*LINES[:number], json.dumps(record).encode() + b"\n", *LINES[number + 1 :]])


FORGED_AFTER_3: dict[str, bytes] = {
    "cut in mid-line": b"".join(LINES[:3]) + LINES[3][:20],
    "cut at a line's end": b"".join(LINES[:3]),
    "reordered": b"".join([*LINES[:3], LINES[4], LINES[3], *LINES[5:]]),
    "line left out": b"".join([*LINES[:3], *LINES[4:]]),
    "line doubled": b"".join([*LINES[:3], LINES[2], *LINES[3:]]),
    "other action": edited_line(3, lambda record: record.update(part="bench", action="wait_30min")),
    "unknown part": edited_line(3, lambda record: record.update(part="ghost")),
    "unknown kind": edited_line(3, lambda record: record.update(kind="marks")),
    "part is a list": edited_line(3, lambda record: record.update(part=[1, [2]])),
    "clock is text": edited_line(3, lambda record: record.update(clock_s="noon")),
    "clock is huge": edited_line(3, lambda record: record.update(clock_s=1e300)),
    "clock moved": edited_line(3, lambda record: record.update(clock_s=1.0)),
    "digest missing": edited_line(3, lambda record: record.pop("digest")),
    "digest of another line": edited_line(3, lambda record: record.update(digest="0" * 24)),
    "NaN": b"".join(LINES[:3]) + b'{"n":3,"kind":"action","clock_s":NaN}\n' + b"".join(LINES[4:]),
    "binary in the middle": b"".join(LINES[:3]) + b"\xff\x00\xfe\n" + b"".join(LINES[3:]),
    "a line of 1 MB": b"".join(LINES[:3]) + b'"' + b"x" * 1_000_000 + b'"\n' + b"".join(LINES[3:]),
    "nested in the middle": b"".join(LINES[:3]) + b"[" * 9_000 + b"\n" + b"".join(LINES[3:]),
}


@pytest.mark.parametrize("case", sorted(FORGED_AFTER_3))
def test_marked_up_to_there(case):
    sheet = mark(FORGED_AFTER_3[case])
    assert sheet.marked_up_to_line == 3
    assert scores(sheet) == scores_of_the_first_three_lines()
    assert sheet.marks["outcome"].score == sheet.marks["diagnosis"].score == 0.0
    assert any("not handed in" in finding for finding in sheet.findings)
    if case != "cut at a line's end":
        assert len(sheet.findings) > 1


def test_marks_written_into_a_logbook_are_worth_nothing():
    extra = b'{"n":2,"kind":"action","clock_s":0.0,"part":"bench","action":"look_around","order":10,"digest":"0"}\n'
    assert scores(mark(LAZY + extra)) == scores(mark(LAZY)) == [0.0, 0.0, 0.0]


def test_the_good_end_pasted_onto_a_lazy_beginning_gains_nothing():
    assert scores(mark(LINES[0] + b"".join(LINES[-3:]))) == [0.0, 0.0, 0.0]


def test_hostile_words_in_a_note_do_no_harm():
    scenario = draw_scenario(EXERCISE, TICKET)
    attempt = Attempt(scenario)
    steps = [attempt.note("<script>alert(1)</script> \u202e \x00 " * 50), attempt.hand_in()]
    records = [header_record(scenario)]
    for step in steps:
        records.append(step_record(step, str(records[-1]["digest"])))
    sheet = mark(b"".join(line_of(record) for record in records))
    assert sheet.findings == ()
    assert "<script" not in "".join(feedback_html(sheet, name) for name in sheet.marks)


def test_the_instructors_own_slips_are_named():
    with pytest.raises(BadTicket, match="is not a ticket"):
        mark_logbook(GOOD, EXERCISE, "nonsense", SCHEME)
    with pytest.raises(UnknownName, match="No exercise is called"):
        mark_logbook(GOOD, "no_start_harbor", TICKET, SCHEME)
    with pytest.raises(BadMarkingScheme, match="The scheme is for 'another', not for 'no_start_harbour'"):
        mark_logbook(GOOD, EXERCISE, TICKET, replace(SCHEME, exercise="another"))
