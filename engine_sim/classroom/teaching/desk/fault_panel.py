"""The panel on which an instructor sets a fault, tries it out, and makes an exercise of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from engine_sim.actions import parts_of
from engine_sim.circuit import layout_names, load_layout
from engine_sim.circuit.layout import Layout
from engine_sim.classroom.course_root import ClassroomError, CourseRoot
from engine_sim.classroom.teaching.desk.exercise_fields import (
    exercise_fields,
    last_fields,
    points_of,
    typed_choices,
    typed_weights,
    weight_fields,
    what_counts,
)
from engine_sim.classroom.teaching.desk.opened_again import (
    buttons_of_own,
    choice_of_own,
    degree_as_written,
    picks_of,
)
from engine_sim.classroom.teaching.desk.panel import (
    Action,
    Asked,
    Panel,
    Shown,
    button,
    choice,
    link,
    table,
)
from engine_sim.classroom.teaching.desk.preview_lines import lines_of, tables_of
from engine_sim.classroom.teaching.own_exercises import (
    list_own,
    make_exercise,
    own_file,
    read_own_exercise,
    save_exercise,
    take_out,
)
from engine_sim.classroom.teaching.preview import Preview, preview
from engine_sim.classroom.teaching.severity import severities_to_choose, severity_in_words
from engine_sim.classroom.weights import choose_weights
from engine_sim.faults import fault, faults
from engine_sim.scenarios import choices_of
from engine_sim.wording import FAULTS

NO_SECOND = ("", "no second fault")


class FaultPanel(Panel):
    """Set a fault."""

    id, title = "fault", "2  Set a fault, and make an exercise of it"

    def __init__(self, course: CourseRoot) -> None:
        super().__init__(course)
        self._boat = "tank_below"
        self._picked: dict[str, str] = {}
        self._draws: list[dict[str, Any]] = []
        self._preview: Preview | None = None
        self._tried: dict[str, object] = {}
        self._opened: dict[str, Any] = {}
        self._openings = 0
        self._mine = ""
        self._as_written: dict[str, list[tuple[str, str]]] = {}

    @property
    def actions(self) -> Mapping[str, Action]:
        """Choose, add, try out, keep, open again, take out."""
        return {
            "choose": self._choose,
            "add": self._add,
            "clear": self._clear,
            "try": self._try,
            "keep": self._keep,
            "open": self._open,
            "take_out": self._take_out,
        }

    # ---- what stands there ----------------------------------------------------------------------------------------

    def inside(self) -> Shown:
        """Return the fields with what can be chosen now."""
        own, damaged = list_own(self.course)
        mine = {one.id: one.title for one in own} | dict.fromkeys(damaged, "damaged")
        self._mine = self._mine if self._mine in mine else ""
        kept = [(one.id, one.title, f"{one.minutes} min", points_of(self.course, one.id)) for one in own]
        drawn = self._drawn()
        tables = [table("Faults that a ticket can draw", ("fault", "at", "how bad"), drawn)] if drawn else []
        tables += tables_of(self._preview) if self._preview is not None else []
        tables += [table("Your own exercises", ("short name", "title", "about", "points"), kept)] if kept else []
        tables += [table("Cannot be used as they are", ("short name", "why"), list(damaged.items()))] if damaged else []
        return {
            "about": [
                "Choose a boat and a fault, and try it out: you see what a learner notices first, how it is found in "
                "the best order, and how hard it is. With one fault everybody gets that one. Add several, and each "
                "learner's ticket draws one of them; a second fault comes together with the first.",
            ],
            "fields": [*self._fault_fields(), *self._other_fields(), *choice_of_own(self._mine, mine)],
            "buttons": [
                button("add", "Add this fault to the exercise"),
                button("clear", "Clear the added faults"),
                button("try", "Try it out", strong=True),
                button("keep", "Keep it as an exercise", strong=True),
                *(buttons_of_own(self._mine, mine[self._mine]) if self._mine else []),
            ],
            "tables": tables,
            "lines": lines_of(self._preview) if self._preview is not None else [],
            "links": [link(f"{one.title} ({one.id}): as it is written", self._written(one.id)) for one in own],
        }

    def _other_fields(self) -> list[Shown]:
        """Return what is asked besides the faults; each opening of an exercise fills the fields anew."""
        weights = weight_fields(self.course, str(self._opened.get("id", "")))
        fields = [*exercise_fields(self._opened), *weights, *last_fields(self._opened)]
        return [field | {"fresh": self._openings} for field in fields]

    def _written(self, name: str) -> str:
        return str(own_file(self.course, name).relative_to(self.course.folder))

    def _fault_fields(self) -> list[Shown]:
        layout = load_layout(self._boat)
        boats = [(name, load_layout(name).title) for name in layout_names()]
        labels = _labels(layout)
        found = [choice("boat", "Boat", self._boat, boats, asks=True) | {"wide": True}]
        for number, label in (("", "Fault"), ("2", "Second fault with it")):
            possible = [(name, _in_words(name, layout, labels)) for name in faults() if fault(name).places(layout)]
            names = [NO_SECOND, *possible] if number else possible
            name = self._now(f"fault{number}", [one for one, _ in names])
            found.append(choice(f"fault{number}", label, name, names, asks=True))
            if not name:
                continue
            places = [(part, labels[part]) for part in fault(name).places(layout)]
            part = self._now(f"part{number}", [one for one, _ in places])
            degrees = [(repr(one.value), str(one)) for one in severities_to_choose(name, layout, part)]
            degrees += [one for one in self._as_written.get(name, []) if one not in degrees]
            usual = repr(fault(name).usual_severity(layout, part))
            bad = self._now(f"bad{number}", [one for one, _ in degrees], usual)
            found.append(choice(f"part{number}", "At", part, places, asks=True))
            found.append(choice(f"bad{number}", "How bad", bad, degrees) | {"wide": True})
        return found

    def _now(self, name: str, possible: list[str], usual: str = "") -> str:
        """Return what is chosen, or what stands there where that is not possible any more."""
        picked = self._picked.get(name, usual)
        if picked not in possible:
            picked = usual if usual in possible else possible[0]
        self._picked[name] = picked
        return picked

    def _drawn(self) -> list[tuple[str, str, str]]:
        labels = _labels(load_layout(self._boat))
        found = []
        for draw in self._draws:
            items = [draw, *draw.get("also", [])]
            said = " and ".join(FAULTS[fault(one["fault"]).diagnosis] for one in items)
            at = " and ".join(", ".join(labels[part] for part in one["parts"]) for one in items)
            bad = " and ".join(
                ", ".join(str(severity_in_words(one["fault"], value)) for value in one["severities"]) for one in items
            )
            found.append((said, at, bad))
        return found

    # ---- what is done ---------------------------------------------------------------------------------------------

    def _choose(self, asked: Asked) -> str:
        self._mine = asked.text("mine")
        boat = asked.text("boat")
        if boat in layout_names() and boat != self._boat:
            self._boat, self._draws, self._preview = boat, [], None
        before = dict(self._picked)
        for name in ("fault", "part", "bad", "fault2", "part2", "bad2"):
            self._picked[name] = asked.text(name)
        if self._picked != before:
            self._preview = None
        return ""

    def _one(self, asked: Asked) -> dict[str, Any]:
        """Return the fault that stands in the fields as a draw."""
        self._choose(asked)
        self._fault_fields()
        items = [
            {
                "fault": self._picked[f"fault{number}"],
                "parts": [self._picked[f"part{number}"]],
                "severities": [float(self._picked[f"bad{number}"])],
            }
            for number in ("", "2")
            if self._picked.get(f"fault{number}")
        ]
        return items[0] | ({"also": items[1:]} if items[1:] else {})

    def _add(self, asked: Asked) -> str:
        draw = self._one(asked)
        if draw in self._draws:
            raise ClassroomError("This fault is among them already. Choose another fault, place or degree.")
        self._draws.append(draw)
        self._preview = None
        return f"Added: {len(self._draws)} can be drawn now."

    def _clear(self, _asked: Asked) -> str:
        self._draws, self._preview = [], None
        return "None is added any more. What stands in the fields counts as the only fault."

    def _choices(self, asked: Asked) -> dict[str, object]:
        self._choose(asked)
        return typed_choices(asked, self._opened) | {
            "layout": self._boat,
            "draw": self._draws or [self._one(asked)],
        }

    def _try(self, asked: Asked) -> str:
        choices = self._choices(asked)
        scheme, weights = typed_weights(asked, self.course)
        self._preview = preview(choices, lambda at, of, what: asked.tell(f"Step {at + 1} of {of}: {what}"), scheme)
        self._tried = what_counts(choices, weights)
        return f"Tried out: below stands what came of it.{self._left_out(asked)}"

    def _keep(self, asked: Asked) -> str:
        if not asked.text("name"):
            raise ClassroomError("An exercise needs a short name, such as slack_joint_1. Type one and press again.")
        choices = self._choices(asked)
        _, weights = typed_weights(asked, self.course)
        save_exercise(self.course, choices, replaces=asked.ticked("replaces"))
        made = make_exercise(self.course, asked.text("name"))
        weighed = choose_weights(self.course, made.name, weights)
        came = f" {weighed.note}" if weighed.changed and weighed.handed_in else ""
        doubts = " Its try-out had doubts; read them below." if self._doubtful() else ""
        tried = self._preview is not None and self._tried == what_counts(choices, weights)
        untried = "" if tried else " It was not tried out as it is now."
        return f"“{made.title}” is ready: pack it under “Hand out”.{doubts}{untried}{came}{self._left_out(asked)}"

    def _left_out(self, asked: Asked) -> str:
        """Say that only the added faults count, where another stands in the fields."""
        if not self._draws or self._one(asked) in self._draws:
            return ""
        return f" Only the {len(self._draws)} added count; the fault in the fields is not among them."

    def _open(self, asked: Asked) -> str:
        name = self._chosen(asked)
        found = choices_of(read_own_exercise(self.course, name))
        picked = picks_of(found["draw"])
        self._opened, self._boat = found, str(found["layout"])
        self._as_written = {
            picked[f"fault{number}"]: [(picked[f"bad{number}"], degree_as_written(picked, number))]
            for number in ("", "2")
            if f"fault{number}" in picked
        }
        self._picked, self._draws, self._preview = picked, [] if picked else list(found["draw"]), None
        self._openings += 1
        return f"“{found['title']}” stands in the fields. Change it, try it out, and keep it."

    def _take_out(self, asked: Asked) -> str:
        name = self._chosen(asked)
        kept = take_out(self.course, name)
        if self._opened.get("id") == name:
            self._opened = {}
        where = kept.relative_to(self.course.folder)
        return f"{name} is taken out. As written it is kept in {where}; its points stay in marking/{name}.toml."

    def _chosen(self, asked: Asked) -> str:
        """Return which own exercise is meant: the one that stood there when the question was asked."""
        name = asked.text("mine")
        if not name or name != self._mine:
            raise ClassroomError("Nothing was done. Choose one of your own exercises first, then press.")
        return name

    def _doubtful(self) -> bool:
        found = self._preview
        return found is not None and bool(found.warnings or any(draw.warnings for draw in found.draws))


def _in_words(name: str, layout: Layout, labels: Mapping[str, str]) -> str:
    """Return a fault with the first part at which it can sit, and what of it can be chosen where two are said alike."""
    kind = fault(name)
    alike = [one for one in faults() if fault(one).diagnosis == kind.diagnosis and fault(one).places(layout)]
    more = f" ({kind.severity.meaning})" if len(alike) > 1 else ""
    return f"{labels[kind.places(layout)[0]]}: {FAULTS[kind.diagnosis]}{more}"


def _labels(layout: Layout) -> dict[str, str]:
    return {part.id: part.label for part in parts_of(layout)}
