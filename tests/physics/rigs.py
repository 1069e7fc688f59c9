"""Rigs for the physics tests: the one layout, sound or with one physical figure changed."""

from __future__ import annotations

from engine_sim.circuit import load_layout
from engine_sim.circuit.rig import Rig

FUEL, WATER, AIR = 0, 1, 2


def sound_rig(**changes: dict[str, float]) -> Rig:
    """A rig that has run for two minutes and stands, everything bled."""
    rig = Rig(load_layout("tank_below", changes))
    assert rig.crank(10.0)[1]
    rig.run(120.0, 2000.0, in_gear=True)
    rig.stop_engine()
    return rig


def high_tank(**changes: dict[str, float]) -> Rig:
    """The same circuit with its tank lifted above the engine."""
    lifted = {
        "tank": {"floor_m": 1.2},
        "pick_up": {"start_height_m": 1.224, "end_height_m": 1.65},
        "suction_hose": {"start_height_m": 1.65},
        "return_line": {"end_height_m": 1.596},
    }
    return sound_rig(**(lifted | changes))


def runs_for(rig: Rig, most_s: float, speed_rpm: float = 850.0, in_gear: bool = False) -> float:
    """Start the engine and return how long it ran [s], 0 if it did not fire."""
    if not rig.crank(10.0)[1]:
        return 0.0
    ran = rig.run(most_s, speed_rpm, in_gear)
    if rig.engine.running:
        rig.stop_engine()
    return ran


def gap(rig: Rig, link: str, area_m2: float) -> None:
    """Open a joint by so much area."""
    rig.set_open(link, area_m2 / rig.layout.figures[link.split(".")[0]]["joint_gap_m2"])


def bleed(rig: Rig, strokes: int = 600) -> None:
    """Bleed fine filter, then injection pump, and tighten each while it flows."""
    for link, share in (("fine_filter.screw", 0.75), ("injection_pump.screw", 0.25)):
        rig.set_open(link, 1.0)
        rig.work_lever(int(strokes * share))
        rig.set_open(link, 0.0)


def came_out(rig: Rig, link: str, before: tuple[float, float, float]) -> tuple[float, float, float]:
    """Return what passed a link since ``before``: fuel, water, air [m3]."""
    now = rig.passed(link)
    return now[0] - before[0], now[1] - before[1], now[2] - before[2]
