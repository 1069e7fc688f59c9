"""The fault finder: from what a person notices to what it can be and what to check, the cheapest first."""

from __future__ import annotations

from html import escape

from engine_sim.classroom.sheets import finder
from engine_sim.classroom.sheets.finder import Cause, Row
from engine_sim.classroom.sheets.markup import (
    bullets,
    heading,
    numbered,
    paragraph,
    sentence,
    strong,
    table,
    time_words,
)
from engine_sim.classroom.sheets.noticed import GROUPS, Group, Sign
from engine_sim.classroom.sheets.noticed_words import WORDS
from engine_sim.wording import MANUAL_FIRST

TITLE = "Fault finder"
_COLUMNS = (("You notice", 27), ("It can be, the likeliest first", 34), ("Check, the cheapest first", 39))
_LOOKS = (("Look", 36), ("It shows → it is", 64))
_HOW = (
    "Make the boat safe, find out how the engine turns, and go to the sign that you see, hear or feel.",
    "The middle column says what it can be, the likeliest first. The right one says what tells these apart, the "
    "cheapest first; the numbers behind a check are those of the middle column.",
    "With an electric lift pump, turn the key on where the sheet says to work the hand lever; without a starter, swing "
    "the handle.",
    "Look before you open, open one thing at a time, and shut it again before the next.",
)
_BOUND = "\N{NO-BREAK SPACE}"
_MADE_FROM = (
    "Signs, times and tools are those of the course's own simulator, in which each fault was played on every boat. "
    "How likely each is, is judgement."
)


def fault_finder() -> str:
    """Return the sheet as HTML."""
    parts = [heading(1, TITLE), paragraph(_MADE_FROM), bullets(_HOW), strong(MANUAL_FIRST)]
    parts += [_group(group) for group in GROUPS]
    parts += [heading(2, "What a look shows at once"), table(_LOOKS, _look_rows()), _silent()]
    return "".join(parts)


def words_of(sign: Sign) -> str:
    """Return a row's sign as a sentence, or several."""
    if sign.not_before and sign.keys[0] == "engine.dies":
        return WORDS["engine.dies under load"]
    return " ".join(key_words(key) for key in (sign.keys[0], *sign.also))


def key_words(key: str) -> str:
    """Return what is noticed by a sign's name, as a sentence without figures."""
    return WORDS.get(key) or sentence(key.rstrip("+-").split(".")[1])


def _group(group: Group) -> str:
    rows = [finder.row_of(sign) for sign in group.signs]
    cells = [(escape(words_of(row.sign)), _causes(row), _checks(row)) for row in rows if row.causes]
    said = paragraph(group.says) if group.says else ""
    return heading(2, group.title) + said + _noticed_by(group) + table(_COLUMNS, cells)


def _noticed_by(group: Group) -> str:
    """Return how the signs of a group are come upon, with times and tools."""
    said = "; or ".join(f"{check.words} ({_costs(check)})" for check in map(finder.check_of, group.at))
    return paragraph(f"Noticed by: {said}.")


def _costs(check: finder.Check) -> str:
    return ", ".join((time_words(check.seconds), *check.tools))


def _told_where(sign: Sign, cause: Cause) -> str:
    where = finder.only_where(sign, cause)
    return finder.cause_words(cause) + (f" ({where})" if where else "")


def _causes(row: Row) -> str:
    return numbered(_told_where(row.sign, cause) for cause in row.causes).strip()


def _checks(row: Row) -> str:
    lines = []
    for check, causes in row.checks:
        numbers = sorted(row.causes.index(cause) + 1 for cause in causes)
        tools = f" ({', '.join(check.tools)})" if check.tools else ""
        lines.append(f"{time_words(check.seconds)} – {check.words}{tools}{_listed(numbers)}")
    told = {cause for _, causes in row.checks for cause in causes}
    left = [number for number, cause in enumerate(row.causes, start=1) if cause not in told]
    if len(row.causes) > 1 and left:
        lines.append(f"what is left when these show nothing{_listed(left)}")
    return bullets(lines).strip() if len(row.causes) > 1 else "This sign tells it."


def _listed(numbers: list[int]) -> str:
    """Return the numbers of causes behind an arrow, none of it parted from the other at the end of a line."""
    return f"{_BOUND}→{_BOUND}{f',{_BOUND}'.join(str(number) for number in numbers)}"


def _look_rows() -> list[tuple[str, str]]:
    rows = []
    for check, signs in finder.looks():
        told = [f"{key_words(key)} → {' or '.join(map(finder.cause_words, causes))}" for key, causes in signs]
        rows.append((escape(f"{check.words} ({_costs(check)})"), bullets(told).strip()))
    return rows


def _silent() -> str:
    causes = finder.silent_causes()
    if not causes:
        return ""
    said = "; ".join(finder.cause_words(cause) for cause in causes)
    return paragraph(f"None of these checks shows: {said}. Think of it when all else is ruled out.")
