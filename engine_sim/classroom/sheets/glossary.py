"""The glossary as a sheet: the names of the course, what they mean, and what others call the same thing."""

from __future__ import annotations

from html import escape

from engine_sim.classroom.sheets.markup import heading, paragraph, table
from engine_sim.wording import glossary as entries

TITLE = "Glossary"
_ABOUT = (
    "One thing has one name in this course. Manuals and shops have others; the last column gives those that you will "
    "meet. They stand in the order of the fuel's way, from the tank to the injectors."
)
_COLUMNS = (("Name", 20), ("What it is", 50), ("Others say", 30))


def glossary() -> str:
    """Return the sheet as HTML."""
    rows = [
        (f"<strong>{escape(one.name)}</strong>", escape(one.means), escape(", ".join(one.also_called)))
        for one in entries()
    ]
    return heading(1, TITLE) + paragraph(_ABOUT) + table(_COLUMNS, rows)
