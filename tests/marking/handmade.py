"""Tracks made by hand, for testing one rule at a time without physics, on any of the course's boats."""

from __future__ import annotations

from functools import cache

from engine_sim.marking.track import Boat, Moment, Track, boat_of
from engine_sim.observations import Observation
from engine_sim.scenarios.scenario import layout_of

BOATS = ("tank_below", "high_tank", "electric_pump", "two_tanks", "single_cylinder", "metal_bowl")
AT_THE_START: dict[str, object] = {
    "shut_off_open": True,
    "separator_vent_open": False,
    "separator_drain_open": False,
    "fine_filter_screw_open": False,
    "fine_filter_outlet_screw_open": False,
    "injection_pump_screw_open": False,
    "taken_apart": (),
    "tray_laid": False,
    "stop_control_pulled": False,
    "engine": "stopped",
    "key_on": False,
    "return_to": "tank",
    "can_in_use": False,
    "can_lashed": False,
    "can_cap_open": False,
    "spilled_ml": 0,
}
ONLY_ON: dict[str, dict[str, object]] = {
    "high_tank": {"injection_pump_lower_screw_open": False},
    "two_tanks": {"changeover_ways": ("a",)},
}
SCREWS = ("fine_filter.screw", "fine_filter.outlet_screw", "injection_pump.lower_screw", "injection_pump.screw")
SETS: dict[str, tuple[str, object]] = {
    "shut_off.open": ("shut_off_open", True),
    "shut_off.shut": ("shut_off_open", False),
    "changeover.to_none": ("changeover_ways", ()),
    "changeover.to_b": ("changeover_ways", ("b",)),
    "separator.open_vent": ("separator_vent_open", True),
    "separator.close_vent": ("separator_vent_open", False),
    "separator.open_drain": ("separator_drain_open", True),
    "separator.close_drain": ("separator_drain_open", False),
    "separator.take_bowl_off": ("taken_apart", ("separator",)),
    "separator.fit_wetted": ("taken_apart", ()),
    "bench.lay_tray": ("tray_laid", True),
    "engine.stop": ("engine", "stopped"),
    "engine.key_on": ("key_on", True),
    "engine.key_off": ("key_on", False),
    "can.to_pump": ("can_in_use", True),
    "can.lash": ("can_lashed", True),
    "can.crack_cap": ("can_cap_open", True),
    "return_line.to_jar": ("return_to", "jar"),
    "return_line.to_can": ("return_to", "can"),
    **{f"{part}.{verb}_{end}": (f"{part}_{end}_open", verb == "open")
       for part, end in (screw.split(".") for screw in SCREWS) for verb in ("open", "close")},
}  # fmt: skip
TAKES_S = {"rest": 60.0, "wait_1min": 60.0}


@cache
def boat_named(name: str) -> Boat:
    """Return what the rules know of one of the course's boats."""
    return boat_of(layout_of(name).layout)


def track_of(*work: str, boat: str = "tank_below", tells: tuple[int, ...] = (), followed: bool = False) -> Track:
    """Build a track from lines as ``lift_pump.lever_10 fine_filter:screw_solid`` (what was done, part:key noticed).

    ``tells`` names the steps that showed the fault, counted from 1.
    """
    known = boat_named(boat)
    nuts = known.parts_of("injector")
    seen: dict[str, object] = AT_THE_START | ONLY_ON.get(boat, {}) | {"union_nuts_open": (False,) * len(nuts)}
    moments, clock_s = [], 0.0
    for number, line in enumerate(work, start=1):
        name, *noticed = line.split()
        part, action = name.split(".")
        before = dict(seen)
        if "engine:fires" in noticed:
            seen["engine"] = "running"
        if action in ("slacken_nut", "tighten_nut"):
            slack = action == "slacken_nut"
            old = dict(zip(nuts, before["union_nuts_open"], strict=True))  # type: ignore[call-overload]
            seen["union_nuts_open"] = tuple((old | {part: slack}).values())
        if name in SETS:
            key, value = SETS[name]
            seen[key] = value
        tail = action.rsplit("_", 1)[-1]
        ends_s = clock_s + TAKES_S.get(action, 5.0 + float(tail) if tail.isdigit() else 20.0)
        observations = tuple(
            Observation(number, ends_s, where, "see", key, key) for where, key in (item.split(":") for item in noticed)
        )
        refused = "not_possible" in {one.key for one in observations}
        moments.append(
            Moment(number, part, known.kinds[part], action, clock_s, ends_s, before, dict(seen), observations,
                   refused, number in tells)
        )  # fmt: skip
        clock_s = ends_s
    return Track(tuple(moments), True, followed, known)
