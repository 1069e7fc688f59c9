"""Reads a layout (TOML) into a blueprint, and refuses one that cannot be built."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import resources
from typing import Any

from engine_sim.components import Blueprint, ComponentKind, component_kind
from engine_sim.errors import BadLayout, UnknownName


@dataclass(frozen=True, slots=True)
class Layout:
    """A boat's fuel system: its parts with their checked figures, and the blueprint they add up to."""

    id: str
    title: str
    figures: Mapping[str, Mapping[str, float]]
    blueprint: Blueprint


def layout_names() -> tuple[str, ...]:
    """Return the names of the layouts that come with the course."""
    folder = resources.files("engine_sim.layouts")
    return tuple(sorted(entry.name[:-5] for entry in folder.iterdir() if entry.name.endswith(".toml")))


def load_layout(name: str, changes: Mapping[str, Mapping[str, float]] | None = None) -> Layout:
    """Return a layout by name; ``changes`` overrides figures, ``{part: {parameter: value}}``.

    Raises UnknownName for a layout, part, kind or parameter that does not exist and BadLayout for the rest.
    """
    if name not in layout_names():
        raise UnknownName("layout", name, layout_names())
    text = resources.files("engine_sim.layouts").joinpath(f"{name}.toml").read_text(encoding="utf-8")
    return read_layout(text, changes)


def read_layout(text: str, changes: Mapping[str, Mapping[str, float]] | None = None) -> Layout:
    """Return the layout written in ``text`` (TOML)."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise BadLayout(f"The layout file cannot be read: {fault}. Mend that line.") from fault
    parts = [dict(part) for part in _tables(data, "part")]
    for changed, figures in (changes or {}).items():
        _find(parts, changed).update(figures)
    blueprint = Blueprint()
    figures_by_part: dict[str, dict[str, float]] = {}
    for part in parts:
        kind = component_kind(str(part.pop("kind", "")))
        name = str(part.pop("id", ""))
        if not name or name in figures_by_part:
            raise BadLayout(f"A part of kind {kind.name!r} has the id {name!r}; give each part an id of its own.")
        figures_by_part[name] = kind.numbers(name, part)
        kind.build(blueprint, name, figures_by_part[name])
        _fill_in_ports(blueprint, name, kind)
    _join_all(blueprint, _tables(data, "join"))
    return Layout(str(data.get("id", "")), str(data.get("title", "")), figures_by_part, blueprint)


def _tables(data: Mapping[str, Any], key: str) -> list[dict[str, Any]]:
    tables = data.get(key, [])
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables) or not tables:
        raise BadLayout(f"The layout has no [[{key}]] tables; add one for each {key}.")
    return tables


def _find(parts: list[dict[str, Any]], name: str) -> dict[str, Any]:
    for part in parts:
        if part.get("id") == name:
            return part
    raise UnknownName("part", name, [str(part.get("id")) for part in parts])


def _fill_in_ports(blueprint: Blueprint, part: str, kind: ComponentKind) -> None:
    for port in kind.ports:
        if f"{part}.{port}" not in blueprint.ports:
            raise BadLayout(f"Component kind {kind.name!r} did not build its port {port!r}.")


def _join_all(blueprint: Blueprint, joins: list[dict[str, Any]]) -> None:
    used: set[str] = set()
    for join in joins:
        ends = [str(join.get("from", "")), str(join.get("to", ""))]
        for end in ends:
            if end not in blueprint.ports:
                raise UnknownName("port", end, blueprint.ports)
            if end in used:
                raise BadLayout(f"Port {end!r} is joined twice; each port takes one join.")
            used.add(end)
        through = join.get("through")
        if through is not None and through not in blueprint.through:
            raise UnknownName("part to join through", str(through), blueprint.through)
        blueprint.join(
            blueprint.ports[ends[0]], blueprint.ports[ends[1]], blueprint.through[through] if through else None
        )
    loose = sorted(set(blueprint.ports) - used)
    if loose:
        raise BadLayout(f"These ports are joined to nothing: {', '.join(loose)}. Add a [[join]] for each.")
