"""A layout for a learner's own boat: the closest boat of the course, with what the form says put into it.

Nothing is made up here: every figure is one of the course's boats', but for the tank's litres. Hoses then end where the
ports of the parts lie.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from copy import deepcopy
from functools import cache
from importlib import resources
from typing import Any

from engine_sim.components import Blueprint, component_kind
from engine_sim.components.blueprint import PortSpec
from engine_sim.scenarios.own_boat import OwnBoat, toml_value
from engine_sim.sources import COMMON_PRACTICE, SourcedValue
from engine_sim.units import LITRE_M3

Table = dict[str, Any]
Parts = dict[str, Table]
_AT: Mapping[str, str] = {"below": "tank_below", "above": "high_tank", "beside": "single_cylinder"}
"""Where a tank stands to the boat of the course that shows it."""
_ENGINES: Mapping[int, str] = {1: "single_cylinder", 2: "high_tank", 3: "tank_below", 4: "two_tanks"}
"""Cylinders to the boat of the course whose engine has so many."""
_TWO, _ELECTRIC, _ROTARY = "two_tanks", "electric_pump", "metal_bowl"
_STARTED_WITH = ("battery", "starter")
_SLACK_M = SourcedValue(0.5, "m", COMMON_PRACTICE, "way round and some give").value
"""By how much a hose is longer than the height between its ends, at least."""


def layout_text(boat: OwnBoat) -> str:
    """Return the layout of an own boat, in TOML."""
    data = _read(closest_layout(boat))
    parts: Parts = {part["id"]: part for part in data["part"]}
    _put_tanks(boat, parts)
    _put_separator_and_pump(boat, parts)
    _put_engine(boat, parts)
    _fit_hoses(parts, data["join"])
    head = {"id": "own_boat", "title": boat.name}
    drawing = {"waterline_m": _tank_donor(boat)["drawing"]["waterline_m"]}
    return _written(head, list(parts.values()), data["join"], drawing)


def closest_layout(boat: OwnBoat) -> str:
    """Return the name of the course's boat that is closest to an own one."""
    if boat.tanks > 1:
        return _TWO
    if boat.tank_stands == "below" and boat.lift_pump == "electric":
        return _ELECTRIC
    if boat.tank_stands == "below" and boat.injection_pump == "rotary":
        return _ROTARY
    return _AT[boat.tank_stands]


def _read(name: str) -> Table:
    """Return a boat of the course as its file has it, to be changed freely."""
    return deepcopy(_file_of(name))


@cache
def _file_of(name: str) -> Table:
    return tomllib.loads(resources.files("engine_sim.layouts").joinpath(f"{name}.toml").read_text(encoding="utf-8"))


def _part_of(name: str, part: str) -> Table:
    """Return a part of a boat of the course."""
    return next(table for table in _read(name)["part"] if table["id"] == part)


def _tank_donor(boat: OwnBoat) -> Table:
    """Return the boat of the course whose heights around the tank an own one has."""
    one = closest_layout(boat)
    return _read(_AT[boat.tank_stands] if one == _TWO and boat.tank_stands != "below" else one)


def _put_tanks(boat: OwnBoat, parts: Parts) -> None:
    """Put in the litres; and two tanks at the height of the one that stands where they do."""
    tanks = [part for part in parts.values() if part["kind"] == "tank"]
    if len(tanks) > 1 and boat.tank_stands != "below":
        donor = {part["id"]: part for part in _tank_donor(boat)["part"]}
        for tank in tanks:
            tank |= {key: donor["tank"][key] for key in ("floor_m", "height_m")}
        parts["can"] = donor["can"]
        parts["can_hose"] = donor["can_hose"]
        valve = parts["changeover"]
        usual = component_kind("changeover_valve").numbers("changeover", {})
        valve["bottom_m"] = round(donor["tank"]["floor_m"] - usual["height_m"], 3)
    for tank in tanks:
        tank["volume_m3"] = round(boat.tank_l * LITRE_M3, 6)


def _put_separator_and_pump(boat: OwnBoat, parts: Parts) -> None:
    """Put in the bowl, which shows something only where it is of glass and in view, and the lift pump."""
    parts["separator"]["bowl_glass"] = int(boat.bowl == "glass")
    pump = parts["lift_pump"]
    pump.pop("vacuum_gauge", None)
    if boat.lift_pump == "electric":
        kept = {"id": "lift_pump", "kind": "electric_pump", "bottom_m": pump["bottom_m"]}
        parts["lift_pump"] = kept


def _put_engine(boat: OwnBoat, parts: Parts) -> None:
    """Put in the engine with so many cylinders, how it is fed, warmed, turned and stopped."""
    donor = _ENGINES[boat.cylinders]
    for name in ("engine", "exhaust"):
        parts[name] = _part_of(donor, name)
    for name in _STARTED_WITH:
        parts[name] = _part_of(_ROTARY if boat.cylinders == 1 else donor, name)
    parts.pop("hand_start", None)
    _put_preheat(boat, parts)
    _put_injection_pump(boat, parts)
    _put_stop(boat, parts)


def _put_preheat(boat: OwnBoat, parts: Parts) -> None:
    """An engine without glow plugs is one that starts without them: its fuel is sprayed into the cylinder itself."""
    engine = parts["engine"]
    if boat.preheat:
        engine.pop("least_air_k", None)
        parts["preheat"] = {"id": "preheat", "kind": "preheat"}
        return
    parts.pop("preheat", None)
    direct = _part_of(_ELECTRIC, "engine")
    engine |= {key: direct[key] for key in ("compression_ratio", "opening_pressure_pa", "least_air_k")}


def _put_injection_pump(boat: OwnBoat, parts: Parts) -> None:
    pump = parts["injection_pump"]
    if boat.injection_pump == "rotary":
        parts["injection_pump"] = _part_of(_ROTARY, "injection_pump")
    elif boat.lift_pump == "electric":
        parts["injection_pump"] = {**pump, "self_bleeding": 1}


def _put_stop(boat: OwnBoat, parts: Parts) -> None:
    for name in ("stop_control", "stop_solenoid"):
        parts.pop(name, None)
    name = "stop_control" if boat.stop == "pull" else "stop_solenoid"
    parts[name] = _part_of(_ROTARY, name)


# ---- hoses ----------------------------------------------------------------------------------------------------------


def _fit_hoses(parts: Parts, joins: list[Table]) -> None:
    """Let every hose end at the port that it is joined to first, and be long enough to reach."""
    ports = _ports(parts)
    for hose in (part for part in parts.values() if part["kind"] == "hose"):
        for end, figure in (("start", "start_height_m"), ("end", "end_height_m")):
            port = _port_at(f"{hose['id']}.{end}", joins, ports)
            if port is not None and not port.low_m <= hose[figure] <= port.high_m:
                hose[figure] = round((port.low_m + port.high_m) / 2.0, 4)
        rise_m = abs(hose["end_height_m"] - hose["start_height_m"])
        hose["length_m"] = round(max(hose["length_m"], rise_m + _SLACK_M if rise_m >= hose["length_m"] else 0.0), 3)


def _ports(parts: Parts) -> dict[str, PortSpec]:
    """Return the ports of all parts that are no hoses, as the parts are built."""
    built = Blueprint()
    for part in parts.values():
        if part["kind"] != "hose":
            kind = component_kind(part["kind"])
            names = {parameter.name for parameter in kind.parameters}
            figures = {name: value for name, value in part.items() if name in names}
            kind.build(built, part["id"], kind.numbers(part["id"], figures))
    return built.ports


def _port_at(hose_end: str, joins: list[Table], ports: Mapping[str, PortSpec]) -> PortSpec | None:
    """Return the port that the end of a hose is joined to first; None where that is another hose."""
    for join in joins:
        if hose_end in (join["from"], join["to"]):
            other = join["to"] if join["from"] == hose_end else join["from"]
            return ports.get(other)
    return None


# ---- writing --------------------------------------------------------------------------------------------------------


def _written(head: Table, parts: list[Table], joins: list[Table], drawing: Table) -> str:
    tables = [_table("[[part]]", part) for part in parts] + [_table("[[join]]", join) for join in joins]
    return "\n".join([_lines(head), *tables, _table("[drawing]", drawing)])


def _table(head: str, table: Table) -> str:
    return f"{head}\n{_lines(table)}"


def _lines(table: Table) -> str:
    return "".join(f"{key} = {toml_value(value)}\n" for key, value in table.items())
