"""Whether the marks reach the pass line of the marking scheme, and in words which part of it was missed."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from engine_sim.marking import TITLES, Mark, MarkingScheme, Reason, is_passed
from engine_sim.marking.sums import POINTS_EACH, SUMS

_POINTS = re.compile(", ".join(rf"{title.lower()} \d+(?:\.\d+)?(?: points)?" for title in TITLES.values()))
_PASS_LINE = re.compile(r"^You pass with at least .*? of these .*$", re.MULTILINE)
"""How :func:`points_in_words` and :func:`pass_line_in_words` stand in a text."""


def has_passed(marks: Mapping[str, Mark], scheme: MarkingScheme, hard_fails: Sequence[str] = ()) -> bool:
    """Say whether marks pass: of work at an engine every part of the pass line with no hard fail, of sums its share."""
    if is_of_sums(marks):
        return sum(mark.score for mark in marks.values()) >= sums_pass_points(scheme)
    return is_passed({name: marks[name] for name in TITLES}, scheme, tuple(Reason(text) for text in hard_fails))


def is_of_sums(marks: Mapping[str, Mark]) -> bool:
    """Tell whether marks are those of the sums, and not of work at an engine."""
    return not set(TITLES) <= set(marks)


def sums_pass_points(scheme: MarkingScheme) -> float:
    """Return the points from which the sums are passed: the pass line's share of them all."""
    return scheme.pass_line.total_share * POINTS_EACH * len(SUMS)


def least_shares(scheme: MarkingScheme) -> dict[str, float]:
    """Return the shares of a mark [0..1] that must be reached, by its name; those of which nothing is asked are out."""
    line = scheme.pass_line
    asked = {"safety": line.safety_share, "method": line.method_share, "cure": line.cure_share}
    return {name: share for name, share in asked.items() if share > 0.0}


def pass_line_in_words(scheme: MarkingScheme) -> str:
    """Return the pass line as one sentence for learners, such as ``You pass with at least 21 of the 35 points ...``."""
    weights = {name: scheme.weights.of(name) for name in TITLES}
    most = sum(weights.values())
    least = [f"{share * weights[name]:g} for {TITLES[name].lower()}" for name, share in least_shares(scheme).items()]
    among = f", among them at least {in_a_row(least)}" if least else ""
    return f"You pass with at least {scheme.pass_line.total_share * most:g} of these {most:g} points{among}."


def points_in_words(scheme: MarkingScheme) -> str:
    """Return the points of the marks as one phrase for learners, such as ``safety 5 points, method 10, ...``."""
    first, *others = [f"{title.lower()} {scheme.weights.of(name):g}" for name, title in TITLES.items()]
    return ", ".join([f"{first} points", *others])


def restated(text: str, scheme: MarkingScheme) -> str:
    """Return an exercise's text with the points and the pass line that a scheme has; what says neither stays as it is.

    >>> from engine_sim.marking import default_scheme
    >>> restated("From your work: safety 1 points, method 2, diagnosis 3, cure 4, housekeeping 5.", default_scheme())
    'From your work: safety 5 points, method 10, diagnosis 5, cure 10, housekeeping 5.'
    """
    text = _POINTS.sub(points_in_words(scheme), text)
    return _PASS_LINE.sub(pass_line_in_words(scheme), text)


def in_a_row(words: Sequence[str]) -> str:
    """Return words as they are said one after the other: ``a, b and c``."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def missed_parts(marks: Mapping[str, Mark], scheme: MarkingScheme) -> tuple[str, ...]:
    """Return in words each part of the pass line that was missed, such as ``method 3 of 10 (at least 5)``."""
    counted = list(marks.values()) if is_of_sums(marks) else [marks[name] for name in TITLES]
    total = Mark(sum(mark.score for mark in counted), sum(mark.maximum for mark in counted))
    asked = [("these marks together", total, scheme.pass_line.total_share)]
    if not is_of_sums(marks):
        asked += [(TITLES[name].lower(), marks[name], share) for name, share in least_shares(scheme).items()]
    return tuple(
        f"{name} {mark.score:g} of {mark.maximum:g} (at least {share * mark.maximum:g})"
        for name, mark, share in asked
        if mark.score < share * mark.maximum
    )


def verdict(marks: Mapping[str, Mark], scheme: MarkingScheme, hard_fails: Sequence[str] = ()) -> str:
    """Return what the learner reads: passed, or not yet passed and why."""
    if has_passed(marks, scheme, hard_fails):
        what = "your sums" if is_of_sums(marks) else "your work at the engine"
        return f"Passed: the marks for {what} reach the pass line."
    missed = missed_parts(marks, scheme)
    why = [f"This alone fails, whatever the points: {text}" for text in hard_fails]
    why += [f"Missed: {'; '.join(missed)}."] if missed else []
    return " ".join(["Not yet passed.", *why])
