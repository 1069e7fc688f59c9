"""What the rules call things: groups of actions, places where one bleeds, and what the noticed keys mean."""

from __future__ import annotations

from dataclasses import dataclass

from engine_sim.marking.track import Moment, Patterns, Track

CRANKS: Patterns = ("starter.crank_*",)
LEVER: Patterns = ("lift_pump.lever_*",)
RUNS: Patterns = ("engine.run_*",)
UNION_NUTS: Patterns = ("injector_*.slacken_nut",)
ELEMENT_CHANGES: Patterns = ("*.change_element",)
LOW_PRESSURE_SCREWS: Patterns = ("fine_filter.open_screw", "injection_pump.open_screw")
OPENINGS: Patterns = (*LOW_PRESSURE_SCREWS, "separator.open_drain", *ELEMENT_CHANGES, *UNION_NUTS)
FUEL_WORK: Patterns = (*OPENINGS, "separator.open_vent", "*_joint.nip_up")
CHECKS: Patterns = (
    "*.look",
    "bench.look_around",
    "tank.read_gauge",
    "tank.dip",
    "*_joint.wipe_and_try",
    "separator.read_jar",
    *LEVER,
    *RUNS,
)
FAULT_CHANGES: Patterns = (
    "tank.add_fuel",
    "shut_off.open",
    "*_joint.nip_up",
    *ELEMENT_CHANGES,
    "stop_control.push_home",
    "battery.connect",
)
OWN_AIR: Patterns = ("separator.open_drain", "separator.open_vent", *ELEMENT_CHANGES, "tank.add_fuel")
UNDOES = {
    "shut_off.open": "shut_off.shut",
    "stop_control.push_home": "stop_control.pull",
    "battery.connect": "battery.isolate",
}

TANK_SIDE = frozenset({"tank", "shut_off", "separator_joint", "separator", "pump_joint"})

RAN_CLEAR = frozenset({"screw_solid", "screw_clears", "screw_weak", "nut_pulses"})
RAN_FOUL = frozenset({"screw_air", "screw_froth", "screw_water", "nut_froth"})


@dataclass(frozen=True, slots=True)
class BleedPoint:
    """A place where air is let out: the parts, what shows that it is open, what closes it and what drives it."""

    parts: tuple[str, ...]
    open_key: str
    closings: Patterns
    driven_by: Patterns
    by_starter: bool = False

    def is_bled_by(self, moment: Moment) -> bool:
        """Say whether the moment drove fuel through this place while it was open."""
        shown = moment.before.get(self.open_key)
        is_open = any(shown) if isinstance(shown, tuple) else bool(shown)
        return is_open and moment.among(self.driven_by)


FINE_FILTER = BleedPoint(("fine_filter",), "fine_filter_screw_open", ("fine_filter.close_screw",), LEVER)
INJECTION_PUMP = BleedPoint(("injection_pump",), "injection_pump_screw_open", ("injection_pump.close_screw",), LEVER)
INJECTORS = BleedPoint(
    ("injector_1", "injector_2", "injector_3"), "union_nuts_open", ("injector_*.tighten_nut",), CRANKS, by_starter=True
)
BLEED_POINTS = (FINE_FILTER, INJECTION_PUMP, INJECTORS)


def bleeding_result(moment: Moment, point: BleedPoint) -> str:
    """Return what came at a bleeding place: ``clear``, ``foul`` (froth, air or water) or ``nothing``."""
    keys = [seen.key for seen in moment.observations if seen.part in point.parts]
    if any(key in RAN_FOUL for key in keys):
        return "foul"
    return "clear" if any(key in RAN_CLEAR for key in keys) else "nothing"


def is_own_doing(track: Track, moment: Moment) -> bool:
    """Say whether a change only puts back what the learner had changed before."""
    undone = UNDOES.get(moment.name)
    return undone is not None and any(other.among((undone,)) for other in track.before(moment))
