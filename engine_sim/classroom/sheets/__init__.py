"""The reference sheets of the course, on paper and as pages, made from the simulator's and the marks' own data."""

from engine_sim.classroom.sheets.plays import DATA_FILE, as_text, brought_up_to_date, played
from engine_sim.classroom.sheets.printing import html_of, write_sheets
from engine_sim.classroom.sheets.register import FOLDER, SHEETS, Sheet, page_text

__all__ = [
    "DATA_FILE",
    "FOLDER",
    "SHEETS",
    "Sheet",
    "as_text",
    "brought_up_to_date",
    "html_of",
    "page_text",
    "played",
    "write_sheets",
]
