"""Marks a logbook: safety, method, diagnosis, cure and housekeeping, each with reasons a sailor understands."""

from engine_sim.marking.feedback import feedback_html, page_html
from engine_sim.marking.housekeeping import tells_the_next_person
from engine_sim.marking.mark import mark_attempt, mark_logbook
from engine_sim.marking.marksheet import Mark, MarkSheet, Reason, is_passed
from engine_sim.marking.scheme import (
    MARK_NAMES,
    TITLES,
    BadMarkingScheme,
    MarkingScheme,
    default_scheme,
    load_marking_scheme,
    usual_scheme_file,
)

__all__ = [
    "MARK_NAMES",
    "TITLES",
    "BadMarkingScheme",
    "Mark",
    "MarkSheet",
    "MarkingScheme",
    "Reason",
    "default_scheme",
    "feedback_html",
    "is_passed",
    "load_marking_scheme",
    "mark_attempt",
    "mark_logbook",
    "page_html",
    "tells_the_next_person",
    "usual_scheme_file",
]
