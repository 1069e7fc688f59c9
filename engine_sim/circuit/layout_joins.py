"""Reads the joins of a layout and refuses what cannot be joined: loose ends, double joins, heights, idle rings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from engine_sim.circuit.layout_parts import PartReader, refused_at
from engine_sim.components import PortSpec
from engine_sim.errors import BadLayout, UnknownName
from engine_sim.sources import COMMON_PRACTICE, SourcedValue

HEIGHT_TOLERANCE_M = SourcedValue(
    0.02, "m", COMMON_PRACTICE, "a hose end that lies further from its port than this was measured wrongly"
).value
_KEYS = ("from", "to", "through", "id", "open")


@dataclass(frozen=True, slots=True)
class Join:
    """One ``[[join]]``: its line, the two ports by name, the part between them, the link's id, whether it is open."""

    where: str
    start: str
    end: str
    through: str
    id: str
    open: bool

    @property
    def parts(self) -> tuple[str, str]:
        """The two parts that it joins."""
        return self.start.split(".")[0], self.end.split(".")[0]


def join_all(reader: PartReader, tables: Sequence[Mapping[str, Any]]) -> None:
    """Check all joins of a layout and add them to the blueprint."""
    blueprint = reader.blueprint
    joins = [_join(reader, number, table) for number, table in enumerate(tables)]
    _refuse_double(reader, joins)
    _refuse_loose(reader, joins)
    _refuse_rings(reader, joins)
    _refuse_unfed(reader)
    for join in joins:
        a, b = blueprint.ports[join.start], blueprint.ports[join.end]
        if join.open:
            _refuse_gap(join, a, b)
        through = blueprint.through[join.through] if join.through else None
        blueprint.join(a, b, through, join.id, 1.0 if join.open else 0.0)


def _join(reader: PartReader, number: int, table: Mapping[str, Any]) -> Join:
    """Return one join as the file gives it."""
    between = reader.blueprint.through
    for key, value in table.items():
        with refused_at(reader.lines.where("join", number, key)):
            if key not in _KEYS:
                raise UnknownName("entry of a join", key, _KEYS)
            if not isinstance(value, bool if key == "open" else str):
                wish = "true or false" if key == "open" else "a text in quotes"
                raise BadLayout(f"The join's {key} was given as {value!r}; allowed is {wish}.")
    ends = []
    for key in ("from", "to"):
        with refused_at(reader.lines.where("join", number, key)):
            ends.append(_known_port(reader, str(table.get(key, ""))))
    through = str(table.get("through", ""))
    if through and through not in between:
        with refused_at(reader.lines.where("join", number, "through")):
            raise UnknownName("part to join through", through, between)
    where = reader.lines.where("join", number)
    if ends[0] == ends[1]:
        raise BadLayout(f"{where}Port {ends[0]!r} is joined to itself; name two ports.")
    if through and "id" in table:
        raise BadLayout(f"{where}A join through {through!r} goes by that part's id; leave its own id out.")
    name = through or str(table.get("id", "")) or ">".join(end.split(".")[0] for end in ends)
    return Join(where, ends[0], ends[1], through, name, bool(table.get("open", True)))


def _known_port(reader: PartReader, name: str) -> str:
    part = name.split(".")[0]
    if part not in reader.kinds:
        raise UnknownName("part", part, reader.kinds)
    if name not in reader.blueprint.ports:
        own = [port for port in reader.blueprint.ports if port.split(".")[0] == part]
        raise UnknownName(f"port of {part!r}", name, own or ["none: this part carries no fuel or is joined through"])
    return name


def _refuse_double(reader: PartReader, joins: list[Join]) -> None:
    """Refuse two open joins at one port, one part between two joins, one id for two links."""
    opened: dict[str, Join] = {}
    names: dict[str, Join] = {}
    taken = {link.id for link in reader.blueprint.links}
    for join in joins:
        if join.id in names or join.id in taken:
            raise BadLayout(f"{join.where}The join {join.id!r} is there twice; give one of them an id of its own.")
        names[join.id] = join
        for port in (join.start, join.end) if join.open else ():
            if port in opened:
                raise BadLayout(
                    f"{join.where}Port {port!r} is joined twice (see also {opened[port].where.lower()[:-2]}); "
                    "at most one of a port's joins may be open at the start. Give the other open = false."
                )
            opened[port] = join


def _refuse_loose(reader: PartReader, joins: list[Join]) -> None:
    """Refuse a port that must be joined and is not, and a part to join through that no join names."""
    used = {port for join in joins for port in (join.start, join.end)}
    through = {join.through for join in joins}
    for part, kind in reader.kinds.items():
        for port in kind.ports:
            if f"{part}.{port}" not in used:
                raise BadLayout(
                    f"{reader.where(part)}Port {f'{part}.{port}'!r} is joined to nothing. Add a [[join]] for it."
                )
        if kind.passes_through and part not in through:
            raise BadLayout(f"{reader.where(part)}No join goes through {part!r}. Name it in the through of a [[join]].")


def _refuse_gap(join: Join, a: PortSpec, b: PortSpec) -> None:
    """Refuse a join of two ports that do not lie at one height."""
    gap = max(a.low_m - b.high_m, b.low_m - a.high_m)
    if gap > HEIGHT_TOLERANCE_M:
        raise BadLayout(
            f"{join.where}{join.start!r} lies at {_height(a)} and {join.end!r} at {_height(b)}: they do not meet. "
            f"At most {HEIGHT_TOLERANCE_M:g} m between them is allowed. Change the height of one of them."
        )


def _height(port: PortSpec) -> str:
    low, high = f"{port.low_m:.3f}", f"{port.high_m:.3f}"
    return f"{low} m" if low == high else f"{low} to {high} m"


def _refuse_rings(reader: PartReader, joins: list[Join]) -> None:
    """Refuse a ring of parts round which nothing can drive the fuel: no pump in it, no vessel with a surface.

    Where ways branch, two filters side by side are no such ring; there only a way that leads back to where it began
    is one.
    """
    ring = _ring_without_branches(reader, joins) or _way_back(reader, joins)
    if ring:
        parts = ", ".join(repr(part) for part in ring)
        raise BadLayout(
            f"{reader.where(ring[0])}{parts} form a ring with no pump and no vessel in it: nothing drives fuel round. "
            "Join one of them elsewhere."
        )


def _refuse_unfed(reader: PartReader) -> None:
    """Refuse a boat without any pump whose tanks all lie below the injection pump: its fuel would have to climb."""
    kinds, ports = reader.kinds, reader.blueprint.ports
    if any(kind.pumps for kind in kinds.values()):
        return
    tops = [volume.top_m for volume in reader.blueprint.volumes if volume.id in kinds and kinds[volume.id].vessel]
    for part, kind in kinds.items():
        if kind.name == "injection_pump" and tops and max(tops) < ports[f"{part}.inlet"].low_m:
            raise BadLayout(
                f"{reader.where(part)}Nothing lifts the fuel to {part!r}: there is no pump, and every tank lies lower. "
                "Add a lift pump, or raise a tank."
            )


def _ring_without_branches(reader: PartReader, joins: list[Join]) -> list[str]:
    """Return the parts of a ring of plain parts, or nothing."""
    ways: dict[str, list[str]] = {p: [] for p, kind in reader.kinds.items() if not (kind.drives or kind.branches)}
    for join in (join for join in joins if join.open):
        a, b = join.parts
        if a in ways and b in ways:
            way = [a] if a == b else _way(ways, a, b)
            if way:
                return way
            ways[a].append(b)
            ways[b].append(a)
    return []


def _way_back(reader: PartReader, joins: list[Join]) -> list[str]:
    """Return the parts of a ring that leads from a branching part's outlet back to itself, or nothing."""
    plain = [part for part, kind in reader.kinds.items() if not kind.drives]
    ways: dict[str, list[str]] = {part: [] for part in plain}
    for join in joins:
        a, b = join.parts
        if a in ways and b in ways:
            ways[a].append(b)
    for part in plain:
        for after in ways[part] if reader.kinds[part].branches else ():
            way = _way(ways, after, part)
            if way:
                return way
    return []


def _way(ways: Mapping[str, list[str]], start: str, end: str) -> list[str]:
    """Return the parts on a way from start to end, both included, or nothing."""
    reached: dict[str, str] = {start: ""}
    left = [start]
    while left:
        part = left.pop()
        if part == end:
            way = [part]
            while reached[part]:
                part = reached[part]
                way.append(part)
            return way[::-1]
        for after in ways[part]:
            if after not in reached:
                reached[after] = part
                left.append(after)
    return []
