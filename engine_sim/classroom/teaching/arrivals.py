"""Taking in what learners gave: folders, sticks, mail attachments and zips, sorted by the ticket in each logbook.

Whose a hand-in is and of which exercise says the logbook's own first line, and never the name of a file or folder.
What cannot be taken is copied to ``set_aside/arrivals/`` with the reason; nothing is deleted, neither there nor here.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from engine_sim.attempt import read_logbook
from engine_sim.classroom.course_plan import all_exercises
from engine_sim.classroom.course_root import CourseRoot, write_file
from engine_sim.classroom.hand_in import LOGBOOK_LIMIT_BYTES
from engine_sim.classroom.in_turn import in_turn
from engine_sim.classroom.own_folder import page_digest
from engine_sim.classroom.roster import Learner, Roster, read_roster, same_ticket_form
from engine_sim.classroom.shipped import shipped
from engine_sim.classroom.teaching.found_files import LOGBOOK_WORD, PAGE, Found, find_files, in_plain_letters
from engine_sim.classroom.teaching.putting_in import put_in
from engine_sim.classroom.teaching.receipts import Aside, Receipt, Taken, free_place, write_receipt
from engine_sim.classroom.teaching.work_that_came import Came
from engine_sim.classroom.tidying import add_reason

Progress = Callable[[int, int, str], None]
COPY_SIGNS = re.compile(r"[\s_-]*(\(\d+\)|copy(\s*\d+)?)$", re.IGNORECASE)
"""What a browser or a file manager adds to the name of a second file."""
PUT_BY = re.compile(r"\.kept-[^.]*$")
"""What the bench adds to the name of a logbook that it puts by when another ticket is typed."""
LONGEST_NAME = 80


@dataclass(frozen=True, slots=True)
class Refused:
    """A file that is not taken, and why."""

    found: Found
    reason: str
    learner_id: str = ""


def take_in(course: CourseRoot, source: Path, progress: Progress | None = None) -> Receipt:
    """Take in every hand-in in a folder or zip, write the receipt and return it; taking the same in twice is harmless.

    ``progress`` is told how many hand-ins are in, of how many, and whose is next. Raises :class:`ClassroomError` where
    the source cannot be read or the class's folder not written, RosterError for an unsound roster.
    """
    roster = read_roster(course.roster)
    moment = datetime.now(UTC).replace(tzinfo=None, microsecond=0)
    came, refused = sort_out(course, list(find_files(source)), roster)
    chosen, doubled = choose(came)
    with in_turn(course):
        aside = AsideFolder(course, moment)
        asides = [aside.keep(one) for one in refused]
        asides += [kept for one, reason in doubled for kept in aside.keep_work(one, reason)]
        taken: list[Taken] = []
        for number, one in enumerate(chosen):
            if progress:
                progress(number, len(chosen), one.learner.learner_id)
            done = put_in(course, one, moment, aside.folder)
            if isinstance(done, Taken):
                taken.append(done)
            else:
                asides += aside.keep_work(one, done)
        receipt = Receipt(
            moment, in_plain_letters(str(source)), tuple(taken), tuple(asides), free_place(course, moment)
        )
        write_receipt(receipt)
    return receipt


# ---- whose is what --------------------------------------------------------------------------------------------------


def sort_out(course: CourseRoot, found: Iterable[Found], roster: Roster) -> tuple[list[Came], list[Refused]]:
    """Return the hand-ins with learner and exercise, and all files that are part of none with the reason."""
    files = list(found)
    owners = {same_ticket_form(one.ticket): one for one in roster.learners.values() if one.ticket}
    known = [one.id for one in all_exercises(course.folder) if course.source(one.id).is_file()]
    refused = [Refused(one, one.trouble) for one in files if one.data is None]
    pages: dict[tuple[tuple[str, ...], str], Found] = {}
    for one in (one for one in files if one.data is not None and one.is_page):
        if pages.setdefault(pairing(one), one) is not one:
            refused.append(Refused(one, f"is a second page of the same name as {pages[pairing(one)].place}"))
    came: list[Came] = []
    paired: set[Found] = set()
    for one in (one for one in files if one.data is not None and one.is_logbook and not one.is_page):
        page = pages.get(pairing(one))
        work = read_work(one, page, owners, known)
        if isinstance(work, Came):
            came.append(work)
            paired |= {page} if page else set()
        else:
            refused.append(Refused(one, work))
    refused += [
        Refused(one, why_alone(one, files))
        for one in pages.values()
        if one not in paired and of_any(one, known) and not is_untouched(one)
    ]
    return came, refused


def pairing(one: Found) -> tuple[tuple[str, ...], str]:
    """Return what a page and the logbook of the same work have in common: their folder, and their name without end."""
    lower = one.name.lower()
    stem, _, rest = lower.partition(LOGBOOK_WORD) if LOGBOOK_WORD in lower else (lower.removesuffix(PAGE), "", "")
    number = COPY_SIGNS.search(rest.removesuffix(".jsonl").removesuffix(".txt"))
    return one.parts[:-1], plain_stem(stem) + (number.group(1) if number else copy_sign(stem))


def plain_stem(stem: str) -> str:
    """Return the stem of a name without what was added to a second file of that name."""
    return COPY_SIGNS.sub("", PUT_BY.sub("", stem))


def copy_sign(stem: str) -> str:
    """Return what was added to a second file of a name, or an empty text."""
    found = COPY_SIGNS.search(stem)
    return found.group(1) if found else ""


def of_any(page: Found, exercises: Iterable[str]) -> bool:
    """Say whether a page is named as one of an exercise; lessons and others are left where they are."""
    stem = plain_stem(page.name.lower().removesuffix(PAGE))
    return any(stem.endswith(name.lower()) for name in exercises)


def is_untouched(page: Found) -> bool:
    """Say whether a page is as learners have it from the course: nobody worked there, there is nothing to take."""
    exercise = page.name.removesuffix(PAGE)
    place = shipped("course") / "exercises" / exercise / page.name
    return place.is_file() and page_digest(place.read_bytes()) == page_digest(page.data or b"")


def why_alone(page: Found, files: Iterable[Found]) -> str:
    """Return why a page was not taken."""
    beside = [one.name for one in files if one.is_logbook and one.parts[:-1] == page.parts[:-1]]
    if beside:
        return "is a page; the logbook of its name was not taken, or has another name, so it is not known whose it is"
    return "is a page without its logbook, so it is not known whose it is and there is nothing to mark"


def read_work(
    logbook: Found, page: Found | None, owners: dict[str | None, Learner], exercises: Iterable[str]
) -> Came | str:
    """Return the work that a logbook holds, or the reason why it is not taken."""
    data = logbook.data or b""
    if len(data) > LOGBOOK_LIMIT_BYTES:
        return f"is a logbook larger than {LOGBOOK_LIMIT_BYTES / 1e6:g} MB; the bench writes none of that size"
    reading = read_logbook(data)
    if reading.header is None:
        return f"is no logbook that can be marked: {' '.join(reading.findings).rstrip('.')}"
    exercise, ticket = str(reading.header["exercise"]), str(reading.header["ticket"])
    if not ticket:
        return "is the logbook of a lesson, which has no ticket"
    learner = owners.get(same_ticket_form(ticket)) if same_ticket_form(ticket) else None
    if learner is None:
        return (
            f"has the ticket {ticket[:20]!r}, which nobody on the roster has; practice with own tickets is not marked"
        )
    if exercise not in exercises:
        return f"is of the exercise {exercise[:60]!r}, which this class does not have"
    return Came(learner, exercise, logbook, page, reading, named_so(logbook, exercise))


def named_so(logbook: Found, exercise: str) -> bool:
    """Say whether a logbook's file is named after the exercise that is in it."""
    stem = logbook.name.lower().partition(LOGBOOK_WORD)[0]
    return plain_stem(stem).endswith(exercise.lower())


def choose(came: Iterable[Came]) -> tuple[list[Came], list[tuple[Came, str]]]:
    """Return each learner's hand-in of each exercise, the one with most in it, and the others with why not."""
    groups: dict[tuple[str, str], list[Came]] = {}
    for one in came:
        groups.setdefault((one.learner.learner_id, one.exercise), []).append(one)
    chosen, others = [], []
    for group in groups.values():
        best, *rest = sorted(group, key=lambda one: one.rank, reverse=True)
        chosen.append(best.beside(rest))
        others += [(one, best.why_rather(one)) for one in rest]
    return chosen, others


# ---- what is not taken ----------------------------------------------------------------------------------------------


class AsideFolder:
    """Where what one taking-in set aside is kept, each file under a name of its own with the reason in ``why.txt``."""

    def __init__(self, course: CourseRoot, moment: datetime) -> None:
        self._course, self._count = course, 0
        self.folder = self._free(course.folder / "set_aside" / "arrivals", moment.strftime("%Y-%m-%d-%H%M%S"))

    @staticmethod
    def _free(folder: Path, name: str) -> Path:
        place, number = folder / name, 1
        while place.exists():
            number += 1
            place = folder / f"{name}-{number}"
        return place

    def keep(self, one: Refused) -> Aside:
        """Keep a file that was not taken."""
        kept = "" if one.found.data is None else self._copy(one.found)
        add_reason(self.folder, f"{kept or one.found.place}: {one.reason} (came as {one.found.place})")
        return Aside(one.found.place, one.reason, self._shown(kept), one.learner_id)

    def keep_work(self, work: Came, reason: str) -> list[Aside]:
        """Keep logbook and page of a hand-in that was not taken."""
        whose = f"{work.learner.learner_id}: {reason}"
        files = [work.logbook, *([work.page] if work.page else [])]
        kept = [self.keep(Refused(one, whose, work.learner.learner_id)) for one in files]
        return kept[:1]

    def _copy(self, one: Found) -> str:
        self._count += 1
        safe = re.sub(r"[^\w.()-]+", "_", one.name)[-LONGEST_NAME:]
        name = f"{self._count:03d}-{safe}"
        write_file(self.folder / name, one.data or b"")
        return name

    def _shown(self, kept: str) -> str:
        return (self.folder / kept).relative_to(self._course.folder).as_posix() if kept else ""
