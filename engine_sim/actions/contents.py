"""Moving what a space holds by hand: drawing off from the floor, blowing a hose out, with nothing made or lost."""

from __future__ import annotations

from engine_sim.actions.jar import Sample
from engine_sim.circuit.rig import Rig
from engine_sim.sources import COMMON_PRACTICE, SourcedValue

_FLOOR_M3 = SourcedValue(0.005, "m3", COMMON_PRACTICE, "drawn from a floor until what lay on it has come along").value


def volumes_of(rig: Rig, part: str) -> tuple[str, ...]:
    """Return the ids of the volumes that belong to a part of the layout, in flow order."""
    return tuple(volume.id for volume in rig.topology.volumes if volume.part == part)


def draw_off(rig: Rig, vessel: str, wanted_m3: float) -> Sample:
    """Take so much [m3] from the floor of an open vessel: settled water first, then fuel; air comes in above.

    Of what lies on the floor as much comes along as the share of the vessel that is drawn.
    """
    circuit, number = rig.circuit, rig.topology.volume_number(vessel)
    settled_m3 = max(0.0, circuit.water_m3[number] - circuit.haze_m3[number])
    water_m3 = min(wanted_m3, settled_m3)
    fuel_m3 = min(wanted_m3 - water_m3, circuit.fuel_m3[number])
    share = fuel_m3 / circuit.fuel_m3[number] if circuit.fuel_m3[number] > 0.0 else 0.0
    haze_m3 = circuit.haze_m3[number] * share
    petrol_m3, dirt_kg = circuit.petrol_m3[number] * share, circuit.dirt_kg[number] * share
    sludge_kg = circuit.sludge_kg[number] * min(1.0, wanted_m3 / _FLOOR_M3)
    circuit.haze_m3[number] -= haze_m3
    circuit.petrol_m3[number] -= petrol_m3
    circuit.dirt_kg[number] -= dirt_kg
    circuit.sludge_kg[number] -= sludge_kg
    sample = Sample(fuel_m3, water_m3 + haze_m3, petrol_m3, dirt_kg + sludge_kg)
    _give_up(rig, number, sample)
    return sample


def _give_up(rig: Rig, number: int, sample: Sample) -> None:
    """Count a sample as taken out of a volume and let air in for it at ambient pressure."""
    circuit = rig.circuit
    circuit.fuel_m3[number] -= sample.fuel_m3
    circuit.water_m3[number] -= sample.water_m3
    before_kg = circuit.air_kg[number] + circuit.dissolved_kg[number]
    room_m3 = rig.topology.volumes[number].volume_m3 - circuit.fuel_m3[number] - circuit.water_m3[number]
    circuit.pressure_pa[number] = circuit.fluids.ambient_pa
    circuit.air_kg[number] = max(0.0, room_m3) * circuit.fluids.ambient_pa / circuit.fluids.gas_factor_j_per_kg
    rig.taken_fuel_m3 += sample.fuel_m3
    rig.taken_water_m3 += sample.water_m3
    rig.taken_petrol_m3 += sample.petrol_m3
    rig.taken_dirt_kg += sample.dirt_kg
    rig.taken_air_kg += before_kg - circuit.air_kg[number] - circuit.dissolved_kg[number]


def blow_into(rig: Rig, hose: str, vessel: str) -> None:
    """Blow what is in a hose into a vessel; air takes its place."""
    circuit, into = rig.circuit, rig.topology.volume_number(vessel)
    for volume in volumes_of(rig, hose):
        number = rig.topology.volume_number(volume)
        moved = Sample(circuit.fuel_m3[number], circuit.water_m3[number], circuit.petrol_m3[number])
        dirt_kg = circuit.dirt_kg[number]
        rig.take_out(volume)
        circuit.fuel_m3[into] += moved.fuel_m3
        circuit.water_m3[into] += moved.water_m3
        circuit.petrol_m3[into] += moved.petrol_m3
        circuit.dirt_kg[into] += dirt_kg
        rig.taken_fuel_m3 -= moved.fuel_m3
        rig.taken_water_m3 -= moved.water_m3
        rig.taken_petrol_m3 -= moved.petrol_m3
        rig.taken_dirt_kg -= dirt_kg


def put_dirt(rig: Rig, volume: str, dirt_kg: float) -> None:
    """Let so much dirt [kg] get into a space."""
    rig.circuit.dirt_kg[rig.topology.volume_number(volume)] += dirt_kg
    rig.taken_dirt_kg -= dirt_kg


def take_dirt(rig: Rig, volume: str) -> float:
    """Wipe a space clean of what lies in it; return the dirt wiped away [kg]."""
    circuit, number = rig.circuit, rig.topology.volume_number(volume)
    dirt_kg = circuit.dirt_kg[number] + circuit.sludge_kg[number]
    circuit.dirt_kg[number] = circuit.sludge_kg[number] = 0.0
    rig.taken_dirt_kg += dirt_kg
    return dirt_kg
