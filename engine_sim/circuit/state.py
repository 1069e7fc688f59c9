"""The truth about the circuit at one moment: contents, pressures, what stands open, what has passed."""

from __future__ import annotations

from dataclasses import dataclass, field

from engine_sim.circuit.topology import OPEN_AIR, Topology
from engine_sim.components import LinkKind
from engine_sim.errors import OutOfRange
from engine_sim.fluids import air, diesel_fuel, water
from engine_sim.units import STANDARD_ATMOSPHERE_PA, STANDARD_GRAVITY_M_PER_S2

Shares = tuple[float, float, float]
"""Shares by volume of fuel, water and air."""


@dataclass(frozen=True, slots=True)
class Fluids:
    """The figures of fuel, water and air at one temperature [K] and ambient pressure [Pa]."""

    temperature_k: float
    ambient_pa: float
    fuel_density_kg_per_m3: float
    fuel_viscosity_pa_s: float
    water_density_kg_per_m3: float
    water_viscosity_pa_s: float
    air_density_kg_per_m3: float
    air_viscosity_pa_s: float
    gas_factor_j_per_kg: float
    liquid_compressibility_1_per_pa: float

    @classmethod
    def at(cls, temperature_k: float, ambient_pa: float = STANDARD_ATMOSPHERE_PA) -> Fluids:
        """Return the figures at a temperature [K]."""
        return cls(
            temperature_k,
            ambient_pa,
            diesel_fuel.density_kg_per_m3(temperature_k),
            diesel_fuel.dynamic_viscosity_pa_s(temperature_k),
            water.fresh_density_kg_per_m3(temperature_k),
            water.VISCOSITY_20.value,
            air.density_kg_per_m3(temperature_k, ambient_pa),
            air.dynamic_viscosity_pa_s(temperature_k),
            air.GAS_CONSTANT.value * temperature_k,
            1.0 / diesel_fuel.BULK_MODULUS.value,
        )


@dataclass(slots=True)
class Drives:
    """What moves the fuel from outside: strokes of the lift pump and the plungers' draw."""

    pump_strokes_per_s: float = 0.0
    plunger_draw_m3_per_s: float = 0.0
    engine_turns: bool = False

    def idle(self) -> bool:
        """Tell whether nothing is pumped."""
        return self.pump_strokes_per_s <= 0.0 and not self.engine_turns


@dataclass(slots=True)
class CircuitState:
    """Contents in m3 and kg, pressures in Pa (absolute), one entry a volume; openings and sums, one a link.

    ``passed_*`` add up what went from a to b (negative: back) since the start.
    """

    topology: Topology
    fluids: Fluids
    fuel_m3: list[float]
    water_m3: list[float]
    air_kg: list[float]
    pressure_pa: list[float]
    compliance_m3_per_pa: list[float]
    opening: list[float]
    cake_kg: dict[int, float]
    flow_m3_per_s: list[float]
    passed_fuel_m3: list[float]
    passed_water_m3: list[float]
    passed_air_kg: list[float]
    drives: Drives = field(default_factory=Drives)
    slosh_m: float = 0.0
    fuel_dirt_kg_per_m3: float = 0.0

    @classmethod
    def full_of_fuel(cls, topology: Topology, fluids: Fluids) -> CircuitState:
        """Return a circuit whose every volume is full of clean fuel at ambient pressure."""
        volumes, links = topology.volumes, topology.links
        return cls(
            topology=topology,
            fluids=fluids,
            fuel_m3=[volume.volume_m3 for volume in volumes],
            water_m3=[0.0] * len(volumes),
            air_kg=[0.0] * len(volumes),
            pressure_pa=[fluids.ambient_pa] * len(volumes),
            compliance_m3_per_pa=[
                volume.compliance_m3_per_pa + volume.volume_m3 * fluids.liquid_compressibility_1_per_pa
                for volume in volumes
            ],
            opening=[link.opening for link in links],
            cake_kg=dict.fromkeys(topology.elements, 0.0),
            flow_m3_per_s=[0.0] * len(links),
            passed_fuel_m3=[0.0] * len(links),
            passed_water_m3=[0.0] * len(links),
            passed_air_kg=[0.0] * len(links),
        )

    def fill(self, volume: str, fuel_share: float, water_share: float = 0.0) -> None:
        """Set what a volume holds, as shares 0..1 of it; the rest is air at ambient pressure."""
        number = self.topology.volume_number(volume)
        if not (fuel_share >= 0.0 and water_share >= 0.0 and fuel_share + water_share <= 1.0):
            raise OutOfRange(f"filling of {volume}", (fuel_share, water_share), 0.0, 1.0, "(shares, sum at most 1)")
        space = self.topology.volumes[number].volume_m3
        self.fuel_m3[number] = fuel_share * space
        self.water_m3[number] = water_share * space
        rest = max(0.0, 1.0 - fuel_share - water_share) * space
        self.air_kg[number] = rest * self.fluids.ambient_pa / self.fluids.gas_factor_j_per_kg
        self.pressure_pa[number] = self.fluids.ambient_pa

    def air_m3(self, number: int) -> float:
        """Return the space that the air in a volume takes now [m3]."""
        return self.air_kg[number] * self.fluids.gas_factor_j_per_kg / self.pressure_pa[number]

    def shares(self, number: int) -> Shares:
        """Return the shares of fuel, water and air in a volume."""
        fuel, aqua, gas = self.fuel_m3[number], self.water_m3[number], self.air_m3(number)
        whole = fuel + aqua + gas
        return fuel / whole, aqua / whole, gas / whole

    def levels_m(self, number: int) -> tuple[float, float]:
        """Return the heights of the water's top and of the liquid's top in a layered volume [m]."""
        volume = self.topology.volumes[number]
        height = volume.top_m - volume.bottom_m
        fuel, aqua, _ = self.shares(number)
        water_top = volume.bottom_m + aqua * height
        return water_top, water_top + fuel * height

    def pressure_at(self, number: int, height_m: float) -> float:
        """Return the pressure [Pa] in a volume at a height [m]; the open air has ambient pressure."""
        if number == OPEN_AIR:
            return self.fluids.ambient_pa
        return self.pressure_pa[number] + self.head_pa(number, height_m)

    def head_pa(self, number: int, height_m: float) -> float:
        """Return by how much the pressure at a height [m] exceeds the volume's own pressure [Pa]."""
        volume, fluids = self.topology.volumes[number], self.fluids
        if not volume.layered:
            fuel, aqua, _ = self.shares(number)
            density = fuel * fluids.fuel_density_kg_per_m3 + aqua * fluids.water_density_kg_per_m3
            middle = (volume.bottom_m + volume.top_m) / 2.0
            return density * STANDARD_GRAVITY_M_PER_S2 * (middle - height_m)
        water_top, liquid_top = self.levels_m(number)
        fuel_above = max(0.0, liquid_top - max(height_m, water_top))
        water_above = max(0.0, water_top - height_m)
        return STANDARD_GRAVITY_M_PER_S2 * (
            fuel_above * fluids.fuel_density_kg_per_m3 + water_above * fluids.water_density_kg_per_m3
        )

    def link_pressures_pa(self, link: int) -> tuple[float, float]:
        """Return the pressures [Pa] at the two ends of a link."""
        spec = self.topology.links[link]
        at_a = self.pressure_at(self.topology.end_a[link], (spec.a.low_m + spec.a.high_m) / 2.0)
        if spec.b is None:
            return at_a, self.fluids.ambient_pa
        return at_a, self.pressure_at(self.topology.end_b[link], (spec.b.low_m + spec.b.high_m) / 2.0)

    def is_driven(self, link: int) -> bool:
        """Tell whether the link is a pump."""
        return self.topology.links[link].kind in (LinkKind.LIFT_PUMP, LinkKind.PLUNGERS)

    def totals(self) -> tuple[float, float, float]:
        """Return fuel [m3], water [m3] and air [kg] inside the circuit."""
        return sum(self.fuel_m3), sum(self.water_m3), sum(self.air_kg)
