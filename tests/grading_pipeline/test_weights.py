"""Weights chosen for one exercise: it is marked by them, and its page states them before anybody works it."""

from __future__ import annotations

import json
import re
import tomllib

import pytest
from class_kit import EXERCISE, LOGBOOK, LOOKS, class_that_handed_in, marks_of, stored_marks, tickets_with_a_shut_valve

from engine_sim.classroom.course_root import ClassroomError
from engine_sim.classroom.mark_submissions import mark_course
from engine_sim.classroom.pass_line import pass_line_in_words, points_in_words, restated
from engine_sim.classroom.reweighing import reweighed
from engine_sim.classroom.weights import choose_weights
from engine_sim.errors import UnknownName
from engine_sim.marking import default_scheme, load_marking_scheme, usual_scheme_file
from engine_sim.marking.scheme import SECTIONS, BadMarkingScheme, parse_marking_scheme, parts_of_mark

USUAL = usual_scheme_file().read_text("utf-8")
OTHER = {"safety": 7.5, "method": 20.0, "diagnosis": 4.0, "cure": 7.0, "housekeeping": 3.0}


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    """A class of one who handed in a poor piece of work, not marked yet."""
    (ticket,) = tickets_with_a_shut_valve(1)
    return class_that_handed_in(tmp_path_factory.mktemp("weights"), {"ada": ticket}, {"ada": LOOKS})


def text_of(course) -> str:
    """Return what the head of the exercise's page says."""
    cells = json.loads(course.source(EXERCISE).read_text("utf-8"))["cells"]
    return "".join(cells[0]["source"])


def test_parts_follow_in_proportion_and_everything_else_stays_as_it_was_written():
    before, after = tomllib.loads(USUAL), tomllib.loads(reweighed(USUAL, "soft_lever", OTHER))
    assert after.pop("exercise") == "soft_lever" and before.pop("exercise") == "every"
    assert after.pop("weights") == OTHER
    whole = before.pop("weights")
    for name in SECTIONS:
        for key, value in before.get(name, {}).items():
            scale = OTHER[name] / whole[name] if key in parts_of_mark(name) else 1.0
            assert after[name][key] == pytest.approx(value * scale), (name, key)
    remarks = [line.split("#", 1)[1] for line in USUAL.splitlines() if "#" in line]
    assert [line.split("#", 1)[1] for line in reweighed(USUAL, "x", OTHER).splitlines() if "#" in line] == remarks


def test_weighed_there_and_back_is_the_usual_scheme_again():
    back = reweighed(reweighed(USUAL, "every", OTHER), "every", tomllib.loads(USUAL)["weights"])
    assert parse_marking_scheme(back) == default_scheme()


@pytest.mark.parametrize(
    ("weights", "says"),
    [
        ({"method": 0.0}, "Method was given 0 points; a mark may have 1 to 100, in steps of 0.5"),
        ({"cure": 10.25}, "in steps of 0.5"),
        ({"cure": float("nan")}, "Cure was given nan"),
        ({"neatness": 3.0}, "'neatness' is no mark. There are safety, method"),
    ],
)
def test_a_weight_that_cannot_be_is_refused_and_nothing_is_written(course, weights, says):
    with pytest.raises(BadMarkingScheme, match=says):
        choose_weights(course, EXERCISE, weights)
    assert not course.own_scheme(EXERCISE).exists()


def test_sums_and_what_is_no_exercise_have_no_weights(course):
    with pytest.raises(ClassroomError, match="no weights"):
        choose_weights(course, "sums", OTHER)
    with pytest.raises(UnknownName):
        choose_weights(course, "no_such_thing", OTHER)


def test_a_text_is_stated_anew_only_where_it_states_points():
    scheme = parse_marking_scheme(reweighed(USUAL, "x", OTHER))
    page = f"Marked: {points_in_words(default_scheme())}. More.\n\n{pass_line_in_words(default_scheme())}\nEnd."
    assert restated(page, scheme) == f"Marked: {points_in_words(scheme)}. More.\n\n{pass_line_in_words(scheme)}\nEnd."
    assert restated(page, default_scheme()) == page
    assert restated("Your safety, and 5 points.", scheme) == "Your safety, and 5 points."


def test_the_page_states_what_was_chosen_and_marking_goes_by_it(course):
    before = text_of(course)
    said = str(choose_weights(course, EXERCISE, {"safety": 7.5, "cure": 12.0}))
    assert "safety 7.5 points, method 10, diagnosis 5, cure 12, housekeeping 5" in said
    assert "1 handed in before the points were changed: tell them, and mark again." in said
    page = text_of(course)
    assert "at the bench: safety 7.5 points, method 10, diagnosis 5, cure 12, housekeeping 5." in page
    # By hand: 0.6 of 39.5 = 23.7, half of 7.5 = 3.75, half of 10 = 5, 0.6 of 12 = 7.2.
    assert "You pass with at least 23.7 of these 39.5 points, among them at least 3.75 for safety, 5 for method" in page
    assert "and 7.2 for cure." in page
    digits = re.compile(r"[\d.]+")
    assert digits.sub("", page) == digits.sub("", before), "nothing but figures is changed"
    mark_course(course.folder, EXERCISE)
    data = (course.submitted("ada", EXERCISE) / LOGBOOK).read_bytes()
    ticket = json.loads(data.splitlines()[0])["ticket"]
    assert stored_marks(course, "ada") == marks_of(data, ticket, course)
    assert load_marking_scheme(course.scheme(EXERCISE)).weights.of("cure") == 12.0
    assert load_marking_scheme(course.usual_scheme).weights == default_scheme().weights
    assert str(choose_weights(course, EXERCISE, {"safety": 7.5})).endswith("Nothing is changed.")
