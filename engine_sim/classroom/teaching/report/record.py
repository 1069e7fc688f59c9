"""A record of assessment for each learner: one page of A4 that says what was assessed, how, and with which result.

It lies in the course root's ``report/records`` folder, for its owner only, as a page and as a PDF beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from engine_sim.bench.helping import TELLS
from engine_sim.classroom.course_plan import Exercise, Lesson, lessons_in
from engine_sim.classroom.course_root import ClassroomError, CourseRoot, write_file
from engine_sim.classroom.pass_line import least_shares
from engine_sim.classroom.roster import Learner
from engine_sim.classroom.second_marks import latest_changes, mark_title
from engine_sim.classroom.shipped import shipped
from engine_sim.classroom.teaching.report.hand_ins import ClassWork, HandIn, read_class
from engine_sim.classroom.teaching.report.markup import bullets, heading, paragraph, strong, table
from engine_sim.classroom.teaching.report.numbers import plain_sentence
from engine_sim.classroom.teaching.report.printing import page_pdf
from engine_sim.classroom.teaching.report.style import page_of
from engine_sim.errors import EngineSimError
from engine_sim.marking import TITLES, MarkingScheme
from engine_sim.marking.facts import Conditions, Facts
from engine_sim.scenarios import HELPS
from engine_sim.scenarios.scenario import layout_of
from engine_sim.units import duration_text

TITLE = "Record of assessment"
SCHOOL_FILE = "school.txt"
LONGEST_SCHOOL = 200
SIZES_PT = (10.5, 9.5, 8.5, 7.5, 6.5, 5.5, 4.5)
"""Sizes of type that are tried [pt], the largest first, until all stands on one sheet."""
CAUTION = (
    "This was work on a simulated engine. It shows how somebody looks for a fault and in which order; it is no proof "
    "of skill with real tools, nor of work on a real engine."
)
ON_PAPER = (
    "@page { margin: 10mm; } body { font-size: 8.5pt; line-height: 1.2; } h1 { font-size: 15pt; margin: 0; } "
    "table, p, ul { margin: 1.5mm 0; } h2 { font-size: 11pt; margin: 2mm 0 0; padding: 0; border: 0; } "
    "th, td { padding: .6mm 3mm .6mm 0; }"
)
_HEAD_SHARE, _HEAD_MM = (1.6, 1.2), (1.5, 2.0)
"""Size of the two kinds of heading [of the text's], and the room above them [mm]."""
LINE = "_" * 72
BLANK = "\N{NO-BREAK SPACE}"
WRITTEN = "Written answer"
ROUGH_SEAWAY = 0.5


@dataclass(frozen=True, slots=True)
class Assessed:
    """All that a record says of one learner and one exercise."""

    learner: Learner
    exercise: Exercise
    hand_in: HandIn
    scheme: MarkingScheme
    lessons: tuple[Lesson, ...]
    changes: tuple[str, ...] = ()


def write_records(
    course: CourseRoot, exercise: str, school: str = "", learners: Sequence[str] | None = None
) -> list[Path]:
    """Write a record for everybody whose hand-in of an exercise is marked; return where the pages are.

    Each has a PDF of the same name beside it. Without ``school`` the name in ``report/school.txt`` heads it, or a line
    to write one on. Raises ClassroomError where nobody's hand-in is marked, RosterError or BadMarkingScheme where the
    class's own files cannot be used.
    """
    work = read_class(course, (exercise,))
    found = [one for one in work.hand_ins if learners is None or one.learner in learners]
    if not found:
        raise ClassroomError(
            f"No hand-in of {work.exercises[0].title} is marked yet, so there is nothing to record. Mark it first."
        )
    lessons = lessons_in(shipped("course") / "notebooks")
    head = school.strip() or school_of(course)
    every = [assessed_in(work, one, lessons) for one in found]
    return [write_record(course, replace(one, changes=changes_of(course, one)), head) for one in every]


def changes_of(course: CourseRoot, one: Assessed) -> tuple[str, ...]:
    """Return which marks were changed by hand, from what, by whom and why."""
    lines = latest_changes(course, one.learner.learner_id, one.exercise.id)
    return tuple(
        f"{mark_title(one.exercise.id, name)} was changed by hand"
        f"{'' if line.before is None else f' from {line.before:g}'} to {line.points:g} by {line.who}: {line.reason}"
        for name, line in lines.items()
    )


def assessed_in(work: ClassWork, one: HandIn, lessons: tuple[Lesson, ...]) -> Assessed:
    """Return what a record says of a hand-in."""
    exercise = next(known for known in work.exercises if known.id == one.exercise)
    return Assessed(work.learners[one.learner], exercise, one, work.schemes[one.exercise], lessons)


def school_of(course: CourseRoot) -> str:
    """Return the school's name that an instructor wrote into the course root, or nothing."""
    place = course.folder / "report" / SCHOOL_FILE
    try:
        return " ".join(place.read_text(encoding="utf-8-sig", errors="replace").split())[:LONGEST_SCHOOL]
    except OSError:
        return ""


def write_record(course: CourseRoot, assessed: Assessed, school: str) -> Path:
    """Write one record as a page and as a PDF; return where the page is."""
    page = record_page(assessed, school)
    place = course.folder / "report" / "records" / assessed.exercise.id / f"{assessed.learner.learner_id}.html"
    write_file(place, page.encode("utf-8"))
    write_file(place.with_suffix(".pdf"), on_one_sheet(page))
    return place


def on_one_sheet(page: str) -> bytes:
    """Return a record as a PDF of one sheet, in the largest type that it fits in."""
    data = b""
    for size_pt in SIZES_PT:
        sizes = (size_pt * share for share in _HEAD_SHARE)
        headings = dict(zip(("h1", "h2"), zip(sizes, _HEAD_MM, strict=True), strict=True))
        data, sheets = page_pdf(page, "", size_pt, headings)
        if sheets == 1:
            break
    return data


def record_page(assessed: Assessed, school: str = "", today: date | None = None) -> str:
    """Return a record as a page of HTML."""
    one, facts = assessed.hand_in, assessed.hand_in.facts
    when = f"{today or date.today():%d %B %Y}".lstrip("0")
    body = paragraph(school) if school else paragraph(f"School: {LINE}")
    body += heading(1, TITLE)
    body += heading(2, "Who and what", "what")
    body += table("what", [("Item", 24), ("Entry", 76)], [*about(assessed), ("Record made on", when)])
    objectives = [plain_sentence(name, assessed.lessons) for name in assessed.exercise.objectives]
    if objectives:
        body += heading(2, "Objectives assessed") + bullets(objectives)
    body += heading(2, "Result", "result") + result_table(assessed)
    body += strong(result_in_words(one)) + "".join(
        paragraph(f"{text}.".replace("..", ".")) for text in assessed.changes
    )
    for fail in facts.hard_fails:
        body += paragraph(f"This alone fails, whatever the points: {fail.text}")
    body += paragraph(CAUTION) + strong("Remarks") + paragraph(BLANK)
    body += paragraph(LINE) + paragraph(BLANK) + paragraph(LINE) + strong("Signatures")
    for who in ("Assessor", "Learner"):
        body += paragraph(BLANK) + paragraph(f"{who} {LINE[:48]}\N{NO-BREAK SPACE} Date {LINE[:18]}")
    return page_of(f"{TITLE}: {name_of(assessed.learner)}", body, narrow=True, on_paper=ON_PAPER)


def name_of(learner: Learner) -> str:
    """Return a learner's name, or the id where there is none."""
    return f"{learner.first_name} {learner.last_name}".strip() or learner.learner_id


def about(assessed: Assessed) -> list[tuple[str, str]]:
    """Return who was assessed in what, and under which conditions, as rows."""
    facts = assessed.hand_in.facts
    rows = [("Learner", name_of(assessed.learner)), ("Exercise", assessed.exercise.title)]
    versions = [f"exercise version {facts.versions.get('scenario_version', '-')}"]
    versions += [f"simulator version {facts.versions.get('simulator_version', '-')}"]
    if "scheme_version" in facts.versions:
        versions.append(f"marking scheme version {facts.versions['scheme_version']}")
    if facts.sums:
        return [*rows, ("Ticket", facts.ticket), ("Versions", ", ".join(versions))]
    return [
        *rows,
        ("Boat", boat_in_words(facts.layout)),
        ("Ticket and versions", f"ticket {facts.ticket}, {', '.join(versions)}"),
        ("Conditions", conditions_in_words(facts.conditions)),
        ("Help allowed", help_allowed(facts.conditions.help_most)),
        ("Help used", help_used(facts)),
        ("Time used", f"{duration_text(facts.clock_s)} on the boat's clock, of it cranking {facts.cranked_s:.0f} s"),
    ]


def boat_in_words(layout: str) -> str:
    """Return what a boat is called; the name of its file where that cannot be read any more."""
    try:
        return layout_of(layout).layout.title
    except (EngineSimError, OSError):
        return Path(layout).stem.replace("_", " ")


def conditions_in_words(lies: Conditions) -> str:
    """Return weather and sea in words."""
    warm = "usual temperature" if lies.temperature_c is None else f"{lies.temperature_c:g} °C"
    sea = "calm" if lies.seaway <= 0.0 else "some sea" if lies.seaway < ROUGH_SEAWAY else "rough sea"
    found = [sea, warm]
    if lies.heel_deg:
        found.append(f"heeled {abs(lies.heel_deg):g}° to {'starboard' if lies.heel_deg > 0.0 else 'port'}")
    if lies.pitch_deg:
        found.append(f"{'bow' if lies.pitch_deg > 0.0 else 'stern'} {abs(lies.pitch_deg):g}° down")
    if lies.lee_shore_min is not None:
        found.append(f"a shore to leeward, {lies.lee_shore_min:g} min away")
    return ", ".join(found)


def help_allowed(most: str) -> str:
    """Return which help might be asked for."""
    if most not in HELPS:
        return "none"
    return ", ".join(TELLS[kind].lower() for kind in HELPS[: HELPS.index(most) + 1])


def help_used(facts: Facts) -> str:
    """Return which help was asked for, and how often."""
    return ", ".join(f"{TELLS[kind].lower()}: {facts.helps[kind]}" for kind in HELPS if facts.helps.get(kind)) or "none"


def result_table(assessed: Assessed) -> str:
    """Return the marks, each with its maximum and the least that the pass line asks [points]."""
    one, scheme = assessed.hand_in, assessed.scheme
    least = {} if one.facts.sums else least_shares(scheme)
    rows: list[tuple[str | float, ...]] = []
    for name, mark in one.marks.items():
        title = assessed.exercise.places.get(name) or TITLES.get(name) or WRITTEN
        asked = f"{least[name] * mark.maximum:g}" if name in least else "-"
        rows.append((title, mark.score, mark.maximum, asked))
    counted = [one.marks[mark.name] for mark in one.facts.marks if mark.name in one.marks]
    score, most = sum(mark.score for mark in counted), sum(mark.maximum for mark in counted)
    which = "Together, without the written answer" if len(counted) < len(one.marks) else "Together"
    rows.append((which, round(score, 2), most, f"{scheme.pass_line.total_share * most:g}"))
    columns = [("Mark", 46), ("Points", 18), ("Of", 18), ("At least, to pass", 18)]
    return table("result", columns, rows)


def result_in_words(one: HandIn) -> str:
    """Return whether it is passed, and that a mark is still to come where one is."""
    said = "Passed." if one.passed else "Not passed."
    return said + (" The written answer is not marked yet." if one.waiting else "")
