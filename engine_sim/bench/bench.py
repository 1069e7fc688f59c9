"""The bench as a notebook widget: carries messages between the page and one :class:`~engine_sim.bench.desk.Desk`."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from engine_sim.bench import words
from engine_sim.bench.desk import Desk
from engine_sim.bench.desk_work import PAGE
from engine_sim.bench.own_desk import OwnEngineDesk
from engine_sim.bench.page_files import shipped_text
from engine_sim.bench.presenter_desk import PresenterDesk
from engine_sim.bench.presenter_words import TELLS
from engine_sim.drawing import View, changed

Message = Mapping[str, object]
OtherDesk = PresenterDesk | OwnEngineDesk
"""A desk that is no exercise in a folder."""
SCRIPTS = ("page_parts.js", "page_film.js", "page_presenter.js", "bench.js")
"""The page's script in the order of its files: they are one when they reach the page."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What the page shows at one turn; turns count the answers given."""

    turn: int
    scene: View
    panel: dict[str, object]
    noticed: list[dict[str, object]]

    def as_state(self) -> dict[str, Any]:
        """Return it under the names that the page reads."""
        return {"turn": self.turn, "scene": self.scene, "panel": self.panel, "noticed": self.noticed}


class Bench(anywidget.AnyWidget):
    """One exercise on a page. Every view of it shows the same; a press is done once, or refused and said so."""

    _esm = traitlets.Unicode().tag(sync=True)
    _css = traitlets.Unicode().tag(sync=True)
    words = traitlets.Dict().tag(sync=True)
    skeleton = traitlets.Unicode().tag(sync=True)
    spots: traitlets.List[dict[str, object]] = traitlets.List().tag(sync=True)
    scene = traitlets.Dict().tag(sync=True)
    panel = traitlets.Dict().tag(sync=True)
    noticed: traitlets.List[dict[str, object]] = traitlets.List().tag(sync=True)
    turn = traitlets.Int().tag(sync=True)
    film: traitlets.List[list[object]] = traitlets.List().tag(sync=True)

    def __init__(self, exercise: str = "", folder: str | Path = ".", desk: OtherDesk | None = None) -> None:
        self.desk: Desk | OtherDesk = desk if desk is not None else Desk(exercise, folder)
        self._free = deque(["the one who holds this works"])
        self._now = Shown(0, self.desk.scene(), self.desk.panel(), self.desk.noticed())
        super().__init__(
            words=words.PAGE | {"wall": TELLS},
            skeleton=self.desk.drawing(),
            spots=self.desk.spots(),
            **self._now.as_state(),
        )
        self.on_msg(self._hear)

    @traitlets.default("_esm")
    def _default_esm(self) -> str:
        return shipped_text(*SCRIPTS)

    @traitlets.default("_css")
    def _default_css(self) -> str:
        return shipped_text("bench.css")

    def __repr__(self) -> str:
        return f"The bench: {self.desk.exercise}" if isinstance(self.desk, Desk) else "The bench at the wall"

    def get_state(self, key: str | Iterable[str] | None = None, drop_defaults: bool = False) -> dict[str, Any]:
        """Return the state for a page that opens now: answers have carried only what changed, this carries all."""
        state: dict[str, Any] = super().get_state(key, drop_defaults)
        if key is None:
            state |= self._now.as_state()
        return state

    def _repr_mimebundle_(self, **kwargs: dict[str, Any]) -> tuple[dict[str, Any], dict[str, Any]] | None:
        bundle = super()._repr_mimebundle_(**kwargs)
        if bundle is None or not self.skeleton:
            return bundle
        data, metadata = bundle
        return {**data, "image/svg+xml": self.picture()}, metadata

    def picture(self) -> str:
        """Return the drawing as it stands, as SVG text, for pages where the bench is not alive."""
        return self.desk.picture(self.skeleton, self._now.scene)

    def show_logbook(self, data: bytes) -> str:
        """Open a logbook at the wall, at its beginning; return what is to be said where it cannot be shown."""
        self.desk.handle(PAGE, "replay", {"text": data.decode("utf-8", "replace")})
        self._publish({})
        return self.desk.notice

    # ---- messages -----------------------------------------------------------------------------------------------

    def _hear(self, _widget: object, content: object, _buffers: object) -> None:
        message = content if isinstance(content, dict) else {}
        try:
            token = self._free.pop()
        except IndexError:
            self._tell(message, "refused", words.STILL_WORKING)
            return
        try:
            self._answer(message)
        finally:
            self._free.append(token)

    def _answer(self, message: Message) -> None:
        part, action = message.get("part"), message.get("action")
        if part == PAGE and action == "refresh":
            self.send_state()
        elif not isinstance(part, str) or not isinstance(action, str):
            self._tell(message, "refused", words.NOT_UNDERSTOOD)
        elif message.get("seq") != self._now.turn:
            self._tell(message, "refused", words.PRESSED_TWICE)
            self.send_state()
        else:
            self._tell(message, "working", "")
            self.desk.progress = lambda text: self._tell(message, "working", text)
            self.desk.handle(part, action, message)
            self._publish(message)

    def _tell(self, message: Message, kind: str, notice: str) -> None:
        self.send({"kind": kind, "view": message.get("view"), "press": message.get("press"), "notice": notice})

    def _publish(self, message: Message) -> None:
        """Send what changed; ``noticed_from`` 0 says that the whole list comes."""
        before, now = self._now, Shown(self._now.turn + 1, self.desk.scene(), self.desk.panel(), self.desk.noticed())
        skeleton = self.desk.drawing()
        new_drawing = skeleton != self.skeleton
        start = len(before.noticed) if now.noticed[: len(before.noticed)] == before.noticed else 0
        answer = {
            "kind": "answer",
            "view": message.get("view"),
            "press": message.get("press"),
            "turn": now.turn,
            "scene": changed({} if new_drawing else before.scene, now.scene),
            "panel": {
                key: value for key, value in now.panel.items() if key not in before.panel or before.panel[key] != value
            },
            "noticed": now.noticed[start:],
            "noticed_from": start,
            "notice": self.desk.notice,
        }
        if self.desk.film:
            answer["film"] = self.desk.film
        if self.desk.sounds:
            answer["sounds"] = self.desk.sounds
        if self.desk.file is not None:
            answer["file"] = self.desk.file.as_sent()
        self._now = now
        if new_drawing:
            self.spots, self.skeleton = self.desk.spots(), skeleton
        self.send(answer)
