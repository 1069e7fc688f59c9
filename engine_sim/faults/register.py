"""Every fault there is. A new fault: one entry in its family, one line here, its words, its glossary line."""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.errors import UnknownName
from engine_sim.faults import air, contamination, controls, electrics, engine_side, pumps, supply, wrong_fuel
from engine_sim.faults.fault import Fault

_FAULTS: dict[str, Fault] = {
    item.id: item
    for item in (
        supply.SHUT_VALVE,
        supply.WRONG_SETTING,
        supply.EMPTY_TANK,
        supply.GAUGE_WRONG,
        supply.GAUGE_SHIFTED,
        supply.BLOCKED_VENT,
        supply.BLOCKED_PICK_UP,
        supply.COLLAPSED_HOSE,
        supply.BLOCKED_RETURN,
        air.SLACK_JOINT,
        air.SCREW_LOOSE,
        air.AIR_IN_FILTER,
        air.AIR_IN_LINE,
        contamination.WATER_IN_BOWL,
        contamination.WATER_IN_TANK,
        contamination.LOADED_ELEMENT,
        contamination.STUCK_BALL,
        contamination.SLIME,
        contamination.DIRT_IN_TANK,
        wrong_fuel.WAXED_FUEL,
        wrong_fuel.PETROL_IN_FUEL,
        wrong_fuel.UREA_IN_FUEL,
        pumps.TORN_DIAPHRAGM,
        pumps.LEAKING_VALVE,
        pumps.CAM_ON_LOBE,
        controls.STOP_CONTROL_PULLED,
        controls.DEAD_SOLENOID,
        electrics.ISOLATOR_OFF,
        electrics.FLAT_BATTERY,
        electrics.BAD_CONNECTION,
        electrics.STARTER_SOLENOID,
        electrics.FAILED_STARTER,
        electrics.NO_PREHEAT,
        engine_side.LEAKING_INJECTOR,
        engine_side.FAILED_INJECTOR,
        engine_side.BLOCKED_INTAKE,
        engine_side.BLOCKED_EXHAUST,
        engine_side.FOULED_PROPELLER,
        engine_side.LOW_COMPRESSION,
        engine_side.SHUT_SEACOCK,
    )
}


def faults() -> Mapping[str, Fault]:
    """Return every fault by its id."""
    return dict(_FAULTS)


def fault(name: str) -> Fault:
    """Return one fault; raise UnknownName with the nearest name if there is none."""
    if not isinstance(name, str) or name not in _FAULTS:
        raise UnknownName("fault", str(name), _FAULTS)
    return _FAULTS[name]
