"""What a learner sees where a mark will stand: who marks it, and from what. Nothing here decides a mark."""

from __future__ import annotations

from html import escape

from engine_sim.marking import TITLES


class MarkedLater:
    """A sentence in place of a mark; as a number it is nothing, so that it can never count as a full mark."""

    def __init__(self, name: str) -> None:
        self._title = TITLES.get(name, name)

    def __repr__(self) -> str:
        return "0.0"

    def _repr_html_(self) -> str:
        sentence = "With a ticket of your instructor's, your instructor marks this after you hand in."
        return f"<p><strong>{escape(self._title)}.</strong> {sentence}</p>"


def marked_by_instructor(name: str) -> MarkedLater:
    """Return the sentence for one mark, named as the marks are."""
    return MarkedLater(name)
