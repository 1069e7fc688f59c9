"""The receipt of what was taken in: for the instructor as a page of text, and a line for each learner to be given."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from engine_sim.classroom.course_plan import exercise_named
from engine_sim.classroom.course_root import CourseRoot, write_file

ORDINARY_LINES = (
    "Taken in from on Hand-ins taken of them new set aside for you to look at to give to learners kept as left where",
    "deed deeds in the logbook in place of an earlier one was here already without the page the written answer",
    "the hand-in at the bench was not pressed logbook and page received copy folder arrivals receipt why before",
    "is a link zip file ticket nobody on the roster has practice exercise lesson shorter longer newer older same",
)
"""The words of the lines below, which are nobody's name."""
IN_UTC = "%Y-%m-%d %H:%M UTC"


@dataclass(frozen=True, slots=True)
class Taken:
    """One hand-in that was taken: whose, which exercise, how many deeds its logbook holds, and how it came.

    ``new`` is False where exactly this lay here before; ``replaced`` says that it took the place of another.
    """

    learner_id: str
    name: str
    exercise: str
    deeds: int
    handed_in: bool
    page: bool
    place: str
    new: bool
    replaced: bool
    remarks: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """The exercise's title."""
        return exercise_named(self.exercise).title

    def line(self) -> str:
        """Return the instructor's line."""
        return f"{self.learner_id} ({self.name}): {self.title}: {self.how()}"

    def how(self) -> str:
        """Return what came and how."""
        how = "in place of an earlier one" if self.replaced else "new" if self.new else "was here already"
        said = [f"{self.deeds} {'deed' if self.deeds == 1 else 'deeds'} in the logbook", how, f"from {self.place}"]
        said += [] if self.page else ["without the page, so without the written answer"]
        said += [] if self.handed_in else ["the hand-in at the bench was not pressed"]
        return "; ".join((*said, *self.remarks))

    def for_the_learner(self, moment: datetime) -> str:
        """Return the line that can be given to the learner; ``moment`` is when it was taken in [UTC]."""
        page = "logbook and page" if self.page else "logbook without the page"
        when = moment.strftime(IN_UTC)
        return f"{self.name}: {self.title!r} received on {when}: {page}, {self.deeds} deeds in the logbook."


@dataclass(frozen=True, slots=True)
class Aside:
    """One thing that was not taken: where it lay, why, and where a copy is kept (empty where none could be)."""

    place: str
    reason: str
    kept_as: str
    learner_id: str = ""

    def line(self) -> str:
        """Return the instructor's line."""
        kept = f" Kept as {self.kept_as}." if self.kept_as else " It was left where it lay."
        return f"{self.place}: {self.reason}.{kept}"


@dataclass(frozen=True, slots=True)
class Receipt:
    """What came when [UTC], what was taken, and what was set aside and why; ``file`` is where it is written."""

    moment: datetime
    source: str
    taken: tuple[Taken, ...]
    set_aside: tuple[Aside, ...]
    file: Path

    def of_learners(self) -> dict[str, tuple[str, ...]]:
        """Return, by learner id, the lines that can be given to each learner."""
        lines: dict[str, tuple[str, ...]] = {}
        for one in self.taken:
            lines[one.learner_id] = (*lines.get(one.learner_id, ()), one.for_the_learner(self.moment))
        return lines

    def __str__(self) -> str:
        new = sum(one.new for one in self.taken)
        head = [f"Taken in from {self.source} on {self.moment.strftime(IN_UTC)}"]
        head += [f"Hand-ins taken: {len(self.taken)}, of them new: {new}. Set aside: {len(self.set_aside)}.", ""]
        given = [line for lines in self.of_learners().values() for line in lines]
        return "\n".join(
            [
                *head,
                *part("Taken:", (one.line() for one in self.taken)),
                *part("Set aside, for you to look at:", (one.line() for one in self.set_aside)),
                *part("To give to learners:", given),
            ]
        )


def part(title: str, lines: Iterable[str]) -> list[str]:
    """Return one part of the page, each line of it on one line of text; nothing where it is empty."""
    plain = ["  " + " ".join(line.split()) for line in lines]
    return [title, *plain, ""] if plain else []


def arrivals_folder(course: CourseRoot) -> Path:
    """Return where the receipts lie."""
    return course.folder / "arrivals"


def free_place(course: CourseRoot, moment: datetime) -> Path:
    """Return a name for a receipt that no other has: the day, and a number from the second of a day on."""
    day, number = moment.strftime("%Y-%m-%d"), 1
    place = arrivals_folder(course) / f"receipt-{day}.txt"
    while place.exists():
        number += 1
        place = arrivals_folder(course) / f"receipt-{day}-{number}.txt"
    return place


def write_receipt(receipt: Receipt) -> None:
    """Write a receipt as a page of text."""
    write_file(receipt.file, str(receipt).encode("utf-8"))
