"""Every kind of component there is. A new kind: one module, one line here, one line in the glossary."""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.components import (
    battery,
    changeover_valve,
    electric_pump,
    engine,
    exhaust,
    fine_filter,
    fuel_can,
    hand_start,
    hose,
    injection_pump,
    lift_pump,
    preheat,
    rotary_injection_pump,
    separator,
    shut_off_valve,
    starter,
    stop_lever,
    stop_solenoid,
    tank,
)
from engine_sim.components.component import ComponentKind
from engine_sim.errors import UnknownName

_MODULES = (
    tank,
    fuel_can,
    hose,
    shut_off_valve,
    changeover_valve,
    separator,
    lift_pump,
    electric_pump,
    fine_filter,
    injection_pump,
    rotary_injection_pump,
    engine,
    battery,
    starter,
    hand_start,
    preheat,
    stop_lever,
    stop_solenoid,
    exhaust,
)
_KINDS: dict[str, ComponentKind] = {module.KIND.name: module.KIND for module in _MODULES}


def component_kinds() -> Mapping[str, ComponentKind]:
    """Return every kind of component by name."""
    return dict(_KINDS)


def component_kind(name: str) -> ComponentKind:
    """Return one kind; raise UnknownName with the nearest name if there is none."""
    if name not in _KINDS:
        raise UnknownName("component kind", name, _KINDS)
    return _KINDS[name]
