"""Marks the sums: right within the tolerance or not, with how it is worked and what a slip that tempts came from."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from html import escape

from engine_sim.marking.sums.answers import last_answers, read_number
from engine_sim.marking.sums.questions import POINTS_EACH, SUMS, Figures, Sum, figures_of, in_words

NO_FILE = "no answers were handed in, so nothing could be marked"
OTHER_TICKET = "the answers were not given under this learner's ticket, so nothing could be marked"
SIGNIFICANT = 3
NOT_ANSWERED = "You gave no answer."
NO_NUMBER = "“{given}” is no single number."
NO_SLIP = -1
RIGHT = "Right: {given} {unit}."
WRONG = "You answered {given} {unit}; it is {answer} {unit}."


@dataclass(frozen=True, slots=True)
class MarkedSum:
    """One sum marked: points of :data:`POINTS_EACH`, and what is said of it in sentences.

    ``slip`` counts the slips of the sum from 0; -1 where no known slip gives what was answered.
    """

    item: Sum
    points: float
    asked: str
    said: tuple[str, ...]
    answered: bool = True
    slip: int = NO_SLIP

    def as_html(self) -> str:
        """Return it as a piece of a page."""
        heading = f"{self.item.title}: {self.points:g} of {POINTS_EACH:g}"
        paragraphs = "".join(f"<p>{escape(text)}</p>" for text in (self.asked, *self.said))
        return f'<section class="marking-feedback"><h3>{escape(heading)}</h3>{paragraphs}</section>'


@dataclass(frozen=True, slots=True)
class SumsSheet:
    """All sums marked, in their order, and what an instructor should know."""

    marked: tuple[MarkedSum, ...]
    findings: tuple[str, ...] = ()


def mark_sums(data: bytes | None, ticket: str) -> SumsSheet:
    """Mark the answers handed in by the learner whose ticket is ``ticket``; whatever ``data`` holds, this returns."""
    if data is None:
        return SumsSheet(mark_answers({}, ticket), (NO_FILE,))
    answers = last_answers(data, ticket)
    return SumsSheet(mark_answers(answers or {}, ticket), () if answers is not None else (OTHER_TICKET,))


def mark_answers(answers: Mapping[str, str], ticket: str) -> tuple[MarkedSum, ...]:
    """Mark answers by the sums' ids, as the learner wrote them."""
    return tuple(_marked(item, answers.get(item.id, "").strip(), figures_of(item, ticket)) for item in SUMS)


def _marked(item: Sum, given: str, figures: Figures) -> MarkedSum:
    right = item.right(figures)
    words = {**in_words(figures), "answer": rounded(right), "given": given, "unit": item.unit}
    value = read_number(given) if given else None
    question, working = item.text.format(**words), item.working.format(**words)
    if value is None:
        why = (NO_NUMBER if given else NOT_ANSWERED).format(**words)
        return MarkedSum(item, 0.0, question, (why, working), bool(given))
    words["given"] = f"{value:g}"
    if near(value, right, item.tolerance):
        return MarkedSum(item, POINTS_EACH, question, (RIGHT.format(**words), working))
    made = [number for number, one in enumerate(item.slips) if near(value, one.wrong(figures), item.tolerance)][:1]
    whys = [item.slips[number].why.format(**words) for number in made]
    return MarkedSum(item, 0.0, question, (WRONG.format(**words), *whys, working), True, *made)


def near(value: float, right: float, tolerance: float) -> bool:
    """Tell whether a value is right within a share of it."""
    return math.isclose(value, right, rel_tol=tolerance)


def rounded(value: float) -> str:
    """Return an answer as people write it, with three figures that count."""
    digits = SIGNIFICANT - 1 - math.floor(math.log10(abs(value))) if value else 0
    return f"{round(value, digits):.{max(digits, 0)}f}".rstrip("0").rstrip(".") if digits > 0 else f"{value:.0f}"
