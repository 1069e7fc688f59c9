"""A learner's answers: the file in which they are kept and handed in, and the numbers that people write."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Mapping

from engine_sim.marking.sums.questions import SUMS, SUMS_EXERCISE, SUMS_VERSION

LONGEST_ANSWER = 40
_NUMBER = re.compile(r"[-+]?\d+(?:[.,]\d+)?")
_IDS = frozenset(item.id for item in SUMS)


def read_number(text: str) -> float | None:
    """Return the number that a person wrote, with point or comma, perhaps with its unit; None where there is none.

    >>> [read_number(text) for text in ("4.75", "4,75 h", " 286 strokes", "about six", "1 234")]
    [4.75, 4.75, 286.0, None, 1234.0]
    """
    plain = re.sub(r"(?<=\d)[\s\u00a0\u202f'](?=\d{3}\b)", "", text.strip())
    found = _NUMBER.findall(plain)
    if len(found) != 1:
        return None
    value = float(found[0].replace(",", "."))
    return value if math.isfinite(value) else None


def answer_line(ticket: str, answers: Mapping[str, str]) -> bytes:
    """Return the line that keeps all answers given so far under a ticket."""
    kept = {name: answers[name][:LONGEST_ANSWER] for name in sorted(answers) if name in _IDS and answers[name].strip()}
    record = {"exercise": SUMS_EXERCISE, "version": SUMS_VERSION, "ticket": ticket, "answers": kept}
    return json.dumps(record, ensure_ascii=False).encode("utf-8") + b"\n"


def last_answers(data: bytes, ticket: str) -> dict[str, str] | None:
    """Return the answers kept last under a ticket; None where no sound line has that ticket."""
    found = None
    for line in data.splitlines():
        record = _record(line)
        if record.get("exercise") == SUMS_EXERCISE and record.get("ticket") == ticket:
            found = _answers(record.get("answers"))
    return found


def _record(line: bytes) -> dict[str, object]:
    try:
        record = json.loads(line.decode("utf-8"))
    except (ValueError, RecursionError):
        return {}
    return record if isinstance(record, dict) else {}


def _answers(given: object) -> dict[str, str]:
    items = given.items() if isinstance(given, dict) else ()
    return {name: text[:LONGEST_ANSWER] for name, text in items if name in _IDS and isinstance(text, str)}
