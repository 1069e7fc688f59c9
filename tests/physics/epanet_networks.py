"""Random networks of tanks, hoses and valves, built once for our circuit and once for EPANET.

EPANET 2.2 is called through ``wntr`` (general public, US EPA). It takes heads in metres of the fluid itself, so that
the density drops out of the flows; its gravity is 32.2 ft/s2, 0.08 % above the standard one.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from pathlib import Path

from small_circuits import SmallCircuit
from wntr.epanet.toolkit import ENepanet
from wntr.epanet.util import EN

from engine_sim.circuit import CircuitState
from engine_sim.fluids import diesel_fuel

SUMMER_K = 293.15
TANK_M3, TANK_HEIGHT_M, PICK_UP_M = 1.0, 0.40, 0.03
JUNCTION_M3, JUNCTION_HEIGHT_M = 2e-5, 0.02
VISCOSITY_M2_PER_S = diesel_fuel.kinematic_viscosity_m2_per_s(SUMMER_K)
SPECIFIC_GRAVITY = diesel_fuel.density_kg_per_m3(SUMMER_K) / 1000.0
LITRE_M3 = 1e-3
BELOW_ALL_M = -50.0
"""Height of EPANET's junctions: it does not enter the flows, and so deep no pressure is negative."""


@dataclass(frozen=True)
class Valve:
    """A valve at the far end of a hose: bore [m], velocity heads lost when open [1], how far it is open [1]."""

    bore_m: float
    heads: float
    opening: float


@dataclass(frozen=True)
class Hose:
    """A hose between two nodes (tanks first, then junctions)."""

    start: int
    end: int
    bore_m: float
    length_m: float
    pieces: int
    valve: Valve | None


@dataclass(frozen=True)
class Network:
    """Tanks with their floor heights [m], junctions with their heights [m], hoses between them."""

    floors_m: tuple[float, ...]
    junctions_m: tuple[float, ...]
    hoses: tuple[Hose, ...]

    def loops(self) -> int:
        """Return how many hoses there are beyond those that a tree has."""
        return len(self.hoses) - (len(self.floors_m) + len(self.junctions_m) - 1)

    def height_m(self, node: int) -> float:
        """Return the height of a node's opening [m]."""
        tanks = len(self.floors_m)
        return self.floors_m[node] + PICK_UP_M if node < tanks else self.junctions_m[node - tanks]


def random_network(seed: int, most_loops: int = 3, head_m: float = 0.25) -> Network:
    """Return the network of a seed: 2 to 4 tanks, 1 to 6 junctions, a random tree over them and some loops."""
    chance = random.Random(seed)
    tanks, junctions = chance.randint(2, 4), chance.randint(1, 6)
    floors = (0.0, *(round(chance.uniform(0.2 * head_m, head_m), 3) for _ in range(tanks - 1)))
    heights = tuple(round(chance.uniform(-0.3, 0.3), 3) for _ in range(junctions))
    nodes = list(range(tanks + junctions))
    order = nodes[tanks:] + nodes[:tanks]
    ways = [(chance.choice(order[:place]), order[place]) for place in range(1, len(order))]
    for _ in range(chance.randint(0, most_loops)):
        one, other = chance.sample(nodes, 2)
        ways.append((one, other))
    return Network(floors, heights, tuple(_random_hose(chance, start, end) for start, end in ways))


def _random_hose(chance: random.Random, start: int, end: int) -> Hose:
    bore = chance.choice((0.004, 0.005, 0.006, 0.008))
    valve = None
    if chance.random() < 0.4:
        valve = Valve(chance.choice((0.004, 0.006, 0.008)), round(chance.uniform(0.5, 8.0), 2), chance.choice((0.3, 1)))
    return Hose(start, end, bore, round(chance.uniform(0.5, 4.0), 3), chance.randint(1, 3), valve)


def our_circuit(network: Network) -> CircuitState:
    """Return the network as a circuit of ours, every tank half full under an open vent."""
    small = SmallCircuit()
    tanks = len(network.floors_m)
    for number, floor in enumerate(network.floors_m):
        name = f"node_{number}"
        small.vessel(name, TANK_M3, floor, TANK_HEIGHT_M)
        small.hole(f"{name}.vent", small.mouth(name, floor + TANK_HEIGHT_M - 0.01), 7e-5)
    for number, height in enumerate(network.junctions_m):
        small.vessel(f"node_{tanks + number}", JUNCTION_M3, height - JUNCTION_HEIGHT_M / 2.0, JUNCTION_HEIGHT_M)
    for number, hose in enumerate(network.hoses):
        start_m, end_m = network.height_m(hose.start), network.height_m(hose.end)
        name = f"hose_{number}"
        small.hose(name, hose.bore_m, max(hose.length_m, abs(end_m - start_m)), start_m, end_m, hose.pieces)
        small.join(small.mouth(f"node_{hose.start}", start_m), small.mouth(f"{name}.start", 0.0), f"{name}.in")
        way = (hose.valve.bore_m, hose.valve.heads) if hose.valve else None
        small.join(small.mouth(f"{name}.end", 0.0), small.mouth(f"node_{hose.end}", end_m), f"{name}.out", way)
    state = small.state()
    for number in range(tanks):
        state.fill(f"node_{number}", 0.5)
    for number, hose in enumerate(network.hoses):
        if hose.valve:
            state.opening[state.topology.link_number(f"hose_{number}.out")] = hose.valve.opening
    return state


def surface_m(state: CircuitState, node: int) -> float:
    """Return the head of a tank [m of fuel]: its surface, and what its air is above ambient pressure."""
    number = state.topology.volume_number(f"node_{node}")
    over = state.pressure_pa[number] - state.fluids.ambient_pa
    return state.levels_m(number)[1] + over / (state.fluids.fuel_density_kg_per_m3 * 9.80665)


def epanet_text(network: Network, heads_m: list[float], tank_area_m2: float | None = None, hours: int = 0) -> str:
    """Return EPANET's own input: tanks as reservoirs, or as tanks with a given area for a run of so many hours."""
    tanks = len(network.floors_m)
    lines = ["[JUNCTIONS]"]
    lines += [f"node_{tanks + number} {BELOW_ALL_M} 0" for number in range(len(network.junctions_m))]
    lines += [f"valve_{number} {BELOW_ALL_M} 0" for number, hose in enumerate(network.hoses) if hose.valve]
    if tank_area_m2 is None:
        lines += ["[RESERVOIRS]", *(f"node_{number} {head!r}" for number, head in enumerate(heads_m))]
    else:
        across = 2.0 * (tank_area_m2 / 3.141592653589793) ** 0.5
        lines += ["[TANKS]", *(f"node_{n} {h - 0.2!r} 0.2 0 0.4 {across!r} 0" for n, h in enumerate(heads_m))]
    lines.append("[PIPES]")
    for number, hose in enumerate(network.hoses):
        length = max(hose.length_m, abs(network.height_m(hose.end) - network.height_m(hose.start)))
        end = f"valve_{number}" if hose.valve else f"node_{hose.end}"
        lines.append(f"hose_{number} node_{hose.start} {end} {length!r} {hose.bore_m * 1e3!r} 0.0001 0")
    lines.append("[VALVES]")
    for number, hose in enumerate(network.hoses):
        if hose.valve:
            heads = hose.valve.heads / hose.valve.opening**2
            lines.append(f"tap_{number} valve_{number} node_{hose.end} {hose.valve.bore_m * 1e3!r} TCV {heads!r} 0")
    lines += ["[TIMES]", f"DURATION {hours}", "HYDRAULIC TIMESTEP 0:00:10", "REPORT TIMESTEP 0:00:10"]
    lines += ["[OPTIONS]", "UNITS LPS", "HEADLOSS D-W", f"VISCOSITY {VISCOSITY_M2_PER_S!r}", "ACCURACY 0.00001"]
    return "\n".join([*lines, f"SPECIFIC GRAVITY {SPECIFIC_GRAVITY!r}", "TRIALS 200", "[END]", ""])


class Epanet:
    """EPANET with one network opened; use it as a context."""

    def __init__(self, text: str, folder: Path) -> None:
        path = folder / "network.inp"
        path.write_text(text)
        self.engine = ENepanet(version=2.2)
        self.engine.ENopen(str(path), str(folder / "network.rpt"), str(folder / "network.bin"))

    def __enter__(self) -> Epanet:
        return self

    def __exit__(self, *_: object) -> None:
        self.engine.ENclose()

    def solve(self) -> bool:
        """Solve the network, through the time that its text asks for; tell whether EPANET calls it balanced."""
        self.engine.ENsolveH()
        return not self.engine.Warnflag

    def flow_m3_per_s(self, hose: int) -> float:
        """Return the flow of a hose [m3/s]."""
        return self.engine.ENgetlinkvalue(self.engine.ENgetlinkindex(f"hose_{hose}"), EN.FLOW) * LITRE_M3
