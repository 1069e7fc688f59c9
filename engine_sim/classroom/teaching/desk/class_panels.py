"""Panels about who is in the class: the roster with its tickets, and how a learner is forgotten."""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.classroom.course_root import ClassroomError
from engine_sim.classroom.open_course import make_course_root
from engine_sim.classroom.roster import COLUMNS, Roster, parse_roster, read_roster, write_roster
from engine_sim.classroom.teaching.desk.panel import Action, Asked, Panel, Shown, button, choice, link, table, words
from engine_sim.classroom.teaching.forget import forget
from engine_sim.classroom.teaching.slips import slips_file, write_slips


class ClassPanel(Panel):
    """Who is in the class."""

    id, title = "class", "1  Your class and its tickets"

    @property
    def actions(self) -> Mapping[str, Action]:
        """Add learners, print tickets."""
        return {"add": self._add, "slips": self._slips}

    def inside(self) -> Shown:
        """Return the roster."""
        learners = list(read_roster(self.course.roster).learners.values())
        rows = [(one.learner_id, f"{one.first_name} {one.last_name}".strip(), one.ticket) for one in learners]
        place = slips_file(self.course)
        return {
            "about": [
                "Each learner has a ticket. It decides which fault they get in every exercise, and whose hand-in it "
                "is. Give every learner their own, and nobody else's.",
            ],
            "fields": [
                words(
                    "more",
                    "Learners to add",
                    help_="One on a line: short name without blanks, first name, last name; with commas between.",
                    kind="long",
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
        added = parse_roster(text, "The list of learners")
        rows = (*before.rows, *({name: row.get(name, "") for name in before.columns} for row in added.rows))
        merged = Roster(before.columns, rows)
        _refuse_doubles(merged)
        write_roster(self.course.roster, merged)
        make_course_root(self.course.folder)
        return f"Added {len(lines)} to the class; each has a ticket now."

    def _slips(self, _asked: Asked) -> str:
        write_slips(self.course)
        return "The slips are ready: open them below, print and cut."


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


class PrivacyPanel(Panel):
    """What is kept of a learner, and how it goes."""

    id, title = "privacy", "8  What is kept, and how a learner is forgotten"

    @property
    def actions(self) -> Mapping[str, Action]:
        """Forget one learner."""
        return {"forget": self._forget}

    def inside(self) -> Shown:
        """Return whom one can forget."""
        learners = read_roster(self.course.roster).learners.values()
        names = [("", "choose a learner")]
        names += [(one.learner_id, f"{one.first_name} {one.last_name} ({one.learner_id})") for one in learners]
        return {
            "about": [
                "Everything about your learners lies in this one folder on this computer, closed to its other users: "
                "names and tickets, hand-ins, marks, reports. Nothing is sent anywhere.",
                "When somebody asks to be forgotten, it is taken out everywhere here. It cannot be taken back. Paper, "
                "mail and copies elsewhere are yours to destroy.",
            ],
            "fields": [choice("learner", "Learner", "", names)],
            "buttons": [
                button("forget", "Forget this learner", confirm="Take this learner out everywhere, marks and all?")
            ],
        }

    def _forget(self, asked: Asked) -> str:
        learner = asked.text("learner")
        if not learner:
            raise ClassroomError("Nobody was chosen. Choose a learner first.")
        return str(forget(self.course, learner))
