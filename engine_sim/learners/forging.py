"""Learners who hand in what they have not done: another's logbook, or their own changed by hand."""

from __future__ import annotations

import json
from collections.abc import Sequence

from engine_sim.attempt import Step, read_logbook, replay
from engine_sim.attempt.logbook import header_record, line_of, step_record
from engine_sim.marking import MarkingScheme, MarkSheet
from engine_sim.marking.mark import sheet_of, sheet_of_nothing, why_not_marked
from engine_sim.marking.replaying import Recorder
from engine_sim.scenarios import Scenario


def logbook_of(scenario: Scenario, steps: Sequence[Step]) -> bytes:
    """Return the logbook that these steps leave."""
    records = [header_record(scenario)]
    for step in steps:
        records.append(step_record(step, str(records[-1]["digest"])))
    return b"".join(line_of(record) for record in records)


def copied(other: Scenario, steps: Sequence[Step]) -> bytes:
    """Return another learner's logbook as it is."""
    return logbook_of(other, steps)


def edited(scenario: Scenario, steps: Sequence[Step]) -> bytes:
    """Return a bad logbook made to look better: the first change becomes a look, the diagnosis the right one."""
    lines = logbook_of(scenario, steps).splitlines(keepends=True)
    truth = scenario.faults[0]
    for number, line in enumerate(lines):
        record = json.loads(line)
        if record.get("action") == "change_element":
            lines[number] = line_of(record | {"action": "look", "clock_s": float(record["clock_s"]) - 300.0})
        if record.get("kind") == "diagnosis":
            lines[number] = line_of(record | {"part": truth.part, "fault": truth.fault, "evidence": [1]})
    return b"".join(lines)


def mark_bytes(data: bytes, scenario: Scenario, scheme: MarkingScheme) -> MarkSheet:
    """Mark a logbook on a composed scenario as one that was handed in is marked."""
    reading = read_logbook(data)
    refusal = why_not_marked(reading, scenario)
    if refusal:
        return sheet_of_nothing(scheme, scenario, refusal, (refusal, *reading.findings))
    recorder = Recorder()
    return sheet_of(replay(reading, scenario, recorder.watch), recorder, reading, scenario, scheme, None)
