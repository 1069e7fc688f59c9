"""One piece of work that came: a logbook whose ticket and exercise are known, and the page that lay beside it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime

from engine_sim.attempt import LogbookReading
from engine_sim.classroom.roster import Learner
from engine_sim.classroom.teaching.found_files import Found


@dataclass(frozen=True, slots=True)
class Came:
    """A learner's work on an exercise as it came."""

    learner: Learner
    exercise: str
    logbook: Found
    page: Found | None
    reading: LogbookReading
    named_so: bool
    others: tuple[str, ...] = ()

    @property
    def rank(self) -> tuple[int, bool, datetime]:
        """What decides between two: how much is in the logbook, whether the page is there, which file is newer."""
        return len(self.reading.records), self.page is not None, self.moment

    @property
    def moment(self) -> datetime:
        """The newer of the two files' own dates, which is the learner's own word."""
        return max(self.logbook.moment, self.page.moment if self.page else datetime.min)

    @property
    def deeds(self) -> int:
        """How many deeds the logbook holds: actions, notes, helps and the diagnosis."""
        return sum(record["kind"] != "hand_in" for record in self.reading.records)

    @property
    def handed_in(self) -> bool:
        """Say whether the hand-in at the bench was pressed."""
        return any(record["kind"] == "hand_in" for record in self.reading.records)

    @property
    def name(self) -> str:
        """The learner's full name, or the id where there is none."""
        return f"{self.learner.first_name} {self.learner.last_name}".strip() or self.learner.learner_id

    @property
    def page_data(self) -> bytes | None:
        """The page's bytes, or None where none came."""
        return self.page.data if self.page else None

    def why_rather(self, other: Came) -> str:
        """Return why this one was taken and not the other."""
        mine, its = len(self.reading.records), len(other.reading.records)
        if self.logbook.data == other.logbook.data and (other.page is None or self.page_data == other.page_data):
            return f"came twice; it is the same as {self.logbook.place}"
        if self.logbook.data == other.logbook.data:
            return f"has the same logbook as {self.logbook.place} and another page; look at both"
        if its < mine:
            return f"came more than once; this logbook is shorter ({its} lines) than {self.logbook.place} ({mine})"
        return f"came more than once; {self.logbook.place} is as long and newer"

    def beside(self, others: Iterable[Came]) -> Came:
        """Return this work with a remark on others that came with the same ticket."""
        strange = [one for one in others if one.logbook.data == self.logbook.data and one.page is not None]
        if any(one.page_data != self.page_data for one in strange):
            return replace(self, others=("the same logbook came with more than one page: was it given on?",))
        return self

    def remarks(self) -> tuple[str, ...]:
        """Return what an instructor should know of this work."""
        named = (
            () if self.named_so else (f"its file is named {self.logbook.name[:80]!r}; the logbook itself was believed",)
        )
        return (*self.others, *named, *(f"logbook: {one.rstrip('.')}" for one in self.reading.findings))
