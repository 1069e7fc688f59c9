"""Whether the marks reach the pass line of the marking scheme, and in words which part of it was missed."""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.classroom.marked_cell import TITLES
from engine_sim.marking import Mark, MarkingScheme
from engine_sim.marking.marksheet import is_passed


def has_passed(marks: Mapping[str, Mark], scheme: MarkingScheme) -> bool:
    """Say whether the three marks that come from the logbook reach every part of the pass line."""
    return is_passed({name: marks[name] for name in TITLES}, scheme)


def missed_parts(marks: Mapping[str, Mark], scheme: MarkingScheme) -> tuple[str, ...]:
    """Return in words each part of the pass line that was missed, such as ``order of work 3 of 10 (at least 5)``."""
    line, three = scheme.pass_line, [marks[name] for name in TITLES]
    total = Mark(sum(mark.score for mark in three), sum(mark.maximum for mark in three))
    asked = (
        ("the three marks together", total, line.total_share),
        (TITLES["order"].lower(), marks["order"], line.order_share),
        (TITLES["outcome"].lower(), marks["outcome"], line.outcome_share),
    )
    return tuple(
        f"{name} {mark.score:g} of {mark.maximum:g} (at least {share * mark.maximum:g})"
        for name, mark, share in asked
        if mark.score < share * mark.maximum
    )


def verdict(marks: Mapping[str, Mark], scheme: MarkingScheme) -> str:
    """Return one sentence for the learner: passed, or not yet passed and what was missed."""
    if has_passed(marks, scheme):
        return "Passed: the marks for your work at the engine reach the pass line."
    return f"Not yet passed. Missed: {'; '.join(missed_parts(marks, scheme))}."
