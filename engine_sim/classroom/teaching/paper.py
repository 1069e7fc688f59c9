"""An exercise on paper, without computers: a sheet for learners, and one for the instructor, who plays the boat.

Learners say what they do; the instructor reads out of the table what they notice. The table is played for the ticket's
own draw, check by check on the boat as she is found.
"""

from __future__ import annotations

from collections.abc import Iterable
from copy import deepcopy
from dataclasses import dataclass
from html import escape
from itertools import groupby
from pathlib import Path

from engine_sim.attempt import Attempt
from engine_sim.classroom.course_plan import exercise_named
from engine_sim.classroom.course_root import ClassroomError, CourseRoot, write_file
from engine_sim.classroom.feedback_pdf import feedback_pdf
from engine_sim.classroom.sheets.markup import (
    bullets,
    card_heading,
    figure,
    heading,
    numbered,
    paragraph,
    strong,
    table,
    time_words,
)
from engine_sim.classroom.teaching import paper_words as say
from engine_sim.classroom.teaching.paper_lines import ruled
from engine_sim.classroom.teaching.preview import in_words
from engine_sim.classroom.teaching.trying_out import IDLE, Told, best_way, first_signs, label_of, tell
from engine_sim.drawing.seen import as_looked_at
from engine_sim.learners.hands import Hands
from engine_sim.learners.poor import SURE_CURES
from engine_sim.marking.coach.checks import BoatCheck, checks_of
from engine_sim.marking.coach.outcomes import Signs, alike, signs_of
from engine_sim.marking.pictures import draw_circuit
from engine_sim.marking.replaying import healthy_boat
from engine_sim.scenarios import Scenario, check_ticket, draw_scenario, new_ticket
from engine_sim.scenarios.scenario import layout_of
from engine_sim.units import MINUTE_S
from engine_sim.version import SIMULATOR_VERSION
from engine_sim.wording import CAUTIONS, MANUAL_FIRST

FOLDER = "paper"
AFTERWARDS = (("battery", "connect"), ("preheat", "heat_20"), ("starter", "crank_10"), ("hand_start", "swing_10"))
"""What is done at these kinds of part to try an engine that was mended."""
LEARNER, INSTRUCTOR = "learner", "instructor"
_SIZE_PT = 9.5
"""Type of the printed sheets [pt]: the learner's goes on the two sides of one sheet of A4, whatever the exercise."""
_ROWS_FOR_CHECKS, _ROWS_FOR_EVIDENCE = 12, 3


@dataclass(frozen=True, slots=True)
class PaperExercise:
    """An exercise on paper: both sheets as pages (HTML)."""

    title: str
    ticket: str
    for_learners: str
    for_instructor: str

    def files(self, name: str) -> dict[str, bytes]:
        """Return every file of the exercise ``name``: each sheet as HTML and as a PDF of A4."""
        pages = {LEARNER: self.for_learners, INSTRUCTOR: self.for_instructor}
        made: dict[str, bytes] = {}
        for who, page in pages.items():
            made[f"{name}.{who}.html"] = page.encode("utf-8")
            made[f"{name}.{who}.pdf"] = as_pdf(page)
        return made


def as_pdf(page: str) -> bytes:
    """Return a sheet as a PDF of A4."""
    return feedback_pdf(page, marked=f"fuelcourse {SIMULATOR_VERSION}", size_pt=_SIZE_PT)


def write_paper(course: CourseRoot, name: str, ticket: str = "") -> tuple[Path, ...]:
    """Write the sheets of an exercise into ``paper/NAME/`` for a ticket's draw, a fresh one's if none; return them.

    Raises UnknownName for an exercise that the class has none of, BadTicket for what is no ticket, ClassroomError for
    the sums, which need no boat.
    """
    exercise = exercise_named(name, course.folder)
    if exercise.pool is None:
        raise ClassroomError(f"{exercise.title} needs no boat and has no sheets. Name an exercise at an engine.")
    sheets = on_paper(draw_scenario(name, check_ticket(ticket) if ticket else new_ticket()))
    folder = course.folder / FOLDER / name
    for file, data in sheets.files(name).items():
        write_file(folder / file, data)
    return tuple(sorted(folder.iterdir()))


def on_paper(scenario: Scenario) -> PaperExercise:
    """Return an exercise on paper, as a ticket drew it."""
    return PaperExercise(scenario.title, scenario.ticket, learners_sheet(scenario), _for_instructor(scenario))


# ---- the learner's sheet --------------------------------------------------------------------------------------------


def learners_sheet(scenario: Scenario) -> str:
    """Return the sheet of a class for one draw, as a page (HTML)."""
    body = [
        heading(1, scenario.title),
        paragraph(say.NAME_AND_TICKET.format(ticket=scenario.ticket)),
        paragraph(scenario.story),
        figure(_boat(scenario)),
        heading(2, say.WHAT_TO_DO),
        numbered(say.STEPS),
        heading(2, say.CAUTIONS_HEAD),
        bullets((MANUAL_FIRST, *(f"{where}: {CAUTIONS[name]}" for where, name in say.CAUTIONS))),
        card_heading(say.CHECKS_HEAD),
        paragraph(say.CHECKS_SAID),
        figure(ruled(say.CHECKS_HEAD, say.CHECK_COLUMNS, _ROWS_FOR_CHECKS, numbered=True)),
        heading(2, say.DIAGNOSIS_HEAD),
        figure(ruled(say.DIAGNOSIS_HEAD, say.DIAGNOSIS_COLUMNS, 1)),
        heading(2, say.EVIDENCE_HEAD),
        figure(ruled(say.EVIDENCE_HEAD, say.EVIDENCE_COLUMNS, _ROWS_FOR_EVIDENCE)),
        heading(2, say.CURE_HEAD),
        figure(ruled(say.CURE_HEAD, say.CURE_COLUMNS, _ROWS_FOR_EVIDENCE)),
    ]
    return say.PAGE.format(title=escape(scenario.title), body="".join(body))


def _boat(scenario: Scenario) -> str:
    """Return the boat as she is found, with question marks where only a look tells."""
    kept = layout_of(scenario.layout)
    seen = as_looked_at(kept.layout, Attempt(scenario).outside(), ())
    return draw_circuit(kept.drawing, seen, say.PICTURE.format(title=scenario.title))


# ---- the instructor's sheet -----------------------------------------------------------------------------------------


def _for_instructor(scenario: Scenario) -> str:
    way, _ = best_way(scenario)
    body = [
        heading(1, say.INSTRUCTORS.format(title=scenario.title)),
        strong(say.FOR_YOU_ALONE),
        paragraph(say.TICKET.format(ticket=scenario.ticket)),
        heading(2, say.TRUTH_HEAD),
        strong(f"{in_words(scenario)}."),
        heading(2, say.HOW_HEAD),
        bullets(say.HOW),
        heading(2, say.FIRST_HEAD),
        table(say.TABLE_COLUMNS, [_row(told, "", False) for told in first_signs(scenario)]),
        heading(2, say.TABLE_HEAD),
        paragraph(say.TABLE_SAID),
        table(say.TABLE_COLUMNS, _rows(scenario)),
        heading(2, say.WAY_HEAD),
        numbered(f"{step.check} ({time_words(step.minutes * MINUTE_S)})" for step in way),
        heading(2, say.MENDED_HEAD),
        *_mended(scenario),
    ]
    return say.PAGE.format(title=escape(scenario.title), body="".join(body))


def _rows(scenario: Scenario) -> list[tuple[str, str]]:
    """Return a row for each check: what is done with its time, what is noticed; bold where a sound boat differs."""
    boat, sound = Attempt(scenario), Attempt(healthy_boat(scenario))
    rows = []
    for check in checks_of(boat.place):
        told, signs = play_check(boat, check)
        tells = not alike(signs, play_check(sound, check)[1])
        rows.append(_row(told, time_words(check.minutes * MINUTE_S), tells))
    return rows


def play_check(boat: Attempt, check: BoatCheck) -> tuple[Told, Signs]:
    """Play a check on a copy of a boat; return its deeds with what was noticed, and that as the coach compares it."""
    copy = deepcopy(boat)
    told = [tell(copy, part, name) for part, name in check.deeds]
    noticed = tuple(text for one in told for text in one.noticed)
    return Told("; then ".join(one.deed for one in told), noticed), signs_of(copy.observations)


def _row(told: Told, time: str, tells: bool) -> tuple[str, str]:
    noticed = escape(" ".join(text for text, _ in groupby(told.noticed)) or say.NOTHING)
    deed = escape(f"{told.deed} ({time})" if time else told.deed)
    return deed, f"<strong>{noticed}</strong>" if tells else noticed


def _mended(scenario: Scenario) -> Iterable[str]:
    """Return what mends it, deed by deed, and what is noticed at the next try to start."""
    attempt = Attempt(scenario)
    hands = Hands(attempt)
    for item in scenario.faults:
        SURE_CURES[item.fault](hands, item.part)
    deeds = [label for label, _ in groupby(label_of(attempt, one.part, one.action) for one in attempt.steps)]
    if not deeds:
        return (paragraph(say.NOT_MENDED),)
    rows = [_row(told, "", False) for told in _tries(attempt)]
    return (paragraph(say.MENDED_SAID), numbered(deeds), paragraph(say.THEN), table(say.TABLE_COLUMNS, rows))


def _tries(attempt: Attempt) -> list[Told]:
    """Try to start after the cure, as this boat wants it, and let it idle; return what was noticed."""
    place, found = attempt.place, []
    for kind, name in AFTERWARDS:
        part = place.first(kind)
        offer = next((one for one in attempt.offers(part) if one.action == name), None) if part else None
        if offer is not None and not offer.why_not:
            found.append(tell(attempt, part, name))
    if attempt.outside()["engine"] == "running":
        found.append(tell(attempt, *IDLE))
    return found
