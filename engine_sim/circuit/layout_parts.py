"""Reads the parts of a layout: ids, kinds, figures, and the few entries that are no figures."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Any

from engine_sim.circuit.layout_lines import Lines
from engine_sim.components import Blueprint, ComponentKind, component_kind, component_kinds
from engine_sim.errors import BadLayout, UnknownName

_ID = re.compile(r"[a-z][a-z0-9_]*")


@contextmanager
def refused_at(where: str) -> Iterator[None]:
    """Put the line of the file before whatever is refused inside."""
    try:
        yield
    except (BadLayout, UnknownName) as fault:
        raise BadLayout(f"{where}{fault}") from fault


def find_part(tables: Sequence[Mapping[str, Any]], name: str) -> Mapping[str, Any]:
    """Return the table of a part; raise UnknownName with the nearest name if there is none."""
    for table in tables:
        if table.get("id") == name:
            return table
    raise UnknownName("part", name, [str(table.get("id")) for table in tables])


@dataclass(slots=True)
class PartReader:
    """Reads one part after the other into the blueprint; ``changes`` override what the file says."""

    lines: Lines
    blueprint: Blueprint
    changes: Mapping[str, Mapping[str, float]]
    kinds: dict[str, ComponentKind] = field(default_factory=dict)
    figures: dict[str, dict[str, float]] = field(default_factory=dict)
    labels: dict[str, str] = field(default_factory=dict)
    joints: dict[str, tuple[str, str]] = field(default_factory=dict)
    numbers: dict[str, int] = field(default_factory=dict)

    def where(self, part: str, key: str = "") -> str:
        """Return the line of a part, or of one entry of it, as it stands before a message."""
        return self.lines.where("part", self.numbers[part], key)

    def read(self, number: int, table: Mapping[str, Any]) -> None:
        """Read the part of one ``[[part]]`` table and build it."""
        part = self._name(number, table)
        kind = self._kind(part, number, table)
        self.numbers[part], self.kinds[part] = number, kind
        given = {name: value for name, value in table.items() if name not in ("id", "kind")}
        extras = {name: given.pop(name) for name in ("label", "joint", "level_table") if name in given}
        figures = kind.numbers(part, {})
        for name, value in given.items():
            with refused_at(self.where(part, name)):
                figures[name] = kind.number(part, name, value)
        for name, changed in self.changes.get(part, {}).items():
            figures[name] = kind.number(part, name, changed)
        self.figures[part] = figures
        with refused_at(self.where(part)):
            kind.build(self.blueprint, part, figures)
        for name, extra in extras.items():
            with refused_at(self.where(part, name)):
                self._take_extra(part, kind, name, extra)

    def _name(self, number: int, table: Mapping[str, Any]) -> str:
        name = table.get("id")
        where = self.lines.where("part", number, "id")
        if not isinstance(name, str) or not _ID.fullmatch(name):
            raise BadLayout(
                f"{where}A part has the id {name!r}; give it an id of small letters, digits and underscores."
            )
        if name in self.kinds or name in self.joints:
            raise BadLayout(f"{where}The id {name!r} is given twice; give each part and joint an id of its own.")
        return name

    def _kind(self, part: str, number: int, table: Mapping[str, Any]) -> ComponentKind:
        if "kind" not in table:
            kinds = ", ".join(sorted(component_kinds()))
            raise BadLayout(f"{self.lines.where('part', number)}The part {part!r} has no kind; name one of: {kinds}.")
        with refused_at(self.lines.where("part", number, "kind")):
            return component_kind(str(table["kind"]))

    def _take_extra(self, part: str, kind: ComponentKind, name: str, extra: object) -> None:
        if name == "level_table":
            self._shape(part, kind, extra)
        elif not isinstance(extra, str) or not extra:
            raise BadLayout(f"Part {part!r}: {name} was given as {extra!r}; allowed is a text in quotes.")
        elif name == "label":
            self.labels[part] = extra
        elif not kind.jointed:
            raise BadLayout(f"Part {part!r} of kind {kind.name!r} has no joint to name; name joints at hoses.")
        elif not _ID.fullmatch(extra) or extra in self.joints or extra in self.kinds:
            raise BadLayout(
                f"Part {part!r}: the joint {extra!r} needs an id of its own, of small letters and underscores."
            )
        else:
            self.joints[extra] = (part, f"{part}.joint")

    def _shape(self, part: str, kind: ComponentKind, given: object) -> None:
        """Give a vessel that is no box its table of levels."""
        if not kind.vessel:
            raise BadLayout(f"Part {part!r} of kind {kind.name!r} takes no level_table; only vessels do.")
        rows = _level_rows(given)
        if rows is None:
            raise BadLayout(
                f"Part {part!r}: level_table was given as {given!r}; allowed are pairs of share of height and share "
                "of volume, each larger than the pair before, from [0, 0] to [1, 1]."
            )
        volumes = self.blueprint.volumes
        index = next(index for index, volume in enumerate(volumes) if volume.id == part)
        volumes[index] = replace(volumes[index], level_table=rows)


def _level_rows(given: object) -> tuple[tuple[float, float], ...] | None:
    """Return a level table as pairs, or None if it is no sound one."""
    if not isinstance(given, list) or len(given) < 2:
        return None
    rows: list[tuple[float, float]] = []
    for row in given:
        if not isinstance(row, list) or len(row) != 2 or any(type(share) not in (int, float) for share in row):
            return None
        rows.append((float(row[0]), float(row[1])))
    rising = all(low[0] < high[0] and low[1] < high[1] for low, high in pairwise(rows))
    return tuple(rows) if rising and rows[0] == (0.0, 0.0) and rows[-1] == (1.0, 1.0) else None
