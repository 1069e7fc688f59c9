"""Reads the pools (TOML) and draws a scenario for a ticket: same exercise, version and ticket, same draw everywhere."""

from __future__ import annotations

import hashlib
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any, TypeVar

from engine_sim.circuit import layout_names
from engine_sim.errors import BadScenario, UnknownName
from engine_sim.faults import fault
from engine_sim.scenarios.scenario import Scenario, SetFault
from engine_sim.scenarios.tickets import check_ticket

_Choice = TypeVar("_Choice")


@dataclass(frozen=True, slots=True)
class Draw:
    """One fault that can be drawn, with the places and severities it may have."""

    fault: str
    parts: tuple[str, ...]
    possible_severity: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Pool:
    """An exercise as written: everything but the draw."""

    id: str
    version: int
    title: str
    story: str
    layout: str
    permits_xray: bool
    needs_ticket: bool
    draws: tuple[Draw, ...]


def exercises() -> tuple[str, ...]:
    """Return the ids of all exercises."""
    folder = resources.files("engine_sim.scenarios").joinpath("pools")
    return tuple(sorted(entry.name[:-5] for entry in folder.iterdir() if entry.name.endswith(".toml")))


@cache
def pool(exercise: str) -> Pool:
    """Return an exercise by its id; raise UnknownName if there is none, BadScenario if its file is wrong."""
    if exercise not in exercises():
        raise UnknownName("exercise", exercise, exercises())
    path = resources.files("engine_sim.scenarios").joinpath("pools", f"{exercise}.toml")
    return read_pool(path.read_text(encoding="utf-8"))


def read_pool(text: str) -> Pool:
    """Return the exercise written in ``text`` (TOML)."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as broken:
        raise BadScenario(f"The exercise file cannot be read: {broken}. Mend that line.") from broken
    layout = _field(data, "layout", str)
    if layout not in layout_names():
        raise UnknownName("layout", layout, layout_names())
    draws = tuple(_draw(table) for table in data.get("draw", []))
    return Pool(
        _field(data, "id", str),
        _field(data, "version", int),
        _field(data, "title", str),
        _field(data, "story", str),
        layout,
        _field(data, "permits_xray", bool),
        _field(data, "needs_ticket", bool),
        draws,
    )


def _field(data: Mapping[str, Any], name: str, kind: type[_Choice]) -> _Choice:
    value = data.get(name)
    if not isinstance(value, kind):
        raise BadScenario(
            f"{name} was given as {value!r}; it must be a {kind.__name__}. Change it in the exercise file."
        )
    return value


def _draw(table: Mapping[str, Any]) -> Draw:
    item = fault(str(table.get("fault")))
    parts = tuple(str(part) for part in table.get("parts", item.parts))
    severities = tuple(float(value) for value in table.get("severities", [item.severity.usual.value]))
    if not parts or not severities:
        raise BadScenario(f"The draw of {item.id!r} has no parts or no severities; name at least one of each.")
    for part in parts:
        if part not in item.parts:
            raise UnknownName(f"place of the fault {item.id!r}", part, item.parts)
    low, high = item.severity.low, item.severity.high
    if any(not low <= value <= high for value in severities):
        raise BadScenario(f"The severities {severities} of {item.id!r} must lie in {low:g} to {high:g}.")
    return Draw(item.id, parts, severities)


def draw_scenario(exercise: str, ticket: str) -> Scenario:
    """Return the scenario that a ticket draws; raise UnknownName or BadTicket for what does not exist.

    An exercise that needs no ticket takes an empty one.
    """
    plan = pool(exercise)
    plain = check_ticket(ticket) if plan.needs_ticket or ticket else ""
    faults = (_drawn(plan, plain),) if plan.draws else ()
    return Scenario(plan.id, plan.version, plain, plan.title, plan.story, plan.layout, plan.permits_xray, faults)


def _drawn(plan: Pool, ticket: str) -> SetFault:
    seed = hashlib.sha256(f"{plan.id}|{plan.version}|{ticket}".encode()).digest()
    item = _pick(plan.draws, seed[0:4])
    return SetFault(item.fault, _pick(item.parts, seed[4:8]), _pick(item.possible_severity, seed[8:12]))


def _pick(choices: Sequence[_Choice], seed: bytes) -> _Choice:
    return choices[int.from_bytes(seed, "big") % len(choices)]
