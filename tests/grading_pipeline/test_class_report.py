"""The numbers of the report on a small class, each worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from class_kit import ask_less, tickets_with_a_shut_valve, work
from nbgrader.api import Gradebook
from report_kit import EXERCISE, NAMES, class_facts, keep, make_course, worked

from engine_sim.classroom.course_plan import lessons_in, sentence_of
from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.gradebook import gradebook_address, read_marks, tools_at_hand
from engine_sim.classroom.roster import COLUMNS, Roster, write_roster
from engine_sim.classroom.shipped import shipped
from engine_sim.classroom.teaching.report.advice import OBJECTIVE_OF, what_next
from engine_sim.classroom.teaching.report.hand_ins import all_marks
from engine_sim.classroom.teaching.report.numbers import ClassNumbers, Spread, class_numbers, spread
from engine_sim.classroom.worked_out import kept, look_at, worked_out
from engine_sim.marking import Mark
from engine_sim.marking.facts import Facts, MarkFact, SumFact
from engine_sim.marking.rules import RULES
from engine_sim.marking.safety import SAFETY_RULES
from engine_sim.marking.sums import SUMS

OBJECTIVE = "first_look.check_tank"


@pytest.fixture(scope="module")
def course(tmp_path_factory) -> CourseRoot:
    return make_course(tmp_path_factory.mktemp("class"))


@pytest.fixture(scope="module")
def numbers(course) -> ClassNumbers:
    return class_numbers(course)


def as_pairs(counts) -> list[tuple[str, int]]:
    return [(one.words, one.count) for one in counts]


def test_who_can_do_what_is_the_share_of_the_points(numbers):
    """35, 21, 14 and 0 of 35 points: 100, 60, 40 and 0 %; Evelina handed in nothing."""
    own = {learner: numbers.can_do[learner][OBJECTIVE] for learner in NAMES}
    assert [own[name].share for name in NAMES] == [1.0, 0.6, 0.4, 0.0, None]
    assert [own[name].state for name in NAMES] == ["yes", "partly", "not yet", "not yet", "not shown"]


def test_an_objective_in_two_exercises_counts_the_points_of_both(tmp_path):
    """Ann has 35 of 35 in one and 7 of 35 in the other: 42 of 70."""
    second = worked((1.0, 2.0, 1.0, 2.0, 1.0), 10.0, exercise="after_the_winter")
    both = make_course(tmp_path, {EXERCISE: class_facts(), "after_the_winter": {"ann": second}})
    found = class_numbers(both)
    shared = [one for one in found.objectives if len(one.exercises) == 2]
    for one in shared:
        assert found.can_do["ann"][one.id].share == pytest.approx(42 / 70)
    alone = next(one for one in found.objectives if one.exercises == ("after_the_winter",))
    assert found.can_do["ann"][alone.id].share == pytest.approx(0.2)
    assert found.can_do["ben"][alone.id].share is None


def test_where_the_order_broke(numbers):
    """Ben, Cleo and Dirk broke the rule of dip and valves, Ben and Dirk as their first; Cleo broke another first."""
    found = {one.id: (one.at_stake, one.broken, one.first, one.learners) for one in numbers.rules}
    assert found == {
        "fuel_there_and_open": (4, 3, 2, ("ben", "cleo", "dirk")),
        "does_it_crank": (4, 1, 1, ("cleo",)),
    }
    assert numbers.rules[0].id == "fuel_there_and_open"


def test_checks_helps_and_cautions_are_counted(numbers):
    assert as_pairs(numbers.first_checks) == [("look around", 2), ("tank: dip it", 1)]
    assert numbers.no_check == 1
    assert as_pairs(numbers.told_nothing) == [("look around", 2), ("tank: dip it", 1)]
    assert numbers.asked_coach == 2
    assert as_pairs(numbers.helps) == [("hint", 2)]
    assert [(one.id, one.at_stake, one.broken) for one in numbers.cautions] == [("tray_laid", 3, 2)]
    assert numbers.hard_fails == (("dirk", EXERCISE, "The engine was flooded."),)


def test_time_and_cranking_used(numbers):
    """10, 20, 30 and 40 minutes: median 25, quartiles 17.5 and 32.5; cranking is half of that in seconds."""
    (one,) = numbers.exercises
    assert one.minutes == Spread(4, 10.0, 17.5, 25.0, 32.5, 40.0)
    assert one.cranked_s == Spread(4, 5.0, 8.75, 12.5, 16.25, 20.0)
    assert spread([]) is None
    assert spread([3.0]) == Spread(1, 3.0, 3.0, 3.0, 3.0, 3.0)


def test_the_commonest_wrong_diagnosis_and_what_misled(numbers):
    (one,) = numbers.wrong
    assert (one.said, one.count) == ("fine filter: element choked with dirt", 2)
    assert as_pairs(one.really) == [("fine filter: full of air", 1), ("shut-off: shut", 1)]
    assert as_pairs(one.misled) == [("separator: The bowl is full of clear fuel.", 2)]
    assert (numbers.diagnoses, numbers.none_given) == (3, 1)


def test_who_passed_is_worked_out_from_the_marks_and_the_pass_line(numbers):
    """Ben reaches 21 of 35 with 3 of 5, 5 of 10 and 6 of 10; Cleo misses the total, Dirk failed by himself."""
    assert {one.learner: one.passed for one in numbers.work.hand_ins} == {
        "ann": True,
        "ben": True,
        "cleo": False,
        "dirk": False,
    }
    assert numbers.work.absent == {EXERCISE: ("eve",)}


def test_a_hard_fail_is_never_passed(tmp_path):
    facts = class_facts()
    failed = replace(facts["ann"], hard_fails=facts["dirk"].hard_fails)
    one = class_numbers(make_course(tmp_path, {EXERCISE: {"ann": failed}}))
    assert [item.passed for item in one.work.hand_ins] == [False]


def test_what_to_teach_next_is_learners_times_points(numbers):
    """Three broke the rule of 2 points, two the caution of 1, one the rule of 1: 6, 2 and 1."""
    points = {rule.id: rule.points for rule in (*RULES, *SAFETY_RULES)}
    assert [points[name] for name in ("fuel_there_and_open", "tray_laid", "does_it_crank")] == [2.0, 1.0, 1.0]
    found = what_next(numbers)
    assert [(one.learners, one.weight) for one in found] == [(3, 6.0), (2, 2.0), (1, 1.0)]
    assert found[0].lesson == "4. Is there fuel, and can it come?"


def test_every_rule_and_caution_has_an_objective_that_teaches_it():
    lessons = lessons_in(shipped("course") / "notebooks")
    assert set(OBJECTIVE_OF) == {rule.id for rule in (*RULES, *SAFETY_RULES)}
    for objective in OBJECTIVE_OF.values():
        assert sentence_of(objective, lessons)


def test_sums_count_by_their_own_objectives(tmp_path):
    marks = tuple(MarkFact(item.id, float(number == 0) * 2.0, 2.0) for number, item in enumerate(SUMS))
    said = tuple(
        SumFact(item.id, item.title, item.objective, number == 0, number < 2, 0 if number == 1 else -1, "So far.")
        for number, item in enumerate(SUMS)
    )
    one = class_numbers(make_course(tmp_path, {"sums": {"ann": Facts(exercise="sums", marks=marks, sums=said)}}))
    first = one.can_do["ann"][SUMS[0].objective]
    alike = [item for item in SUMS if item.objective == SUMS[0].objective]
    assert (first.points, first.maximum) == (2.0, 2.0 * len(alike))
    assert sum(count for _, count in as_pairs(one.slips)) == len(SUMS) - 1
    assert one.at_engines == 0


def test_a_hand_in_that_is_not_marked_yet_is_said(tmp_path):
    course = make_course(tmp_path)
    course.submitted("eve", EXERCISE).mkdir(parents=True)
    course.worked_out(EXERCISE, "eve").write_text("{broken", encoding="utf-8")
    found = class_numbers(course)
    assert (found.work.unmarked[EXERCISE], found.work.absent[EXERCISE]) == (("eve",), ())


def test_results_kept_before_there_were_facts_count_as_not_marked(tmp_path):
    course = make_course(tmp_path)
    keep(course, EXERCISE, "ann", None)
    assert [one.learner for one in class_numbers(course).work.hand_ins] == ["ben", "cleo", "dirk"]


@pytest.mark.slow
def test_points_given_by_hand_are_taken_from_the_gradebook(tmp_path):
    """The written answer with 4 of 5 points, and one that waits; all are asked for at once, as one by one."""
    course = make_course(tmp_path)
    with tools_at_hand(), Gradebook(gradebook_address(course)) as book:
        enter(book, {"ann": 4.0, "ben": None})
    marks = all_marks(course)
    for learner in ("ann", "ben"):
        one_by_one = read_marks(course, learner, EXERCISE)
        own = {name: mark and mark.score for name, mark in marks[learner, EXERCISE].items()}
        assert own == one_by_one.marks
    ann, ben, *_ = class_numbers(course).work.hand_ins
    assert (ann.marks["ashore"], ann.score, ann.maximum) == (Mark(4.0, 5.0), 39.0, 40.0)
    assert (ben.waiting, ben.maximum) == (1, 35.0)
    assert ann.passed


def enter(book: Gradebook, ashore: dict[str, float | None]) -> None:
    """Enter marks as nbgrader keeps them: those of the logbook, and a written answer marked by hand or not yet."""
    facts = class_facts()
    book.add_assignment(EXERCISE)
    book.add_notebook(EXERCISE, EXERCISE)
    for one in facts["ann"].marks:
        book.add_grade_cell(one.name, EXERCISE, EXERCISE, max_score=one.maximum, cell_type="code")
    book.add_grade_cell("ashore", EXERCISE, EXERCISE, max_score=5.0, cell_type="markdown")
    for learner, points in ashore.items():
        book.add_student(learner)
        book.add_submission(EXERCISE, learner)
        for one in facts[learner].marks:
            grade = book.find_grade(one.name, EXERCISE, EXERCISE, learner)
            grade.auto_score, grade.needs_manual_grade = one.score, False
        written = book.find_grade("ashore", EXERCISE, EXERCISE, learner)
        written.manual_score, written.needs_manual_grade = points, points is None
    book.db.commit()


def test_marking_keeps_the_facts_beside_the_marks(tmp_path):
    """A shut shut-off, found by its handle: the facts say so, and come back from the file as they were."""
    course = make_course(tmp_path / "class", {EXERCISE: {}})
    (ticket,) = tickets_with_a_shut_valve(1)
    write_roster(
        course.roster, Roster(COLUMNS, (dict(zip(COLUMNS, ("ann", "Ann", "Ankerberg", ticket), strict=True)),))
    )
    ask_less(course)
    handed_in = course.submitted("ann", EXERCISE)
    work(handed_in, ticket)
    facts = worked_out(course, "ann", EXERCISE).facts
    assert [(one.part, one.right) for one in facts.diagnoses] == [("shut_off", True)]
    assert (facts.ticket, facts.handed_in, facts.cured) == (ticket, True, False)
    assert kept(course, look_at(course, "ann", EXERCISE)).facts == facts
    (one,) = class_numbers(course).work.hand_ins
    assert one.facts == facts
