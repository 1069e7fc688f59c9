"""The circuit as it was to be seen at one moment: the bench's own drawing of the boat, on paper."""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.drawing import Drawing, on_paper
from engine_sim.drawing.seen import in_words


def draw_circuit(drawing: Drawing, seen: Mapping[str, object], title: str, here: str = "") -> str:
    """Return the boat's circuit as SVG; ``seen`` is what was to be seen, ``here`` the part that the moment is about."""
    words = in_words(drawing.layout, seen)
    written = drawing.picture(drawing.skeleton(title), drawing.view(seen, words))
    return on_paper(written, title, words, drawing.frame(here))
