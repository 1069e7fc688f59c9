"""The logbook: JSON Lines, one record a line, each with a digest that hangs on all before it.

The first line names exercise, ticket and versions. A record's digest covers the digest before it, the record itself
and what was noticed, so that a line edited, moved, left out or added by hand shows.
"""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from engine_sim.attempt.records import Step
from engine_sim.scenarios import Scenario
from engine_sim.version import SIMULATOR_VERSION

LOGBOOK_VERSION = 1
LONGEST_LOGBOOK = 5_000_000
"""Bytes beyond which a logbook is not read: an evening's work takes less than a hundredth."""
LONGEST_LINE = 20_000
"""Bytes beyond which a line is not read."""

Record = Mapping[str, Any]
_KINDS = ("action", "note", "help", "diagnosis", "hand_in")


@dataclass(frozen=True, slots=True)
class LogbookReading:
    """What could be read: the header (None if there is none), the records up to the first unsound line, the findings.

    ``sound_bytes`` is where the sound part ends.
    """

    header: Record | None
    records: tuple[Record, ...]
    findings: tuple[str, ...]
    sound_bytes: int


def header_record(scenario: Scenario) -> dict[str, Any]:
    """Return the first record of a logbook."""
    record: dict[str, Any] = {
        "kind": "opened",
        "logbook_version": LOGBOOK_VERSION,
        "simulator_version": SIMULATOR_VERSION,
        "exercise": scenario.exercise,
        "scenario_version": scenario.version,
        "ticket": scenario.ticket,
    }
    record["digest"] = _digest("", record, [])
    return record


def step_record(step: Step, previous_digest: str) -> dict[str, Any]:
    """Return the record of a step that follows a record with the digest given."""
    record: dict[str, Any] = {"n": step.number, "kind": step.kind, "clock_s": round(step.clock_s, 1)}
    if step.kind == "action":
        record |= {"part": step.part, "action": step.action}
    elif step.kind == "note":
        record["text"] = step.text
    elif step.kind == "help":
        record |= {"help": step.action, "text": step.text}
    elif step.kind == "diagnosis" and step.diagnosis is not None:
        said = step.diagnosis
        record |= {"part": said.part, "fault": said.fault, "evidence": list(said.evidence)}
    noticed = [[seen.part, seen.sense, seen.key, seen.text] for seen in step.observations]
    record["digest"] = _digest(previous_digest, record, noticed)
    return record


def line_of(record: Record) -> bytes:
    """Return a record as the line that is written."""
    return json.dumps(record, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"


def _digest(previous: str, record: Record, noticed: list[list[str]]) -> str:
    bare = {name: value for name, value in record.items() if name != "digest"}
    text = json.dumps([previous, bare, noticed], ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:24]


def read_logbook(data: bytes) -> LogbookReading:
    """Read a logbook as far as it is sound; never raise, whatever the bytes hold."""
    if len(data) > LONGEST_LOGBOOK:
        said = f"The logbook has {len(data)} bytes; at most {LONGEST_LOGBOOK} are read. It was not made by the bench."
        return LogbookReading(None, (), (said,), 0)
    header: Record | None = None
    records: list[Record] = []
    sound = 0
    for number, line in enumerate(data.splitlines(keepends=True), 1):
        record, trouble = _parse(line, number)
        if record is not None:
            trouble = _header_trouble(record) if number == 1 else _record_trouble(record, len(records) + 1)
        if trouble or record is None:
            return LogbookReading(header, tuple(records), (f"Line {number}: {trouble}",), sound)
        if number == 1:
            header = record
        else:
            records.append(record)
        sound += len(line)
    findings = () if header is not None else ("The logbook is empty.",)
    return LogbookReading(header, tuple(records), findings, sound)


def _parse(line: bytes, number: int) -> tuple[Record | None, str]:
    if len(line) > LONGEST_LINE:
        return None, f"it has {len(line)} bytes; the bench writes at most {LONGEST_LINE}."
    if not line.endswith(b"\n"):
        return None, "it is cut off, as when the power fails while it is written."
    try:
        record = json.loads(line.decode("utf-8"), parse_constant=_no_constant)
    except (UnicodeDecodeError, ValueError, RecursionError):
        return None, "it is not a line that the bench wrote."
    return (record, "") if isinstance(record, dict) else (None, "it is not a record.")


def _no_constant(name: str) -> None:
    raise ValueError(f"{name} is not allowed in a logbook")


def _header_trouble(record: Record) -> str:
    if record.get("kind") != "opened" or not isinstance(record.get("exercise"), str):
        return "the logbook does not begin with its opening record."
    if record.get("logbook_version") != LOGBOOK_VERSION:
        return (
            f"the logbook has version {record.get('logbook_version')!r}; this program reads version {LOGBOOK_VERSION}."
        )
    if not isinstance(record.get("ticket"), str) or record.get("digest") != _digest("", record, []):
        return "the opening record was changed after it was written."
    return ""


def _record_trouble(record: Record, expected: int) -> str:
    if record.get("kind") not in _KINDS:
        return f"the kind {str(record.get('kind'))[:40]!r} is unknown."
    if record.get("n") != expected:
        given = str(record.get("n"))[:20]
        return f"it carries number {given}, but {expected} comes next: a line is missing, moved or added."
    clock = record.get("clock_s")
    if isinstance(clock, bool) or not isinstance(clock, int | float) or not math.isfinite(clock):
        return "its clock is no number."
    return "" if isinstance(record.get("digest"), str) else "its digest is missing."
