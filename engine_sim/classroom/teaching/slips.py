"""Tickets on slips of paper, one for each learner, to cut and give out."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from fpdf import FPDF

from engine_sim.classroom.course_plan import exercise_named
from engine_sim.classroom.course_root import ClassroomError, CourseRoot, write_file
from engine_sim.classroom.feedback_pdf import TYPE, empty_sheet
from engine_sim.classroom.roster import Learner, read_roster
from engine_sim.classroom.teaching.name_letters import lines_that_fit, with_other_letters

MARGIN_MM, SLIP_MM, PER_PAGE = 10.0, 55.4, 5
WIDE_MM, TICKET_MM, PAD_MM = 190.0, 84.0, 5.0
LINE_SHARE, GREY, CUT_GREY = 0.42, 80, 130
NAME_PT, TITLES_PT, TICKET_PT, SMALL_PT = (15.0, 12.0, 9.5, 7.5), (10.0, 9.0, 8.0, 7.0), 32.0, 9.5
MOST_TITLES = 6
SPOKEN = {
    "2": "two", "3": "three", "4": "four", "5": "five", "6": "six", "7": "seven", "8": "eight", "9": "nine",
    "A": "Alfa", "B": "Bravo", "C": "Charlie", "D": "Delta", "E": "Echo", "F": "Foxtrot", "G": "Golf", "H": "Hotel",
    "J": "Juliett", "K": "Kilo", "L": "Lima", "M": "Mike", "N": "November", "P": "Papa", "Q": "Quebec", "R": "Romeo",
    "S": "Sierra", "T": "Tango", "U": "Uniform", "V": "Victor", "W": "Whiskey", "X": "X-ray", "Y": "Yankee",
    "Z": "Zulu",
}  # fmt: skip
"""Letters as they are spoken over the radio (ITU Radio Regulations, Appendix 14), figures as plain words."""
ALONE = "Yours alone: show this ticket to nobody. Work done with another ticket earns nothing."


def slips_file(course: CourseRoot) -> Path:
    """Return where the slips lie: beside the roster and not in what is handed out, because they name every ticket."""
    return course.folder / "slips.pdf"


def write_slips(course: CourseRoot, exercises: Iterable[str] = ()) -> Path:
    """Write everybody's slip, in the order of the roster, with the titles of some exercises; return where.

    Raises RosterError for an unsound roster, :class:`ClassroomError` where somebody has no ticket yet or nobody is on
    it, UnknownName for an exercise that there is none of.
    """
    learners = tuple(read_roster(course.roster).learners.values())
    if not learners:
        raise ClassroomError(f"Nobody is on the roster {course.roster}. Put your learners there, one on a line.")
    without = [one.learner_id for one in learners if not one.ticket]
    if without:
        raise ClassroomError(
            f"These learners have no ticket yet: {', '.join(without)}. Give them one with: "
            f"fuelcourse teach {course.folder}"
        )
    titles = [exercise_named(name, course.folder).title for name in dict.fromkeys(exercises)]
    write_file(slips_file(course), slips_pdf(learners, titles))
    return slips_file(course)


def slips_pdf(learners: Iterable[Learner], titles: Iterable[str] = ()) -> bytes:
    """Return the slips as a PDF of A4, five on a sheet."""
    pdf = empty_sheet(MARGIN_MM)
    pdf.set_title("Tickets")
    pdf.set_auto_page_break(False)
    with_other_letters(pdf)
    about = titles_in_words(list(titles))
    for number, learner in enumerate(learners):
        place = number % PER_PAGE
        if number and not place:
            pdf.add_page()
        one_slip(pdf, learner, about, MARGIN_MM + place * SLIP_MM)
    return bytes(pdf.output())


def titles_in_words(titles: list[str]) -> str:
    """Return for which exercises a ticket serves."""
    if not titles or len(titles) > MOST_TITLES:
        return "For every exercise of the course."
    return f"For: {'; '.join(titles)}."


def spoken(ticket: str) -> str:
    """Return a ticket as it is spelled aloud, group by group."""
    return " - ".join(" ".join(SPOKEN.get(letter, letter) for letter in group) for group in ticket.split("-"))


def one_slip(pdf: FPDF, learner: Learner, about: str, top_mm: float) -> None:
    """Lay one slip on the sheet, ``top_mm`` from its upper edge."""
    cut_lines(pdf, top_mm)
    left_mm, width_mm = MARGIN_MM + PAD_MM, WIDE_MM - TICKET_MM - 3.0 * PAD_MM
    name = f"{learner.first_name} {learner.last_name}".strip() or learner.learner_id
    below_mm = write_lines(pdf, name, (left_mm, top_mm + PAD_MM), width_mm, 4, NAME_PT, "B")
    pdf.set_text_color(GREY)
    below_mm = write_lines(pdf, learner.learner_id, (left_mm, below_mm), width_mm, 1, (SMALL_PT, 7.0, 5.0))
    pdf.set_text_color(0)
    write_lines(pdf, about, (left_mm, below_mm + 2.0), width_mm, 4, TITLES_PT)
    right_mm = MARGIN_MM + WIDE_MM - TICKET_MM - PAD_MM
    below_mm = write_lines(pdf, "Your ticket", (right_mm, top_mm + PAD_MM), TICKET_MM, 1, (SMALL_PT,))
    below_mm = write_lines(pdf, learner.ticket, (right_mm, below_mm), TICKET_MM, 1, (TICKET_PT, 24.0, 18.0), "B")
    below_mm = write_lines(pdf, spoken(learner.ticket), (right_mm, below_mm + 1.0), TICKET_MM, 2, (SMALL_PT, 8.0))
    write_lines(pdf, ALONE, (right_mm, below_mm + 1.5), TICKET_MM, 2, (SMALL_PT, 8.0), "B")


def cut_lines(pdf: FPDF, top_mm: float) -> None:
    """Draw where a slip is cut: above it and below."""
    pdf.set_draw_color(CUT_GREY)
    pdf.set_dash_pattern(dash=1.5, gap=1.5)
    for line_mm in (top_mm, top_mm + SLIP_MM):
        pdf.line(MARGIN_MM, line_mm, MARGIN_MM + WIDE_MM, line_mm)
    pdf.set_dash_pattern()


def write_lines(
    pdf: FPDF,
    text: str,
    where_mm: tuple[float, float],
    width_mm: float,
    most: int,
    sizes_pt: tuple[float, ...],
    style: str = "",
) -> float:
    """Write a text in at most so many lines, smaller where it is long; return where the next one begins [mm]."""
    x_mm, y_mm = where_mm
    size_pt, lines = lines_that_fit(pdf, text, width_mm, most, sizes_pt, style)
    pdf.set_font(TYPE, style, size_pt)
    for line in lines:
        pdf.set_xy(x_mm, y_mm)
        pdf.cell(width_mm, size_pt * LINE_SHARE, line)
        y_mm += size_pt * LINE_SHARE
    return y_mm
