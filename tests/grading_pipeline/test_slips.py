"""Tickets on slips: every name stays on its own slip, and every ticket can be read off the paper."""

from __future__ import annotations

import io

import pytest
from pypdf import PdfReader

from engine_sim.classroom.course_root import ClassroomError, at
from engine_sim.classroom.roster import COLUMNS, Learner, Roster, write_roster
from engine_sim.classroom.teaching.right_to_left import as_printed, joined
from engine_sim.classroom.teaching.slips import PER_PAGE, SLIP_MM, SPOKEN, slips_file, slips_pdf, spoken, write_slips
from engine_sim.scenarios import new_ticket
from engine_sim.scenarios.tickets import ALPHABET

ODD_NAMES = (
    ("Maud", "Ankerberg"),
    ("Inês", "Gür-Łódzki"),
    ("=HYPERLINK(1)", "O'Brien <b>"),
    ("דוד", "בן־ארי"),
    ("X" * 200, ""),
    (" ".join(["Longer"] * 28), "Name"),
    ("", ""),
)
MM_PER_POINT = 25.4 / 72


@pytest.fixture(scope="module")
def class_of_odd_names():
    """The learners and their slips."""
    learners = [Learner(f"id-{n}", first, last, new_ticket()) for n, (first, last) in enumerate(ODD_NAMES)]
    return learners, PdfReader(io.BytesIO(slips_pdf(learners, ["Dead at the key"])))


def words_with_places(page) -> list[tuple[str, float, float]]:
    """Return each piece of text with its place from the left and from the top [mm]."""
    found: list[tuple[str, float, float]] = []
    height = float(page.mediabox.height)

    def visit(text, _user, matrix, _font, _size):
        if text.strip():
            found.append((text.strip(), matrix[4] * MM_PER_POINT, (height - matrix[5]) * MM_PER_POINT))

    page.extract_text(visitor_text=visit)
    return found


def test_slips_come_in_the_order_of_the_roster_five_on_a_sheet(class_of_odd_names):
    learners, pdf = class_of_odd_names
    assert len(pdf.pages) == -(-len(learners) // PER_PAGE) == 2
    text = "\n".join(page.extract_text() for page in pdf.pages)
    places = [text.index(learner.ticket) for learner in learners]
    assert places == sorted(places) and all(text.count(learner.ticket) == 1 for learner in learners)
    assert [float(side) * MM_PER_POINT for side in pdf.pages[0].mediabox[2:]] == pytest.approx([210, 297], abs=0.5)


def test_every_piece_of_text_stays_on_its_own_slip_and_on_the_sheet(class_of_odd_names):
    learners, pdf = class_of_odd_names
    for number, page in enumerate(pdf.pages):
        found = words_with_places(page)
        tops = [top for text, _, top in found if text in {learner.ticket for learner in learners}]
        here = learners[number * PER_PAGE : (number + 1) * PER_PAGE]
        assert len(tops) == len(here)
        for _, left, top in found:
            within = (top - 10.0) % SLIP_MM
            assert 15.0 <= left <= 195.0 and 3.0 < within < SLIP_MM - 3.0
        lows = [max(top for _, _, top in found if int((top - 10.0) // SLIP_MM) == n) for n in range(len(here))]
        assert all(low < 10.0 + (n + 1) * SLIP_MM - 3.0 for n, low in enumerate(lows))


def test_a_slip_says_whose_it_is_the_ticket_aloud_what_for_and_that_it_is_ones_own(class_of_odd_names):
    learners, pdf = class_of_odd_names
    text = " ".join(pdf.pages[0].extract_text().split())
    assert "Maud Ankerberg" in text and "Inês Gür-Łódzki" in text and "=HYPERLINK(1) O'Brien <b>" in text
    assert text.count("Yours alone") == PER_PAGE and text.count("For: Dead at the key.") == PER_PAGE
    assert spoken(learners[0].ticket) in text
    assert "id-6" in pdf.pages[1].extract_text()


def test_a_name_of_two_hundred_letters_is_on_its_slip_whole(class_of_odd_names):
    _, pdf = class_of_odd_names
    assert (
        sum(text.count("X") for text, left, _ in words_with_places(pdf.pages[0]) if left < 100 and "XX" in text) == 200
    )


def test_tickets_are_spelled_as_over_the_radio():
    """ITU Radio Regulations, Appendix 14: Alfa with f, Juliett with two t."""
    assert set(SPOKEN) == set(ALPHABET)
    assert spoken("A2JZ-X9WQ") == "Alfa two Juliett Zulu - X-ray nine Whiskey Quebec"
    letters = {sign: word for sign, word in SPOKEN.items() if sign.isalpha()}
    assert all(word[0].upper() == sign for sign, word in letters.items())


def test_right_to_left_names_stand_in_the_order_of_the_eye_and_arabic_is_joined():
    assert as_printed("דוד") == "דוד"[::-1]
    assert as_printed("Inês") == "Inês"
    assert joined("محمد") == "\ufee3\ufea4\ufee4\ufeaa", "meem at the beginning, hah and meem within, dal at the end"


def test_slips_are_written_beside_the_roster_for_the_instructor_alone(tmp_path):
    course = at(tmp_path)
    row = dict(zip(COLUMNS, ("maud", "Maud", "Ankerberg", new_ticket()), strict=True))
    write_roster(course.roster, Roster(COLUMNS, (row,)))
    place = write_slips(course, ["sums"])
    assert place == slips_file(course) and place.stat().st_mode & 0o077 == 0
    assert "Sums for sailors" in PdfReader(place).pages[0].extract_text()


def test_somebody_without_a_ticket_is_named_and_an_empty_class_is_said(tmp_path):
    course = at(tmp_path)
    write_roster(course.roster, Roster(COLUMNS, (dict(zip(COLUMNS, ("maud", "Maud", "A", ""), strict=True)),)))
    with pytest.raises(ClassroomError, match="have no ticket yet: maud"):
        write_slips(course)
    write_roster(course.roster, Roster(COLUMNS, ()))
    with pytest.raises(ClassroomError, match="Nobody is on the roster"):
        write_slips(course)
