"""Faults of the engine itself, its injectors, its air, exhaust, cooling water and propeller."""

from __future__ import annotations

from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.faults.fault import Fault, yes_or_no
from engine_sim.faults.places import INJECTOR
from engine_sim.faults.skipper import NIGHT, TRY
from engine_sim.sources import FROM_MEMORY, SourcedValue


def cylinder_of(part: str) -> int:
    """Return the cylinder (from 0) of an injector by its id."""
    return int(part.rpartition("_")[2]) - 1


def _let_injector_leak(rig: Rig, part: str, leak_share: float) -> None:
    line = rig.engine.lines[cylinder_of(part)]
    line.leak_share = line.nut_leak_share = leak_share


LEAKING_INJECTOR = Fault(
    id="leaking_injector",
    kinds=(INJECTOR,),
    severity=Parameter(
        "leak_share",
        SourcedValue(0.6, "1", FROM_MEMORY),
        0.0,
        1.0,
        "share of its fuel that dribbles instead of spraying",
    ),
    apply=_let_injector_leak,
    lead_ups=(TRY,),
    holds=("nozzle of {part}",),
)


def _stick_injector(rig: Rig, part: str, opening_pa: float) -> None:
    rig.engine.lines[cylinder_of(part)].opening_pressure_pa = opening_pa


FAILED_INJECTOR = Fault(
    id="failed_injector",
    kinds=(INJECTOR,),
    severity=Parameter(
        "opening_pa", SourcedValue(8e7, "Pa", FROM_MEMORY), 5e6, 2e8, "pressure that it now takes to open it"
    ),
    apply=_stick_injector,
    lead_ups=(TRY,),
    holds=("needle of {part}",),
)


def _block_intake(rig: Rig, _part: str, opening: float) -> None:
    rig.engine.intake_opening = opening


BLOCKED_INTAKE = Fault(
    id="blocked_intake",
    kinds=("engine",),
    severity=Parameter("opening", SourcedValue(0.06, "1", FROM_MEMORY), 0.02, 1.0, "share of the air intake left open"),
    apply=_block_intake,
    lead_ups=(TRY,),
    holds=("air intake of {part}",),
)


def _block_exhaust(rig: Rig, _part: str, opening: float) -> None:
    rig.engine.exhaust.opening = opening


BLOCKED_EXHAUST = Fault(
    id="blocked_exhaust",
    kinds=("exhaust",),
    severity=Parameter("opening", SourcedValue(0.07, "1", FROM_MEMORY), 0.02, 1.0, "share of the exhaust left open"),
    apply=_block_exhaust,
    lead_ups=(TRY,),
    holds=("bore of {part}",),
)


def _foul(rig: Rig, _part: str, load_factor: float) -> None:
    rig.engine.propeller_load = load_factor


FOULED_PROPELLER = Fault(
    id="fouled_propeller",
    kinds=("engine",),
    severity=Parameter(
        "load_factor",
        SourcedValue(3.0, "1", FROM_MEMORY),
        1.0,
        4.0,
        "torque that it takes, as a multiple of a clean one's",
    ),
    apply=_foul,
    lead_ups=(TRY,),
    holds=("propeller of {part}",),
)


def _wear(rig: Rig, _part: str, compression_share: float) -> None:
    for cylinder in rig.engine.cylinders:
        cylinder.compression_share = compression_share


LOW_COMPRESSION = Fault(
    id="low_compression",
    kinds=("engine",),
    severity=Parameter(
        "compression_share", SourcedValue(0.7, "1", FROM_MEMORY), 0.5, 1.0, "compression left in every cylinder"
    ),
    apply=_wear,
    lead_ups=(NIGHT, TRY),
    holds=("compression of {part}",),
)


def _shut_seacock(rig: Rig, _part: str, _shut: float) -> None:
    rig.engine.exhaust.seacock_open = False


SHUT_SEACOCK = Fault(
    id="shut_seacock",
    kinds=("exhaust",),
    severity=yes_or_no("shut", "shut all the way"),
    apply=_shut_seacock,
    lead_ups=(TRY,),
    holds=("seacock of {part}",),
)
