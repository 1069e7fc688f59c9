"""Every fault there is. A new fault: one entry in its family, one line here, its words, its glossary line."""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.errors import UnknownName
from engine_sim.faults import air, contamination, controls, supply
from engine_sim.faults.fault import Fault

_FAULTS: dict[str, Fault] = {
    item.id: item
    for item in (
        supply.SHUT_VALVE,
        supply.EMPTY_TANK,
        air.SLACK_JOINT,
        air.AIR_IN_FILTER,
        contamination.WATER_IN_BOWL,
        contamination.LOADED_ELEMENT,
        controls.STOP_CONTROL_PULLED,
    )
}


def faults() -> Mapping[str, Fault]:
    """Return every fault by its id."""
    return dict(_FAULTS)


def fault(name: str) -> Fault:
    """Return one fault; raise UnknownName with the nearest name if there is none."""
    if name not in _FAULTS:
        raise UnknownName("fault", name, _FAULTS)
    return _FAULTS[name]
