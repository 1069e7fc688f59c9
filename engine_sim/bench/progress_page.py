"""The overview on the start page: where to go on, what is done, and what practice came to. It looks anew when seen."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import anywidget
import traitlets

from engine_sim.bench.page_files import shipped_text

Row = dict[str, object]
Seen = tuple[str, str, list[Row]]
"""The sentence that says where to go on, the page that it means, and a row for each page of the course."""

WORDS = {
    "overview": "Where you are",
    "go": "Open it",
    "table": "All pages, and how far you are",
    "page": "page",
    "minutes": "minutes",
    "state": "how far",
    "marks": "practice: points",
}


class ProgressPage(anywidget.AnyWidget):
    """How far a learner is, on a page."""

    _esm = traitlets.Unicode().tag(sync=True)
    _css = traitlets.Unicode().tag(sync=True)
    words = traitlets.Dict().tag(sync=True)
    sentence = traitlets.Unicode().tag(sync=True)
    on = traitlets.Unicode().tag(sync=True)
    rows: traitlets.List[Row] = traitlets.List().tag(sync=True)

    def __init__(self, look: Callable[[], Seen]) -> None:
        self._look = look
        sentence, on, rows = look()
        super().__init__(words=WORDS, sentence=sentence, on=on, rows=rows)
        self.on_msg(self._hear)

    @traitlets.default("_esm")
    def _default_esm(self) -> str:
        return shipped_text("page_parts.js", "page_progress.js")

    @traitlets.default("_css")
    def _default_css(self) -> str:
        return shipped_text("bench.css")

    def __repr__(self) -> str:
        return self.sentence

    def _hear(self, _widget: object, _content: Any, _buffers: object) -> None:  # noqa: ANN401
        self.sentence, self.on, self.rows = self._look()
