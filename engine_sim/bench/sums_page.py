"""The page with the sums: a ticket's figures, a box for each answer, and the file that is handed in.

Answers are written line by line beside the page, the last line counts; nothing is ever taken away.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from engine_sim.attempt.practice_log import Practised, keep_practised
from engine_sim.bench.own_marks import now_text
from engine_sim.bench.page_files import shipped_text
from engine_sim.bench.shelf import KnownTicket, Shelf, being_graded
from engine_sim.bench.sums_words import SUMS_PAGE
from engine_sim.errors import BadTicket
from engine_sim.marking import default_scheme
from engine_sim.marking.sums import POINTS_EACH, SUMS, SUMS_EXERCISE, answer_line, asked, last_answers, mark_answers
from engine_sim.scenarios import check_ticket, new_ticket

Message = Mapping[str, object]


class SumsDesk:
    """One learner's place at the sums: which ticket, which answers, and what to say."""

    def __init__(self, folder: str | Path) -> None:
        self.shelf = Shelf(SUMS_EXERCISE, folder)
        self.ticket = self._known()
        self.notice = ""
        self.warning = False
        self.checked = False
        self.answers = self._kept()

    def _known(self) -> KnownTicket | None:
        return self.shelf.known() if self.shelf.ticket_path.is_file() else None

    def _kept(self) -> dict[str, str]:
        path = self.shelf.logbook_path
        if self.ticket is None or not path.is_file():
            return {}
        return last_answers(path.read_bytes(), self.ticket.text) or {}

    def handle(self, message: Message) -> None:
        """Do one thing that the page asks; what went wrong is said in words, and nothing typed is lost."""
        self.notice, self.warning = "", False
        action = message.get("action")
        try:
            if action == "ticket":
                self._open(KnownTicket(check_ticket(str(message.get("text", "")).strip()), False))
            elif action == "fresh":
                self._open(KnownTicket(new_ticket(), True))
            elif action == "other":
                self.ticket = None
            elif action in ("keep", "check") and self.ticket is not None:
                self._keep(message.get("answers"))
                self._tell(action == "check")
            else:
                self._warn(SUMS_PAGE["not_understood"])
        except BadTicket as error:
            self._warn(str(error))
        except OSError as error:
            self._warn(SUMS_PAGE["no_room"].format(reason=error.strerror or error))

    def _warn(self, text: str) -> None:
        self.notice, self.warning = text, True

    def _open(self, ticket: KnownTicket) -> None:
        self.shelf.remember(ticket)
        self.ticket, self.checked = ticket, False
        self.answers = self._kept()

    def _keep(self, given: object) -> None:
        typed = given if isinstance(given, dict) else {}
        self.answers = {item.id: str(typed.get(item.id, "")).strip() for item in SUMS}
        if being_graded() or self.ticket is None:
            return
        with self.shelf.logbook_path.open("ab") as file:
            file.write(answer_line(self.ticket.text, self.answers))
            file.flush()
            os.fsync(file.fileno())

    def _tell(self, check: bool) -> None:
        self.checked = check and self.ticket is not None and self.ticket.practice
        if self.checked and self.ticket is not None:
            points = sum(one.points for one in mark_answers(self.answers, self.ticket.text))
            self._practised(self.ticket.text, points)
            self.notice = SUMS_PAGE["checked"].format(points=f"{points:g}", most=f"{POINTS_EACH * len(SUMS):g}")
        else:
            given = sum(bool(text) for text in self.answers.values())
            self.notice = SUMS_PAGE["kept"].format(given=given, all=len(SUMS))

    def _practised(self, ticket: str, points: float) -> None:
        most = POINTS_EACH * len(SUMS)
        passed = points >= default_scheme().pass_line.total_share * most
        keep_practised(self.shelf.folder, SUMS_EXERCISE, Practised(now_text(), ticket, points, most, passed))

    def shown(self) -> dict[str, object]:
        """Return all that the page shows."""
        if self.ticket is None:
            return {"mode": "ticket", "notice": self.notice, "warning": self.warning, "sums": []}
        marked = mark_answers(self.answers, self.ticket.text)
        return {
            "mode": "work",
            "notice": self.notice,
            "warning": self.warning,
            "ticket": self.ticket.text,
            "practice": self.ticket.practice,
            "sums": [
                {
                    "id": one.item.id,
                    "title": one.item.title,
                    "text": asked(one.item, self.ticket.text),
                    "unit": one.item.unit,
                    "answer": self.answers.get(one.item.id, ""),
                    "right": one.points > 0.0 if self.checked else None,
                    "said": list(one.said) if self.checked else [],
                }
                for one in marked
            ],
        }


class SumsPage(anywidget.AnyWidget):
    """The sums on a page."""

    _esm = traitlets.Unicode().tag(sync=True)
    _css = traitlets.Unicode().tag(sync=True)
    words = traitlets.Dict().tag(sync=True)
    shown = traitlets.Dict().tag(sync=True)

    def __init__(self, folder: str | Path = ".") -> None:
        self.desk = SumsDesk(folder)
        super().__init__(words=SUMS_PAGE, shown=self.desk.shown())
        self.on_msg(self._hear)

    @traitlets.default("_esm")
    def _default_esm(self) -> str:
        return shipped_text("page_parts.js", "page_sums.js")

    @traitlets.default("_css")
    def _default_css(self) -> str:
        return shipped_text("bench.css")

    def __repr__(self) -> str:
        return "The sums"

    def _hear(self, _widget: object, content: Any, _buffers: object) -> None:  # noqa: ANN401
        self.desk.handle(content if isinstance(content, dict) else {})
        # What is equal is not sent: the count lets the page say an answer also when it is the same as before.
        self.shown = self.desk.shown() | {"answered": self.shown.get("answered", 0) + 1}


@cache
def sums() -> SumsPage:
    """Return the page with the sums, whose files stand in the page's own folder."""
    return SumsPage()
