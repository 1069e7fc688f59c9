"""The desk behind the page of an own engine: the form, its drawing and card, and practice on the boat.

Practice is played on a copy of the boat, so that what is changed in the form does not change it under the hands.
Nothing of it is kept in a file.
"""

from __future__ import annotations

import hashlib
import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path

from engine_sim.attempt import Attempt
from engine_sim.bench import own_practice, panel, words
from engine_sim.bench.desk_work import DeskWork, KeptFile, text_of
from engine_sim.bench.own_files import NotWritten, OwnFiles
from engine_sim.bench.own_words import BLANK_FILE, CARD_FILE, TELLS
from engine_sim.bench.shelf import KnownTicket
from engine_sim.circuit import read_layout
from engine_sim.drawing import Drawing
from engine_sim.drawing.path import still_picture
from engine_sim.errors import EngineSimError, UnknownName
from engine_sim.scenarios.own_boat import BadOwnBoat, OwnBoat, blank_answers, boat_from
from engine_sim.scenarios.own_layout import layout_text
from engine_sim.wording import OWN_FIELDS

PDF = "application/pdf"
MakeCard = Callable[[OwnBoat | None], bytes]
"""Makes the card of a boat as a PDF, a blank one of nothing."""


class OwnEngineDesk(DeskWork):
    """What the page of an own engine asks; ``make_card`` comes from outside, because the bench knows no printing."""

    def __init__(self, folder: str | Path, make_card: MakeCard) -> None:
        super().__init__()
        self.files = OwnFiles(Path(folder))
        self.make_card = make_card
        self.answers = blank_answers()
        self.wrong: dict[str, str] = {}
        self.drawn: dict[str, str] | None = None
        self.pick = own_practice.by_lot
        self.revealed = False
        self._unread = False
        self._practice: Attempt | None = None
        self._copies: tempfile.TemporaryDirectory[str] | None = None
        self._page_actions |= {
            "draw": self._draw,
            "keep": self._keep,
            "card": self._card,
            "blank": self._blank,
            "practise": self._practise,
            "give_up": self._give_up,
            "end": self._end,
            "note": self._note,
            "diagnose": self._diagnose,
            "hand_in": self._hand_in,
            "xray": self._xray,
            "plot": self._plot,
        }
        self._read()

    @property
    def attempt(self) -> Attempt | None:
        """The attempt that is practised, if one is."""
        return self._practice

    def close(self) -> None:
        """Let go of the copies of boats."""
        if self._copies is not None:
            self._copies.cleanup()

    # ---- what the page asks -------------------------------------------------------------------------------------

    def handle(self, part: str, action: str, message: Mapping[str, object]) -> None:
        """Do one thing that the page asks; what goes wrong is told in words, a mistake in the form beside its place."""
        try:
            super().handle(part, action, message)
        except BadOwnBoat as error:
            self.wrong = error.wrong
            self._warn(TELLS["wrong"])
        except UnknownName:
            self._warn(words.NOT_UNDERSTOOD)
        except EngineSimError as error:
            self._warn(str(error))

    # ---- the form -----------------------------------------------------------------------------------------------

    def _read(self) -> None:
        """Put what was kept into the form, and draw it where it makes a boat."""
        try:
            self.answers |= self.files.answers()
        except BadOwnBoat as error:
            self._unread = True
            self._warn(TELLS["not_read"].format(why=error))
            return
        if self.answers["name"]:
            try:
                self._show(boat_from(self.answers))
            except BadOwnBoat as error:
                self.wrong = error.wrong

    def _taken(self, message: Mapping[str, object]) -> OwnBoat:
        """Take the answers that were sent, whatever they say, and return the boat; raises BadOwnBoat."""
        given = message.get("answers")
        for name, text in (given if isinstance(given, dict) else {}).items():
            if name in OWN_FIELDS and isinstance(text, str):
                self.answers[name] = text
        self.wrong = {}
        return boat_from(self.answers)

    def _show(self, boat: OwnBoat) -> None:
        title = TELLS["picture"].format(name=boat.name)
        picture, told = still_picture(Drawing(read_layout(layout_text(boat))), title)
        self.drawn = {"title": title, "picture": picture, "words": told}

    def _draw(self, message: Mapping[str, object]) -> None:
        self._show(self._taken(message))
        self.notice = TELLS["drawn"]

    def _keep(self, message: Mapping[str, object]) -> None:
        self._write_answers(self._taken(message))
        self.notice = f"{TELLS['kept']} {self.notice}".strip()

    def _write_answers(self, boat: OwnBoat) -> None:
        if self._unread:
            self.files.put_by()
            self._unread, self.notice = False, TELLS["put_by"]
        self.files.keep(boat)

    def _card(self, message: Mapping[str, object]) -> None:
        boat = self._taken(message)
        card = self._given(CARD_FILE, boat)
        self._write_answers(boat)
        self.files.write(CARD_FILE, card)
        self.notice = f"{TELLS['card_made']} {self.notice}".strip()

    def _blank(self, message: Mapping[str, object]) -> None:
        self.files.write(BLANK_FILE, self._given(BLANK_FILE, None))
        self.notice = TELLS["blank_made"]

    def _given(self, name: str, boat: OwnBoat | None) -> bytes:
        """Give a card as a file, whether or not it can be written beside the page; return it."""
        self.progress(TELLS["making"])
        card = self.make_card(boat)
        self.file = KeptFile(name, kind=PDF, data=card)
        return card

    # ---- practice -----------------------------------------------------------------------------------------------

    def _practise(self, message: Mapping[str, object]) -> None:
        boat = self._taken(message)
        self._write_answers(boat)
        self.progress(TELLS["setting"])
        begun = own_practice.begin(self._copy_of(boat), boat.name, self.pick)
        if begun is None:
            self._warn(TELLS["no_fault"])
            return
        self._practice, self.revealed = begun, False
        self.xray_on, self.chosen, self.plot = False, "", ""
        self.notice = f"{TELLS['begun']} {self.notice}".strip()

    def _copy_of(self, boat: OwnBoat) -> str:
        """Return the file of a boat for practice: one of its own for each different boat."""
        text = layout_text(boat)
        name = f"boat_{hashlib.sha256(text.encode()).hexdigest()[:16]}.toml"
        try:
            self._copies = self._copies or tempfile.TemporaryDirectory(prefix="fuelcourse-practice-")
        except OSError as error:
            raise NotWritten(name, error) from error
        copies = OwnFiles(Path(self._copies.name))
        copies.write(name, text.encode())
        return str(copies.folder / name)

    def _hand_in(self, message: Mapping[str, object]) -> None:
        if self.attempt is not None and not self.attempt.handed_in:
            self.attempt.hand_in()
            self._reveal()
            self.notice = words.HANDED_IN

    def _give_up(self, message: Mapping[str, object]) -> None:
        if self.attempt is None:
            self._warn(TELLS["no_practice"])
        else:
            self._reveal()

    def _reveal(self) -> None:
        self.revealed = self.xray_on = True

    def _end(self, message: Mapping[str, object]) -> None:
        self._practice, self.revealed, self.xray_on, self.chosen = None, False, False, ""
        self.notice = TELLS["ended"]

    def _xray(self, message: Mapping[str, object]) -> None:
        """The inside is the answer: it is there to be looked at once that is told."""
        if self.revealed:
            self.xray_on = not self.xray_on

    def _plot(self, message: Mapping[str, object]) -> None:
        if self.revealed:
            self.plot = "" if text_of(message, "which") == self.plot else text_of(message, "which")

    # ---- what the page shows ------------------------------------------------------------------------------------

    def panel(self) -> dict[str, object]:
        """Return what stands beside the drawing, and the form above it."""
        own: dict[str, object] = {
            "answers": dict(self.answers),
            "wrong": dict(self.wrong),
            "drawn": self.drawn,
            "revealed": self.revealed,
        }
        shown = self._said("work" if self.attempt is not None else "form") | {"own": own}
        return shown | (self._work(self.attempt) if self.attempt is not None else {})

    def _work(self, attempt: Attempt) -> dict[str, object]:
        nothing: dict[str, object] = {"helps": [], "help_said": [], "left_undone": [], "may_mark": False, "marks": None}
        plots = panel.plots(attempt, self.plot) if self.revealed else {"plots": [], "plot": "", "plot_of": ""}
        shown = panel.work(attempt, KnownTicket("", True), self.chosen, self.xray_on)
        own = {"can_start_again": False, "xray_allowed": self.revealed}
        told = own_practice.truth(attempt) if self.revealed else []
        return shown | nothing | plots | own | {"truth": told}
