"""The report on a small class as a page and as a PDF: odd names, nothing of anybody in an anonymous one."""

from __future__ import annotations

import re
import stat
from collections import Counter
from html.parser import HTMLParser

import pytest
from pypdf import PdfReader
from report_kit import A4_PT, NAMES, OTHER, TICKETS, make_course, pdf_text, text_of, worked

from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.roster import Learner
from engine_sim.classroom.teaching.report.report_page import names_of, write_report
from engine_sim.classroom.teaching.right_to_left import as_printed

PROGRAMMERS_WORDS = r"\b(cells?|kernel|code|notebooks?|traceback|JSON|Python|None|null|nan)\b(?<!None\.)"


@pytest.fixture(scope="module")
def course(tmp_path_factory) -> CourseRoot:
    return make_course(tmp_path_factory.mktemp("class"))


@pytest.fixture(scope="module")
def report(course) -> str:
    return write_report(course).read_text("utf-8")


class Tags(HTMLParser):
    """Collects the elements of a page with their attributes."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


def test_the_report_says_what_it_was_made_from(report):
    said = text_of(report)
    assert "5 learners are on the roster; 4 hand-ins are counted here." in said
    assert "exercise version 3, simulator version 7, marking scheme version 2" in said
    assert re.search(r"Made on \d{1,2} \w+ 20\d\d", said)
    assert "It will not keep running: Evelina Absent & Away" in said


def test_odd_names_stand_in_the_report_as_they_are_and_do_nothing(report):
    said = text_of(report)
    for first, last in NAMES.values():
        assert f"{first} {last}" in said
    assert "<script" not in report
    assert "http://" not in report.replace("http://www.w3.org/", "")
    assert "default-src 'none'" in report


def test_every_table_has_heads_and_a_name_and_every_picture_its_words(report):
    found = Tags(report).found
    names = [about["id"] for _, about in found if "id" in about]
    assert not [name for name, count in Counter(names).items() if count > 1]
    tables = [about for tag, about in found if tag == "table"]
    assert len(tables) > 6
    assert all(about["aria-labelledby"] in names for about in tables)
    heads = [about for tag, about in found if tag == "th"]
    assert all(about.get("scope") in ("col", "row") for about in heads)
    pictures = re.findall(r"<svg[^>]*><title>[^<]+</title><desc>[^<]+</desc>", report)
    assert len(pictures) == report.count("<svg") >= 4


def test_the_report_holds_no_word_of_programmers(report):
    assert not re.findall(PROGRAMMERS_WORDS, text_of(report))


def test_the_report_and_its_folder_are_closed_to_others(course, report):
    place = course.folder / "report" / "class_report.html"
    assert stat.S_IMODE(place.stat().st_mode) == 0o600
    assert stat.S_IMODE(place.parent.stat().st_mode) == 0o700


def test_the_pdf_says_the_same_on_a4(course, report):
    place = course.folder / "report" / "class_report.pdf"
    reader = PdfReader(place)
    assert all(
        (float(p.mediabox.width), float(p.mediabox.height)) == pytest.approx(A4_PT, abs=0.1) for p in reader.pages
    )
    said = " ".join(pdf_text(place).split())
    for words in ("Class report", "What to teach next", "Wrong diagnoses", "element choked with dirt", "Ánn O'Brían"):
        assert words in said
    assert reader.metadata.title == "Class report"


def test_an_anonymous_report_holds_no_name_id_or_ticket(course):
    place = write_report(course, anonymous=True)
    for said in (text_of(place.read_text("utf-8")), place.read_text("utf-8"), pdf_text(place.with_suffix(".pdf"))):
        for learner, names in NAMES.items():
            for secret in (*names, TICKETS[learner], as_printed(names[0])):
                assert secret not in said
            assert not re.search(rf"\b{learner}\b", said)
        assert "Learner 5" in said


def test_the_order_of_an_anonymous_report_does_not_follow_the_roster():
    """Of fifty learners the roster's own order comes by lot once in 50! times."""
    learners = [Learner(f"id{n}", "First", "Last", "") for n in range(50)]
    called = names_of(learners, anonymous=True)
    assert sorted(called.values()) == sorted(f"Learner {n}" for n in range(1, 51))
    assert list(called) != [one.learner_id for one in learners]


def test_two_learners_of_one_name_are_told_apart():
    learners = [Learner("a1", "Ana", "Ana", ""), Learner("a2", "Ana", "Ana", ""), Learner("b", "", "", "")]
    assert names_of(learners, anonymous=False) == {"a1": "Ana Ana (a1)", "a2": "Ana Ana (a2)", "b": "b"}


def test_a_class_without_marks_gets_a_page_that_says_so(tmp_path):
    place = write_report(make_course(tmp_path, {OTHER: {}}))
    assert "Nothing has been marked yet." in text_of(place.read_text("utf-8"))
    assert place.with_suffix(".pdf").is_file()


def test_an_exercise_that_the_course_does_not_know_is_reported_by_its_name(tmp_path):
    course = make_course(tmp_path, {"my_own_boat": {"ann": worked((5.0,) * 5, 10.0, exercise="my_own_boat")}})
    said = text_of(write_report(course).read_text("utf-8"))
    assert "my own boat" in said
    assert "These exercises name no objective." in said
