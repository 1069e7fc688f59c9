"""Panels about who is in the class: the roster with its tickets, and how a learner is forgotten."""

from __future__ import annotations

import re
from collections.abc import Mapping

from engine_sim.classroom.course_root import ClassroomError, CourseRoot
from engine_sim.classroom.open_course import make_course_root
from engine_sim.classroom.roster import COLUMNS, EXAMPLE, Roster, RosterError, parse_roster, read_roster, write_roster
from engine_sim.classroom.teaching.desk.panel import Action, Asked, Panel, Shown, button, choice, link, table, words
from engine_sim.classroom.teaching.forget import forget
from engine_sim.classroom.teaching.slips import slips_file, write_slips


class ClassPanel(Panel):
    """Who is in the class."""

    id, title = "class", "1  Your class and its tickets"

    def __init__(self, course: CourseRoot) -> None:
        super().__init__(course)
        self._added = 0

    @property
    def actions(self) -> Mapping[str, Action]:
        """Add learners, print tickets."""
        return {"add": self._add, "slips": self._slips}

    def inside(self) -> Shown:
        """Return the roster."""
        roster = read_roster(self.course.roster)
        learners, example = list(roster.learners.values()), _is_example(roster)
        rows = [(one.learner_id, f"{one.first_name} {one.last_name}".strip(), one.ticket) for one in learners]
        place = slips_file(self.course)
        return {
            "about": [
                "Each learner has a ticket. It decides which fault they get in every exercise, and whose hand-in it "
                "is. Give every learner their own, and nobody else's.",
                *(["These three are invented, as an example: they go when you add your own."] if example else []),
            ],
            "fields": [
                words(
                    "more",
                    "Learners to add",
                    help_="One on a line: short name without blanks, first name, last name; with commas between.",
                    kind="long",
                    fresh=self._added,
                )
            ],
            "buttons": [
                button("add", "Add them to the class", strong=True),
                button("slips", "Make slips with the tickets, to print and cut"),
            ],
            "tables": [table(f"In the class: {len(rows)}", ("short name", "name", "ticket"), rows)],
            "links": [link("Slips with the tickets (PDF)", str(place.relative_to(self.course.folder)))]
            if place.is_file()
            else [],
        }

    def _add(self, asked: Asked) -> str:
        lines = [line for line in asked.text("more").splitlines() if line.strip()]
        if not lines:
            raise ClassroomError("No learners were typed in. Write one on a line: short name, first name, last name.")
        before = read_roster(self.course.roster)
        text = "\n".join([",".join(COLUMNS[:3]) + ",ticket", *(_four(line) for line in lines)])
        added = _read_typed(text)
        kept = () if _is_example(before) else before.rows
        rows = (*kept, *({name: row.get(name, "") for name in before.columns} for row in added.rows))
        merged = Roster(before.columns, rows)
        _refuse_doubles(merged)
        write_roster(self.course.roster, merged)
        make_course_root(self.course.folder)
        self._added += 1
        gone = "" if kept or not before.rows else " The three invented examples are gone."
        return f"Added {len(lines)} to the class; each has a ticket now.{gone}"

    def _slips(self, _asked: Asked) -> str:
        write_slips(self.course)
        return "The slips are ready: open them below, print and cut."


def _read_typed(text: str) -> Roster:
    """Return the learners that were typed in; a trouble names the line as it was typed, without the heading."""
    try:
        return parse_roster(text, "The list of learners")
    except RosterError as trouble:
        said = re.sub(r"line (\d+)", lambda found: f"line {int(found[1]) - 1}", str(trouble))
        raise ClassroomError(
            f"{said.replace('learner_id', 'short name')}\nBegin each line with a short name without blanks and a "
            "comma, such as: jo, Jo, Smith. None was added."
        ) from trouble


def _four(line: str) -> str:
    parts = [part.strip().replace('"', "'") for part in line.split(",", 2)]
    return ",".join(f'"{part}"' for part in (*parts, *[""] * (4 - len(parts))))


def _refuse_doubles(roster: Roster) -> None:
    ids = [row["learner_id"] for row in roster.rows]
    doubled = sorted({one for one in ids if sum(one.casefold() == other.casefold() for other in ids) > 1})
    if doubled:
        raise ClassroomError(
            f"Already in the class: {', '.join(doubled)}. Give them other short names; none was added."
        )


def _is_example(roster: Roster) -> bool:
    """Tell whether only the invented learners are in the class that a new roster has."""
    return [tuple(row[name] for name in COLUMNS[:3]) for row in roster.rows] == list(EXAMPLE)


class PrivacyPanel(Panel):
    """What is kept of a learner, and how it goes."""

    id, title = "privacy", "8  What is kept, and how a learner is forgotten"

    def __init__(self, course: CourseRoot) -> None:
        super().__init__(course)
        self._chosen = ""

    @property
    def actions(self) -> Mapping[str, Action]:
        """Forget one learner."""
        return {"choose": self._choose, "forget": self._forget}

    def inside(self) -> Shown:
        """Return whom one can forget; the question names who was chosen, and what else goes."""
        learners = read_roster(self.course.roster).learners
        names = {one.learner_id: f"{one.first_name} {one.last_name}".strip() for one in learners.values()}
        known = [("", "choose a learner"), *((name, f"{called} ({name})") for name, called in names.items())]
        self._chosen = self._chosen if self._chosen in names else ""
        question = (
            f"Forget {names.get(self._chosen, '')} ({self._chosen})? Hand-ins, marks and pages go for good. The slips, "
            "the table of marks, the reports and everybody's records go too, because the name is in them: write them "
            "again afterwards."
        )
        return {
            "about": [
                "Everything about your learners lies in this one folder on this computer, closed to its other users: "
                "names and tickets, hand-ins, marks, reports. Nothing is sent anywhere.",
                "When somebody asks to be forgotten, it is taken out everywhere here. It cannot be taken back. Paper, "
                "mail and copies elsewhere are yours to destroy.",
            ],
            "fields": [choice("learner", "Learner", self._chosen, known, asks=True)],
            "buttons": [button("forget", "Forget this learner", confirm=question)] if self._chosen else [],
        }

    def _choose(self, asked: Asked) -> str:
        self._chosen = asked.text("learner")
        return ""

    def _forget(self, asked: Asked) -> str:
        learner = asked.text("learner")
        if not learner or learner != self._chosen:
            raise ClassroomError("Nobody was forgotten. Choose a learner first, then press and answer the question.")
        gone = forget(self.course, learner)
        self._chosen = ""
        if gone.still_named_in:
            return f"{learner} is forgotten, but these files still hold the name; look at them: " + ", ".join(
                gone.still_named_in
            )
        return f"{learner} is forgotten. Write again what you need: slips, table of marks, report, records."
