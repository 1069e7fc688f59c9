"""Faults of the fuel itself: too cold for it, petrol in it, urea solution under it."""

from __future__ import annotations

from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.faults.contamination import add_water
from engine_sim.faults.fault import Fault
from engine_sim.faults.skipper import NIGHT, TRY
from engine_sim.sources import FROM_MEMORY, SourcedValue

TEMPERATURE = "temperature of the boat"
"""What a cold night settles, and what a scenario may settle instead."""


def _let_it_freeze(rig: Rig, _part: str, temperature_c: float) -> None:
    rig.set_temperature(temperature_c)


WAXED_FUEL = Fault(
    id="waxed_fuel",
    kinds=("tank",),
    severity=Parameter(
        "temperature_c",
        SourcedValue(-12.0, "degC", FROM_MEMORY, "2 K below where a fuel of class D plugs a cold filter"),
        -20.0,
        5.0,
        "temperature of boat and fuel in the night",
    ),
    apply=_let_it_freeze,
    lead_ups=(NIGHT, TRY),
    holds=(TEMPERATURE,),
)


def _fill_with_petrol(rig: Rig, part: str, petrol_share: float) -> None:
    number = rig.topology.volume_number(part)
    rig.circuit.petrol_m3[number] = rig.circuit.fuel_m3[number] * petrol_share


PETROL_IN_FUEL = Fault(
    id="petrol_in_fuel",
    kinds=("tank",),
    severity=Parameter(
        "petrol_share", SourcedValue(0.4, "1", FROM_MEMORY), 0.01, 1.0, "share of petrol in the tank's fuel"
    ),
    apply=_fill_with_petrol,
    lead_ups=(TRY,),
    holds=("fuel in {part}",),
)


def _fill_with_urea(rig: Rig, part: str, solution_m3: float) -> None:
    add_water(rig, part, solution_m3)
    rig.circuit.urea_share = 1.0


UREA_IN_FUEL = Fault(
    id="urea_in_fuel",
    kinds=("tank",),
    severity=Parameter(
        "solution_m3",
        SourcedValue(5e-3, "m3", FROM_MEMORY),
        1e-4,
        3e-2,
        "urea solution poured into the tank by mistake",
    ),
    apply=_fill_with_urea,
    lead_ups=(TRY,),
    holds=("contents of {part}",),
)
