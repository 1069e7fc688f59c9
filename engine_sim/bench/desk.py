"""One learner's place at one exercise: opens it, does what the page asks, and says what the page shall show.

Only what a person at the engine could notice leaves here; what is inside leaves only where the scenario permits x-ray.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from engine_sim.attempt import open_exercise
from engine_sim.bench import own_marks, panel, words
from engine_sim.bench.desk_work import DeskWork, text_of
from engine_sim.bench.shelf import KnownTicket, Shelf
from engine_sim.errors import BadScenario, BadTicket, EngineSimError, LogbookInUse, NotPermitted, UnknownName
from engine_sim.scenarios import check_ticket, draw_scenario, new_ticket


class Desk(DeskWork):
    """One exercise on one bench; ``mode`` is ``work``, ``ticket``, ``in_use`` or ``trouble``."""

    def __init__(self, exercise: str, folder: str | Path) -> None:
        super().__init__()
        self.exercise = exercise
        self.shelf = Shelf(exercise, folder)
        self.mode = "ticket"
        self.message = ""
        self.needs_ticket = _needs_ticket(exercise)
        self._ticket = KnownTicket("", not self.needs_ticket)
        self._page_actions |= {
            "note": self._note,
            "diagnose": self._diagnose,
            "hand_in": self._hand_in,
            "xray": self._xray,
            "save": self._save,
            "ticket": self._use_typed_ticket,
            "fresh": self._use_fresh_ticket,
            "again": self._start_again,
            "other_ticket": self._ask_ticket,
            "back": self._back,
            "retry": self._retry,
            "marks": self._mark,
            "plot": self._plot,
            "help": self._help,
        }
        self.open()

    # ---- opening ------------------------------------------------------------------------------------------------

    def open(self) -> None:
        """Open the exercise with the ticket that is known, or ask for one."""
        known = self.shelf.known() if self.needs_ticket else KnownTicket("", True)
        if known is None:
            self.mode, self.message = "ticket", ""
            return
        self._open_with(known)

    def _open_with(self, ticket: KnownTicket) -> None:
        try:
            self._opened = open_exercise(self.exercise, ticket.text, self.shelf.folder)
        except BadTicket as error:
            self.mode, self.message = "ticket", str(error)
        except LogbookInUse:
            self.mode, self.message = "in_use", words.IN_USE
        except BadScenario as error:
            self.mode, self.message = "trouble", str(error)
        except (EngineSimError, OSError) as error:
            self.mode, self.message = "trouble", words.CANNOT_OPEN.format(reason=_reason(error))
        else:
            self.mode, self.message, self._ticket = "work", "", ticket
            self.chosen, self.xray_on, self.marks, self._helper = "", False, None, None
            self.notice = " ".join(self._opened.notices)

    def close(self) -> None:
        """Let go of the logbook."""
        if self._opened is not None:
            self._opened.close()
            self._opened = None

    # ---- what the page asks -------------------------------------------------------------------------------------

    def handle(self, part: str, action: str, message: Mapping[str, object]) -> None:
        """Do one thing that the page asks; what goes wrong is told in words, and work already done stays."""
        try:
            super().handle(part, action, message)
        except UnknownName:
            self._warn(words.NOT_UNDERSTOOD)
        except NotPermitted:
            self._warn(words.XRAY_NOT_ALLOWED)
        except BadTicket as error:
            self._warn(str(error))
        except LogbookInUse:
            self.close()
            self.mode, self.message = "in_use", words.IN_USE
        except OSError as error:
            self._stand_where_the_logbook_stands(error)

    def _stand_where_the_logbook_stands(self, error: OSError) -> None:
        chosen = self.chosen
        self.close()
        self.open()
        self.chosen = chosen
        self._warn(words.NO_ROOM.format(reason=_reason(error)))

    # ---- tickets ------------------------------------------------------------------------------------------------

    def _ask_ticket(self, message: Mapping[str, object]) -> None:
        if not self.needs_ticket:
            self.notice = words.TICKET_LESSON
            return
        self.mode, self.message = "ticket", ""

    def _back(self, message: Mapping[str, object]) -> None:
        if self.attempt is not None:
            self.mode = "work"

    def _retry(self, message: Mapping[str, object]) -> None:
        if self.attempt is None:
            self.needs_ticket = _needs_ticket(self.exercise)
            self.open()

    def _use_typed_ticket(self, message: Mapping[str, object]) -> None:
        self._change_to(KnownTicket(check_ticket(text_of(message, "text").strip()), False))

    def _use_fresh_ticket(self, message: Mapping[str, object]) -> None:
        self._change_to(KnownTicket(new_ticket(), True))

    def _start_again(self, message: Mapping[str, object]) -> None:
        if not self._ticket.practice:
            self._warn(words.NOT_FRESH)
        else:
            self._change_to(KnownTicket(new_ticket() if self.needs_ticket else "", True))

    def _change_to(self, ticket: KnownTicket) -> None:
        """Put the present logbook by under its ticket's name and open the new one; a ticket used before comes back."""
        if self.needs_ticket and self.attempt is not None and ticket.text == self._ticket.text:
            self.mode, self.notice = "work", words.BROUGHT_BACK
            return
        if self.attempt is None and not self._take_over():
            return
        had_work = self.attempt is not None and bool(self.attempt.steps)
        self.close()
        kept = self.shelf.put_by() if self.shelf.logbook_ticket() != ticket.text or not self.needs_ticket else ""
        back = self.needs_ticket and self.shelf.bring_back(ticket.text)
        if self.needs_ticket:
            self.shelf.remember(ticket)
        self._open_with(ticket)
        told = [
            self.notice,
            words.KEPT_AS.format(name=kept) if kept and had_work else "",
            words.BROUGHT_BACK if back else "",
        ]
        self.notice = " ".join(text for text in told if text)

    def _take_over(self) -> bool:
        """Make sure that no other window works on the logbook that is to be put by; say so if one does."""
        known = self.shelf.known()
        if known is not None:
            self._open_with(known)
        return self.mode != "in_use"

    # ---- what the page shows ------------------------------------------------------------------------------------

    def labels(self) -> dict[str, str]:
        """Return what the parts are called."""
        return panel.labels(self.attempt) if self.attempt is not None else {}

    def panel(self) -> dict[str, object]:
        """Return what stands beside the drawing."""
        shown = self._said(self.mode) | {"message": self.message, "can_go_back": self.attempt is not None}
        if self.attempt is None:
            return shown
        may_mark = own_marks.may_be_marked(self.attempt, self._ticket)
        work = panel.work(self.attempt, self._ticket, self.chosen, self.xray_on)
        work |= panel.plots(self.attempt, self.plot) | panel.help_shown(self.attempt, self._may_help)
        return shown | work | {"may_mark": may_mark, "marks": self.marks}


def _needs_ticket(exercise: str) -> bool:
    try:
        draw_scenario(exercise, "")
    except BadTicket:
        return True
    except EngineSimError:
        return False  # an own exercise whose file is damaged: opening it says so
    return False


def _reason(error: Exception) -> str:
    return error.strerror or str(error) if isinstance(error, OSError) else str(error)
