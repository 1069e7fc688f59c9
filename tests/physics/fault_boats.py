"""Boats with faults as a learner finds them, and a row of the fault table as data: what is done, what must show."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import cache

import pytest

from engine_sim.attempt import Attempt
from engine_sim.circuit import load_layout
from engine_sim.scenarios import SetFault, compose_scenario

START = {"single_cylinder": "hand_start.swing_10"}
EVERYWHERE = ("electric_pump", "high_tank", "metal_bowl", "single_cylinder", "tank_below", "two_tanks")
LOW = ("metal_bowl", "tank_below", "two_tanks")
WITH_LEVER = tuple(name for name in EVERYWHERE if name != "electric_pump")
WITH_STARTER = tuple(name for name in EVERYWHERE if name != "single_cylinder")


@dataclass(frozen=True)
class Row:
    """A row of the fault table.

    ``does`` are steps ``part.action``; ``start``, ``bleed`` and ``bleed_pump`` stand for what starts that boat
    and makes fuel come at the screws of fine filter and injection pump.
    ``shows`` are keys of what must be noticed, ``a|b`` for either; on a sound boat none of them may show. ``after`` may
    show there too.
    """

    fault: str
    part: str
    does: str
    shows: str
    layouts: tuple[str, ...] = ("tank_below",)
    severity: float | None = None
    after: str = ""
    settings: tuple[tuple[str, float], ...] = field(default=())


def steps_on(layout: str, does: str) -> tuple[str, ...]:
    """Return the steps of a row on one boat, with a preheat before each start where there are plugs."""
    plugs = bool(load_layout(layout).parts_of("preheat"))
    start = (*(("preheat.heat_20",) if plugs else ()), START.get(layout, "starter.crank_10"))
    words = {"start": start, "bleed": _bleed(layout, "fine_filter"), "bleed_pump": _bleed(layout, "injection_pump")}
    return tuple(step for word in does.split() for step in words.get(word, (word,)))


def _bleed(layout: str, part: str) -> tuple[str, ...]:
    """Return how fuel is made to come at a bleed screw: by key or by lever."""
    if layout == "electric_pump":
        return ("engine.key_on", f"{part}.open_screw", "bench.wait_10s")
    return (f"{part}.open_screw", "lift_pump.lever_60")


@cache
def noticed(
    layout: str, faults: tuple[SetFault, ...], steps: tuple[str, ...], settings: tuple[tuple[str, float], ...] = ()
) -> tuple[tuple[str, str, str], ...]:
    """Play the steps on a boat; return part, key and sentence of everything noticed."""
    attempt = Attempt(compose_scenario(layout, list(faults), **dict(settings)))
    found = []
    for step in steps:
        played = attempt.act(*step.split("."))
        found += [(seen.part, seen.key, seen.text) for seen in played.observations]
    return tuple(found)


def missing(shows: str, keys: set[str]) -> list[str]:
    """Return which of the signs are not among the keys noticed."""
    return [sign for sign in shows.split() if not keys & set(sign.split("|"))]


def check(row: Row, layout: str) -> None:
    """Play a row on one boat and on a sound one; every sign shows on the one and none on the other."""
    steps = steps_on(layout, row.does)
    faulty = {key for _, key, _ in noticed(layout, (SetFault(row.fault, row.part, row.severity),), steps, row.settings)}
    sound = {key for _, key, _ in noticed(layout, (), steps, row.settings)}
    assert missing(f"{row.shows} {row.after}", faulty) == [], sorted(faulty - sound)
    told_anyway = [sign for sign in row.shows.split() if sound & set(sign.split("|"))]
    assert told_anyway == [], f"a sound boat shows them too: {told_anyway}"


def cases(rows: tuple[Row, ...]) -> list[object]:
    """Return every row with each of its layouts; one layout of each is quick, the others are longer proofs."""
    found: list[object] = []
    for row in rows:
        quick = "tank_below" if "tank_below" in row.layouts else row.layouts[0]
        for name in row.layouts:
            found.append(pytest.param(row, name, marks=[] if name == quick else [pytest.mark.slow]))
    return found


def case_id(value: object) -> str:
    """Return how a case is called in a test's name."""
    return f"{value.fault}@{value.part}" if isinstance(value, Row) else str(value)


def numbers_in(sentence: str) -> list[float]:
    """Return the numbers that a sentence tells."""
    return [float(number) for number in re.findall(r"\d+(?:\.\d+)?", sentence)]
