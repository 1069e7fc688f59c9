"""The truth about the circuit at one moment: contents, pressures, what stands open, what has passed."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field
from typing import Any

from engine_sim.circuit.topology import OPEN_AIR, Drives, Topology
from engine_sim.errors import OutOfRange
from engine_sim.fluids import air, diesel_fuel, dissolved_air, water
from engine_sim.sources import FROM_MEMORY, SourcedValue, published
from engine_sim.units import STANDARD_ATMOSPHERE_PA, STANDARD_GRAVITY_M_PER_S2

Shares = tuple[float, float, float]
"""Shares by volume of fuel, water and air."""

Look = tuple[float, float, float, float, float]
"""Shares of fuel, water and air; heights of the water's and of the liquid's top [m]."""


_LAMINAR_BELOW = SourcedValue(
    2000.0, "1", FROM_MEMORY, "Reynolds number below which the flow in a hose is laminar"
).value
_THINNEST_M2_PER_S = SourcedValue(
    0.6e-6, "m2/s", FROM_MEMORY, "petrol, the thinnest that can flow: below its limit nothing is turbulent"
).value
_FUEL_DIRT = SourcedValue(
    0.020075, "kg/m3", published("EN 590: total contamination at most 24 mg/kg, at 836.45 kg/m3")
).value


class KeptLinks(dict[int, tuple[tuple[float, ...], Any]]):
    """Figures of links that do not change from step to step; a copied circuit works out its own."""

    def __deepcopy__(self, memo: dict[int, object]) -> KeptLinks:
        """Return an empty one."""
        return KeptLinks()


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
    laminar_below_m2_per_s: float
    dissolved_kg_per_m3_pa: float

    @classmethod
    def at(cls, temperature_k: float, ambient_pa: float = STANDARD_ATMOSPHERE_PA) -> Fluids:
        """Return the figures at a temperature [K]."""
        return cls(
            temperature_k,
            ambient_pa,
            diesel_fuel.density_kg_per_m3(temperature_k),
            diesel_fuel.dynamic_viscosity_pa_s(temperature_k),
            water.fresh_density_kg_per_m3(water.within_table_k(temperature_k)),
            water.dynamic_viscosity_pa_s(water.within_table_k(temperature_k)),
            air.density_kg_per_m3(temperature_k, ambient_pa),
            air.dynamic_viscosity_pa_s(temperature_k),
            air.GAS_CONSTANT.value * temperature_k,
            1.0 / diesel_fuel.BULK_MODULUS.value,
            _LAMINAR_BELOW * _THINNEST_M2_PER_S,
            dissolved_air.saturation_kg_per_m3_pa(temperature_k),
        )


@dataclass(slots=True)
class CircuitState:
    """Contents in m3 and kg, pressures in Pa (absolute), one entry a volume; openings and sums, one a link.

    ``passed_*`` add up what went from a to b (negative: back) since the start. ``urea_share`` is the share of all the
    water aboard that is urea solution, ``slime_share`` the share of all the dirt aboard that is slime which grew there.
    ``left_at`` is how the last play left the circuit: the step it would have tried next [s], and a mark of all that
    hands can change, empty where the flow was not steady.
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
    passed_dissolved_kg: list[float]
    passed_dirt_kg: list[float]
    passed_petrol_m3: list[float]
    numbers: list[dict[str, float]]
    extra_laminar_1_per_m3: list[float]
    dirt_kg: list[float]
    haze_m3: list[float]
    petrol_m3: list[float]
    dissolved_kg: list[float]
    sludge_kg: list[float]
    element_k: dict[int, float]
    drives: Drives = field(default_factory=Drives)
    seaway: float = 0.0
    heel_rad: float = 0.0
    pitch_rad: float = 0.0
    urea_share: float = 0.0
    slime_share: float = 0.0
    cloud_k: float = diesel_fuel.CLOUD_POINT.value
    cfpp_k: float = diesel_fuel.CFPP.value
    fuel_dirt_kg_per_m3: float = _FUEL_DIRT
    kept_links: KeptLinks = field(default_factory=KeptLinks)
    kept_mark: tuple[int, bool] = (0, True)
    left_at: tuple[float, tuple[object, ...]] = (0.0, ())

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
            passed_dissolved_kg=[0.0] * len(links),
            passed_dirt_kg=[0.0] * len(links),
            passed_petrol_m3=[0.0] * len(links),
            numbers=[dict(link.numbers) for link in links],
            extra_laminar_1_per_m3=[0.0] * len(links),
            dirt_kg=[volume.volume_m3 * _FUEL_DIRT for volume in volumes],
            haze_m3=[0.0] * len(volumes),
            petrol_m3=[0.0] * len(volumes),
            dissolved_kg=[0.0] * len(volumes),
            sludge_kg=[0.0] * len(volumes),
            element_k=dict.fromkeys(topology.elements, fluids.temperature_k),
        )

    def set_fuel_dirt(self, dirt_kg_per_m3: float) -> None:
        """Let the fuel everywhere, and what is poured in from now on, carry so much dirt [kg/m3]."""
        self.fuel_dirt_kg_per_m3 = dirt_kg_per_m3
        self.dirt_kg = [fuel * dirt_kg_per_m3 for fuel in self.fuel_m3]

    def full_of_plain_fuel(self) -> list[bool]:
        """Tell for each volume whether it is brim-full of fuel, without air or water."""
        return [air <= 0.0 and water <= 0.0 for air, water in zip(self.air_kg, self.water_m3, strict=True)]

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
        self.dirt_kg[number] = self.fuel_m3[number] * self.fuel_dirt_kg_per_m3
        self.haze_m3[number] = self.petrol_m3[number] = self.dissolved_kg[number] = 0.0

    def air_m3(self, number: int) -> float:
        """Return the space that the air in a volume takes now [m3]."""
        return self.air_kg[number] * self.fluids.gas_factor_j_per_kg / self.pressure_pa[number]

    def shares(self, number: int) -> Shares:
        """Return the shares of fuel, water and air in a volume."""
        fuel, aqua, gas = self.fuel_m3[number], self.water_m3[number], self.air_m3(number)
        whole = fuel + aqua + gas
        return fuel / whole, aqua / whole, gas / whole

    def look(self, number: int) -> Look:
        """Return the shares of fuel, water and air in a volume, and the heights of water and liquid in it [m].

        The heights make sense in a layered volume; droplets that have not settled count with the fuel.
        """
        fuel, aqua, gas = self.shares(number)
        volume = self.topology.volumes[number]
        if not volume.layered:
            return fuel, aqua, gas, volume.top_m, volume.top_m
        height = volume.top_m - volume.bottom_m
        water, liquid = aqua - self.haze_m3[number] / volume.volume_m3, fuel + aqua
        if volume.level_table:
            water, liquid = _height_share(volume.level_table, water), _height_share(volume.level_table, liquid)
        return fuel, aqua, gas, volume.bottom_m + water * height, volume.bottom_m + liquid * height

    def levels_m(self, number: int) -> tuple[float, float]:
        """Return the heights of the water's top and of the liquid's top in a layered volume [m]."""
        return self.look(number)[3:]

    def pressure_at(self, number: int, height_m: float) -> float:
        """Return the pressure [Pa] in a volume at a height [m]; the open air has ambient pressure."""
        if number == OPEN_AIR:
            return self.fluids.ambient_pa
        return self.pressure_pa[number] + self.head_pa(number, height_m)

    def head_pa(self, number: int, height_m: float, look: Look | None = None) -> float:
        """Return by how much the pressure at a height [m] exceeds the volume's own pressure [Pa]."""
        volume, fluids = self.topology.volumes[number], self.fluids
        fuel, aqua, _, water_top, liquid_top = look or self.look(number)
        if not volume.layered:
            density = fuel * fluids.fuel_density_kg_per_m3 + aqua * fluids.water_density_kg_per_m3
            return density * STANDARD_GRAVITY_M_PER_S2 * ((volume.bottom_m + volume.top_m) / 2.0 - height_m)
        fuel_above = liquid_top - (water_top if water_top > height_m else height_m)
        head = fuel_above * fluids.fuel_density_kg_per_m3 if fuel_above > 0.0 else 0.0
        if water_top > height_m:
            head += (water_top - height_m) * fluids.water_density_kg_per_m3
        return head * STANDARD_GRAVITY_M_PER_S2

    def link_pressures_pa(self, link: int) -> tuple[float, float]:
        """Return the pressures [Pa] at the two ends of a link."""
        spec = self.topology.links[link]
        at_a = self.pressure_at(self.topology.end_a[link], (spec.a.low_m + spec.a.high_m) / 2.0)
        if spec.b is None:
            return at_a, self.fluids.ambient_pa
        return at_a, self.pressure_at(self.topology.end_b[link], (spec.b.low_m + spec.b.high_m) / 2.0)

    def totals(self) -> tuple[float, float, float]:
        """Return fuel [m3], water [m3] and air [kg] inside the circuit."""
        return sum(self.fuel_m3), sum(self.water_m3), self.all_air_kg()

    def all_air_kg(self) -> float:
        """Return the air inside the circuit [kg], free and (beyond saturation at ambient pressure) dissolved."""
        return sum(self.air_kg) + sum(self.dissolved_kg)

    def all_dirt_kg(self) -> float:
        """Return the dirt inside the circuit [kg]: in the fuel, on the floors, on the elements."""
        return sum(self.dirt_kg) + sum(self.sludge_kg) + sum(self.cake_kg.values())


def _height_share(table: tuple[tuple[float, float], ...], volume_share: float) -> float:
    """Return up to which share of its height a vessel is filled by a share of its volume."""
    for (low, less), (high, more) in itertools.pairwise(table):
        if volume_share <= more:
            return low + (high - low) * max(0.0, volume_share - less) / (more - less)
    return table[-1][0]
