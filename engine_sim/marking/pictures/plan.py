"""Where each part of a boat stands on a drawing: from left to right as the fuel flows, as high as it stands on board.

Made from the layout's own figures and joins, so that a boat of an instructor's own draws without drawing data.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from engine_sim.actions import parts_of
from engine_sim.actions.parts import Part
from engine_sim.circuit.layout import Layout
from engine_sim.marking.pictures.svg import Point

WIDTH, LEFT, RIGHT, TOP, HIGH = 780.0, 54.0, 8.0, 74.0, 300.0
"""The drawing's width, its margins left, right and above, and the room for all heights of the boat."""

_NOT_DRAWN = ("fuel_can", "return_line", "bench")
_HOSE, _INJECTOR, _JOINT, _TANK = "hose", "injector", "joint", "tank"
_TANK_SHARE, _CAP = 0.66, 44.0
_HOLLOW = ("tank", "separator", "fine_filter", "lift_pump", "electric_pump", "injection_pump", "rotary_injection_pump")


@dataclass(frozen=True, slots=True)
class Place:
    """A part on the drawing: its middle, and half its width; ``top`` and ``bottom`` run downward."""

    part: str
    kind: str
    label: str
    x: float
    top: float
    bottom: float
    half: float

    @property
    def y(self) -> float:
        """The height of its middle."""
        return (self.top + self.bottom) / 2


@dataclass(frozen=True)
class Plan:
    """All the places of a boat, and its pipes as lines from part to part."""

    layout: Layout

    @cached_property
    def columns(self) -> tuple[tuple[Part, ...], ...]:
        """The parts that carry the fuel, in flow order; all the injectors share one column."""
        path = [part for part in parts_of(self.layout) if _carries_fuel(part)]
        alone = [(part,) for part in path if part.kind != _INJECTOR]
        return (*alone, tuple(part for part in path if part.kind == _INJECTOR))

    @cached_property
    def step(self) -> float:
        """The width of one column."""
        return (WIDTH - LEFT - RIGHT) / len(self.columns)

    @cached_property
    def span_m(self) -> tuple[float, float]:
        """The lowest and the highest thing on the drawing [m above the layout's datum]."""
        heights = [height for part in self._vessels() for height in self._reach_m(part)]
        for hose in self.layout.parts_of(_HOSE):
            figures = self.layout.figures[hose]
            heights += [figures["start_height_m"], figures["end_height_m"]] if hose not in self._off_the_can else []
        return min(heights), max(heights)

    @cached_property
    def _off_the_can(self) -> tuple[str, ...]:
        cans = self.layout.parts_of("fuel_can")
        return tuple(end for start, end, _ in self._links if start in cans and self.layout.kinds.get(end) == _HOSE)

    def y(self, height_m: float) -> float:
        """Return where a height [m above the datum] lies on the drawing."""
        low_m, high_m = self.span_m
        return TOP + HIGH * (high_m - height_m) / max(high_m - low_m, 1e-6)

    def _vessels(self) -> Iterator[str]:
        return (column[0].component for column in self.columns if column[0].kind not in (_INJECTOR, _JOINT))

    def _reach_m(self, part: str) -> tuple[float, ...]:
        figures = self.layout.figures.get(part, {})
        floor_m = figures.get("floor_m", figures.get("bottom_m"))
        return () if floor_m is None else (floor_m, floor_m + figures.get("height_m", 0.0))

    @cached_property
    def places(self) -> dict[str, Place]:
        """Each part's place; those without a height of their own stand where their pipe runs."""
        placed: dict[str, Place] = {}
        for index, column in enumerate(self.columns):
            x = LEFT + self.step * (index + 0.5)
            if column[0].kind == _INJECTOR:
                placed |= self._injectors(column, x)
            else:
                placed[column[0].id] = self._place(column[0], x)
        return placed

    def _place(self, part: Part, x: float) -> Place:
        reach_m = self._reach_m(part.component) if part.kind != _JOINT else ()
        if reach_m:
            top, bottom = self.y(max(reach_m)), self.y(min(reach_m))
        else:
            top = bottom = self.y(self._pipe_height_m(part))
        least = 13.0 if part.kind == _JOINT else 26.0
        if bottom - top < least:
            top, bottom = (top + bottom - least) / 2, (top + bottom + least) / 2
        half = min(_CAP, self.step * _TANK_SHARE / 2) if part.kind == _TANK else 15.0
        return Place(part.id, part.kind, part.label, x, top, bottom, half)

    def _pipe_height_m(self, part: Part) -> float:
        """Return at what height [m] the pipe runs through a valve or a joint."""
        figures = self.layout.figures
        if part.kind == _JOINT:
            return figures[part.component]["end_height_m"]
        behind = [end for _, end, way in self._links if way == part.id and self.layout.kinds[end] == _HOSE]
        return figures[behind[0]]["start_height_m"] if behind else self.span_m[0]

    def _injectors(self, column: tuple[Part, ...], x: float) -> dict[str, Place]:
        pump = next(place for place in reversed(self._before(len(self.columns) - 1)) if place.kind != _JOINT)
        found = {}
        for number, part in enumerate(column):
            y = max(pump.top - 20.0 - 26.0 * (len(column) - 1), TOP - 4.0) + 26.0 * number
            found[part.id] = Place(part.id, part.kind, part.label, x, y - 9.0, y + 9.0, 13.0)
        return found

    def _before(self, index: int) -> list[Place]:
        return [self._place(column[0], LEFT + self.step * (i + 0.5)) for i, column in enumerate(self.columns[:index])]

    @cached_property
    def _links(self) -> tuple[tuple[str, str, str], ...]:
        """The ways from part to part: from, to, and what sits between them."""
        blueprint = self.layout.blueprint
        owner = {volume.id: volume.part for volume in blueprint.volumes}
        ways = ((owner[one.a.volume], owner[one.b.volume], one.id) for one in blueprint.links if one.b is not None)
        return tuple((start, end, way) for start, end, way in ways if start != end)

    @cached_property
    def pipes(self) -> dict[str, tuple[Point, ...]]:
        """Each hose as a line from where it begins to where it ends, but the return line and a can's own hose."""
        lines = self._stubs()
        for hose in self.layout.parts_of(_HOSE):
            ends = self._ends(hose)
            if ends is not None and hose not in self._off_the_can and ends[1].x > ends[0].x:
                lines[hose] = self._pipe(hose, *ends)
        return lines

    def _stubs(self) -> dict[str, tuple[Point, ...]]:
        """Return the short pipes from a part to the valve that sits right at it."""
        return {
            way: ((self.places[start].x + self.places[start].half, self.places[way].y), self._middle(way))
            for start, _, way in self._links
            if way in self.places and start in self.places
        }

    def _middle(self, part: str) -> Point:
        return self.places[part].x, self.places[part].y

    def _ends(self, hose: str) -> tuple[Place, Place] | None:
        """Return the places that a hose runs between: parts, or the valves that sit at its ends."""
        before = [way if way in self.places else start for start, end, way in self._links if end == hose]
        after = [way if way in self.places else end for start, end, way in self._links if start == hose]
        after += [self._beyond(end) for start, end, way in self._links if start == hose]
        starts, ends = [n for n in before if n in self.places], [n for n in after if n in self.places]
        return (self.places[starts[0]], self.places[ends[0]]) if starts and ends else None

    def _beyond(self, hose: str) -> str:
        return next((end for start, end, _ in self._links if start == hose), "")

    def _pipe(self, hose: str, start: Place, end: Place) -> tuple[Point, ...]:
        """Return a hose as level and upright pieces, from its one height to its other."""
        figures = self.layout.figures[hose]
        low, high = self.y(figures["start_height_m"]), self.y(figures["end_height_m"])
        rises_inside = start.kind == _TANK and figures["end_height_m"] > self._reach_m(start.part)[1]
        if rises_inside:
            first = start.x + start.half * 0.4
            return ((first, low), (first, high), (end.x, high))
        turn, edges = start.x + self.step / 2, [place.half if place.kind in _HOLLOW else 0.0 for place in (start, end)]
        return ((start.x + edges[0], low), (turn, low), (turn, high), (end.x - edges[1], high))

    @cached_property
    def return_line(self) -> tuple[str, tuple[Point, ...]]:
        """The return line by name, as a line over the top of the drawing and down into its tank; empty without one."""
        for part in parts_of(self.layout):
            ends = self._return_ends(part.component) if part.kind == "return_line" else None
            if ends is not None:
                pump, tank = ends
                figures = self.layout.figures[part.component]
                out, home = pump.x + 8.0, tank.x - tank.half * 0.55
                start, end = min(self.y(figures["start_height_m"]), pump.top), self.y(figures["end_height_m"])
                return part.id, ((out, start), (out, TOP - 24.0), (home, TOP - 24.0), (home, end))
        return "", ()

    def _return_ends(self, hose: str) -> tuple[Place, Place] | None:
        before = [start for start, end, _ in self._links if end == hose and start in self.places]
        after = [end for start, end, _ in self._links if start == hose and end in self.places]
        tanks = [name for name in after if self.layout.kinds.get(name) == _TANK]
        return (self.places[before[0]], self.places[tanks[0]]) if before and tanks else None


def _carries_fuel(part: Part) -> bool:
    """Say whether a part stands in the way of the fuel from the tanks to the injectors."""
    electric = ("stop_lever", "stop_solenoid", "battery", "starter", "hand_start", "preheat", "exhaust", "engine")
    return part.kind not in _NOT_DRAWN and part.kind not in electric
