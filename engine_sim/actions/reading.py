"""Rounding to what a person can tell, and what a jar held to the light shows."""

from __future__ import annotations

from engine_sim.actions.jar import Sample, ml
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, see, smell
from engine_sim.sources import FROM_MEMORY, SourcedValue, published
from engine_sim.units import LITRE_M3, MINUTE_S
from engine_sim.wording import SHARE_WORDS

_MINUTES_FROM = 2.0
_PETROL_SMELLS = SourcedValue(0.01, "1", FROM_MEMORY, "share of petrol from which diesel smells of it").value
_DIRTY_KG_PER_M3 = SourcedValue(
    0.2, "kg/m3", FROM_MEMORY, "dirt that an eye sees in a jar, ten times the limit of EN 590"
).value
_SLIMY_KG_PER_M3 = SourcedValue(2.0, "kg/m3", FROM_MEMORY, "dirt from which the fuel in a jar is dark and slimy").value
_GROWN_FROM = SourcedValue(0.5, "1", FROM_MEMORY, "share of slime from which dirt looks and smells of it").value
_CRYSTALS_FROM = SourcedValue(0.05, "1", FROM_MEMORY, "share of urea solution that leaves crystals as it dries").value
_HAZY_SHARE = SourcedValue(
    400e-6,
    "1",
    published("EN 590: water at most 200 mg/kg; fuel that holds more than it dissolves turns hazy (from memory)"),
).value


def litres_of(volume_m3: float) -> float:
    """Return a volume in litres, to the tenth that a can's marks tell [L]."""
    return round(volume_m3 / LITRE_M3, 1)


def span(time_s: float) -> str:
    """Return a stretch of time [s] as one would say it: seconds at first, minutes from two on."""
    if time_s < _MINUTES_FROM * MINUTE_S:
        return f"{max(1, int(time_s + 0.5))} s"
    return f"{int(time_s / MINUTE_S + 0.5)} min"


def plain_share(share: float) -> str:
    """Return a share to the nearest quarter in words."""
    return SHARE_WORDS[int(min(1.0, max(0.0, share)) * (len(SHARE_WORDS) - 1) + 0.5)]


def is_hazy(water_share: float) -> bool:
    """Tell whether so much water in droplets makes fuel look hazy."""
    return water_share > _HAZY_SHARE


def is_cloudy(place: Workplace) -> bool:
    """Tell whether the cold has clouded the fuel with wax."""
    circuit = place.rig.circuit
    return circuit.fluids.temperature_k < circuit.cloud_k


def is_dirty(dirt_kg: float, liquid_m3: float) -> bool:
    """Tell whether an eye sees specks in the fuel."""
    return liquid_m3 > 0.0 and dirt_kg > _DIRTY_KG_PER_M3 * liquid_m3


def is_slimy(dirt_kg: float, liquid_m3: float) -> bool:
    """Tell whether the fuel is dark with slime."""
    return liquid_m3 > 0.0 and dirt_kg > _SLIMY_KG_PER_M3 * liquid_m3


def smells_of_petrol(sample: Sample) -> bool:
    """Tell whether the nose finds petrol."""
    return sample.fuel_m3 > 0.0 and sample.petrol_m3 > _PETROL_SMELLS * sample.fuel_m3


def read_jar(place: Workplace, part: str) -> list[Noticed]:
    """Return what the jar shows, held to the light."""
    sample = place.jar.sample(place.rig)
    fuel, water = ml(sample.fuel_m3), ml(sample.water_m3)
    if fuel + water <= 0:
        return [see(part, "jar_empty")]
    clean = not is_dirty(sample.dirt_kg, sample.liquid_m3) and not is_hazy(sample.water_m3 / sample.liquid_m3)
    found: list[Noticed] = []
    if water > 0 and fuel > 0:
        found.append(see(part, "jar_water", water=water, fuel=fuel))
    elif water > 0:
        found.append(see(part, "jar_all_water", ml=water))
    elif clean:
        found.append(see(part, "jar_fuel", ml=fuel))
    else:
        found.append(see(part, "jar_one_layer", ml=fuel))
    return [*found, *_in_the_fuel(place, part, sample, water)]


def has_grown(place: Workplace) -> bool:
    """Tell whether the dirt aboard is mostly slime that grew there, dark and foul, and not rust and dust."""
    return place.rig.circuit.slime_share > _GROWN_FROM


def _in_the_fuel(place: Workplace, part: str, sample: Sample, water_ml: int) -> list[Noticed]:
    found: list[Noticed] = []
    if is_slimy(sample.dirt_kg, sample.liquid_m3) and has_grown(place):
        found.append(see(part, "jar_slime"))
        found.append(smell(part, "jar_foul"))
    elif is_dirty(sample.dirt_kg, sample.liquid_m3):
        found.append(see(part, "jar_dirt"))
    if water_ml <= 0 and is_hazy(sample.water_m3 / sample.liquid_m3):
        found.append(see(part, "jar_hazy"))
    if smells_of_petrol(sample):
        found.append(smell(part, "jar_petrol"))
    if water_ml > 0 and place.rig.circuit.urea_share > _CRYSTALS_FROM:
        found.append(see(part, "jar_crystals"))
    if sample.fuel_m3 > 0.0 and is_cloudy(place):
        found.append(see(part, "jar_waxy"))
    return found
