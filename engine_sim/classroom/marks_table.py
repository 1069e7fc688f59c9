"""What a marking run came to, and the table that shows it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from engine_sim.classroom.course_plan import exercise_named
from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.intake import Noticed
from engine_sim.marking import TITLES

LAST_HEADS = ("total", "written", "passed", "findings")
HARD_FAIL = "hard fail"
TOTAL_MEANS = (
    f"total: {' + '.join(TITLES)} + written (once marked). "
    f"passed: by the pass line in marking/, which does not ask for the written answer; a {HARD_FAIL} is never passed."
)
SUMS_MEAN = "1, 2, ...: the sums in their order. passed: by the share of all points that the pass line asks."


@dataclass(frozen=True, slots=True)
class Row:
    """One learner's marks by grade id (None where there is none), what fails by itself, and the findings."""

    learner_id: str
    marks: dict[str, float | None]
    waiting: int
    findings: tuple[str, ...]
    passed: bool = False
    hard_fails: tuple[str, ...] = ()
    places: tuple[str, ...] = tuple(TITLES)

    @property
    def is_marked(self) -> bool:
        """Say whether every mark that comes from the logbook is there."""
        return all(self.marks.get(name) is not None for name in self.places)

    @property
    def total(self) -> float:
        """The marks together, the written answer's too once it has one [points]."""
        return sum(mark for mark in self.marks.values() if mark is not None)


@dataclass(frozen=True, slots=True)
class MarkingRun:
    """What a marking run came to."""

    course: CourseRoot
    exercise: str
    rows: tuple[Row, ...]
    others: tuple[Noticed, ...]
    not_handed_in: tuple[str, ...]

    @property
    def needs_a_look(self) -> bool:
        """Say whether an instructor should look at a finding."""
        return bool(self.others) or any(row.findings or not row.is_marked for row in self.rows)


def table(run: MarkingRun) -> str:
    """Return the marks of a run as a table in plain text, with the findings beneath it."""
    places = exercise_named(run.exercise).places
    text = list(in_columns([heads(places), *(table_line(row) for row in run.rows)]))
    text += ["", TOTAL_MEANS if set(places) == set(TITLES) else SUMS_MEAN] if run.rows else []
    notes = [f"{row.learner_id}: {finding}" for row in run.rows for finding in row.findings]
    notes += [
        item.text if item.text.startswith(item.learner_id) else f"{item.learner_id}: {item.text}" for item in run.others
    ]
    if notes:
        kept = f"  (kept in {run.course.findings(run.exercise)})"
        text += ["", "To look at:", *(f"  {note}" for note in notes), kept]
    waiting = sum(row.waiting for row in run.rows)
    if waiting:
        text += ["", f"{waiting} written answer(s) wait for you to mark: fuelcourse teach {run.course.folder} --open"]
    if run.not_handed_in:
        text += ["", f"Nothing handed in: {', '.join(run.not_handed_in)}"]
    return "\n".join(text)


def heads(places: Iterable[str]) -> tuple[str, ...]:
    """Return the heads of the columns: the marks by name, the sums by number."""
    names = tuple(places)
    marks = names if set(names) == set(TITLES) else tuple(str(number) for number in range(1, len(names) + 1))
    return ("learner", *marks, *LAST_HEADS)


def in_columns(lines: list[tuple[str, ...]]) -> Iterator[str]:
    """Yield lines set in columns, with a rule under the first; words stand left, numbers right."""
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    for number, line in enumerate(lines):
        cells = zip(line, widths, strict=True)
        last = len(line) - 1
        yield "  ".join(
            value.ljust(width) if n in (0, last) else value.rjust(width) for n, (value, width) in enumerate(cells)
        ).rstrip()
        if number == 0:
            yield "  ".join("-" * width for width in widths)


def table_line(row: Row) -> tuple[str, ...]:
    """Return one learner's line of the table."""
    marks = [row.marks.get(name) for name in row.places]
    numbers = ["-" if mark is None else f"{mark:g}" for mark in marks]
    total = f"{row.total:g}" if row.is_marked else "not marked"
    findings = f"{len(row.findings)} to look at" if row.findings else "none"
    return (row.learner_id, *numbers, total, written(row), passed(row), findings)


def written(row: Row) -> str:
    """Return the mark of the written answer, or that it waits for one."""
    marks = [mark for name, mark in row.marks.items() if name not in row.places]
    if not marks:
        return "-"
    return "waits" if None in marks else points(mark for mark in marks if mark is not None)


def points(marks: Iterable[float]) -> str:
    """Return marks together [points]."""
    return f"{sum(marks):g}"


def passed(row: Row) -> str:
    """Return whether the work passes, in a word or two."""
    if not row.is_marked:
        return "-"
    return HARD_FAIL if row.hard_fails else "yes" if row.passed else "no"
