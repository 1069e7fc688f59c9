"""Five transients of small circuits, each with its equations written by hand beside it.

The equations know nothing of the circuit: Boyle's law, Hagen-Poiseuille, the orifice law with a coefficient of 0.62 and
the lift pump's straight curve stand here in their textbook form, ready for ``scipy.integrate.solve_ivp``.
The fuel in these circuits dissolves no air, since the equations know of none.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from scipy.integrate import solve_ivp
from small_circuits import LIFT_PUMP, SmallCircuit, held_m3

from engine_sim.circuit import CircuitState, advance
from engine_sim.fluids import diesel_fuel

P0, G, SUMMER_K, GAS = 101325.0, 9.80665, 293.15, 287.05287 * 293.15
RHO, MU = diesel_fuel.density_kg_per_m3(SUMMER_K), diesel_fuel.dynamic_viscosity_pa_s(SUMMER_K)
RHO_AIR = P0 / GAS
DISCHARGE = 0.62
STROKE_M3 = LIFT_PUMP["stroke_m3"] * LIFT_PUMP["stroke_efficiency"]

Rates = Callable[[float, Sequence[float]], list[float]]


@dataclass(frozen=True)
class Transient:
    """A circuit at its start, what is looked at in it, the same as equations, and when the two are compared [s].

    ``rates`` are those of the equations' own quantities, which begin at ``start`` and are about ``sizes`` large;
    ``seen`` turns the quantities into what ``look`` sees, and ``scale`` is what that is measured by.
    """

    state: CircuitState
    look: Callable[[CircuitState], float]
    rates: Rates
    start: tuple[float, ...]
    sizes: tuple[float, ...]
    seen: Callable[[Sequence[float]], float]
    scale: float
    times_s: tuple[float, ...]
    strokes_per_s: float = 0.0

    def solved(self, method: str = "Radau", tolerance: float = 1e-9) -> list[float]:
        """What the equations say at the times."""
        done = solve_ivp(
            self.rates,
            (0.0, self.times_s[-1]),
            self.start,
            method=method,
            t_eval=self.times_s,
            rtol=tolerance,
            atol=[tolerance * size for size in self.sizes],
        )
        assert done.success, done.message
        return [self.seen(row) for row in done.y.T]

    def played(self, longest_step_s: float = math.inf) -> list[float]:
        """What the circuit says at the times, with steps no longer than given."""

        def work(state: CircuitState, wish_s: float) -> float:
            state.drives.pump_strokes_per_s = self.strokes_per_s
            return min(wish_s, longest_step_s)

        found, clock = [], 0.0
        for time in self.times_s:
            advance(self.state, time - clock, work)
            clock = time
            found.append(self.look(self.state))
        return found


def hagen_poiseuille(bore_m: float, length_m: float) -> float:
    """Resistance of a hose of fuel [Pa s/m3]."""
    return 128.0 * MU * length_m / (math.pi * bore_m**4)


def through_hole(area_m2: float, drop_pa: float, density: float) -> float:
    """Flow through a sharp hole [m3/s], with the sign of the drop."""
    return math.copysign(DISCHARGE * area_m2 * math.sqrt(2.0 * abs(drop_pa) / density), drop_pa)


def sealed_tank(dissolves: bool = False) -> Transient:
    """A tank with its vent blocked, drawn off by its own head: Boyle above, hydrostatics and friction below."""
    space, height, area, can_area = 0.060, 0.40, 0.060 / 0.40, 1.0 / 0.40
    small = SmallCircuit()
    small.vessel("tank", space, 0.60, height)
    small.vessel("can", 1.0, 0.0, 0.40)
    small.hole("can.vent", small.mouth("can", 0.39), 1e-3)
    small.hose("hose", 0.008, 3.0, 0.62, 0.02, pieces=2)
    small.join(small.mouth("tank", 0.62), small.mouth("hose.start", 0.0))
    small.join(small.mouth("hose.end", 0.0), small.mouth("can", 0.02))
    state = small.state(dissolves)
    state.fill("tank", 2.0 / 3.0)
    state.fill("can", 0.5)
    resistance, air, fuel = hagen_poiseuille(0.008, 3.0), space / 3.0, space * 2.0 / 3.0

    def rates(_time: float, drawn: Sequence[float]) -> list[float]:
        head = (0.60 + height * 2.0 / 3.0 - drawn[0] / area) - (0.20 + drawn[0] / can_area)
        return [(P0 * air / (air + drawn[0]) - P0 + RHO * G * head) / resistance]

    return Transient(
        state,
        lambda now: fuel - held_m3(now, "tank"),
        rates,
        (0.0,),
        (1e-3,),
        lambda row: row[0],
        1.1e-3,
        (2.0, 5.0, 10.0, 20.0, 40.0, 80.0, 160.0),
    )


def trapped_air() -> Transient:
    """Air in a closed chamber squeezed by the lift pump: Boyle against the pump's straight curve."""
    spring, air, space, height = LIFT_PUMP["spring_pa"], 1.0e-4, 3.0e-4, 0.10
    small = SmallCircuit()
    small.vessel("tank", 1.0, 0.0, 0.40)
    small.hole("tank.vent", small.mouth("tank", 0.39), 1e-3)
    small.vessel("chamber", space, 0.30, height)
    small.lift_pump("pump", small.mouth("tank", 0.25), small.mouth("chamber", 0.31))
    state = small.state(dissolves=False)
    state.fill("tank", 0.75)
    state.fill("chamber", 1.0 - air / space)
    number = state.topology.volume_number("chamber")

    def rates(_time: float, gas: Sequence[float]) -> list[float]:
        level = 0.30 + height * (1.0 - gas[0] / space)
        over = P0 * air / gas[0] + RHO * G * (level - 0.31) - P0
        return [-STROKE_M3 * min(1.0, max(0.0, 1.0 - over / spring))]

    return Transient(
        state,
        lambda now: now.pressure_pa[number] - P0,
        rates,
        (air,),
        (air,),
        lambda row: P0 * air / row[0] - P0,
        spring,
        (1.0, 2.0, 5.0, 10.0, 20.0, 40.0, 80.0),
        strokes_per_s=1.0,
    )


def draining_bowl(drain_m2: float = 1.2e-5, vent_m2: float = 4e-6) -> Transient:
    """A bowl that drains at its tap (Torricelli) while air enters at its top, until a third is left."""
    space, height, mouth = 4e-4, 0.20, 0.003
    area = space / height
    small = SmallCircuit()
    small.vessel("bowl", space, 0.0, height)
    small.hole("bowl.drain", small.mouth("bowl", mouth, mouth), drain_m2)
    small.hole("bowl.vent", small.mouth("bowl", height - mouth, mouth), vent_m2)
    state = small.state(dissolves=False)
    state.fill("bowl", 0.95)

    def rates(_time: float, now: Sequence[float]) -> list[float]:
        fuel, air_kg = now
        over = air_kg * GAS / (space - fuel) - P0
        out = through_hole(drain_m2, over + RHO * G * (fuel / area - mouth), RHO)
        return [-out, RHO_AIR * through_hole(vent_m2, -over, RHO_AIR)]

    slow = min(drain_m2, vent_m2 * math.sqrt(RHO / RHO_AIR))
    end = (math.sqrt(0.187) - math.sqrt(0.07)) * 2.0 * area / (DISCHARGE * slow * math.sqrt(2.0 * G))
    return Transient(
        state,
        lambda now: held_m3(now, "bowl"),
        rates,
        (0.95 * space, 0.05 * space * RHO_AIR),
        (space, space * RHO_AIR),
        lambda row: row[0],
        space,
        tuple(end * share for share in (0.1, 0.25, 0.5, 0.75, 1.0)),
    )


BORE_M, LINE_M, LIFT_M, SURFACE_M = 0.008, 2.0, 0.60, 0.20
LINE_AREA_M2 = math.pi * BORE_M**2 / 4.0
LINE_M3 = LINE_AREA_M2 * LINE_M


def _line(pieces: int) -> SmallCircuit:
    """An open tank below and a hose that rises from its surface to 0.6 m above."""
    small = SmallCircuit()
    small.vessel("tank", 1.0, 0.0, 0.40)
    small.hole("tank.vent", small.mouth("tank", 0.39), 1e-3)
    small.hose("line", BORE_M, LINE_M, SURFACE_M, SURFACE_M + LIFT_M, pieces=pieces)
    small.join(small.mouth("tank", 0.02), small.mouth("line.start", 0.0))
    return small


def _in_the_line(state: CircuitState) -> float:
    return sum(held_m3(state, volume.id) for volume in state.topology.volumes if volume.part == "line")


def _column(fuel_m3: float) -> float:
    """What the fuel in the rising line weighs at its foot [Pa]."""
    return RHO * G * LIFT_M * fuel_m3 / LINE_M3


def _friction(fuel_m3: float) -> float:
    """Resistance of the fuel in the line [Pa s/m3], with a hand's breadth for its foot."""
    return hagen_poiseuille(BORE_M, 0.1 + fuel_m3 / LINE_AREA_M2)


def dry_line(pieces: int = 8) -> Transient:
    """A dry line primed by strokes: fuel climbs as air is pumped off, less a stroke as the column grows."""
    small = _line(pieces)
    top = SURFACE_M + LIFT_M
    small.vessel("beyond", 1e-2, top - 0.05, 0.10)
    small.hole("beyond.vent", small.mouth("beyond", top + 0.04), 1e-4)
    small.lift_pump("pump", small.mouth("line.end", 0.0), small.mouth("beyond", top + 0.03))
    state = small.state(dissolves=False)
    state.fill("tank", 0.5)
    state.fill("beyond", 0.0)
    for piece in range(pieces):
        state.fill(f"line.{piece}", 0.0)
    dead = LIFT_PUMP["dead_volume_m3"] / LIFT_PUMP["stroke_m3"]

    def rates(_time: float, now: Sequence[float]) -> list[float]:
        fuel, air_kg = now
        at_pump = air_kg * GAS / (LINE_M3 - fuel)
        drawn = STROKE_M3 * max(0.0, 1.0 - dead * (P0 / at_pump - 1.0))
        return [(P0 - at_pump - _column(fuel)) / _friction(fuel), -drawn * at_pump / GAS]

    start = (0.0, LINE_M3 * RHO_AIR)
    times = (5.0, 10.0, 20.0, 30.0, 40.0)
    return Transient(
        state, _in_the_line, rates, start, (LINE_M3, start[1]), lambda row: row[0], LINE_M3, times, strokes_per_s=1.0
    )


def leaking_line(pieces: int = 4, hole_m2: float = 1e-8) -> Transient:
    """A standing line that fills with air through a small hole at its head and drains back to the tank."""
    small = _line(pieces)
    small.hole("leak", small.mouth("line.end", 0.0), hole_m2)
    state = small.state(dissolves=False)
    state.fill("tank", 0.5)
    last, bubble = state.topology.volume_number(f"line.{pieces - 1}"), 1e-3 * LINE_M3
    state.fuel_m3[last] -= bubble
    state.air_kg[last] = bubble * RHO_AIR

    def rates(_time: float, now: Sequence[float]) -> list[float]:
        fuel, air_kg = now
        at_head = air_kg * GAS / (LINE_M3 - fuel)
        leaks = RHO_AIR * through_hole(hole_m2, P0 - at_head, RHO_AIR)
        return [(P0 - at_head - _column(fuel)) / _friction(fuel), leaks]

    start = (LINE_M3 - bubble, bubble * RHO_AIR)
    sizes = (LINE_M3, LINE_M3 * RHO_AIR)
    return Transient(
        state, _in_the_line, rates, start, sizes, lambda row: row[0], LINE_M3, (10.0, 30.0, 60.0, 80.0, 100.0)
    )
