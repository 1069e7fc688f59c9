"""Faults of what turns and warms the engine: battery, connections, starter, preheat."""

from __future__ import annotations

from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.faults.fault import Fault, yes_or_no
from engine_sim.faults.skipper import NIGHT, TRY
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue


def _switch_off(rig: Rig, _part: str, _off: float) -> None:
    rig.engine.battery.connected = False


ISOLATOR_OFF = Fault(
    id="isolator_off",
    kinds=("battery",),
    severity=yes_or_no("off", "off"),
    apply=_switch_off,
    lead_ups=(),
    holds=("isolator of {part}",),
)


def _run_flat(rig: Rig, _part: str, charge_share: float) -> None:
    rig.engine.battery.charge_share = charge_share


FLAT_BATTERY = Fault(
    id="flat_battery",
    kinds=("battery",),
    severity=Parameter("charge_share", SourcedValue(0.02, "1", FROM_MEMORY), 0.0, 0.5, "charge left, share of full"),
    apply=_run_flat,
    lead_ups=(),
    holds=("charge of {part}",),
    at_last=True,
)


def _corrode(rig: Rig, part: str, extra_ohm: float) -> None:
    if rig.layout.kinds[part] == "battery":
        rig.engine.battery.extra_ohm = extra_ohm
    else:
        rig.engine.starter.extra_ohm = extra_ohm


BAD_CONNECTION = Fault(
    id="bad_connection",
    kinds=("battery", "starter"),
    severity=Parameter(
        "extra_ohm", SourcedValue(0.1, "ohm", FROM_MEMORY), 1e-3, 2.0, "resistance that dirt or slackness adds there"
    ),
    apply=_corrode,
    lead_ups=(TRY,),
    holds=("connection of {part}",),
)


def _kill_starter_solenoid(rig: Rig, _part: str, _dead: float) -> None:
    rig.engine.starter.solenoid_ok = False


STARTER_SOLENOID = Fault(
    id="starter_solenoid",
    kinds=("starter",),
    severity=yes_or_no("dead", "it does not pull in"),
    apply=_kill_starter_solenoid,
    lead_ups=(TRY,),
    holds=("solenoid of {part}",),
)


def _burn_starter(rig: Rig, _part: str, _burnt: float) -> None:
    rig.engine.starter.burnt = True


FAILED_STARTER = Fault(
    id="failed_starter",
    kinds=("starter",),
    severity=yes_or_no("burnt", "its windings are burnt"),
    apply=_burn_starter,
    lead_ups=(TRY,),
    holds=("windings of {part}",),
)


def _kill_preheat(rig: Rig, _part: str, plugs_left: float) -> None:
    preheat = rig.engine.preheat
    preheat.supply_ok = plugs_left >= 1.0
    for number in range(len(preheat.plugs_ok)):
        preheat.plugs_ok[number] = number < plugs_left


NO_PREHEAT = Fault(
    id="no_preheat",
    kinds=("preheat",),
    severity=Parameter(
        "plugs_left", SourcedValue(0.0, "1", COMMON_PRACTICE), 0.0, 3.0, "plugs that still heat, 0 for a dead supply"
    ),
    apply=_kill_preheat,
    lead_ups=(NIGHT, TRY),
    holds=("plugs of {part}",),
)
