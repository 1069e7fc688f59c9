"""Item statistics: how hard an item is, and whether those who do well elsewhere do well on it.

*Facility* is the mean share of an item's points that a class earned. *Discrimination* is the corrected item-total
correlation: Pearson's r between what each learner earned on the item and what the same learner earned on all else, the
item itself left out. For an item that is only right or wrong that is the point-biserial correlation. Its 95 % interval
is Fisher's: z = artanh r has the standard deviation 1 / sqrt(n - 3).

Sources: R. A. Fisher, Statistical Methods for Research Workers, the chapter on the correlation coefficient; classical
test theory as in the usual textbooks of educational measurement (R. L. Ebel's rule of thumb takes an item from 0.3 on
as good and below 0.2 as poor). All from memory. How many learners a figure needs is judgement.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import fmean

from engine_sim.classroom.teaching.report.hand_ins import ClassWork, HandIn
from engine_sim.marking import TITLES
from engine_sim.marking.facts import KEPT, NOT_AT_STAKE, RuleFact

LEAST, CERTAIN = 10, 30
"""Learners below which no figure is given, and below which it is called uncertain; judgement."""
WELL, POORLY = 0.3, 0.2
Z_95 = 1.959963984540054
"""The standard normal deviate that 95 % lie within, on both sides."""
Pairs = dict[str, list[tuple[float, float]]]
"""By learner: what was earned on an item and on all else, both as shares [0..1]; one pair a hand-in."""


@dataclass(frozen=True, slots=True)
class Item:
    """One item: how many learners it was put to, its facility [0..1], its discrimination with the interval, and words.

    ``group`` says what kind of item it is; facility and discrimination are None where there are too few.
    """

    group: str
    words: str
    count: int
    facility: float | None
    discrimination: float | None
    interval: tuple[float, float] | None
    verdict: str


def pearson(xs: Sequence[float], ys: Sequence[float]) -> float | None:
    """Return Pearson's correlation, None where one of the two does not vary or there are fewer than two pairs."""
    if len(xs) < 2:
        return None
    x_mean, y_mean = fmean(xs), fmean(ys)
    across = math.fsum((x - x_mean) * (y - y_mean) for x, y in zip(xs, ys, strict=True))
    x_square = math.fsum((x - x_mean) ** 2 for x in xs)
    y_square = math.fsum((y - y_mean) ** 2 for y in ys)
    if min(x_square, y_square) <= 1e-12:
        return None
    return min(1.0, max(-1.0, across / math.sqrt(x_square * y_square)))


def fisher_interval(r: float, count: int) -> tuple[float, float] | None:
    """Return the 95 % interval of a correlation over ``count`` pairs by Fisher's z; None below four pairs."""
    if count < 4:
        return None
    if abs(r) >= 1.0:
        return (r, r)
    middle, reach = math.atanh(r), Z_95 / math.sqrt(count - 3)
    return (math.tanh(middle - reach), math.tanh(middle + reach))


def item_of(group: str, words: str, pairs: Pairs) -> Item:
    """Return the statistics of an item; a learner with several hand-ins counts once, with the mean of them."""
    own = [(fmean(got for got, _ in one), fmean(rest for _, rest in one)) for one in pairs.values()]
    count = len(own)
    if count < LEAST:
        return Item(group, words, count, None, None, None, f"only {count}: no figure below {LEAST}")
    got, rest = [one for one, _ in own], [other for _, other in own]
    r = pearson(got, rest)
    if r is None:
        return Item(group, words, count, fmean(got), None, None, "nothing to tell apart: all alike")
    return Item(group, words, count, fmean(got), r, fisher_interval(r, count), verdict_on(r, count))


def verdict_on(r: float, count: int) -> str:
    """Return in words how well an item tells strong from weak, and whether that is certain."""
    if r < 0.0:
        said = "the wrong way round: look at it"
    else:
        said = "tells well" if r >= WELL else "tells a little" if r >= POORLY else "hardly tells"
    return f"{said}, uncertain" if count < CERTAIN else said


# ---- the items of a class -------------------------------------------------------------------------------------------


def class_items(work: ClassWork) -> tuple[Item, ...]:
    """Return the statistics of all items: exercises, marks, faults drawn, rules and cautions."""
    return (*exercise_items(work), *mark_items(work), *fault_items(work), *rule_items(work), *caution_items(work))


def exercise_items(work: ClassWork) -> tuple[Item, ...]:
    """Return each exercise against the same learners' other exercises; all else is unknown with only one."""
    shares: dict[str, dict[str, float]] = defaultdict(dict)
    for one in work.hand_ins:
        shares[one.learner][one.exercise] = one.share
    found = []
    for exercise in work.exercises:
        pairs: Pairs = {}
        for learner, own in shares.items():
            others = [share for name, share in own.items() if name != exercise.id]
            if exercise.id in own and others:
                pairs[learner] = [(own[exercise.id], fmean(others))]
        found.append(item_of("exercise", exercise.title, pairs))
    return tuple(found)


def mark_items(work: ClassWork) -> tuple[Item, ...]:
    """Return each mark of each exercise against the other marks of the same hand-in."""
    found = []
    for exercise in work.exercises:
        by_mark: dict[str, Pairs] = defaultdict(lambda: defaultdict(list))
        for one in work.of(exercise.id):
            for name, mark in one.marks.items():
                rest = one.share_without((name,))
                if mark.maximum > 0.0 and rest is not None:
                    by_mark[name][one.learner].append((mark.score / mark.maximum, rest))
        for name, pairs in by_mark.items():
            title = exercise.places.get(name) or TITLES.get(name) or "Written answer"
            found.append(item_of("mark", f"{exercise.title}: {title.lower()}", pairs))
    return tuple(found)


def fault_items(work: ClassWork) -> tuple[Item, ...]:
    """Return each fault drawn: its diagnosis and cure against the other marks of the same hand-in."""
    names = ("diagnosis", "cure")

    def pair(one: HandIn) -> tuple[float, float] | None:
        rest = one.share_without(names)
        marks = [one.marks[name] for name in names if name in one.marks]
        most = sum(mark.maximum for mark in marks)
        return None if rest is None or most <= 0.0 else (sum(mark.score for mark in marks) / most, rest)

    found: dict[str, Pairs] = defaultdict(lambda: defaultdict(list))
    for one in work.hand_ins:
        own = pair(one)
        if own is not None and one.facts.truths:
            words = "; ".join(f"{truth.part_label}: {truth.fault_label}" for truth in one.facts.truths)
            found[words][one.learner].append(own)
    return tuple(item_of("fault", words, found[words]) for words in sorted(found))


def rule_items(work: ClassWork) -> tuple[Item, ...]:
    """Return each rule of method, kept or broken, against all marks but method of the same hand-in."""
    return _kept_items(work, "rule", "method", lambda one: one.facts.rules)


def caution_items(work: ClassWork) -> tuple[Item, ...]:
    """Return each caution, kept or broken, against all marks but safety of the same hand-in."""
    return _kept_items(work, "caution", "safety", lambda one: one.facts.cautions)


def _kept_items(
    work: ClassWork, group: str, mark: str, rules_in: Callable[[HandIn], Sequence[RuleFact]]
) -> tuple[Item, ...]:
    found: dict[str, Pairs] = defaultdict(lambda: defaultdict(list))
    for one in work.hand_ins:
        rest = one.share_without((mark,))
        for rule in rules_in(one):
            if rule.state != NOT_AT_STAKE and rest is not None:
                found[rule.sentence][one.learner].append((float(rule.state == KEPT), rest))
    return tuple(item_of(group, words, pairs) for words, pairs in found.items())
