"""A blueprint turned into numbered volumes and links, with the order in which the solver eliminates them."""

from __future__ import annotations

from dataclasses import dataclass

from engine_sim.components import Blueprint, ElementSpec, LinkKind, LinkSpec, VolumeSpec
from engine_sim.errors import UnknownName

OPEN_AIR = -1
"""The number that stands for the open air where a link leads there."""


@dataclass(frozen=True, slots=True)
class Pivot:
    """One elimination: the volume; for each neighbour its row, the two places shared, the places that change."""

    row: int
    rows: tuple[tuple[int, int, int, tuple[tuple[int, int], ...]], ...]
    columns: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Riser:
    """A hose piece below its neighbour, between which bubbles rise past the liquid."""

    lower: int
    upper: int
    link: int
    area_times_slope_m2: float


class Topology:
    """The compiled circuit: everything that does not change while it is played."""

    def __init__(self, blueprint: Blueprint) -> None:
        self.volumes: tuple[VolumeSpec, ...] = tuple(blueprint.volumes)
        self.links: tuple[LinkSpec, ...] = tuple(blueprint.links)
        self.index = {volume.id: number for number, volume in enumerate(self.volumes)}
        self.link_index = {link.id: number for number, link in enumerate(self.links)}
        self.end_a = [self.index[link.a.volume] for link in self.links]
        self.end_b = [self.index[link.b.volume] if link.b else OPEN_AIR for link in self.links]
        self.elements: dict[int, ElementSpec] = {self.link_index[item.link]: item for item in blueprint.elements}
        self.risers = _risers(self.volumes, self.links, self.end_a, self.end_b)
        self.places, self.pivots = _elimination(len(self.volumes), self.end_a, self.end_b)

    def __deepcopy__(self, memo: dict[int, object]) -> Topology:
        """Return itself: nothing in it ever changes."""
        return self

    def volume_number(self, name: str) -> int:
        """Return the number of a volume; raise UnknownName if there is none."""
        if name not in self.index:
            raise UnknownName("volume", name, self.index)
        return self.index[name]

    def link_number(self, name: str) -> int:
        """Return the number of a link; raise UnknownName if there is none."""
        if name not in self.link_index:
            raise UnknownName("link", name, self.link_index)
        return self.link_index[name]


def _risers(
    volumes: tuple[VolumeSpec, ...], links: tuple[LinkSpec, ...], end_a: list[int], end_b: list[int]
) -> tuple[Riser, ...]:
    """Return the pairs of hose pieces between which bubbles can rise, lower one first."""
    found = []
    for number, link in enumerate(links):
        a, b = end_a[number], end_b[number]
        if b == OPEN_AIR or link.kind is not LinkKind.PASSIVE or volumes[a].layered or volumes[b].layered:
            continue
        middles = [(volumes[end].bottom_m + volumes[end].top_m) / 2.0 for end in (a, b)]
        lower, upper = (a, b) if middles[0] < middles[1] else (b, a)
        height = volumes[lower].top_m - volumes[lower].bottom_m
        if height > 0.0:
            length = volumes[lower].length_m
            found.append(Riser(lower, upper, number, volumes[lower].volume_m3 / length * min(1.0, height / length)))
    return tuple(found)


def _elimination(count: int, end_a: list[int], end_b: list[int]) -> tuple[dict[tuple[int, int], int], list[Pivot]]:
    """Return the places of the off-diagonal entries and the order of elimination, fewest neighbours first.

    A circuit without loops is eliminated from its ends without any fill; a loop adds the entries it needs.
    """
    neighbours: list[set[int]] = [set() for _ in range(count)]
    for a, b in zip(end_a, end_b, strict=True):
        if b != OPEN_AIR and a != b:
            neighbours[a].add(b)
            neighbours[b].add(a)
    places: dict[tuple[int, int], int] = {}
    pivots: list[Pivot] = []
    left = set(range(count))
    while left:
        pivot = min(left, key=lambda number: (len(neighbours[number]), number))
        left.discard(pivot)
        pivots.append(_pivot(pivot, sorted(neighbours[pivot]), neighbours, places))
    return places, pivots


def _pivot(pivot: int, around: list[int], neighbours: list[set[int]], places: dict[tuple[int, int], int]) -> Pivot:
    def place(row: int, column: int) -> int:
        return places.setdefault((row, column), len(places))

    columns = tuple((column, place(pivot, column)) for column in around)
    rows = []
    for row in around:
        changes = tuple((place(pivot, column), place(row, column)) for column in around if column != row)
        rows.append((row, place(row, pivot), place(pivot, row), changes))
        neighbours[row].discard(pivot)
        neighbours[row].update(other for other in around if other != row)
    return Pivot(pivot, tuple(rows), columns)
