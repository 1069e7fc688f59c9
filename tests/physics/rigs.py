"""Rigs for the physics tests: a layout of the course, sound or with one physical figure changed, and hands for it."""

from __future__ import annotations

from engine_sim.circuit import load_layout
from engine_sim.circuit.rig import Rig
from engine_sim.faults import fault
from engine_sim.scenarios import SetFault, compose_scenario

FUEL, WATER, AIR = 0, 1, 2
ML = 1e-6
LITRE = 1e-3
LAYOUTS = ("electric_pump", "high_tank", "metal_bowl", "single_cylinder", "tank_below", "two_tanks")
LOW_TANKS = ("metal_bowl", "tank_below", "two_tanks")
"""Layouts with the tank below the engine and a mechanical lift pump."""


def sound_rig(layout: str = "tank_below", /, **changes: dict[str, float]) -> Rig:
    """A rig that has run for two minutes and stands, everything bled."""
    rig = Rig(load_layout(layout, changes))
    assert rig.crank(10.0)[1]
    rig.run(120.0, 2000.0, in_gear=True)
    rig.stop_engine()
    return rig


def high_tank(**changes: dict[str, float]) -> Rig:
    """The same parts with the tank above the engine."""
    return sound_rig("high_tank", **changes)


def faulty_rig(layout: str, name: str, part: str, severity: float | None = None) -> Rig:
    """A sound rig into which a fault has just been put; nothing has been tried yet."""
    rig = sound_rig(layout)
    fault(name).put_into(rig, part, severity)
    return rig


def found_rig(layout: str, *faults: tuple, **settings: float) -> Rig:
    """The rig as a learner finds it with these faults: pairs of fault and part, or threes with a severity."""
    return compose_scenario(layout, [SetFault(*item) for item in faults], **settings).prepare()


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


def from_screw(rig: Rig, link: str, strokes: int = 60) -> tuple[float, float, float]:
    """Open a screw, work the lever, tighten it; return what came out: fuel, water, air [m3]."""
    before = rig.passed(link)
    rig.set_open(link, 1.0)
    rig.work_lever(strokes)
    rig.set_open(link, 0.0)
    return came_out(rig, link, before)


def suction_pa(rig: Rig) -> float:
    """Return what a vacuum gauge at the lift pump's inlet shows [Pa]."""
    number = rig.topology.link_number("lift_pump")
    return rig.circuit.fluids.ambient_pa - rig.circuit.link_pressures_pa(number)[0]


def run_on_can(rig: Rig, return_to: str = "can") -> None:
    """Join the can in place of the tank, its cap cracked, and lead the return to ``can`` or ``tank``."""
    rig.set_open("pump_hose>lift_pump", 0.0)
    rig.set_open("can_hose>lift_pump", 1.0)
    rig.set_open("can.cap", 1.0)
    rig.set_open("return_line>tank", 1.0 if return_to == "tank" else 0.0)
    rig.set_open("return_line>can", 1.0 if return_to == "can" else 0.0)
    if rig.layout.parts_of("shut_off_valve"):
        rig.set_open("shut_off", 0.0)


def end_speed_rpm(rig: Rig, run_s: float = 120.0) -> float:
    """Start and motor on in gear with the throttle at 2000 rpm; return the speed at the end, 0 if it died."""
    if not rig.crank(10.0)[1]:
        return 0.0
    rig.run(run_s, 2000.0, in_gear=True)
    if rig.engine.running:
        rig.engine.wanted_rpm, rig.engine.in_gear = 2000.0, True
        rig.play(20.0)
    speed = rig.engine.speed_rpm
    if rig.engine.running:
        rig.stop_engine()
    return speed
