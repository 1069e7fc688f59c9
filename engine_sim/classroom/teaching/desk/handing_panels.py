"""Panels about what goes to learners and what comes back from them."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from pathlib import Path

from engine_sim.classroom.course_plan import Exercise, all_exercises, exercise_named, own_names
from engine_sim.classroom.course_root import ClassroomError, CourseRoot
from engine_sim.classroom.teaching.arrivals import take_in
from engine_sim.classroom.teaching.desk.panel import Action, Asked, Panel, Shown, button, link, table, ticks, words
from engine_sim.classroom.teaching.hand_out import (
    exchange_is_usable,
    hand_out,
    release_by_exchange,
)
from engine_sim.classroom.teaching.paper import write_paper
from engine_sim.classroom.teaching.receipts import Receipt


class HandOutPanel(Panel):
    """What goes to learners."""

    id, title = "hand_out", "3  Hand out"

    @property
    def actions(self) -> Mapping[str, Action]:
        """Pack exercises, release them, print them."""
        return {"pack": self._pack, "release": self._release, "paper": self._paper}

    def inside(self) -> Shown:
        """Return what can be packed, and what was."""
        packed = [
            *sorted(self.course.folder.glob("hand_out/*.zip")),
            *sorted(self.course.folder.glob("paper/*/*.pdf")),
        ]
        release = [button("release", "Release what is ticked through nbgrader's exchange")]
        own = own_names(self.course.folder)
        found = [(one.id, self._label(one, one.id in own)) for one in all_exercises(self.course.folder)]
        return {
            "about": [
                "Learners who have the course have the exercises 1 to 17 already: their ticket is all they need. "
                "Pack an exercise for those who get it by mail or on a stick, and every exercise of your own.",
            ],
            "fields": [ticks("exercises", "Exercises to pack", (), found)],
            "buttons": [
                button("pack", "Pack what is ticked", strong=True),
                button("paper", "Make sheets to print of what is ticked"),
                *(release if exchange_is_usable(self.course) else []),
            ],
            "links": [self._link(one) for one in packed],
        }

    def _label(self, exercise: Exercise, own: bool) -> str:
        """Return an exercise's title; one of the course's whose marking was changed must be packed, and says so."""
        changed = not own and self.course.own_scheme(exercise.id).is_file()
        return f"{exercise.number}  {exercise.title}{' (marked otherwise than usual: pack it)' if changed else ''}"

    def _link(self, place: Path) -> Shown:
        title = exercise_named(place.name.split(".")[0], self.course.folder).title
        kinds = {"zip": "packed for learners", "learner": "sheet for the class", "instructor": "sheet for you"}
        kind = next((said for word, said in kinds.items() if word in place.name.split(".")[1:]), place.name)
        return link(f"{title}: {kind}", str(place.relative_to(self.course.folder)))

    def _chosen(self, asked: Asked) -> tuple[str, ...]:
        chosen = asked.chosen("exercises")
        if not chosen:
            raise ClassroomError("No exercise was ticked. Tick those that you want to hand out.")
        return chosen

    def _release(self, asked: Asked) -> str:
        places = [str(release_by_exchange(self.course, name)) for name in self._chosen(asked)]
        return f"Released {len(places)}: learners who share this computer fetch them with nbgrader."

    def _paper(self, asked: Asked) -> str:
        chosen = self._chosen(asked)
        for number, name in enumerate(chosen):
            asked.tell(f"Playing and printing {number + 1} of {len(chosen)}: {name}; this takes some seconds")
            write_paper(self.course, name)
        return (
            "Ready to print, with a fault drawn by lot: a sheet for the class, one for you with what each check shows."
        )

    def _pack(self, asked: Asked) -> str:
        chosen = self._chosen(asked)
        done = hand_out(self.course, chosen, lambda at, of, what: asked.tell(f"Packing {at + 1} of {of}: {what}"))
        return f"Packed {len(done.files)}: give the files below to your learners, by mail or on a stick."


class CollectPanel(Panel):
    """What comes back."""

    id, title = "collect", "4  Collect"

    def __init__(self, course: CourseRoot) -> None:
        super().__init__(course)
        self._last: Receipt | None = None

    @property
    def actions(self) -> Mapping[str, Action]:
        """Take in files, or a folder."""
        return {"files": self._files, "folder": self._folder}

    def inside(self) -> Shown:
        """Return where hand-ins can come from, and what came last."""
        tables, links = [], []
        if self._last is not None:
            taken = [(one.name, one.title, one.how()) for one in self._last.taken]
            aside = [(one.place, one.reason) for one in self._last.set_aside]
            tables = [table(f"Taken: {len(taken)}", ("learner", "exercise", "what came"), taken)] if taken else []
            tables += [table(f"Set aside: {len(aside)}", ("what", "why"), aside)] if aside else []
            links = [link("The receipt of this", str(self._last.file.relative_to(self.course.folder)))]
        return {
            "about": [
                "A hand-in is two files: the page and the logbook beside it, as they are or packed in one file (zip). "
                "Whose it is, is told by the ticket inside, never by a name. What does not belong is set aside with "
                "the reason, and nothing is deleted.",
            ],
            "fields": [
                words("came", "Files that came by mail", kind="files"),
                words("folder", "Or a folder on this computer", help_="A stick, or where your mail keeps what came."),
            ],
            "buttons": [
                button("files", "Take in the files", strong=True),
                button("folder", "Take in what lies in the folder"),
            ],
            "tables": tables,
            "links": links,
        }

    def _files(self, asked: Asked) -> str:
        if not asked.files:
            raise ClassroomError("No file was chosen. Choose those that came, several at a time if you like.")
        with tempfile.TemporaryDirectory(prefix="fuelcourse-came-") as folder:
            for number, (name, data) in enumerate(asked.files):
                place = Path(folder) / (Path(name).name or "file")
                if place.exists():
                    place = Path(folder) / f"{number}" / place.name
                    place.parent.mkdir()
                place.write_bytes(data)
            return self._take_in(Path(folder), asked)

    def _folder(self, asked: Asked) -> str:
        text = asked.text("folder")
        if not text:
            raise ClassroomError("No folder was named. Type where the hand-ins lie, or choose files above.")
        return self._take_in(Path(text).expanduser(), asked)

    def _take_in(self, place: Path, asked: Asked) -> str:
        self._last = take_in(self.course, place, lambda at, of, what: asked.tell(f"Reading {at + 1} of {of}: {what}"))
        if not self._last.taken and not self._last.set_aside:
            return "There is nothing of this course there: no logbook, no page, no packed file."
        return (
            f"Taken: {len(self._last.taken)}. Set aside: {len(self._last.set_aside)}. "
            "Below stands what came, and the receipt for each learner."
        )
