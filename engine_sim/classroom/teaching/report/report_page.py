"""The class report: one page that needs no network and holds no script, and the same as a PDF.

It lies in the course root's ``report`` folder, for its owner only; nothing of it is sent anywhere. An anonymous report
calls learners by numbers in an order drawn by lot, and has no name, id or ticket in it.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path

from engine_sim.classroom.course_root import CourseRoot, write_file
from engine_sim.classroom.roster import Learner
from engine_sim.classroom.teaching.report import sections
from engine_sim.classroom.teaching.report.items import CERTAIN, LEAST, POORLY, WELL, Item, class_items
from engine_sim.classroom.teaching.report.markup import figures_of, heading, paragraph, percent, table
from engine_sim.classroom.teaching.report.numbers import ClassNumbers, class_numbers
from engine_sim.classroom.teaching.report.printing import page_pdf
from engine_sim.classroom.teaching.report.style import page_of

FOLDER, NAMED, ANONYMOUS = "report", "class_report", "class_report_anonymous"
TITLE = "Class report"
SIZE_PT = 9.5
BY_NAME = ("exercise", "mark", "fault")
"""Kinds of item that are named one by one where there is no figure for them; of the others there are many."""
GROUPS = {
    "exercise": ("Exercises", "Each exercise against the same learners' other exercises."),
    "mark": ("Marks", "Each mark against the other marks of the same hand-in."),
    "fault": ("Faults drawn", "Diagnosis and cure where this was wrong, against the other marks of the same hand-in."),
    "rule": ("Rules of order", "Kept or broken, against all marks but method of the same hand-in."),
    "caution": ("Cautions", "Kept or broken, against all marks but safety of the same hand-in."),
}
WHAT_ITEMS_SAY = (
    "Mean: the share of the points that the class earned; near 0 it is too hard for this class, near 100 % it tells "
    "nobody apart. Telling: from −1 to 1, whether those who do well elsewhere do well here (the correlation with all "
    f"the rest). From {WELL:.1f} on it tells strong from weak well, below {POORLY:.1f} hardly: a rule of thumb, from "
    "memory. Below 0 it rewards the wrong thing, or its sentence misleads. Range: made in this way it holds "
    f"the true figure in 95 of 100 such classes. Below {LEAST} learners no figure is given, below {CERTAIN} one is "
    "uncertain."
)


def write_report(course: CourseRoot, anonymous: bool = False, exercises: Sequence[str] | None = None) -> Path:
    """Write the report on a class as a page and as a PDF beside it; return where the page is.

    Raises RosterError or BadMarkingScheme where the class's own files cannot be used, OSError where nothing can be
    written.
    """
    numbers = class_numbers(course, exercises)
    page = report_page(numbers, names_of(numbers.work.learners.values(), anonymous), not anonymous)
    place = course.folder / FOLDER / f"{ANONYMOUS if anonymous else NAMED}.html"
    write_file(place, page.encode("utf-8"))
    write_file(place.with_suffix(".pdf"), page_pdf(page, TITLE, SIZE_PT)[0])
    return place


def names_of(learners: Iterable[Learner], anonymous: bool) -> dict[str, str]:
    """Return what each learner is called, by id, in the order of the report; two alike get their ids beside them."""
    listed = list(learners)
    if anonymous:
        secrets.SystemRandom().shuffle(listed)
        return {one.learner_id: f"Learner {place}" for place, one in enumerate(listed, 1)}
    full = {one.learner_id: f"{one.first_name} {one.last_name}".strip() or one.learner_id for one in listed}
    names = list(full.values())
    return {key: name if names.count(name) == 1 else f"{name} ({key})" for key, name in full.items()}


def report_page(numbers: ClassNumbers, called: dict[str, str], with_names: bool, today: date | None = None) -> str:
    """Return the report as a page of HTML."""
    when = f"{today or date.today():%d %B %Y}".lstrip("0")
    lead = (
        f"Made on {when} from what was marked by then; nothing was played again for it, and nothing was sent anywhere."
    )
    body = heading(1, TITLE) + paragraph(lead)
    if not with_names:
        body += paragraph("Learners are numbered by lot. No name, no id and no ticket stands in this report.")
    if not numbers.work.hand_ins:
        return page_of(TITLE, body + paragraph("Nothing has been marked yet. Mark the hand-ins first."))
    body += sections.at_a_glance(numbers, called, with_names)
    body += sections.teach_next(numbers)
    body += sections.who_can_do_what(numbers, called)
    if numbers.at_engines:
        body += sections.order_and_checks(numbers)
        body += sections.time_used(numbers)
        body += sections.diagnoses(numbers)
        body += sections.safety(numbers, called)
    body += sections.help_and_slips(numbers)
    body += tells_apart(class_items(numbers.work))
    return page_of(TITLE, body)


def tells_apart(items: Sequence[Item]) -> str:
    """Return the section on how hard each item is and how well it tells strong from weak."""
    found = heading(2, "How hard it is, and what tells strong from weak") + paragraph(WHAT_ITEMS_SAY)
    columns = [("Item", 40), ("Learners", 10), ("Mean", 9), ("Telling", 10), ("Range", 13), ("In words", 18)]
    for group, (title, what) in GROUPS.items():
        own = [one for one in items if one.group == group]
        rows = [item_row(one) for one in own if one.facility is not None]
        few = [one for one in own if one.facility is None]
        if own:
            found += heading(3, title, f"items-{group}") + paragraph(what)
            found += table(f"items-{group}", columns, rows) if rows else ""
            found += paragraph(without_figure(group, few)) if few else ""
    return found


def without_figure(group: str, items: Sequence[Item]) -> str:
    """Return the sentence on items that came to too few learners for a figure."""
    if group not in BY_NAME:
        return f"{len(items)} more came to fewer than {LEAST} learners each: no figure."
    named = "; ".join(f"{one.words} ({one.count})" for one in items)
    return f"No figure, for fewer than {LEAST} learners (how many stands in brackets): {named}."


def item_row(item: Item) -> tuple[str | int, ...]:
    """Return the row of an item."""
    reach = "-" if item.interval is None else " to ".join(figures_of(end) for end in item.interval)
    return (item.words, item.count, percent(item.facility), figures_of(item.discrimination), reach, item.verdict)
