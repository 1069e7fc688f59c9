"""Rigs for the tests of the engine: a layout with the figures of its engine, battery, starter and so on changed."""

from __future__ import annotations

from dataclasses import replace

from engine_sim.circuit import load_layout
from engine_sim.circuit.own_figures import usual_figures
from engine_sim.circuit.rig import Rig

PLUNGERS = "injection_pump.plungers"
STEADY_SUPPLY = {"charge_a_s": 4e6, "tiring_ohm": 0.0}


def boat(temperature_c: float = 20.0, name: str = "tank_below", **changes: dict[str, float]) -> Rig:
    """A rig of a layout whose part of each kind named has these figures; a part that is not there is added."""
    layout = load_layout(name)
    figures, kinds = dict(layout.figures), dict(layout.kinds)
    for kind, numbers in changes.items():
        part = (*layout.parts_of(kind), kind)[0]
        figures[part] = {**usual_figures(kind), **figures.get(part, {}), **numbers}
        kinds[part] = kind
    rig = Rig(replace(layout, figures=figures, kinds=kinds), temperature_c)
    rig.play(1.0)
    return rig


def started(temperature_c: float = 20.0, name: str = "tank_below", **changes: dict[str, float]) -> Rig:
    """The same, running at idle."""
    rig = boat(temperature_c, name, **changes)
    assert rig.crank(10.0)[1]
    return rig


def turn_at(rig: Rig, speed_rpm: float) -> None:
    """Let a bad connection slow the starter to a speed [1/min]."""
    low, high = 0.0, 0.2
    for _ in range(60):
        middle = (low + high) / 2.0
        rig.engine.starter.extra_ohm = middle
        if rig.engine.cranking_speed_rpm() > speed_rpm:
            low = middle
        else:
            high = middle


def litres_per_hour(rig: Rig, speed_rpm: float, in_gear: bool, seconds: float = 600.0) -> float:
    """Run at a speed until it is steady, then measure what the injectors use [L/h]."""
    assert rig.run(30.0, speed_rpm, in_gear) == 30.0
    before = rig.passed(PLUNGERS)[0]
    assert rig.run(seconds, speed_rpm, in_gear) == seconds
    return (rig.passed(PLUNGERS)[0] - before) * 1e3 * 3600.0 / seconds
