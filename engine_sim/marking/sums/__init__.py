"""The sums that a sailor needs: asked with a ticket's own figures, answered by number, marked within a tolerance."""

from engine_sim.marking.sums.answers import answer_line, last_answers, read_number
from engine_sim.marking.sums.marking import MarkedSum, SumsSheet, mark_answers, mark_sums
from engine_sim.marking.sums.questions import (
    POINTS_EACH,
    SUMS,
    SUMS_EXERCISE,
    SUMS_VERSION,
    Figures,
    Sum,
    asked,
    figures_of,
)

__all__ = [
    "POINTS_EACH",
    "SUMS",
    "SUMS_EXERCISE",
    "SUMS_VERSION",
    "Figures",
    "MarkedSum",
    "Sum",
    "SumsSheet",
    "answer_line",
    "asked",
    "figures_of",
    "last_answers",
    "mark_answers",
    "mark_sums",
    "read_number",
]
