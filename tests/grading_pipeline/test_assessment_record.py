"""Each learner's record of assessment: one page of A4, however long the name and in whichever letters."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from pypdf import PdfReader
from report_kit import A4_PT, EXERCISE, NAMES, OTHER, make_course, pdf_text, text_of, worked

from engine_sim.classroom.course_root import ClassroomError, CourseRoot
from engine_sim.classroom.teaching.report.record import CAUTION, write_records
from engine_sim.classroom.teaching.right_to_left import as_printed
from engine_sim.marking.facts import Conditions, Facts, MarkFact, SumFact
from engine_sim.marking.sums import SUMS


@pytest.fixture(scope="module")
def course(tmp_path_factory) -> CourseRoot:
    return make_course(tmp_path_factory.mktemp("class"))


@pytest.fixture(scope="module")
def records(course) -> dict[str, Path]:
    (course.folder / "report").mkdir(mode=0o700, exist_ok=True)
    (course.folder / "report" / "school.txt").write_text("A school of no name\n", encoding="utf-8")
    pages = write_records(course, EXERCISE)
    return {place.stem: place for place in pages}


def test_everybody_whose_work_is_marked_has_a_record_of_one_page_of_a4(records):
    assert set(records) == {"ann", "ben", "cleo", "dirk"}
    for place in records.values():
        (page,) = PdfReader(place.with_suffix(".pdf")).pages
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(A4_PT, abs=0.1)


def test_a_record_says_what_was_assessed_how_and_with_which_result(records):
    said = text_of(records["ben"].read_text("utf-8"))
    for words in (
        "A school of no name",
        "It will not keep running",
        "Tank below the engine, mechanical lift pump",
        "check at the tank whether there is fuel, without believing the gauge",
        "exercise version 3, simulator version 7",
        "a hint: 2",
        "20 min on the boat's clock",
        "Passed.",
        CAUTION,
        "Remarks",
        "Assessor",
        "Date",
    ):
        assert words in said
    assert re.search(r"Together\s*21\s*35\s*21", said)


def test_a_record_names_what_failed_by_itself(records):
    said = text_of(records["dirk"].read_text("utf-8"))
    assert "This alone fails, whatever the points: The engine was flooded." in said
    assert "Not passed." in said


def test_odd_names_stand_in_records_as_they_are(records):
    for learner, place in records.items():
        page = place.read_text("utf-8")
        assert " ".join(NAMES[learner]) in text_of(page)
        assert "<script" not in page
    assert "D" * 40 in pdf_text(records["dirk"].with_suffix(".pdf"))
    assert "שרה"[::-1] == as_printed("שרה")


def test_a_school_may_be_given_and_long_names_still_fit(course):
    (place,) = write_records(course, EXERCISE, "S" * 200, learners=["dirk"])
    assert "S" * 200 in text_of(place.read_text("utf-8"))
    assert len(PdfReader(place.with_suffix(".pdf")).pages) == 1


def test_a_record_of_the_sums_names_each_sum_and_no_boat(tmp_path):
    marks = tuple(MarkFact(item.id, 2.0, 2.0) for item in SUMS)
    said = tuple(SumFact(item.id, item.title, item.objective, True, True) for item in SUMS)
    facts = Facts(exercise="sums", marks=marks, sums=said, versions={"scenario_version": 1, "simulator_version": 7})
    (place,) = write_records(make_course(tmp_path, {"sums": {"ann": facts}}), "sums")
    words = text_of(place.read_text("utf-8"))
    assert all(item.title in words for item in SUMS)
    assert "Passed." in words
    assert "Boat" not in words
    assert len(PdfReader(place.with_suffix(".pdf")).pages) == 1


def test_a_record_says_how_the_boat_lay(tmp_path):
    lies = Conditions(4.5, 0.8, -12.0, 3.0, "", 25.0)
    (place,) = write_records(
        make_course(tmp_path, {EXERCISE: {"ann": worked((5.0,) * 5, 3.0, conditions=lies)}}), EXERCISE
    )
    words = text_of(place.read_text("utf-8"))
    assert "rough sea, 4.5 °C, heeled 12° to port, bow 3° down, a shore to leeward, 25 min away" in words
    assert "Help allowednone" in words.replace("\n", "")


def test_without_marked_work_there_is_no_record(course):
    with pytest.raises(ClassroomError, match=r"No hand-in of Dead at the key is marked yet.*Mark it first"):
        write_records(course, OTHER)


# ---- letters from right to left -------------------------------------------------------------------------------------


def test_names_from_right_to_left_are_turned_and_joined_for_paper():
    """Alef alone, lam and feh joined; by Unicode's own names of the joined forms, from the right."""
    turned = as_printed("الف")
    assert (
        turned
        == "\N{ARABIC LETTER FEH FINAL FORM}\N{ARABIC LETTER LAM INITIAL FORM}\N{ARABIC LETTER ALEF ISOLATED FORM}"
    )
    assert as_printed("Anna (שר)") == "Anna (רש)"
    assert as_printed("O'Brían") == "O'Brían"
