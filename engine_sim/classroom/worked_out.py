"""What the logbook of one hand-in comes to: worked out once, and kept with a digest of all that it hangs on.

Playing a logbook again and writing its reasons is the dear part of marking. It is done away from nbgrader, so that it
can be shared out over the cores; nbgrader's steps find the kept result, or work it out themselves where there is none.
The digest covers the logbook, the ticket, the marking scheme and this program, so that a kept result is used for
exactly what it was worked out from.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import engine_sim
from engine_sim.attempt import read_logbook
from engine_sim.classroom.course_plan import announce_own
from engine_sim.classroom.course_root import CourseRoot, write_file
from engine_sim.classroom.hand_in import parse_json, read_logbook_file
from engine_sim.classroom.roster import read_roster
from engine_sim.marking import (
    MARK_NAMES,
    MarkSheet,
    Reason,
    feedback_html,
    load_marking_scheme,
    mark_logbook,
    page_html,
)
from engine_sim.marking.coach.keeping import own_cache_folder
from engine_sim.marking.facts import Facts, facts_from, facts_of, sums_facts
from engine_sim.marking.sums import POINTS_EACH, SUMS_EXERCISE, mark_sums
from engine_sim.scenarios.own_pools import own_text
from engine_sim.units import duration_text

PROGRAM_FILES = ("*.py", "*.toml")
NOTHING_TO_MARK = "<p>There was nothing that could be marked. Ask your instructor.</p>"
GIVEN_UP = "<p>Your work could not be marked by itself. Your instructor will look at it.</p>"


@dataclass(frozen=True, slots=True)
class HandedIn:
    """All that the marks of one hand-in hang on; ``data`` is the logbook, None where none could be read."""

    learner: str
    exercise: str
    ticket: str
    data: bytes | None
    findings: tuple[str, ...]
    scheme: Path
    digest: str


@dataclass(frozen=True, slots=True)
class MarkedPlace:
    """One mark with its maximum [points], and the page that says why."""

    score: float
    maximum: float
    page: str


@dataclass(frozen=True, slots=True)
class WorkedOut:
    """What a hand-in came to: its marks by name, what fails by itself, findings for the instructor.

    ``given_up`` says why it could not be worked out, and is empty where it could. ``facts`` is what a class report
    counts, None where nothing was worked out.
    """

    digest: str
    places: Mapping[str, MarkedPlace]
    hard_fails: tuple[str, ...] = ()
    findings: tuple[str, ...] = ()
    given_up: str = ""
    facts: Facts | None = None

    def place(self, name: str) -> MarkedPlace:
        """Return one mark; what could not be marked is nothing, with a sentence."""
        return self.places.get(name, MarkedPlace(0.0, 0.0, GIVEN_UP if self.given_up else NOTHING_TO_MARK))


def look_at(course: CourseRoot, learner: str, exercise: str) -> HandedIn:
    """Return what a learner handed in with all that its marks hang on; raises RosterError for an unsound roster."""
    known = read_roster(course.roster).learners.get(learner)
    ticket = known.ticket if known else ""
    data, findings = read_logbook_file(course.submitted(learner, exercise), exercise)
    if not ticket:
        reason = "is not on the roster" if known is None else "has no ticket on the roster"
        findings = (f"{learner} {reason}; nothing was marked",)
    scheme = course.scheme(exercise)
    announce_own(course.folder)
    hangs_on = [
        learner,
        exercise,
        ticket,
        "" if data is None else digest_of(data),
        findings,
        digest_of(scheme.read_bytes()) if scheme.is_file() else "",
        own_text(exercise),
        digest_of_program(),
    ]
    return HandedIn(learner, exercise, ticket, data, findings, scheme, digest_of(json.dumps(hangs_on).encode()))


def digest_of(data: bytes) -> str:
    """Return a digest of bytes."""
    return hashlib.sha256(data).hexdigest()


@lru_cache(maxsize=1)
def digest_of_program() -> str:
    """Return a digest of this program's own files: another version may mark in another way."""
    folder = Path(engine_sim.__file__).resolve().parent
    files = sorted(place for pattern in PROGRAM_FILES for place in folder.rglob(pattern))
    told = [(place.relative_to(folder).as_posix(), digest_of(place.read_bytes())) for place in files]
    return digest_of(json.dumps(told).encode())


def worked_out(course: CourseRoot, learner: str, exercise: str) -> WorkedOut:
    """Return what a hand-in comes to, kept from before or worked out now.

    Raises BadMarkingScheme, RosterError or UnknownName where the class's own files cannot be used; nothing that a
    learner handed in raises.
    """
    handed_in = look_at(course, learner, exercise)
    return kept(course, handed_in) or work_out(course, handed_in)


def kept(course: CourseRoot, handed_in: HandedIn) -> WorkedOut | None:
    """Return the kept result of exactly this hand-in, or None where there is none."""
    place = course.worked_out(handed_in.exercise, handed_in.learner)
    found = parse_json(place.read_bytes()) if place.is_file() else None
    if not isinstance(found, dict) or found.get("digest") != handed_in.digest:
        return None
    return worked_out_from(found)


def worked_out_from(found: Mapping[str, Any]) -> WorkedOut:
    """Return a result that was kept as plain data; one kept before there were facts has none."""
    places = {name: MarkedPlace(**one) for name, one in found["places"].items()}
    findings, fails = tuple(found["findings"]), tuple(found["hard_fails"])
    facts = found.get("facts")
    kept_facts = None if facts is None else facts_from(facts)
    return WorkedOut(found["digest"], places, fails, findings, found["given_up"], kept_facts)


def keep(course: CourseRoot, handed_in: HandedIn, result: WorkedOut) -> WorkedOut:
    """Keep a result, whole or not at all, and return it."""
    data = json.dumps(asdict(result), ensure_ascii=False).encode("utf-8")
    write_file(course.worked_out(handed_in.exercise, handed_in.learner), data)
    return result


def give_up(course: CourseRoot, handed_in: HandedIn, why: str) -> WorkedOut:
    """Keep that a hand-in could not be worked out, and why: noughts and a finding until somebody looks at it."""
    finding = f"this hand-in could not be marked: {why}. No other is touched. Look at its logbook, and mark it by hand"
    return keep(course, handed_in, WorkedOut(handed_in.digest, {}, (), (*handed_in.findings, finding), why))


def work_out(course: CourseRoot, handed_in: HandedIn) -> WorkedOut:
    """Mark the logbook, keep what it came to, and return it; raises as :func:`worked_out` does."""
    if not handed_in.ticket:
        return keep(course, handed_in, WorkedOut(handed_in.digest, {}, (), handed_in.findings))
    if handed_in.exercise == SUMS_EXERCISE:
        return keep(course, handed_in, sums_worked_out(handed_in))
    scheme = load_marking_scheme(handed_in.scheme)
    sheet = mark_logbook(handed_in.data, handed_in.exercise, handed_in.ticket, scheme, own_cache_folder())
    of_logbook = () if handed_in.data is None else tuple(f"logbook: {finding}" for finding in sheet.findings)
    places = {name: MarkedPlace(mark.score, mark.maximum, page_of(sheet, name)) for name, mark in sheet.marks.items()}
    fails = tuple(fail_in_words(reason) for reason in sheet.hard_fails)
    facts = facts_of(sheet, None if handed_in.data is None else read_logbook(handed_in.data))
    result = WorkedOut(handed_in.digest, places, fails, (*handed_in.findings, *of_logbook), facts=facts)
    return keep(course, handed_in, result)


def sums_worked_out(handed_in: HandedIn) -> WorkedOut:
    """Return what the answers to the sums come to."""
    sheet = mark_sums(handed_in.data, handed_in.ticket)
    places = {one.item.id: MarkedPlace(one.points, POINTS_EACH, one.as_html()) for one in sheet.marked}
    findings = handed_in.findings if handed_in.data is None else sheet.findings
    return WorkedOut(handed_in.digest, places, (), (*findings,), facts=sums_facts(sheet, handed_in.ticket))


def page_of(sheet: MarkSheet, name: str) -> str:
    """Return the page that says why a mark is what it is; the first one begins with the whole exercise."""
    return (page_html(sheet) if name == MARK_NAMES[0] else "") + feedback_html(sheet, name)


def fail_in_words(reason: Reason) -> str:
    """Return what fails by itself as one sentence with its moment."""
    when = "" if reason.moment_s is None else f", after {duration_text(reason.moment_s)}"
    return f"{reason.text.rstrip('.')}{when}."
