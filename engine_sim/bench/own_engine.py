"""The page of a learner's own engine as a notebook widget: a bench with the form of the boat above it."""

from __future__ import annotations

from pathlib import Path

import traitlets

from engine_sim.bench.bench import SCRIPTS, Bench
from engine_sim.bench.own_desk import MakeCard, OwnEngineDesk
from engine_sim.bench.own_words import for_the_page
from engine_sim.bench.page_files import shipped_text

OWN_SCRIPTS = (*SCRIPTS, "page_own_engine.js")
OWN_STYLES = ("bench.css", "own_engine.css")


class OwnEngine(Bench):
    """The form of a learner's own boat, its drawing, its card to print, and practice on it."""

    def __init__(self, folder: str | Path, make_card: MakeCard) -> None:
        super().__init__(desk=OwnEngineDesk(folder, make_card))
        self.words = {**self.words, "own": for_the_page()}

    @traitlets.default("_esm")
    def _default_esm(self) -> str:
        return shipped_text(*OWN_SCRIPTS)

    @traitlets.default("_css")
    def _default_css(self) -> str:
        return shipped_text(*OWN_STYLES)

    def __repr__(self) -> str:
        return "The page of your own engine"
