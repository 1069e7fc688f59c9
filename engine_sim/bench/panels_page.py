"""A page of panels: fields, buttons, tables and links that a desk describes in plain data. The page knows nothing else.

A panel is a mapping with ``id`` and ``title``, and as needed ``about`` (sentences), ``fields``, ``buttons``, ``lines``,
``tables``, ``links`` and ``pictures``; :mod:`engine_sim.classroom.teaching.desk` makes them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Protocol

import anywidget
import traitlets

from engine_sim.bench.page_files import shipped_text

Tell = Callable[[str], None]
"""Says on the page how far long work is."""

PANEL_WORDS = {
    "page": "The instructor's page",
    "yes": "Yes, do it",
    "no": "No, leave it",
    "working": "Working",
    "dead": "The page gets no answer. Press “Open the bench again” at the top of the page.",
}


class PanelsDesk(Protocol):
    """What stands behind a page of panels."""

    def shown(self) -> dict[str, object]:
        """Return ``notice``, ``warning`` and ``panels``."""

    def handle(self, message: Mapping[str, object], files: Sequence[bytes], tell: Tell) -> None:
        """Do what the page asks; what goes wrong becomes a notice."""


class PanelsPage(anywidget.AnyWidget):
    """Panels on a page."""

    _esm = traitlets.Unicode().tag(sync=True)
    _css = traitlets.Unicode().tag(sync=True)
    words = traitlets.Dict().tag(sync=True)
    shown = traitlets.Dict().tag(sync=True)
    working = traitlets.Unicode().tag(sync=True)

    def __init__(self, desk: PanelsDesk) -> None:
        self.desk = desk
        super().__init__(words=PANEL_WORDS, shown=desk.shown() | {"answered": 0})
        self.on_msg(self._hear)

    @traitlets.default("_esm")
    def _default_esm(self) -> str:
        return shipped_text("page_parts.js", "page_panels.js")

    @traitlets.default("_css")
    def _default_css(self) -> str:
        return shipped_text("bench.css", "panels.css")

    def __repr__(self) -> str:
        return PANEL_WORDS["page"]

    def _hear(self, _widget: object, content: Any, buffers: Any) -> None:  # noqa: ANN401
        files = [bytes(one) for one in buffers or ()]
        try:
            self.desk.handle(content if isinstance(content, dict) else {}, files, self._tell)
        finally:
            self.working = ""
            self.shown = self.desk.shown() | {"answered": self.shown["answered"] + 1}

    def _tell(self, text: str) -> None:
        self.working = text
