"""Marks one logbook. Nothing is believed but the actions in it, played again on the instructor's own boat."""

from __future__ import annotations

from collections.abc import Sequence

from engine_sim.attempt import Diagnosis, LogbookReading, Replay, Step, read_logbook, replay
from engine_sim.errors import SolverFailed
from engine_sim.marking.diagnosis import mark_diagnosis
from engine_sim.marking.marksheet import Mark, MarkSheet, is_passed, zero_marks
from engine_sim.marking.method import mark_order
from engine_sim.marking.outcome import mark_outcome
from engine_sim.marking.picture import draw_work
from engine_sim.marking.replaying import play_steps, telling_numbers, truth_of, with_telling
from engine_sim.marking.scheme import BadMarkingScheme, MarkingScheme
from engine_sim.marking.track import Track
from engine_sim.scenarios import Scenario, draw_scenario

NOTHING_HANDED_IN = "No logbook was handed in, so nothing could be marked."
NOT_HANDED_IN = "The work was not handed in; it is marked as it stood at the last sound line."
NOT_WORKED_OUT = "At some moment the bench could not play on; look at this one by hand as well."
NOT_READABLE = "Nothing in the logbook that was handed in could be read, so nothing could be marked."
NOT_THIS_EXERCISE = "The logbook that was handed in belongs to another exercise."
NOT_THIS_TICKET = "The logbook that was handed in was made with another ticket than yours."


def mark_logbook(data: bytes | None, exercise: str, ticket: str, scheme: MarkingScheme) -> MarkSheet:
    """Mark a handed-in logbook for the learner whose roster ticket is ``ticket``.

    Whatever ``data`` holds, this returns a sheet: what is sound is marked, what is not becomes a finding. Raises only
    for the instructor's own slips: UnknownName for the exercise, BadTicket for the roster's ticket,
    BadMarkingScheme for a scheme of another exercise.
    """
    scenario = draw_scenario(exercise, ticket)
    if scheme.exercise != scenario.exercise:
        raise BadMarkingScheme(
            f"The scheme is for {scheme.exercise!r}, not for {exercise!r}. Load the one for {exercise!r}."
        )
    if not data:
        return sheet_of_nothing(scheme, scenario, NOTHING_HANDED_IN, (NOTHING_HANDED_IN,))
    reading = read_logbook(data)
    refusal = why_not_marked(reading, scenario)
    if refusal:
        return sheet_of_nothing(scheme, scenario, refusal, (refusal, *reading.findings))
    played = replay(reading, scenario)
    try:
        return sheet_of(played, reading, scenario, scheme)
    except SolverFailed as error:
        text = "The work could not be played through to the end; your instructor will look at it."
        findings = (f"{text} ({error}) Mark this one by hand.", *all_findings(reading, played))
        return sheet_of_nothing(scheme, scenario, text, findings)


def why_not_marked(reading: LogbookReading, scenario: Scenario) -> str:
    """Return why a logbook earns nothing at all, or an empty text."""
    header = reading.header
    if header is None:
        return NOT_READABLE
    if header.get("exercise") != scenario.exercise:
        return NOT_THIS_EXERCISE
    return NOT_THIS_TICKET if header.get("ticket") != scenario.ticket else ""


def all_findings(reading: LogbookReading, played: Replay) -> tuple[str, ...]:
    """Return the findings of reading and of playing, each once."""
    return tuple(dict.fromkeys((*reading.findings, *played.findings)))


def sheet_of_nothing(scheme: MarkingScheme, scenario: Scenario, text: str, findings: tuple[str, ...]) -> MarkSheet:
    """Return a sheet with no marks and the reason why."""
    return MarkSheet(scenario.exercise, zero_marks(scheme, text), False, findings, draw_work(Track()))


def sheet_of(played: Replay, reading: LogbookReading, scenario: Scenario, scheme: MarkingScheme) -> MarkSheet:
    """Mark what was played and put the sheet together."""
    attempt = played.attempt
    marks, track = mark_work(scenario, attempt.steps, attempt.diagnosis, scheme)
    findings = all_findings(reading, played)
    if not track.handed_in:
        findings += (NOT_HANDED_IN,)
    if any(seen.key == "not_worked_out" for seen in attempt.observations):
        findings += (NOT_WORKED_OUT,)
    costly = frozenset(r.moment_s for r in marks["order"].reasons if not r.good and r.moment_s is not None)
    passed = is_passed(marks, scheme)
    return MarkSheet(scenario.exercise, marks, passed, findings, draw_work(track, costly), played.marked_up_to_line)


def mark_work(
    scenario: Scenario, steps: Sequence[Step], diagnosis: Diagnosis | None, scheme: MarkingScheme
) -> tuple[dict[str, Mark], Track]:
    """Mark an attempt's steps and its last diagnosis; return the three marks and the track they come from."""
    track, boat = play_steps(scenario, steps)
    telling, truth = telling_numbers(scenario, track), truth_of(scenario)
    track = with_telling(track, telling, truth.part, diagnosis.part if diagnosis else "")
    marks = {
        "order": mark_order(track, scheme),
        "diagnosis": mark_diagnosis(diagnosis, truth, telling, scheme),
        "outcome": mark_outcome(boat, scenario, scheme),
    }
    return marks, track
