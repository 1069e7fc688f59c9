"""Reads the pools (TOML) and draws a scenario for a ticket: same exercise, version and ticket, same draw everywhere.

The course's own pools are shipped with it; an instructor's own lie in folders that were announced
(:func:`engine_sim.scenarios.also_from`).

A pool says which boat, which weather and which faults can be drawn::

    id = "no_start_harbour"             # a short name without spaces
    version = 1                         # raised whenever a draw changes
    title = "It will not keep running"
    story = "What the learner reads first."
    layout = "tank_below"               # a layout's name
    permits_xray = false
    needs_ticket = true
    temperature_c = 12.0                # optional, degC; 20 if left out
    seaway = 0.3                        # optional, 0 calm to 1 rough
    heel_deg = 10.0                     # optional, to starboard
    pitch_deg = 0.0                     # optional, bow down
    tank_fill_share = 0.6               # optional, share of every tank when the trouble began
    lee_shore_min = 60.0                # optional, how long the boat may drift before she is ashore
    number = 3                          # optional, its place among the exercises
    minutes = 30                        # optional, about how long a learner takes
    objectives = ["air.find_joint"]     # optional, what it exercises: lesson and objective

    [[draw]]                            # one for each fault that can be drawn
    fault = "slack_joint"
    parts = ["separator_joint"]         # optional: everywhere it can sit if left out
    severities = [8.0e-9, 1.2e-8]       # optional, in the fault's own unit: its usual one if left out

    [[draw.also]]                       # optional: a second fault that comes with it
    fault = "loaded_element"
    parts = ["separator"]
    severities = [2.0e3]
"""

from __future__ import annotations

import hashlib
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache
from importlib import resources
from itertools import product
from typing import Any, TypeVar

from engine_sim.circuit import Layout, layout_names
from engine_sim.errors import BadScenario, OutOfRange, UnknownName
from engine_sim.faults import fault
from engine_sim.scenarios.composing import checked
from engine_sim.scenarios.own_pools import own_names, own_text
from engine_sim.scenarios.scenario import Scenario, SetFault, Weather, layout_of
from engine_sim.scenarios.tickets import check_ticket

_Choice = TypeVar("_Choice")
_KEPT_POOLS = 64
_WEATHER = ("temperature_c", "seaway", "heel_deg", "pitch_deg")
_POOL_ENTRIES = (
    *(
        "id",
        "version",
        "title",
        "story",
        "layout",
        "permits_xray",
        "needs_ticket",
        "tank_fill_share",
        "help_most",
        "lee_shore_min",
        "number",
        "minutes",
        "objectives",
        "draw",
    ),
    *_WEATHER,
)
_DRAW_ENTRIES = ("fault", "parts", "severities", "also")


@dataclass(frozen=True, slots=True)
class Draw:
    """One fault that can be drawn, with the places and severities it may have, and what comes with it."""

    fault: str
    parts: tuple[str, ...]
    possible_severity: tuple[float, ...]
    also: tuple[Draw, ...] = ()


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
    weather: Weather = field(default_factory=Weather)
    tank_fill_share: float | None = None
    help_most: str = ""
    lee_shore_min: float | None = None
    number: int = 0
    minutes: int = 0
    objectives: tuple[str, ...] = ()

    def scenario(self, ticket: str, faults: tuple[SetFault, ...]) -> Scenario:
        """Return the scenario with these faults; raise BadScenario, OutOfRange or UnknownName for what cannot be."""
        return checked(
            Scenario(
                self.id,
                self.version,
                ticket,
                self.title,
                self.story,
                self.layout,
                self.permits_xray,
                faults,
                self.weather,
                self.tank_fill_share,
                self.help_most,
                self.lee_shore_min,
            )
        )


def exercises() -> tuple[str, ...]:
    """Return the ids of all exercises, the course's and those in folders that were announced."""
    return tuple(sorted({*shipped_exercises(), *own_names()}))


@cache
def shipped_exercises() -> tuple[str, ...]:
    """Return the ids of the exercises that come with the course."""
    folder = resources.files("engine_sim.scenarios").joinpath("pools")
    return tuple(sorted(entry.name[:-5] for entry in folder.iterdir() if entry.name.endswith(".toml")))


@cache
def graded_exercises() -> tuple[str, ...]:
    """Return the ids of the course's exercises that are drawn by ticket and marked."""
    return tuple(name for name in shipped_exercises() if pool(name).needs_ticket)


def pool(exercise: str) -> Pool:
    """Return an exercise by its id; raise UnknownName if there is none, BadScenario if its file is wrong."""
    if exercise in shipped_exercises():
        return _shipped_pool(exercise)
    text = own_text(exercise)
    if text is None:
        raise UnknownName("exercise", exercise, exercises())
    return named_pool(text, exercise)


@cache
def _shipped_pool(exercise: str) -> Pool:
    path = resources.files("engine_sim.scenarios").joinpath("pools", f"{exercise}.toml")
    return read_pool(path.read_text(encoding="utf-8"))


@lru_cache(maxsize=_KEPT_POOLS)
def named_pool(text: str, exercise: str) -> Pool:
    """Return an own exercise by its text; raise as :func:`read_pool`, and BadScenario where it names another."""
    found = read_pool(text)
    if found.id != exercise:
        raise BadScenario(
            f"The file of the exercise {exercise!r} says that it is {found.id!r}. Give file and exercise one name."
        )
    return found


def read_pool(text: str) -> Pool:
    """Return the exercise written in ``text`` (TOML); every draw in it can be played."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as broken:
        raise BadScenario(f"The exercise file cannot be read: {broken}. Mend that line.") from broken
    _refuse_unknown(data, _POOL_ENTRIES, "exercise")
    layout = _field(data, "layout", str)
    if layout not in layout_names():
        raise UnknownName("layout", layout, layout_names())
    boat = layout_of(layout).layout
    found = Pool(
        _field(data, "id", str),
        _field(data, "version", int),
        _field(data, "title", str),
        _field(data, "story", str),
        layout,
        _field(data, "permits_xray", bool),
        _field(data, "needs_ticket", bool),
        tuple(_draw(table, boat) for table in _tables(data, "draw")),
        Weather(**{name: _number(data, name) for name in _WEATHER if name in data}),
        _number(data, "tank_fill_share") if "tank_fill_share" in data else None,
        _field(data, "help_most", str) if "help_most" in data else "",
        _number(data, "lee_shore_min") if "lee_shore_min" in data else None,
        _field(data, "number", int) if "number" in data else 0,
        _field(data, "minutes", int) if "minutes" in data else 0,
        tuple(str(name) for name in _field(data, "objectives", list)) if "objectives" in data else (),
    )
    for draw in found.draws or (None,):
        for faults in _every(draw) if draw else ((),):
            found.scenario("", faults)
    return found


def _refuse_unknown(data: Mapping[str, Any], allowed: Sequence[str], what: str) -> None:
    for name in data:
        if name not in allowed:
            raise UnknownName(f"entry of the {what} file", name, allowed)


_KINDS: Mapping[type, str] = {str: "a text in quotes", int: "a whole number", bool: "true or false", list: "a list"}


def _field(data: Mapping[str, Any], name: str, kind: type[_Choice]) -> _Choice:
    value = data.get(name)
    if not isinstance(value, kind):
        raise BadScenario(f"{name} was given as {value!r}; it must be {_KINDS[kind]}. Change it in the exercise file.")
    return value


def _number(data: Mapping[str, Any], name: str) -> float:
    value = data[name]
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise BadScenario(f"{name} was given as {value!r}; it must be a number. Change it in the exercise file.")
    return float(value)


def _tables(data: Mapping[str, Any], name: str) -> list[dict[str, Any]]:
    found = data.get(name, [])
    if not isinstance(found, list) or not all(isinstance(one, dict) for one in found):
        raise BadScenario(f"{name} was given as {found!r}; it must be a list of faults, each under [[{name}]].")
    return found


def _draw(table: Mapping[str, Any], boat: Layout) -> Draw:
    _refuse_unknown(table, _DRAW_ENTRIES, "exercise")
    item = fault(str(table.get("fault")))
    parts = tuple(map(str, _field(table, "parts", list))) if "parts" in table else item.places(boat)
    if not parts:
        raise BadScenario(f"The draw of {item.id!r} has no parts in the layout {boat.id!r}; name at least one.")
    for part in parts:
        item.check_place(boat, part)
    usual = "severities" not in table
    given = [item.usual_severity(boat, parts[0])] if usual else _field(table, "severities", list)
    severities = tuple(_number({"severities": value}, "severities") for value in given)
    if not severities:
        raise BadScenario(f"The draw of {item.id!r} has no severities; name at least one or leave the entry out.")
    for severity in severities:
        try:
            item.check_severity(severity)
        except OutOfRange as wrong:
            raise BadScenario(f"The severities of {item.id!r} cannot be: {wrong}") from wrong
    return Draw(item.id, parts, severities, tuple(_draw(more, boat) for more in _tables(table, "also")))


def _every(draw: Draw) -> list[tuple[SetFault, ...]]:
    """Return every set of faults that a draw can become, with its first severity."""
    items = (draw, *draw.also)
    places = product(*(item.parts for item in items))
    return [
        tuple(SetFault(item.fault, part, item.possible_severity[0]) for item, part in zip(items, parts, strict=True))
        for parts in places
    ]


def draw_scenario(exercise: str, ticket: str) -> Scenario:
    """Return the scenario that a ticket draws; raise UnknownName or BadTicket for what does not exist.

    An exercise that needs no ticket takes an empty one.
    """
    plan = pool(exercise)
    plain = check_ticket(ticket) if plan.needs_ticket or ticket else ""
    return plan.scenario(plain, _drawn(plan, plain) if plan.draws else ())


def _drawn(plan: Pool, ticket: str) -> tuple[SetFault, ...]:
    seed = _seed(plan, ticket, 0)
    first = _pick(plan.draws, seed[0:4])
    return tuple(_placed(item, _seed(plan, ticket, number)) for number, item in enumerate((first, *first.also)))


def _seed(plan: Pool, ticket: str, number: int) -> bytes:
    """Return the digits that choose the first fault, and those of what comes with it."""
    more = f"|{number}" if number else ""
    return hashlib.sha256(f"{plan.id}|{plan.version}|{ticket}{more}".encode()).digest()


def _placed(item: Draw, seed: bytes) -> SetFault:
    return SetFault(item.fault, _pick(item.parts, seed[4:8]), _pick(item.possible_severity, seed[8:12]))


def _pick(choices: Sequence[_Choice], seed: bytes) -> _Choice:
    return choices[int.from_bytes(seed, "big") % len(choices)]
