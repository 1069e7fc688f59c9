"""Marks one logbook, or one attempt. Nothing is believed but the actions, played again on the instructor's own boat."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from engine_sim.attempt import Attempt, Diagnosis, LogbookReading, Replay, Step, read_logbook, replay
from engine_sim.errors import SolverFailed
from engine_sim.marking.coach import Analysis, analyse
from engine_sim.marking.cure import mark_cure, mark_untouched, try_out
from engine_sim.marking.diagnosis import given_in, labels_of, mark_diagnosis, truths_of
from engine_sim.marking.housekeeping import items_of, mark_housekeeping
from engine_sim.marking.marksheet import Mark, MarkSheet, is_passed, zero_marks
from engine_sim.marking.method import mark_method
from engine_sim.marking.replaying import Recorder, play_steps, refuse_nothing_wrong
from engine_sim.marking.safety import hard_fails_of, mark_safety
from engine_sim.marking.scheme import EVERY, BadMarkingScheme, MarkingScheme
from engine_sim.marking.signs import FAULT_CHANGES, FUEL_WORK
from engine_sim.marking.telling import telling_of, with_telling
from engine_sim.marking.track import Track
from engine_sim.scenarios import Scenario, draw_scenario
from engine_sim.version import SIMULATOR_VERSION

NOTHING_HANDED_IN = "No logbook was handed in, so nothing could be marked."
EMPTY = "The logbook that was handed in is empty, so nothing could be marked."
NOT_HANDED_IN = "The logbook holds no hand-in; the work is marked as it stood at the last sound line."
NOT_WORKED_OUT = "At some moment the bench could not play on; look at this one by hand as well."
NOT_READABLE = "Nothing in the logbook that was handed in could be read, so nothing could be marked."
NOT_THIS_EXERCISE = "The logbook that was handed in belongs to another exercise."
NOT_THIS_TICKET = "The logbook that was handed in was made with another ticket than yours."


def mark_logbook(
    data: bytes | None, exercise: str, ticket: str, scheme: MarkingScheme, keep_in: Path | None = None
) -> MarkSheet:
    """Mark a handed-in logbook for the learner whose roster ticket is ``ticket``.

    Whatever ``data`` holds, this returns a sheet: what is sound is marked, what is not becomes a finding. Raises only
    for the instructor's own slips: UnknownName for the exercise, BadTicket for the roster's ticket,
    BadMarkingScheme for a scheme of another exercise, BadScenario for an exercise with nothing wrong in it.
    ``keep_in`` is a folder where the coach's work on a boat is kept for the next process.
    """
    scenario = draw_scenario(exercise, ticket)
    if scheme.exercise not in (EVERY, scenario.exercise):
        raise BadMarkingScheme(
            f"The scheme is for {scheme.exercise!r}, not for {exercise!r}. Load the one for {exercise!r}."
        )
    refuse_nothing_wrong(scenario)
    if not data:
        why = NOTHING_HANDED_IN if data is None else EMPTY
        return sheet_of_nothing(scheme, scenario, why, (why,))
    reading = read_logbook(data)
    refusal = why_not_marked(reading, scenario)
    if refusal:
        return sheet_of_nothing(scheme, scenario, refusal, (refusal, *reading.findings))
    recorder = Recorder()
    played = replay(reading, scenario, recorder.watch)
    try:
        return sheet_of(played, recorder, reading, scenario, scheme, keep_in)
    except SolverFailed as error:
        text = "The work could not be played through to the end; your instructor will look at it."
        findings = (f"{text} ({error}) Mark this one by hand.", *all_findings(reading, played))
        return sheet_of_nothing(scheme, scenario, text, findings)


def mark_attempt(
    scenario: Scenario,
    steps: Sequence[Step],
    diagnosis: Diagnosis | None,
    scheme: MarkingScheme,
    with_coach: bool = True,
    keep_in: Path | None = None,
) -> MarkSheet:
    """Mark an attempt's steps on a scenario of any kind: composed by hand, for practice, for tests.

    ``diagnosis`` is the attempt's last one; those in ``steps`` count as well. Without the coach the method is marked by
    the rules alone; ``keep_in`` is a folder where the coach's work on a boat is kept. Raises BadScenario for a
    scenario with nothing wrong, UnknownName for a step that names what this boat does not have, SolverFailed where the
    work cannot be played.
    """
    refuse_nothing_wrong(scenario)
    recorder, attempt = play_steps(scenario, steps)
    return mark_played(scenario, recorder, attempt, steps, diagnosis, scheme, with_coach, keep_in)


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


def versions_of(scenario: Scenario, scheme: MarkingScheme) -> dict[str, object]:
    """Return the versions that a sheet was made with."""
    return {
        "simulator_version": SIMULATOR_VERSION,
        "scenario_version": scenario.version,
        "scheme_version": scheme.scheme_version,
    }


def sheet_of_nothing(scheme: MarkingScheme, scenario: Scenario, text: str, findings: tuple[str, ...]) -> MarkSheet:
    """Return a sheet with no marks and the reason why."""
    return MarkSheet(
        exercise=scenario.exercise,
        marks=zero_marks(scheme, text),
        passed=False,
        findings=findings,
        versions=versions_of(scenario, scheme),
        scenario=scenario,
    )


def sheet_of(
    played: Replay,
    recorder: Recorder,
    reading: LogbookReading,
    scenario: Scenario,
    scheme: MarkingScheme,
    keep_in: Path | None,
) -> MarkSheet:
    """Mark what was played from a logbook and put the sheet together with its findings."""
    attempt = played.attempt
    findings = all_findings(reading, played)
    if not recorder.handed_in:
        findings += (NOT_HANDED_IN,)
    if any(seen.key == "not_worked_out" for seen in attempt.observations):
        findings += (NOT_WORKED_OUT,)
    sheet = mark_played(scenario, recorder, attempt, attempt.steps, attempt.diagnosis, scheme, True, keep_in)
    return replace(sheet, findings=findings, marked_up_to_line=played.marked_up_to_line)


def mark_played(
    scenario: Scenario,
    recorder: Recorder,
    attempt: Attempt,
    steps: Sequence[Step],
    diagnosis: Diagnosis | None,
    scheme: MarkingScheme,
    with_coach: bool = True,
    keep_in: Path | None = None,
) -> MarkSheet:
    """Mark an attempt that has been played and taken down; the attempt is used up by the engine test."""
    track = recorder.track(scenario)
    hard_fails = hard_fails_of(recorder.mishaps)
    track, diagnosed = tell_and_diagnose(scenario, track, steps, diagnosis, scheme)
    asked = with_coach and scheme.method.coach_share > 0.0 and bool(track.moments)
    analysis = found_by_checks(analyse(scenario, steps, keep_in), track) if asked else None
    cure, housekeeping = cure_and_housekeeping(scenario, attempt.reopened(), track, steps, scheme)
    marks = {
        "safety": mark_safety(track, hard_fails, scenario.weather.seaway, scheme),
        "method": mark_method(track, analysis, scheme),
        "diagnosis": diagnosed,
        "cure": cure,
        "housekeeping": housekeeping,
    }
    return MarkSheet(
        exercise=scenario.exercise,
        marks=marks,
        passed=is_passed(marks, scheme, hard_fails),
        hard_fails=hard_fails,
        versions=versions_of(scenario, scheme),
        track=track,
        analysis=analysis,
        scenario=scenario,
        handed_in=recorder.handed_in,
    )


def found_by_checks(analysis: Analysis, track: Track) -> Analysis:
    """Return the analysis with nothing found where no check had shown anything by then.

    Whoever lets air in and gropes on may leave one thing possible by what the others would have done: that is for a
    machine to see, and nobody found anything.
    """
    told = any(moment.tells and moment.number <= analysis.found_step for moment in track.moments)
    return analysis if told else replace(analysis, found_step=0)


def tell_and_diagnose(
    scenario: Scenario, track: Track, steps: Sequence[Step], last: Diagnosis | None, scheme: MarkingScheme
) -> tuple[Track, Mark]:
    """Return the track with what tells in it, and the diagnosis mark."""
    given = given_in(steps, last, len(scenario.faults))
    named = [number for one in given for number in one.said.evidence]
    telling = telling_of(scenario, track, named)
    parts = frozenset(one.said.part for one in given)
    truths = truths_of(scenario, track.boat)
    mark = mark_diagnosis(given, truths, telling.by_fault, track.boat, scheme)
    return with_telling(scenario, track, telling, parts), mark


def cure_and_housekeeping(
    scenario: Scenario, attempt: Attempt, track: Track, steps: Sequence[Step], scheme: MarkingScheme
) -> tuple[Mark, Mark]:
    """Look at how everything was left, put the engine through its test, and return both marks."""
    left_s = attempt.clock_s
    faulty = frozenset(wrong.part for wrong in scenario.faults)
    items = items_of(attempt, track, steps, faulty, scheme)
    cured = try_out(attempt, scenario, scheme.engine_test)
    touched = track.among((*FUEL_WORK, *FAULT_CHANGES))
    cure = mark_cure(cured, labels_of(scenario), attempt.clock_s, scheme) if touched else mark_untouched(left_s, scheme)
    return cure, mark_housekeeping(items, track, cured.through and cured.gone, left_s, scheme)
