"""Item statistics against scipy, and against figures reckoned by hand."""

from __future__ import annotations

import math
import random
from types import SimpleNamespace

import pytest
from scipy import stats

from engine_sim.classroom.course_plan import exercise_named
from engine_sim.classroom.teaching.report.hand_ins import ClassWork, HandIn
from engine_sim.classroom.teaching.report.items import (
    class_items,
    exercise_items,
    fisher_interval,
    item_of,
    mark_items,
    pearson,
    rule_items,
)
from engine_sim.marking import TITLES, Mark
from engine_sim.marking.facts import BROKEN, KEPT, Facts, FaultFact, RuleFact

FIRST, SECOND = "no_start_harbour", "dead_at_the_key"


def drawn_by_lot(count: int, seed: int = 7) -> tuple[list[float], list[float]]:
    lot = random.Random(seed)
    xs = [lot.random() for _ in range(count)]
    return xs, [0.6 * x + 0.4 * lot.random() for x in xs]


def hand_in(learner: str, exercise: str, shares: list[float], kept: bool = True) -> HandIn:
    marks = {name: Mark(share * 5.0, 5.0) for name, share in zip(TITLES, shares, strict=True)}
    rule = RuleFact("does_it_crank", "Find out first.", "precedence", KEPT if kept else BROKEN)
    fault = FaultFact("shut_off", "shut_valve", "shut-off", "shut")
    return HandIn(learner, exercise, Facts(exercise=exercise, rules=(rule,), truths=(fault,)), marks)


def class_of(*hand_ins: HandIn) -> ClassWork:
    learners = {one.learner: SimpleNamespace() for one in hand_ins}
    names = dict.fromkeys(one.exercise for one in hand_ins)
    return ClassWork(learners, tuple(exercise_named(name) for name in names), hand_ins)


@pytest.mark.parametrize("count", [10, 30, 300])
def test_correlation_and_its_interval_are_those_of_scipy(count: int):
    xs, ys = drawn_by_lot(count)
    reference = stats.pearsonr(xs, ys)
    r = pearson(xs, ys)
    assert r == pytest.approx(reference.statistic, abs=1e-12)
    low, high = reference.confidence_interval(0.95)
    assert fisher_interval(r, count) == pytest.approx((low, high), abs=1e-9)


def test_an_item_that_is_right_or_wrong_has_the_point_biserial_correlation_of_scipy():
    _, ys = drawn_by_lot(40)
    right = [float(y > 0.5) for y in ys]
    assert pearson(right, ys) == pytest.approx(stats.pointbiserialr(right, ys).statistic, abs=1e-12)


def test_the_point_biserial_reckoned_by_hand():
    """Three right with 10, 9 and 8 points, two wrong with 4 each.

    Means 9 and 4, all together 7; the squares are 9 + 4 + 1 + 9 + 9 = 32, so that the standard deviation is
    sqrt(32 / 5); r = (9 - 4) / sqrt(32 / 5) x sqrt(3/5 x 2/5).
    """
    by_hand = (9 - 4) / math.sqrt(32 / 5) * math.sqrt(0.6 * 0.4)
    assert round(by_hand, 4) == 0.9682
    assert pearson([1, 1, 1, 0, 0], [10, 9, 8, 4, 4]) == pytest.approx(by_hand)


def test_the_interval_reckoned_by_hand():
    """For r = 0.5 and n = 28, Fisher's z is 0.5493 with the deviation 1 / sqrt(25): from 0.1573 to 0.9413."""
    low, high = fisher_interval(0.5, 28)
    assert (round(math.atanh(low), 4), round(math.atanh(high), 4)) == (0.1573, 0.9413)
    assert (round(low, 3), round(high, 3)) == (0.156, 0.736)


def test_the_item_itself_is_left_out_of_what_it_is_compared_with():
    """One mark that is drawn by lot among marks that are all alike: with itself in it, it would seem to tell."""
    work = class_of(*(hand_in(f"l{n}", FIRST, [float(n % 2), *[n // 2 / 20] * 4]) for n in range(40)))
    safety = next(one for one in mark_items(work) if one.words.endswith(": safety"))
    assert safety.discrimination == pytest.approx(0.0, abs=1e-12)
    assert safety.facility == 0.5
    whole = [one.share for one in work.hand_ins]
    assert pearson([float(n % 2) for n in range(40)], whole) > 0.3


def test_a_small_class_gets_words_and_no_figure():
    item = item_of("mark", "safety", {f"l{n}": [(n / 9, n / 9)] for n in range(9)})
    assert (item.facility, item.discrimination, item.interval) == (None, None, None)
    assert item.verdict == "only 9: no figure below 10"


def test_a_middling_class_gets_a_figure_that_is_called_uncertain():
    xs, ys = drawn_by_lot(12)
    item = item_of("mark", "safety", {f"l{n}": [pair] for n, pair in enumerate(zip(xs, ys, strict=True))})
    assert item.verdict == "tells well, uncertain"
    assert item.interval[0] < item.discrimination < item.interval[1]


def test_where_all_are_alike_nothing_is_told_apart():
    item = item_of("mark", "safety", {f"l{n}": [(1.0, n / 40)] for n in range(40)})
    assert (item.facility, item.discrimination) == (1.0, None)
    assert "all alike" in item.verdict


def test_an_item_on_which_the_strong_do_worse_is_called_the_wrong_way_round():
    item = item_of("mark", "safety", {f"l{n}": [(1 - n / 40, n / 40)] for n in range(40)})
    assert item.discrimination == pytest.approx(-1.0)
    assert item.verdict.startswith("the wrong way round")


def test_a_learner_with_two_hand_ins_counts_once():
    work = class_of(
        *(hand_in(f"l{n}", name, [n / 12] * 5, n > 5) for n in range(12) for name in (FIRST, SECOND)),
    )
    (rule,) = rule_items(work)
    assert rule.count == 12
    assert rule.facility == 0.5
    assert rule.discrimination == pytest.approx(stats.pointbiserialr([0] * 6 + [1] * 6, range(12)).statistic)


def test_an_exercise_alone_cannot_be_compared_with_others():
    work = class_of(*(hand_in(f"l{n}", FIRST, [n / 40] * 5) for n in range(40)))
    (item,) = exercise_items(work)
    assert (item.count, item.discrimination) == (0, None)


def test_every_kind_of_item_is_reckoned():
    work = class_of(*(hand_in(f"l{n}", name, [n / 40] * 5, n > 9) for n in range(40) for name in (FIRST, SECOND)))
    assert {one.group for one in class_items(work)} == {"exercise", "mark", "fault", "rule"}
    fault = next(one for one in class_items(work) if one.group == "fault")
    assert (fault.words, fault.count) == ("shut-off: shut", 40)
