"""Where each part of a boat stands on its drawing: from tank to engine as the fuel flows, as high as on board.

All is made from the layout's own figures and joins, so that a boat of an instructor's own draws with no drawing data.
Each part that carries fuel has a column of its own; what belongs to the engine stands in cells on its block.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

from engine_sim.actions import parts_of
from engine_sim.actions.parts import INJECTION_PUMPS, LIFT_PUMPS, Part
from engine_sim.circuit.layout import Layout
from engine_sim.drawing.geometry import Box, around
from engine_sim.drawing.ways import HOSE, can_hoses, port_height_m

MARGIN = 24.0
TANK, CAN, JOINT, INJECTOR, SEPARATOR, FINE_FILTER = (
    "tank",
    "fuel_can",
    "joint",
    "injector",
    "separator",
    "fine_filter",
)
_WIDTHS: Mapping[str, float] = MappingProxyType(
    {TANK: 124.0, CAN: 92.0, SEPARATOR: 92.0, FINE_FILTER: 92.0, "lift_pump": 88.0, "electric_pump": 88.0}
)
_COLUMN, _PUMP_COLUMN, _INJECTOR_STEP = 84.0, 108.0, 76.0
_ABOVE_AND_BELOW: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        SEPARATOR: (24.0, 98.0),
        FINE_FILTER: (24.0, 82.0),
        "lift_pump": (34.0, 34.0),
        "electric_pump": (34.0, 34.0),
        "injection_pump": (60.0, 32.0),
        "rotary_injection_pump": (60.0, 32.0),
        "changeover_valve": (30.0, 30.0),
    }
)
"""How far a symbol reaches above and below the height at which fuel comes to it."""
_SMALL = (24.0, 24.0)
_HALF_WIDTHS: Mapping[str, float] = MappingProxyType(
    {JOINT: 17.0, "shut_off_valve": 26.0, "changeover_valve": 28.0, SEPARATOR: 36.0, FINE_FILTER: 34.0}
)
_PER_METRE, _MOST_HIGH = 340.0, 400.0
"""Units of the drawing for a metre of height, and the most that all heights may take together."""
_LEAST_TANK, _CAN_HIGH = 62.0, 78.0
CELL = 104.0
CELLS_ACROSS = 4
INJECTOR_HIGH, INJECTOR_GAP = 116.0, 32.0
"""How high an injector is, and how far its tip stands above the injection pump's top."""
_BUS = 36.0
"""Where the return line runs along the top."""
_TRAY_HIGH = 84.0
_TARGET = 84.0
_NOT_ON_THE_WAY = ("return_line", "bench")
ENGINE_SIDE = (
    "stop_lever",
    "stop_solenoid",
    "preheat",
    "exhaust",
    "battery",
    "starter",
    "hand_start",
    "engine",
)
"""What stands on the engine's block, row by row."""


@dataclass(frozen=True, slots=True)
class Place:
    """A part on the drawing: the box of its symbol, the box that is pressed to choose it, and its port's y."""

    part: Part
    box: Box
    spot: Box
    port_y: float

    @property
    def id(self) -> str:
        """The part's id."""
        return self.part.id

    @property
    def kind(self) -> str:
        """The part's kind."""
        return self.part.kind

    @property
    def x(self) -> float:
        """The x of its middle."""
        return self.box.x + self.box.width / 2


class Plan:
    """All the places of a boat; y runs down, x runs as the fuel does."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.parts = parts_of(layout)
        self._hoses = [hose for hose in layout.parts_of(HOSE) if hose not in can_hoses(layout)]

    # ---- across -------------------------------------------------------------------------------------------------

    @cached_property
    def columns(self) -> tuple[tuple[Part, float, float], ...]:
        """The parts on the fuel's way with the left side and the width of their columns."""
        way = [part for part in self.parts if part.kind not in (*_NOT_ON_THE_WAY, *ENGINE_SIDE, INJECTOR, CAN)]
        pumps = [index for index, part in enumerate(way) if part.kind in LIFT_PUMPS]
        at = pumps[-1] + 1 if pumps else len(way) - 1
        way[at:at] = [part for part in self.parts if part.kind == CAN]
        found, left = [], MARGIN
        for part in way:
            width = self._width(part)
            found.append((part, left, width))
            left += width
        return tuple(found)

    def _width(self, part: Part) -> float:
        if part.kind in INJECTION_PUMPS:
            return _PUMP_COLUMN
        tanks = len(self.layout.parts_of(TANK))
        return _WIDTHS.get(part.kind, _COLUMN) - (14.0 if part.kind == TANK and tanks > 1 else 0.0)

    @cached_property
    def _injectors(self) -> tuple[Part, ...]:
        return tuple(part for part in self.parts if part.kind == INJECTOR)

    @cached_property
    def width(self) -> float:
        """The width of the whole drawing."""
        _, left, _ = self.columns[-1]
        return left + self.block_width + MARGIN

    @property
    def block_width(self) -> float:
        """The width of the engine's block: the injection pump's column, and the injectors' beside it."""
        return max(_PUMP_COLUMN + _INJECTOR_STEP * len(self._injectors) + 8.0, CELL * CELLS_ACROSS)

    # ---- upward -------------------------------------------------------------------------------------------------

    @cached_property
    def _heights_m(self) -> tuple[float, float]:
        figures = self.layout.figures
        heights = [figures[hose][end] for hose in self._hoses for end in ("start_height_m", "end_height_m")]
        for tank in self.layout.parts_of(TANK, CAN):
            floor_m = figures[tank]["floor_m"]
            heights += [floor_m, floor_m + (figures[tank].get("height_m", 0.0) if tank in self._tanks else 0.0)]
        return min(heights), max(heights)

    @property
    def _tanks(self) -> tuple[str, ...]:
        return self.layout.parts_of(TANK)

    @cached_property
    def _per_metre(self) -> float:
        low_m, high_m = self._heights_m
        return min(_PER_METRE, _MOST_HIGH / max(high_m - low_m, 1e-6))

    def _raw(self, height_m: float) -> float:
        return (self._heights_m[1] - height_m) * self._per_metre

    @cached_property
    def _shift(self) -> float:
        """How far all is moved down so that the return line has room along the top."""
        tops = [self._raw(self._heights_m[1]) - 8.0]
        for part, _, _ in self.columns:
            up = _ABOVE_AND_BELOW.get(part.kind, _SMALL)[0]
            extra = {TANK: 40.0, FINE_FILTER: 30.0, SEPARATOR: 30.0}.get(part.kind, 14.0)
            tops.append(self._raw(self._port_m(part)) - up - extra)
            if part.kind in INJECTION_PUMPS:
                tops.append(self._raw(self._port_m(part)) - up - INJECTOR_GAP - INJECTOR_HIGH)
        return _BUS + 26.0 - min(tops)

    def y(self, height_m: float) -> float:
        """Return where a height [m above the layout's datum] lies on the drawing."""
        return self._raw(height_m) + self._shift

    def _port_m(self, part: Part) -> float:
        """Return the height of a part on the way [m]: of its port, of a joint's hose, of a tank's top."""
        figures = self.layout.figures[part.component]
        if part.kind == TANK:
            return figures["floor_m"] + figures["height_m"]
        if part.kind == CAN:
            return figures["floor_m"]
        if part.kind == JOINT:
            return figures["end_height_m"]
        height_m = port_height_m(self.layout, part.component)
        return figures.get("bottom_m", self._heights_m[0]) if height_m is None else height_m

    # ---- places -------------------------------------------------------------------------------------------------

    @cached_property
    def places(self) -> Mapping[str, Place]:
        """Every part's place, in the order in which a learner meets the parts."""
        placed = {part.id: self._on_the_way(part, left, width) for part, left, width in self.columns}
        placed |= {place.id: place for place in (*self._nozzles(), *self._cells(), *self._around())}
        return MappingProxyType({part.id: placed[part.id] for part in self.parts if part.id in placed})

    def _on_the_way(self, part: Part, left: float, width: float) -> Place:
        x, port_y = left + width / 2, self.y(self._port_m(part))
        x = self.layout.hints.across.get(part.id, x / self.width) * self.width
        if part.kind == TANK:
            floor_y = self.y(self.layout.figures[part.component]["floor_m"])
            box = Box(x - width / 2 + 6.0, port_y, width - 20.0, max(_LEAST_TANK, floor_y - port_y))
        elif part.kind == CAN:
            box = Box(x - 30.0, port_y - _CAN_HIGH, 60.0, _CAN_HIGH)
        else:
            up, down = _ABOVE_AND_BELOW.get(part.kind, _SMALL)
            half = _HALF_WIDTHS.get(part.kind, 34.0 if part.kind in LIFT_PUMPS else 44.0)
            box = Box(x - half, port_y - up, 2 * half, up + down)
        high = max(box.height + (32.0 if part.kind in (TANK, FINE_FILTER) else 8.0), _TARGET)
        middle = box.middle[1] - (12.0 if part.kind in (TANK, FINE_FILTER) else 0.0)
        return Place(part, box, around(x, middle, max(_TARGET, min(width, box.width + 16.0)), high), port_y)

    def after(self, place: Place) -> float:
        """Return the x at which the column of a part on the way ends: there hoses go up and down."""
        return next(left + width for part, left, width in self.columns if part.id == place.id)

    @cached_property
    def pump(self) -> Place:
        """The injection pump's place."""
        part, left, width = next(one for one in reversed(self.columns) if one[0].kind in INJECTION_PUMPS)
        return self._on_the_way(part, left, width)

    @cached_property
    def block(self) -> Box:
        """The engine's block, behind the injection pump, what belongs to the engine, and the injectors' tips."""
        left, top = self.pump.box.x - 8.0, self.pump.box.y - INJECTOR_GAP - 8.0
        rows = -(-len(self._engine_parts) // CELLS_ACROSS)
        return Box(left, top, self.width - MARGIN - left, self.cells_top + rows * CELL + 6.0 - top)

    @property
    def cells_top(self) -> float:
        """Where the cells begin."""
        return self.pump.box.bottom + 26.0

    @cached_property
    def _engine_parts(self) -> tuple[Part, ...]:
        return tuple(part for kind in ENGINE_SIDE for part in self.parts if part.kind == kind)

    def _nozzles(self) -> list[Place]:
        found, first = [], self.pump.box.right + 10.0 + _INJECTOR_STEP / 2
        room = self.block.right - self.pump.box.right - 10.0
        step = min(CELL, max(_INJECTOR_STEP, room / len(self._injectors)))
        bottom = self.pump.box.y - INJECTOR_GAP
        for number, part in enumerate(self._injectors):
            x = first + step * number
            box = Box(x - 12.0, bottom - INJECTOR_HIGH, 24.0, INJECTOR_HIGH)
            spot = Box(x - _INJECTOR_STEP / 2, bottom - INJECTOR_HIGH, _INJECTOR_STEP, INJECTOR_HIGH)
            found.append(Place(part, box, spot, bottom - 70.0))
        return found

    def _cells(self) -> list[Place]:
        found = []
        for index, part in enumerate(self._engine_parts):
            row, column = divmod(index, CELLS_ACROSS)
            left = self.block.right - CELL * CELLS_ACROSS + CELL * column
            top = self.cells_top + CELL * row
            box = around(left + CELL / 2, top + 27.0, 70.0, 50.0)
            found.append(Place(part, box, Box(left + 2.0, top + 1.0, CELL - 4.0, CELL - 2.0), top + 27.0))
        return found

    @cached_property
    def lowest(self) -> float:
        """The y of the lowest part."""
        boxes = [self._on_the_way(*column).box.bottom for column in self.columns]
        return max(*boxes, self.block.bottom)

    @property
    def tray(self) -> Box:
        """Where the tray is laid: under the lift pump and the fine filter."""
        middle = [left + width / 2 for part, left, width in self.columns if part.kind in (*LIFT_PUMPS, FINE_FILTER)]
        x = sum(middle) / len(middle) if middle else self.width / 2
        return around(x, self.lowest + 70.0, 240.0, 34.0)

    @property
    def height(self) -> float:
        """The height of the whole drawing."""
        return self.lowest + 40.0 + _TRAY_HIGH

    @property
    def waterline_y(self) -> float:
        """The y of the waterline: where the layout's file puts it, else a little below the injection pump."""
        given_m = self.layout.hints.waterline_m
        return self.pump.port_y + 60.0 if given_m is None else self.y(given_m)

    @property
    def bus_y(self) -> float:
        """The y at which the return line runs along the top."""
        return _BUS

    def _around(self) -> list[Place]:
        found = []
        for part in self.parts:
            if part.kind == "bench":
                box = self.tray
                spot = Box(box.x - 16.0, box.y - 44.0, box.width + 32.0, _TRAY_HIGH)
                found.append(Place(part, box, spot, box.y))
            elif part.kind == "return_line":
                x = self._return_spot_x()
                box = around(x, _BUS, 120.0, 18.0)
                found.append(Place(part, box, around(x, _BUS + 10.0, 136.0, _TARGET - 4.0), _BUS))
        return found

    def _return_spot_x(self) -> float:
        tanks = [left + width for part, left, width in self.columns if part.kind == TANK]
        return max(tanks) + 90.0
