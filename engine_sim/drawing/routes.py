"""How the hoses and lines of a boat run on its drawing: level and upright pieces from part to part."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from engine_sim.actions.parts import LIFT_PUMPS
from engine_sim.drawing.geometry import Polyline
from engine_sim.drawing.plan import CAN, INJECTOR, TANK, Place, Plan
from engine_sim.drawing.ways import HOSE, after, before, can_hoses, ways_of

_WAY_OFFSETS = {"a": -18.0, "b": 2.0}
_RETURN_IN, _FILLER_IN = 16.0, 42.0
_NEAR_BUS = 26.0


@dataclass(frozen=True)
class Routes:
    """Every line of a boat's drawing; a hose goes by its name in the layout."""

    plan: Plan

    @cached_property
    def hoses(self) -> Mapping[str, Polyline]:
        """The hoses on the fuel's way, the return line, and the fuel can's hose as it lies when it is in use."""
        layout = self.plan.layout
        found: dict[str, Polyline] = {}
        for hose in layout.parts_of(HOSE):
            line = self._can_hose(hose) if hose in can_hoses(layout) else self._hose(hose)
            if line:
                found[hose] = line
        return found

    @property
    def return_line(self) -> str:
        """The name of the return line, or nothing."""
        return next((part.component for part in self.plan.parts if part.kind == "return_line"), "")

    @cached_property
    def stubs(self) -> tuple[Polyline, ...]:
        """The short pipes from a part to a valve that sits right at it."""
        places, layout = self.plan.places, self.plan.layout
        found = []
        for start, _, way in ways_of(layout):
            if way in places and start in places and layout.kinds[start] != HOSE:
                valve = places[way]
                found.append(((places[start].box.right, valve.port_y), (valve.box.x, valve.port_y)))
        return tuple(found)

    # ---- the fuel's way -----------------------------------------------------------------------------------------

    def _hose(self, hose: str) -> Polyline:
        if hose == self.return_line:
            return self._return()
        places, layout = self.plan.places, self.plan.layout
        starts = [name for name in before(layout, hose) if name in places]
        ends = [name for name in after(layout, hose) if name in places]
        if not starts or not ends:
            return ()
        return self._between(hose, places[starts[0]], places[ends[0]])

    def _between(self, hose: str, start: Place, end: Place) -> Polyline:
        plan, figures = self.plan, self.plan.layout.figures[hose]
        low, high = plan.y(figures["start_height_m"]), plan.y(figures["end_height_m"]) + self._offset(hose, end)
        to = (end.box.x, _within(high, end))
        if start.kind == TANK and high < start.box.y:
            x = start.box.x + start.box.width * 0.72
            return ((x, low), (x, to[1]), to)
        turn = plan.after(start)
        return ((start.box.right, _within(low, start)), (turn, _within(low, start)), (turn, to[1]), to)

    def _offset(self, hose: str, end: Place) -> float:
        """Return by how much a hose comes in higher or lower because its part has two inlets."""
        if end.kind != "changeover_valve":
            return 0.0
        ways = [
            way.rpartition(".")[2] for start, stop, way in ways_of(self.plan.layout) if (start, stop) == (hose, end.id)
        ]
        return _WAY_OFFSETS.get(ways[0], 0.0) if ways else 0.0

    # ---- home to the tank ---------------------------------------------------------------------------------------

    @cached_property
    def return_tank(self) -> Place | None:
        """The tank that the return line leads to."""
        ends = after(self.plan.layout, self.return_line) if self.return_line else ()
        return next((self.plan.places[name] for name in ends if self.plan.layout.kinds.get(name) == TANK), None)

    def _return(self) -> Polyline:
        tank = self.return_tank
        if tank is None:
            return ()
        end = self.plan.y(self.plan.layout.figures[self.return_line]["end_height_m"])
        out, home, bus = self.riser_x, tank.box.x + _RETURN_IN, self.plan.bus_y
        return ((out, self.plan.pump.box.y), (out, bus), (home, bus), (home, max(end, tank.box.y + 6.0)))

    @property
    def riser_x(self) -> float:
        """The x at which the return line leaves the injection pump."""
        return self.plan.pump.box.x + 16.0

    @staticmethod
    def filler_x(tank: Place) -> float:
        """Return the x of a tank's filler pipe."""
        return tank.box.x + _FILLER_IN

    # ---- the high-pressure side ---------------------------------------------------------------------------------

    @cached_property
    def injectors(self) -> tuple[Place, ...]:
        """The injectors' places, from the first cylinder."""
        return tuple(place for place in self.plan.places.values() if place.kind == INJECTOR)

    @cached_property
    def high_pressure(self) -> tuple[Polyline, ...]:
        """The lines from injection pump to injectors: the first runs highest, so that none crosses another."""
        top, left = self.plan.pump.box.y, self.plan.pump.box.x
        count = len(self.injectors)
        room = (self.plan.pump.box.width - 40.0) / max(1, count)
        lines = []
        for number, place in enumerate(self.injectors):
            x, lane = left + 36.0 + room * number, top - 26.0 + 17.0 * number / max(1, count - 1)
            to = place.x - 32.0
            lines.append(((x, top), (x, lane), (to, lane), (to, place.port_y), (place.box.x - 4.0, place.port_y)))
        return tuple(lines)

    @property
    def leak_y(self) -> float:
        """The y at which the leak-off line runs: on the return line's own where that is near."""
        if not self.injectors:
            return self.plan.bus_y
        own = self.injectors[0].box.y - 14.0
        return self.plan.bus_y if own - self.plan.bus_y < _NEAR_BUS else own

    @cached_property
    def leak_off(self) -> Polyline:
        """The leak-off line from the last injector to where the return line rises."""
        if not self.injectors or not self.return_line:
            return ()
        return ((self.injectors[-1].x, self.leak_y), (self.riser_x, self.leak_y))

    # ---- hoses that can be led elsewhere ------------------------------------------------------------------------

    def _can_hose(self, hose: str) -> Polyline:
        places, layout = self.plan.places, self.plan.layout
        can = next((places[name] for name in before(layout, hose) if name in places), None)
        pump = next((place for place in places.values() if place.kind in LIFT_PUMPS), None)
        if can is None or pump is None:
            return ()
        x, y = can.x - 14.0, pump.port_y + 20.0
        low = self.plan.y(layout.figures[hose]["start_height_m"])
        return ((x, low), (x, y), (pump.box.right - 6.0, y))

    @cached_property
    def own_hose_off(self) -> Polyline:
        """The gap at the lift pump's inlet while the can's hose is on it."""
        pump = next((place for place in self.plan.places.values() if place.kind in LIFT_PUMPS), None)
        return ((pump.box.x - 14.0, pump.port_y), (pump.box.x - 2.0, pump.port_y)) if pump else ()

    @cached_property
    def led_to(self) -> Mapping[str, Polyline]:
        """Where the return line leads when it is not in its tank, by what it leads to; ``nowhere`` is its loose end."""
        spot = next((place for place in self.plan.places.values() if place.kind == "return_line"), None)
        if spot is None or self.return_tank is None:
            return {}
        bus, x = self.plan.bus_y, spot.spot.right - 22.0
        found: dict[str, Polyline] = {
            "jar": ((x, bus), (x, bus + 56.0)),
            "nowhere": ((x, bus), (x, bus + 30.0)),
        }
        can = next((place for place in self.plan.places.values() if place.kind == CAN), None)
        if can is not None:
            found["can"] = ((can.x + 14.0, bus), (can.x + 14.0, can.box.y + 20.0))
        return found

    def return_gap(self, to: str) -> Polyline:
        """Return the stretch of the return line that lies empty of hose while it is led to a jar, a can or nowhere."""
        tank = self.return_tank
        if tank is None or to not in self.led_to:
            return ()
        begin, home, bus = self.led_to[to][0][0] - 12.0, tank.box.x + _RETURN_IN, self.plan.bus_y
        return ((begin, bus), (home, bus), (home, tank.box.y - 4.0))

    @cached_property
    def all_lines(self) -> tuple[Polyline, ...]:
        """Every line that a label must keep clear of, also those that lie there only at times."""
        lines = (*self.hoses.values(), *self.stubs, *self.high_pressure, *self.led_to.values())
        taps = tuple(((place.x, self.leak_y), (place.x, place.box.y)) for place in self.injectors)
        fillers = tuple(
            ((self.filler_x(place), place.box.y - 34.0), (self.filler_x(place), place.box.y))
            for place in self.plan.places.values()
            if place.kind == TANK
        )
        return (*lines, *((self.leak_off,) if self.leak_off else ()), *taps, *fillers)


def _within(y: float, place: Place) -> float:
    """Return a height that meets the part's symbol."""
    return min(max(y, place.box.y + 10.0), place.box.bottom - 10.0)
