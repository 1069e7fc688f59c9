"""The panel on which an instructor sets a fault, tries it out, and makes an exercise of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from engine_sim.actions import parts_of
from engine_sim.circuit import layout_names, load_layout
from engine_sim.circuit.layout import Layout
from engine_sim.classroom.course_root import ClassroomError, CourseRoot
from engine_sim.classroom.reweighing import CHOOSABLE, reweighed
from engine_sim.classroom.teaching.desk.panel import (
    Action,
    Asked,
    Panel,
    Shown,
    button,
    choice,
    link,
    table,
    words,
)
from engine_sim.classroom.teaching.desk.preview_lines import lines_of, tables_of
from engine_sim.classroom.teaching.own_exercises import list_own, make_exercise, own_file, save_exercise
from engine_sim.classroom.teaching.preview import Preview, preview
from engine_sim.classroom.teaching.severity import severities_to_choose, severity_in_words
from engine_sim.classroom.weights import choose_weights
from engine_sim.faults import fault, faults
from engine_sim.marking import TITLES, MarkingScheme, load_marking_scheme
from engine_sim.marking.scheme import parse_marking_scheme
from engine_sim.wording import FAULTS

SEAS = (("0", "calm"), ("0.3", "some sea"), ("0.6", "rough"), ("1", "very rough"))
HELP = (("", "none"), ("nudge", "a nudge"), ("hint", "up to a hint"), ("check", "up to the next check"))
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

    @property
    def actions(self) -> Mapping[str, Action]:
        """Choose, add, try out, keep."""
        return {"choose": self._choose, "add": self._add, "clear": self._clear, "try": self._try, "keep": self._keep}

    # ---- what stands there ----------------------------------------------------------------------------------------

    def inside(self) -> Shown:
        """Return the fields with what can be chosen now."""
        own, damaged = list_own(self.course)
        kept = [(one.id, one.title, f"{one.minutes} min") for one in own]
        drawn = self._drawn()
        tables = [table("Faults that a ticket can draw", ("fault", "at", "how bad"), drawn)] if drawn else []
        tables += tables_of(self._preview) if self._preview is not None else []
        tables += [table("Your own exercises", ("short name", "title", "about"), kept)] if kept else []
        tables += [table("Cannot be used as they are", ("short name", "why"), list(damaged.items()))] if damaged else []
        return {
            "about": [
                "Choose a boat and a fault, and try it out: you see what a learner notices first, how it is found in "
                "the best order, and how hard it is. With one fault everybody gets that one. Add several, and each "
                "learner's ticket draws one of them; a second fault comes together with the first.",
            ],
            "fields": [*self._fault_fields(), *_exercise_fields(), *self._weight_fields(), *_last_fields()],
            "buttons": [
                button("add", "Add this fault to the exercise"),
                button("clear", "Take out the faults that were added"),
                button("try", "Try it out", strong=True),
                button("keep", "Keep it as an exercise", strong=True),
            ],
            "tables": tables,
            "lines": lines_of(self._preview) if self._preview is not None else [],
            "links": [link(f"{one.title}: as it is written", self._written(one.id)) for one in own],
        }

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
            usual = repr(fault(name).usual_severity(layout, part))
            bad = self._now(f"bad{number}", [one for one, _ in degrees], usual)
            found.append(choice(f"part{number}", "At", part, places, asks=True))
            found.append(choice(f"bad{number}", "How bad", bad, degrees) | {"wide": True})
        return found

    def _weight_fields(self) -> list[Shown]:
        usual = load_marking_scheme(self.course.usual_scheme).weights
        return [
            words(f"points_{name}", f"Points for {title.lower()}", f"{usual.of(name):g}", help_=f"{CHOOSABLE.words()}.")
            for name, title in TITLES.items()
        ]

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
        return {
            "id": asked.text("name") or "my_exercise",
            "title": asked.text("heading") or "An engine in trouble",
            "story": asked.text("story") or None,
            "layout": self._boat,
            "minutes": int(asked.number("minutes", "Minutes") or 30),
            "permits_xray": asked.ticked("xray"),
            "help_most": asked.text("help"),
            "seaway": float(asked.text("sea") or 0.0),
            "temperature_c": asked.number("temperature", "Temperature"),
            "lee_shore_min": asked.number("shore", "Minutes until she is ashore"),
            "draw": self._draws or [self._one(asked)],
        }

    def _weighed(self, asked: Asked) -> tuple[MarkingScheme, dict[str, float]]:
        """Return the marking scheme with the points that were typed, and those points [points] by the marks' names."""
        usual = load_marking_scheme(self.course.usual_scheme).weights
        typed = {name: asked.number(f"points_{name}", f"Points for {title.lower()}") for name, title in TITLES.items()}
        weights = {name: usual.of(name) if points is None else points for name, points in typed.items()}
        text = self.course.usual_scheme.read_text("utf-8")
        return parse_marking_scheme(reweighed(text, asked.text("name") or "own", weights)), weights

    def _try(self, asked: Asked) -> str:
        choices = self._choices(asked)
        scheme, weights = self._weighed(asked)
        self._preview = preview(choices, lambda at, of, what: asked.tell(f"Step {at + 1} of {of}: {what}"), scheme)
        self._tried = _what_counts(choices, weights)
        return "Tried out: below stands what came of it."

    def _keep(self, asked: Asked) -> str:
        if not asked.text("name"):
            raise ClassroomError("An exercise needs a short name, such as slack_joint_1. Type one and press again.")
        choices = self._choices(asked)
        _, weights = self._weighed(asked)
        save_exercise(self.course, choices, replaces=asked.ticked("replaces"))
        made = make_exercise(self.course, asked.text("name"))
        choose_weights(self.course, made.name, weights)
        doubts = " Its try-out had doubts; read them below." if self._doubtful() else ""
        tried = self._preview is not None and self._tried == _what_counts(choices, weights)
        untried = "" if tried else " It was not tried out as it is now."
        return f"“{made.title}” is ready: pack it under “Hand out”.{doubts}{untried}"

    def _doubtful(self) -> bool:
        found = self._preview
        return found is not None and bool(found.warnings or any(draw.warnings for draw in found.draws))


def _what_counts(choices: Mapping[str, object], weights: Mapping[str, float]) -> dict[str, object]:
    """Return the choices that a try-out hangs on: all but what the exercise is called."""
    return {name: value for name, value in choices.items() if name not in ("id", "title")} | dict(weights)


def _in_words(name: str, layout: Layout, labels: Mapping[str, str]) -> str:
    """Return a fault with the first part at which it can sit, and what of it can be chosen where two are said alike."""
    kind = fault(name)
    alike = [one for one in faults() if fault(one).diagnosis == kind.diagnosis and fault(one).places(layout)]
    more = f" ({kind.severity.meaning})" if len(alike) > 1 else ""
    return f"{labels[kind.places(layout)[0]]}: {FAULTS[kind.diagnosis]}{more}"


def _labels(layout: Layout) -> dict[str, str]:
    return {part.id: part.label for part in parts_of(layout)}


def _exercise_fields() -> list[Shown]:
    return [
        choice("sea", "Sea", "0", SEAS),
        words("temperature", "Temperature in the engine space, °C", help_="Empty: a summer's day."),
        words("shore", "Minutes until she is ashore", help_="Empty: no lee shore."),
        choice("help", "Help that may be asked for", "check", HELP),
        words("xray", "The inside of the pipes may be looked at", False, kind="tick"),
        words("name", "Short name of the exercise", help_="Small letters, figures and _ only, such as slack_joint_1."),
        words("heading", "Its title"),
        words("minutes", "About how many minutes it takes", "30"),
    ]


def _last_fields() -> list[Shown]:
    return [
        words("story", "What the learner reads first", kind="long", rows=3),
        words("replaces", "It takes the place of my exercise of the same name", False, kind="tick"),
    ]
