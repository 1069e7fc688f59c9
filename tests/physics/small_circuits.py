"""Small circuits built by hand, piece by piece, for checks that want no more than a vessel, a hose and a hole."""

from __future__ import annotations

import dataclasses

from engine_sim.circuit import CircuitState, Fluids, Topology
from engine_sim.components import Blueprint, LinkKind, LinkSpec, PortSpec, ThroughSpec, VolumeSpec, component_kind
from engine_sim.components.geometry import fitting_loss_1_per_m4, orifice_loss_1_per_m4

SUMMER_K = 293.15
NEXT_TO_NOTHING = 1e-30
MOUTH_M = 0.004
"""Height of an opening in the wall of a vessel."""
LIFT_PUMP = {
    "stroke_m3": 2.0e-6,
    "stroke_efficiency": 0.7,
    "dead_volume_m3": 8.0e-6,
    "spring_pa": 25e3,
    "suction_limit_pa": 60e3,
    "valve_loss_pa": 1.0e3,
    "valve_leak": 0.0,
}
"""A lift pump's figures, in SI units."""


class SmallCircuit:
    """A blueprint in the making; every opening is named by its volume and height."""

    def __init__(self) -> None:
        self.blueprint = Blueprint()

    def vessel(self, name: str, volume_m3: float, bottom_m: float, height_m: float, give_m3_per_pa: float = 1e-13):
        """Add an upright vessel with straight walls."""
        spec = VolumeSpec(name, name, volume_m3, bottom_m, bottom_m + height_m, give_m3_per_pa)
        self.blueprint.volumes.append(spec)

    def hose(self, name: str, bore_m: float, length_m: float, start_m: float, end_m: float, pieces: int = 1, **more):
        """Add a hose of the course's own kind."""
        given = {"bore_m": bore_m, "length_m": length_m, "start_height_m": start_m, "end_height_m": end_m}
        kind = component_kind("hose")
        kind.build(self.blueprint, name, kind.numbers(name, {**given, "pieces": pieces, **more}))

    def mouth(self, volume: str, height_m: float, half_m: float = MOUTH_M / 2.0) -> PortSpec:
        """Return an opening in a volume's wall around a height, or the end of a hose (``hose.start``, ``hose.end``)."""
        if volume in self.blueprint.ports:
            return self.blueprint.ports[volume]
        return PortSpec(volume, height_m - half_m, height_m + half_m)

    def join(self, a: PortSpec, b: PortSpec, name: str = "", valve: tuple[float, float] | None = None) -> None:
        """Join two openings; ``valve`` is (bore [m], velocity heads lost)."""
        through = ThroughSpec(name, 0.0, fitting_loss_1_per_m4(valve[1], valve[0])) if valve else None
        self.blueprint.join(a, b, through, name)

    def hole(self, name: str, port: PortSpec, area_m2: float) -> None:
        """Add a sharp hole to the open air."""
        self.blueprint.links.append(LinkSpec(name, name, port, None, 0.0, orifice_loss_1_per_m4(area_m2)))

    def tube(self, name: str, a: PortSpec, b: PortSpec, laminar_1_per_m3: float) -> None:
        """Add a way of purely laminar loss, 128 L / (pi D^4), between two openings."""
        self.blueprint.links.append(LinkSpec(name, name, a, b, laminar_1_per_m3, 0.0))

    def lift_pump(self, name: str, a: PortSpec, b: PortSpec, **figures: float) -> None:
        """Add a lift pump between two openings; ``figures`` differ from LIFT_PUMP."""
        loss = fitting_loss_1_per_m4(4.0, 0.006)
        numbers = LIFT_PUMP | figures
        self.blueprint.links.append(LinkSpec(name, name, a, b, 0.0, loss, LinkKind.LIFT_PUMP, numbers=numbers))

    def state(self, dissolves: bool = True) -> CircuitState:
        """Return the circuit full of fuel at 20 degC and one standard atmosphere; its fuel may dissolve no air."""
        fluids = Fluids.at(SUMMER_K)
        if not dissolves:
            fluids = dataclasses.replace(fluids, dissolved_kg_per_m3_pa=NEXT_TO_NOTHING)
        return CircuitState.full_of_fuel(Topology(self.blueprint), fluids)


def passed_m3(state: CircuitState, link: str) -> float:
    """Return the fuel that has gone through a link since the start [m3]."""
    return state.passed_fuel_m3[state.topology.link_number(link)]


def flow_m3_per_s(state: CircuitState, link: str) -> float:
    """Return the flow through a link now [m3/s]."""
    return state.flow_m3_per_s[state.topology.link_number(link)]


def held_m3(state: CircuitState, volume: str) -> float:
    """Return the fuel in a volume [m3]."""
    return state.fuel_m3[state.topology.volume_number(volume)]


def sums(state: CircuitState) -> dict[str, float]:
    """Return each thing that is neither made nor lost: what is inside, and what has gone to the open air [m3, kg]."""
    outward = [number for number, link in enumerate(state.topology.links) if link.b is None]
    fuel, water, air = state.totals()
    gone_air = sum(state.passed_air_kg[number] + state.passed_dissolved_kg[number] for number in outward)
    return {
        "fuel": fuel + sum(state.passed_fuel_m3[number] for number in outward),
        "water": water + sum(state.passed_water_m3[number] for number in outward),
        "air": air + gone_air,
        "dirt": state.all_dirt_kg() + sum(state.passed_dirt_kg[number] for number in outward),
        "petrol": sum(state.petrol_m3) + sum(state.passed_petrol_m3[number] for number in outward),
    }


def assert_conserved(before: dict[str, float], state: CircuitState) -> None:
    """Hold each thing to 1e-9 of what there was of it and of what has come in since the start."""
    blown = sum(abs(passed) for passed in state.passed_air_kg)
    for name, now in sums(state).items():
        entered = blown if name == "air" else 0.0
        assert abs(now - before[name]) <= 1e-9 * (abs(before[name]) + entered) + 1e-15, name
