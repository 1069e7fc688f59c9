"""Plays a logbook again, against a given scenario, and stops where the two disagree."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from engine_sim.attempt.attempt import Attempt
from engine_sim.attempt.logbook import LogbookReading, Record, step_record
from engine_sim.attempt.records import Diagnosis, Step
from engine_sim.errors import EngineSimError
from engine_sim.scenarios import Scenario
from engine_sim.version import SIMULATOR_VERSION

Watch = Callable[[Attempt, Step | None], None]
"""Called with the attempt before anything is played, and then with each step that agrees, right after it was played."""


@dataclass(frozen=True, slots=True)
class Replay:
    """The attempt as far as the logbook agrees with the scenario; ``marked_up_to_line`` counts the header."""

    attempt: Attempt
    findings: tuple[str, ...]
    marked_up_to_line: int
    last_digest: str


def replay(reading: LogbookReading, scenario: Scenario, watch: Watch | None = None) -> Replay:
    """Play the records of a reading; never raise on what they hold. ``watch`` sees each step as it is played."""
    attempt = Attempt(scenario)
    findings = list(reading.findings)
    if reading.header is None:
        return Replay(attempt, tuple(findings), 0, "")
    findings += _version_findings(reading.header, scenario)
    if watch is not None:
        watch(attempt, None)
    digest, line = str(reading.header["digest"]), 1
    for record in reading.records:
        step = play_record(attempt, record)
        if step is None:
            findings.append(f"Line {line + 1}: it names something that does not exist at this bench.")
            break
        if step_record(step, digest) != dict(record) or step.kind == "refused":
            findings.append(
                f"Line {line + 1}: it does not follow from the lines before it. It was changed after it was written, "
                "or belongs to another exercise. Everything up to there counts."
            )
            attempt = _again(reading, scenario, line - 1)
            break
        if watch is not None:
            watch(attempt, step)
        digest, line = str(record["digest"]), line + 1
    return Replay(attempt, tuple(findings), line, digest)


def _version_findings(header: Record, scenario: Scenario) -> list[str]:
    pairs = (
        ("exercise", header.get("exercise"), scenario.exercise),
        ("ticket", header.get("ticket"), scenario.ticket),
        ("scenario version", header.get("scenario_version"), scenario.version),
        ("simulator version", header.get("simulator_version"), SIMULATOR_VERSION),
    )
    return [
        f"The logbook has the {name} {str(given)[:40]!r}; expected is {wanted!r}."
        for name, given, wanted in pairs
        if given != wanted
    ]


def _again(reading: LogbookReading, scenario: Scenario, count: int) -> Attempt:
    """Return the attempt after the first ``count`` records."""
    attempt = Attempt(scenario)
    for record in reading.records[:count]:
        play_record(attempt, record)
    return attempt


def play_record(attempt: Attempt, record: Record) -> Step | None:
    """Do what a record says, and return that step; return None where it names what does not exist."""
    try:
        kind = record["kind"]
        if kind == "action":
            return attempt.act(str(record.get("part")), str(record.get("action")))
        if kind == "note":
            return attempt.note(str(record.get("text", "")))
        if kind == "help":
            return attempt.ask_help(str(record.get("help")), str(record.get("text", "")))
        if kind == "hand_in":
            return attempt.hand_in()
        evidence = record.get("evidence", [])
        if not isinstance(evidence, list) or not all(type(number) is int for number in evidence):
            return None
        return attempt.diagnose(Diagnosis(str(record.get("part")), str(record.get("fault")), tuple(evidence)))
    except EngineSimError:
        return None
