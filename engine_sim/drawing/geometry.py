"""Points, lines and boxes on a drawing, in units of the drawing; what runs down has the larger y."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

Point = tuple[float, float]
Polyline = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle by its left upper corner."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """The x of its right side."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """The y of its lower side."""
        return self.y + self.height

    @property
    def middle(self) -> Point:
        """Its middle."""
        return self.x + self.width / 2, self.y + self.height / 2

    def grown(self, by: float) -> Box:
        """Return a box that is larger on every side."""
        return Box(self.x - by, self.y - by, self.width + 2 * by, self.height + 2 * by)

    def overlaps(self, other: Box) -> bool:
        """Tell whether two boxes have room in common."""
        apart = self.right <= other.x or other.right <= self.x or self.bottom <= other.y or other.bottom <= self.y
        return not apart


def around(x: float, y: float, width: float, height: float) -> Box:
    """Return a box by its middle."""
    return Box(x - width / 2, y - height / 2, width, height)


def walls(lines: Iterable[Polyline], half_width: float) -> Iterator[Box]:
    """Yield the room that level and upright lines of some width take up, piece by piece."""
    for line in lines:
        for (ax, ay), (bx, by) in pairwise(line):
            yield Box(min(ax, bx), min(ay, by), abs(ax - bx), abs(ay - by)).grown(half_width)


def length_of(line: Polyline) -> float:
    """Return how long a line is."""
    return sum(math.dist(a, b) for a, b in pairwise(line))


def _point_at(line: Polyline, distance: float) -> Point:
    for a, b in pairwise(line):
        step = math.dist(a, b)
        if distance <= step and step > 0.0:
            share = distance / step
            return (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
        distance -= step
    return line[-1]


def pieces(line: Polyline, count: int) -> tuple[Polyline, ...]:
    """Cut a line into ``count`` pieces of equal length that keep its corners."""
    total = length_of(line)
    corners = [length_of(line[: i + 1]) for i in range(len(line))]
    cut = []
    for i in range(count):
        start, end = total * i / count, total * (i + 1) / count
        inner = tuple(p for p, at in zip(line, corners, strict=True) if start + 1e-6 < at < end - 1e-6)
        cut.append((_point_at(line, start), *inner, _point_at(line, end)))
    return tuple(cut)


def path(line: Polyline) -> str:
    """Return a line as the ``d`` of an SVG path."""
    return "M" + "L".join(f"{x:.5g} {y:.5g}" for x, y in line)
