"""The checks that a boat offers: what is done, one after the other, and put back again; and what each takes."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from engine_sim.actions import Workplace, action, actions_of
from engine_sim.marking.track import boat_of
from engine_sim.units import MINUTE_S

Deed = tuple[str, str]
"""A kind of part, or a part, and an action at it."""

_TURN: tuple[tuple[Deed, ...], ...] = ((("starter", "crank_5"),), (("hand_start", "swing_10"),))
_FLOW_BY_LEVER = (("fine_filter", "open_screw"), ("lift_pump", "lever_10"), ("fine_filter", "close_screw"))
_FLOW_BY_KEY = (
    ("fine_filter", "open_screw"),
    ("engine", "key_on"),
    ("electric_pump", "listen"),
    ("bench", "wait_10s"),
    ("engine", "key_off"),
    ("fine_filter", "close_screw"),
)

CHECKS: tuple[tuple[Deed, ...], ...] = (
    (("bench", "look_around"),),
    (("battery", "look"),),
    (("battery", "volts"),),
    (("battery", "feel_terminals"),),
    *_TURN,
    (("starter", "look"),),
    (("starter", "volts"),),
    (("starter", "drop_test"),),
    (("starter", "signal"),),
    (("stop_lever", "look"),),
    (("stop_solenoid", "look"),),
    (("stop_solenoid", "listen"),),
    (("stop_solenoid", "volts"),),
    (("tank", "look"),),
    (("tank", "read_gauge"),),
    (("tank", "dip"),),
    (("tank", "crack_cap"), ("tank", "close_cap")),
    (("tank", "sample_sump"),),
    (("shut_off_valve", "look"),),
    (("changeover_valve", "look"),),
    (("separator", "look"),),
    (("separator", "try_vent"),),
    (("joint", "look"),),
    (("joint", "wipe_and_try"),),
    (("lift_pump", "look"),),
    (("lift_pump", "lever_10"),),
    (("electric_pump", "look"),),
    (("electric_pump", "listen"),),
    _FLOW_BY_LEVER,
    _FLOW_BY_KEY,
    (("fine_filter", "look"),),
    (("fine_filter", "try_screw"),),
    (("injection_pump", "try_screw"),),
    (("rotary_injection_pump", "try_screw"),),
    (("injection_pump", "open_screw"), ("lift_pump", "lever_10"), ("injection_pump", "close_screw")),
    (("rotary_injection_pump", "open_screw"), ("lift_pump", "lever_10"), ("rotary_injection_pump", "close_screw")),
    (("injector", "listen"),),
    (("injector", "look"),),
    (("return_line", "look"),),
    (("preheat", "look"),),
    (("preheat", "heat_20"), ("preheat", "feel_stems")),
    (("exhaust", "look"),),
    (("exhaust", "look_elbow"),),
    (("engine", "look_intake"),),
    (("engine", "look_propeller"),),
    (("engine", "dip_oil"),),
)
"""Checks by kind of part; a check at a part stands for each part of that kind. The order of deeds is the order done."""

DRAIN_BY_HEAD: tuple[Deed, ...] = (
    ("separator", "open_drain"),
    ("separator", "close_drain"),
    ("separator", "read_jar"),
)
DRAIN_FROM_BELOW: tuple[Deed, ...] = (
    ("shut_off_valve", "shut"),
    ("separator", "open_vent"),
    *DRAIN_BY_HEAD,
    ("shut_off_valve", "open"),
    ("separator", "fill"),
    ("separator", "close_vent"),
)
"""A sample from a bowl of metal, with the tank above it and below: from below nothing falls without the vent."""

RUNS: tuple[tuple[Deed, ...], ...] = (
    (("starter", "crank_10"), ("engine", "run_load_5min"), ("engine", "stop")),
    (("hand_start", "swing_10"), ("engine", "run_load_5min"), ("engine", "stop")),
)
"""Checks that need an engine that starts."""


_FUEL_SIDE = frozenset(
    {
        *("tank", "shut_off_valve", "changeover_valve", "joint", "separator", "lift_pump", "electric_pump"),
        *("fine_filter", "injection_pump", "rotary_injection_pump", "return_line"),
    }
)
_PUMPS = frozenset({"injection_pump", "rotary_injection_pump"})
ABOUT: dict[str, frozenset[str]] = {
    "starter": frozenset({"battery", "starter"}),
    "tank": frozenset({"tank"}),
    "separator": frozenset({"tank", "separator"}),
    "stop_solenoid": frozenset({"stop_solenoid"}),
    "lift_pump": _FUEL_SIDE,
    "electric_pump": _FUEL_SIDE,
    "fine_filter": _FUEL_SIDE,
    "injection_pump": _FUEL_SIDE,
    "rotary_injection_pump": _FUEL_SIDE,
    "injector": frozenset({"injector", "stop_lever", "stop_solenoid", *_PUMPS}),
    "preheat": frozenset({"preheat"}),
    "exhaust": frozenset({"exhaust"}),
}
"""Where a check that takes long is made, to the kinds of part whose troubles one thinks of it for."""


@dataclass(frozen=True, slots=True)
class BoatCheck:
    """A check on one boat: the deeds by part, its label, and its time [min]."""

    deeds: tuple[Deed, ...]
    label: str
    minutes: float

    @property
    def name(self) -> str:
        """A name of its own: ``part.action`` of each deed."""
        return "+".join(f"{part}.{name}" for part, name in self.deeds)

    @property
    def is_turn(self) -> bool:
        """Tell whether all it does is to turn the engine."""
        return all(name.startswith(("crank_", "swing_")) for _, name in self.deeds)

    @property
    def first(self) -> Deed:
        """The part and the action by which it begins."""
        return self.deeds[0]


def checks_of(place: Workplace, more: Sequence[tuple[Deed, ...]] = ()) -> tuple[BoatCheck, ...]:
    """Return every check that a boat offers, and of ``more`` those that it offers too."""
    boat = boat_of(place.rig.layout)
    drain = DRAIN_BY_HEAD if boat.tank_above else DRAIN_FROM_BELOW
    drains = () if boat.glass_bowls else (drain,)
    found = [check for deeds in (*CHECKS, *drains, *RUNS, *more) for check in _on_boat(place, deeds)]
    return tuple({check.name: check for check in found}.values())


def _on_boat(place: Workplace, deeds: tuple[Deed, ...]) -> list[BoatCheck]:
    """Return a check at each part of its first kind; nothing where the boat lacks a part or a deed."""
    kind = deeds[0][0]
    found = []
    for part in place.of_kind(kind):
        here = tuple((part.id if other == kind else place.first(other), name) for other, name in deeds)
        if all(at and any(one.id == name for one in actions_of(place, at)) for at, name in here):
            items = [action(place, at, name) for at, name in here]
            seconds = sum(item.takes_s + item.plays_s for item in items)
            found.append(BoatCheck(here, f"{part.label}: {items[0].label}", seconds / MINUTE_S))
    return found


FIRST: tuple[Deed, ...] = (
    ("starter", "crank_5"),
    ("hand_start", "swing_10"),
    ("stop_lever", "look"),
    ("stop_solenoid", "listen"),
    ("shut_off_valve", "look"),
    ("changeover_valve", "look"),
    ("separator", "look"),
    ("tank", "dip"),
)
"""What comes before anything is opened, whatever is likely: a turn of the engine, then looks, the quick ones first."""


def opens_something(check: BoatCheck, still: Collection[str]) -> bool:
    """Tell whether a check does more than look, or turn the engine; ``still`` are the actions that only look."""
    return any(name not in still and not name.startswith(("crank_", "swing_")) for _, name in check.deeds)


def is_fuel_side(kind: str) -> bool:
    """Tell whether a kind of part stands on the fuel's way, or is where it is injected."""
    return kind in _FUEL_SIDE or kind == "injector"


def is_further_on(check: BoatCheck, kind: str) -> bool:
    """Tell whether a check at a kind of part belongs to the fuel side, and is none of the looks that come first."""
    return kind in _FUEL_SIDE and (kind, check.first[1]) not in FIRST


def is_run(check: BoatCheck) -> bool:
    """Tell whether a check is a run of the engine."""
    return any(name.startswith("run_") for _, name in check.deeds)
