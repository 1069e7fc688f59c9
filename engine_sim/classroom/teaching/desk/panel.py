"""What every panel of the instructor's page shares: what it is asked, and how it says what it shows."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from engine_sim.bench.panels_page import Tell
from engine_sim.classroom.course_root import ClassroomError, CourseRoot

Shown = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Asked:
    """What a button of a panel asks: the values of its fields, the files that were chosen, and whom to keep told."""

    values: Mapping[str, Any]
    files: tuple[tuple[str, bytes], ...] = ()
    tell: Tell = field(default=lambda _text: None)

    def text(self, name: str) -> str:
        """Return what was typed into a field, without blanks around it."""
        return str(self.values.get(name) or "").strip()

    def chosen(self, name: str) -> tuple[str, ...]:
        """Return what was ticked in a list."""
        found = self.values.get(name)
        return tuple(str(one) for one in found) if isinstance(found, list) else ()

    def ticked(self, name: str) -> bool:
        """Tell whether a box was ticked."""
        return bool(self.values.get(name))

    def number(self, name: str, label: str) -> float | None:
        """Return a figure, None for an empty field; raises :class:`ClassroomError` for what is none."""
        text = self.text(name).replace(",", ".")
        if not text:
            return None
        try:
            return float(text)
        except ValueError:
            raise ClassroomError(f"“{label}” was given as {text!r}; it needs a figure, such as 12 or 0.5.") from None


Action = Callable[[Asked], str]


class Panel:
    """One panel; a button's action returns the sentence that is said when it is done, or raises EngineSimError."""

    id, title = "", ""

    def __init__(self, course: CourseRoot) -> None:
        self.course = course

    @property
    def actions(self) -> Mapping[str, Action]:
        """What the buttons do, by name; ``choose`` is asked when a field on which others hang was changed."""
        raise NotImplementedError

    def inside(self) -> Shown:
        """Return what stands in the panel; see :mod:`engine_sim.bench.panels_page`."""
        raise NotImplementedError

    def shown(self) -> Shown:
        """Return the panel for the page."""
        return {"id": self.id, "title": self.title, **self.inside()}


def button(action: str, label: str, strong: bool = False, confirm: str = "") -> Shown:
    """Return a button; with ``confirm`` it asks that first."""
    return {"action": action, "label": label, "strong": strong, "confirm": confirm}


def words(name: str, label: str, value: object = "", help_: str = "", kind: str = "text", **more: object) -> Shown:
    """Return a field to type in; ``kind`` is ``text``, ``long``, ``tick`` or ``files``."""
    return {"id": name, "label": label, "value": value, "help": help_, "kind": kind, **more}


def choice(
    name: str, label: str, value: str, choices: Sequence[tuple[str, str]], asks: bool = False, help_: str = ""
) -> Shown:
    """Return a field to choose from; with ``asks`` the panel is told of each choice at once."""
    more = {"kind": "choice", "asks": asks, "help": help_}
    return {"id": name, "label": label, "value": value, "choices": list(choices), **more}


def ticks(name: str, label: str, value: Sequence[str], choices: Sequence[tuple[str, str]]) -> Shown:
    """Return a list of boxes to tick."""
    return {"id": name, "label": label, "value": list(value), "choices": list(choices), "kind": "ticks"}


def table(caption: str, head: Sequence[str], rows: Sequence[Sequence[object]]) -> Shown:
    """Return a table; the first of each row names it."""
    return {"caption": caption, "head": list(head), "rows": [list(row) for row in rows]}


def link(text: str, path: str) -> Shown:
    """Return a link to a file of the class's folder, or with a leading stroke to a page of the server."""
    return {"text": text, "path": path}
