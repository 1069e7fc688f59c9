"""Marks a logbook: order of work, diagnosis and outcome, each with reasons a sailor understands."""

from engine_sim.marking.feedback import feedback_html
from engine_sim.marking.mark import mark_logbook
from engine_sim.marking.marksheet import Mark, MarkSheet, Reason
from engine_sim.marking.scheme import BadMarkingScheme, MarkingScheme, load_marking_scheme

__all__ = [
    "BadMarkingScheme",
    "Mark",
    "MarkSheet",
    "MarkingScheme",
    "Reason",
    "feedback_html",
    "load_marking_scheme",
    "mark_logbook",
]
