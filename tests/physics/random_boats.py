"""Random fuel systems as layout texts, and random things done to them, for hypothesis to draw.

A boat is a chain: a tank, then parts with a hose between each, then a vessel that takes what comes: the tank itself by
its return, or a can. The heights of hose ends are read off the ports of the parts as built.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from hypothesis import strategies as st

from engine_sim.circuit import CircuitState, Fluids, Topology, read_layout
from engine_sim.components import Blueprint, component_kind

SUMMER_K = 293.15
LEAST_M = 3.0
"""Length of every hose at least [m]: more than any two ports differ in height."""
BETWEEN = ("separator", "fine_filter", "lift_pump", "electric_pump")
PASSIVE_BETWEEN = ("separator", "fine_filter")

Figures = dict[str, float]


@dataclass(frozen=True)
class Part:
    """A part of a layout text."""

    id: str
    kind: str
    figures: Figures = field(default_factory=dict)

    def text(self) -> str:
        """The part as a table of the layout file."""
        rows = [f'id = "{self.id}"', f'kind = "{self.kind}"', *(f"{name} = {v!r}" for name, v in self.figures.items())]
        return "\n".join(["[[part]]", *rows])

    def port_m(self, port: str) -> float:
        """The height of a port as the part is built [m]."""
        kind, built = component_kind(self.kind), Blueprint()
        kind.build(built, self.id, kind.numbers(self.id, self.figures))
        found = built.ports[f"{self.id}.{port}"]
        return (found.low_m + found.high_m) / 2.0


@dataclass(frozen=True)
class Boat:
    """A chain of vessels and parts with a hose between each two and a valve on the first.

    ``hoses`` holds the bore [m], the length beyond three metres [m] and the pieces of each.
    """

    chain: tuple[Part, ...]
    hoses: tuple[tuple[float, float, int], ...]
    loop: bool

    def text(self) -> str:
        """The layout file."""
        stations = [*self.chain, self.chain[0]] if self.loop else list(self.chain)
        parts = [part.text() for part in (*self.chain, Part("shut_off", "shut_off_valve"))]
        joins = []
        for number, (bore, slack, pieces) in enumerate(self.hoses):
            before, after = stations[number], stations[number + 1]
            leave = "pick_up" if number == 0 else "outlet"
            enter = "return" if number == len(self.hoses) - 1 else "inlet"
            start, end = before.port_m(leave), after.port_m(enter)
            figures = {"bore_m": bore, "start_height_m": start, "end_height_m": end, "pieces": pieces}
            length = LEAST_M + slack
            parts.append(Part(f"hose_{number}", "hose", {**figures, "length_m": length}).text())
            through = 'through = "shut_off"\n' if number == 0 else ""
            joins.append(f'[[join]]\nfrom = "{before.id}.{leave}"\nto = "hose_{number}.start"\n{through}')
            joins.append(f'[[join]]\nfrom = "hose_{number}.end"\nto = "{after.id}.{enter}"\n')
        return "\n".join(['id = "boat"\ntitle = "A boat drawn by lot"', *parts, *joins])

    def state(self) -> CircuitState:
        """The circuit full of fuel, its tank and can half full under open vents."""
        topology = Topology(read_layout(self.text()).blueprint)
        state = CircuitState.full_of_fuel(topology, Fluids.at(SUMMER_K))
        state.fill("tank", 0.5)
        if not self.loop:
            state.fill("can", 0.3)
            state.opening[topology.link_number("can.filler")] = 1.0
        return state


HOSE = st.tuples(st.sampled_from((0.004, 0.006, 0.008, 0.010)), st.floats(0.1, 2.0), st.integers(1, 4))


@st.composite
def boats(draw: st.DrawFn, kinds: tuple[str, ...] = BETWEEN, loop: bool | None = None, above: bool = False) -> Boat:
    """Draw a boat; ``above`` puts the tank above everything and the can below everything."""
    looped = draw(st.booleans()) if loop is None else loop
    floor = draw(st.floats(1.0, 1.5) if above else st.floats(-0.5, 1.5))
    chain = [Part("tank", "tank", {"floor_m": floor, "volume_m3": draw(st.sampled_from((0.01, 0.06, 0.3)))})]
    for number, kind in enumerate(draw(st.lists(st.sampled_from(kinds), min_size=1 if looped else 0, max_size=3))):
        bottom = draw(st.floats(-0.2, 0.6) if above else st.floats(-0.5, 1.2))
        chain.append(Part(f"{kind}_{number}", kind, {"bottom_m": bottom}))
    if not looped:
        low = draw(st.floats(-1.0, -0.5) if above else st.floats(-1.0, 1.0))
        chain.append(Part("can", "fuel_can", {"floor_m": low, "volume_m3": 0.03}))
    hoses = draw(st.lists(HOSE, min_size=len(chain) - (not looped), max_size=len(chain) - (not looped)))
    return Boat(tuple(chain), tuple(hoses), looped)


@dataclass(frozen=True)
class Deed:
    """Something set, and then time that passes [s]; ``link`` and ``volume`` count round and round."""

    link: int
    opening: float
    restriction_1_per_m3: float
    volume: int
    filling: tuple[float, float] | None
    strokes_per_s: float
    electric_on: bool
    seaway: float
    heel_rad: float
    time_s: float

    @property
    def lasts_s(self) -> float:
        """How long it lasts [s]: hours of standing, but no more than a minute of pumping."""
        return min(self.time_s, 60.0) if self.strokes_per_s > 0.0 or self.electric_on else self.time_s


FILLINGS = st.none() | st.tuples(st.floats(0.0, 0.6), st.floats(0.0, 0.4))
DEEDS = st.builds(
    Deed,
    link=st.integers(0, 99),
    opening=st.sampled_from((0.0, 0.001, 0.03, 0.3, 1.0, 20.0)),
    restriction_1_per_m3=st.sampled_from((0.0, 0.0, 1e10, 1e12)),
    volume=st.integers(0, 99),
    filling=FILLINGS,
    strokes_per_s=st.sampled_from((0.0, 0.5, 1.0, 12.0)),
    electric_on=st.booleans(),
    seaway=st.sampled_from((0.0, 0.0, 0.5, 1.0)),
    heel_rad=st.sampled_from((0.0, 0.0, 0.35, -0.35)),
    time_s=st.sampled_from((0.01, 1.0, 30.0, 600.0, 7200.0)),
)
