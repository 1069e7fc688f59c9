"""Whatever is handed in as a logbook, marking gives a sheet: what is sound counts, and nothing is gained by forging."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from boats import all_tickets
from deeds import READY, played

from engine_sim.attempt import Attempt, read_logbook, replay
from engine_sim.attempt.logbook import header_record, line_of, step_record
from engine_sim.errors import BadScenario, BadTicket, UnknownName
from engine_sim.marking import (
    MARK_NAMES,
    BadMarkingScheme,
    MarkSheet,
    default_scheme,
    feedback_html,
    mark_attempt,
    mark_logbook,
)
from engine_sim.marking.replaying import Recorder, track_of
from engine_sim.scenarios import compose_scenario, draw_scenario

EXERCISE = "no_start_harbour"
SHIPPED = default_scheme()
SCHEME = replace(SHIPPED, method=replace(SHIPPED.method, coach_share=0.0))
"""The shipped scheme without the coach, who has nothing to do with how a logbook is read."""
ZEROS = [0.0, 0.0, 0.0, 0.0, 0.0]


def ticket_for(fault: str) -> str:
    """Return the first ticket that draws this fault."""
    return next(ticket for ticket in all_tickets() if draw_scenario(EXERCISE, ticket).faults[0].fault == fault)


TICKET = ticket_for("stop_control_pulled")
OTHER = ticket_for("shut_valve")
WORK = (
    *READY,
    *("starter.crank_5", "bench.look_around", "battery.look", "stop_control.look", "stop_control.push_home"),
    *("starter.crank_10", "engine.run_idle_5min", "engine.stop", "note"),
)


def logbook_of(ticket: str, *work: str) -> bytes:
    """Return the logbook of some work that ends with a diagnosis and is handed in; empty work is handed in at once."""
    scenario = draw_scenario(EXERCISE, ticket)
    said = (("stop_control", "stop_control_pulled", ("stop_out",)),) if work else ()
    attempt = played(scenario, *work, said=said)
    attempt.hand_in()
    records = [header_record(scenario)]
    for step in attempt.steps:
        records.append(step_record(step, str(records[-1]["digest"])))
    return b"".join(line_of(record) for record in records)


GOOD = logbook_of(TICKET, *WORK)
LAZY = logbook_of(TICKET)
LINES = GOOD.splitlines(keepends=True)


def mark(data: bytes | None) -> MarkSheet:
    """Mark and check what holds for every sheet."""
    sheet = mark_logbook(data, EXERCISE, TICKET, SCHEME)
    assert tuple(sheet.marks) == MARK_NAMES
    for name, one in sheet.marks.items():
        assert 0.0 <= one.score <= one.maximum == SCHEME.weights.of(name)
        assert one.reasons
        assert feedback_html(sheet, name).startswith("<section")
    return sheet


def scores(sheet: MarkSheet) -> list[float]:
    return [one.score for one in sheet.marks.values()]


def test_an_honest_logbook_is_marked_whole_and_twice_alike():
    sheet = mark(GOOD)
    assert scores(sheet) == [SCHEME.weights.of(name) for name in MARK_NAMES]
    assert (sheet.passed, sheet.findings, sheet.marked_up_to_line) == (True, (), len(LINES))
    assert mark(GOOD) == sheet
    assert (sheet.handed_in, sheet.hard_fails) == (True, ())
    assert sheet.versions["scheme_version"] == 2


NOTHING_MARKED: dict[str, tuple[bytes | None, str]] = {
    "missing": (None, "No logbook was handed in"),
    "empty": (b"", "The logbook that was handed in is empty"),
    "binary": (bytes(range(256)) * 40, "could be read"),
    "50 MB": (b"x" * 50_000_000, "could be read"),
    "deeply nested": (b"[" * 15_000 + b"]" * 15_000 + b"\n", "could be read"),
    "deeply nested short": (b"[" * 9_000 + b"\n", "could be read"),
    "not records": (b"1\n2\n3\n", "could be read"),
    "header with NaN": (LINES[0].replace(b'"scenario_version":1', b'"scenario_version":NaN'), "could be read"),
    "header edited": (LINES[0].replace(TICKET.encode(), OTHER.encode()) + b"".join(LINES[1:]), "could be read"),
    "header missing": (b"".join(LINES[1:]), "could be read"),
    "another's logbook": (logbook_of(OTHER, *WORK), "another ticket"),
}


@pytest.mark.parametrize("case", sorted(NOTHING_MARKED))
def test_nothing_marked(case):
    data, says = NOTHING_MARKED[case]
    sheet = mark(data)
    assert scores(sheet) == ZEROS
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
    assert sheet.marks["cure"].score == sheet.marks["diagnosis"].score == 0.0
    assert any("holds no hand-in" in finding for finding in sheet.findings)
    if case != "cut at a line's end":
        assert len(sheet.findings) > 1


def test_marks_written_into_a_logbook_are_worth_nothing():
    extra = b'{"n":2,"kind":"action","clock_s":0.0,"part":"bench","action":"look_around","method":10,"digest":"0"}\n'
    assert scores(mark(LAZY + extra)) == scores(mark(LAZY)) == ZEROS


def test_the_good_end_pasted_onto_a_lazy_beginning_gains_nothing():
    assert scores(mark(LINES[0] + b"".join(LINES[-3:]))) == ZEROS


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


def test_an_exercise_with_nothing_wrong_is_refused():
    with pytest.raises(BadScenario, match=r"has nothing wrong in it to be marked\. Name a graded exercise"):
        mark_attempt(compose_scenario("tank_below"), (), None, SCHEME)


def test_one_replay_checks_the_logbook_and_gives_the_moments():
    scenario, recorder = draw_scenario(EXERCISE, TICKET), Recorder()
    result = replay(read_logbook(GOOD), scenario, recorder.watch)
    assert recorder.track(scenario) == track_of(scenario, result.attempt.steps)
    assert [moment.name for moment in recorder.moments] == [name for name in WORK if name != "note"]
    for earlier, later in zip(recorder.moments, recorder.moments[1:], strict=False):
        assert (earlier.after, earlier.end_s) == (later.before, later.start_s)


def test_a_forged_line_is_no_moment():
    scenario, recorder = draw_scenario(EXERCISE, TICKET), Recorder()
    result = replay(read_logbook(FORGED_AFTER_3["other action"]), scenario, recorder.watch)
    assert len(recorder.moments) == len(result.attempt.steps) == 2


def test_marking_goes_on_at_the_engine_as_it_was_left_and_the_attempt_keeps_its_steps():
    attempt = Attempt(draw_scenario(EXERCISE, TICKET))
    attempt.act("stop_control", "push_home")
    attempt.hand_in()
    again = attempt.reopened()
    assert not again.handed_in and again.outside() == attempt.outside()
    again.act("battery", "isolate")
    assert again.outside()["battery_connected"] is False
    assert [step.kind for step in attempt.steps] == ["action", "hand_in"]
