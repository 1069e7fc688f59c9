"""A blueprint turned into numbered volumes and links, with the order in which the solver eliminates them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from engine_sim.components import Blueprint, ElementSpec, LinkKind, LinkSpec, VolumeSpec
from engine_sim.errors import UnknownName

OPEN_AIR = -1
"""The number that stands for the open air where a link leads there."""


Pivot = tuple[int, tuple[tuple[int, int, int, tuple[tuple[int, int], ...]], ...], tuple[tuple[int, int], ...]]
"""One elimination: the volume; for each neighbour its row, the two places shared, the places that change; columns."""


@dataclass(slots=True)
class Drives:
    """What moves the fuel from outside: strokes of the lift pump, the electric pump's current, the engine's turning."""

    pump_strokes_per_s: float = 0.0
    plunger_draw_m3_per_s: float = 0.0
    engine_turns: bool = False
    speed_rpm: float = 0.0
    electric_on: bool = False

    def idle(self) -> bool:
        """Tell whether nothing is pumped."""
        return self.pump_strokes_per_s <= 0.0 and not self.engine_turns and not self.electric_on


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
        ends = list(zip(self.end_a, self.end_b, strict=True))
        self.place_ab = [self.places.get((a, b), -1) for a, b in ends]
        self.place_ba = [self.places.get((b, a), -1) for a, b in ends]
        self.counter_pressure = [_counter_pressure(link, self.index) for link in self.links]
        self.spaces_m3 = [volume.volume_m3 for volume in self.volumes]
        self.quarter_pi_bore_m = [_quarter_pi_bore_m(self.volumes, *end) for end in ends]
        self._mixed_at_rest = tuple(not volume.layered for volume in self.volumes)
        self._mixed_when_pumped = tuple(not one.layered or one.stirred_when_pumped for one in self.volumes)
        self.still_volumes = tuple((n, volume) for n, volume in enumerate(self.volumes) if volume.layered)
        self.passive = [link.kind is LinkKind.PASSIVE for link in self.links]
        self.heights_m = [_heights_m(link) for link in self.links]
        self.brim_full = [(1.0, 0.0, 0.0, volume.bottom_m, volume.top_m) for volume in self.volumes]
        self.kept_room_m3: dict[bool, list[float]] = {}
        self.flow_orders: dict[tuple[bool, ...], tuple[int, ...]] = {}

    def __deepcopy__(self, memo: dict[int, object]) -> Topology:
        """Return itself: nothing in it ever changes."""
        return self

    def flow_order(self, forward: tuple[bool, ...]) -> tuple[int, ...]:
        """Return the links in the order in which the fuel passes them; ``forward`` says for each if it goes a to b.

        A ring of flows is cut open at its largest volume.
        """
        found = self.flow_orders.get(forward)
        if found is None:
            found = self.flow_orders[forward] = _flow_order(self, forward)
        return found

    def mixed(self, drives: Drives) -> tuple[bool, ...]:
        """Tell for each volume whether it gives its mixture, not its layers: a hose piece, or a space stirred now."""
        return self._mixed_at_rest if drives.idle() else self._mixed_when_pumped

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
    return pivot, tuple(rows), columns


def _quarter_pi_bore_m(volumes: tuple[VolumeSpec, ...], a: int, b: int) -> float:
    """Return pi D / 4 of the narrower hose piece at a link's ends [m], without end where there is none."""
    bores = [volumes[end].bore_m for end in (a, b) if end != OPEN_AIR and volumes[end].bore_m > 0.0]
    return math.pi / 4.0 * min(bores) if bores else math.inf


def _heights_m(link: LinkSpec) -> tuple[float, float]:
    """Return the heights of the middles of a link's two mouths [m]."""
    at_a = (link.a.low_m + link.a.high_m) / 2.0
    return at_a, (link.b.low_m + link.b.high_m) / 2.0 if link.b else at_a


def _counter_pressure(link: LinkSpec, index: dict[str, int]) -> int:
    """Return the volume whose pressure keeps the plungers of a rotary pump from filling, or OPEN_AIR."""
    return index.get(f"{link.part}.case", OPEN_AIR) if link.kind is LinkKind.PLUNGERS else OPEN_AIR


def _flow_order(topology: Topology, forward: tuple[bool, ...]) -> tuple[int, ...]:
    """Return the links sorted by their donors, each donor after everything that flows into it."""
    donors = [a if ahead else b for a, b, ahead in zip(topology.end_a, topology.end_b, forward, strict=True)]
    receivers = [b if ahead else a for a, b, ahead in zip(topology.end_a, topology.end_b, forward, strict=True)]
    waiting = [0] * len(topology.volumes)
    for donor, receiver in zip(donors, receivers, strict=True):
        if donor != OPEN_AIR and receiver != OPEN_AIR:
            waiting[receiver] += 1
    order = [number for number, donor in enumerate(donors) if donor == OPEN_AIR]
    left = sorted(range(len(waiting)), key=lambda number: (-topology.volumes[number].volume_m3, number))
    while left:
        nearest = next((number for number in left if waiting[number] == 0), left[0])
        left.remove(nearest)
        for number, donor in enumerate(donors):
            if donor == nearest:
                order.append(number)
                if receivers[number] != OPEN_AIR:
                    waiting[receivers[number]] -= 1
    return tuple(order)
