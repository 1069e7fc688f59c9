"""Tracks made by hand, for testing one rule at a time without physics."""

from __future__ import annotations

from engine_sim.marking.track import Moment, Track
from engine_sim.observations import Observation

AT_THE_START: dict[str, object] = {
    "shut_off_open": True,
    "separator_vent_open": False,
    "separator_drain_open": False,
    "fine_filter_screw_open": False,
    "injection_pump_screw_open": False,
    "union_nuts_open": (False, False, False),
    "tray_laid": False,
    "stop_control_pulled": False,
    "engine": "stopped",
    "spilled_ml": 0,
}
SETS: dict[str, tuple[str, object]] = {
    "shut_off.open": ("shut_off_open", True),
    "shut_off.shut": ("shut_off_open", False),
    "separator.open_vent": ("separator_vent_open", True),
    "separator.close_vent": ("separator_vent_open", False),
    "separator.open_drain": ("separator_drain_open", True),
    "separator.close_drain": ("separator_drain_open", False),
    "fine_filter.open_screw": ("fine_filter_screw_open", True),
    "fine_filter.close_screw": ("fine_filter_screw_open", False),
    "injection_pump.open_screw": ("injection_pump_screw_open", True),
    "injection_pump.close_screw": ("injection_pump_screw_open", False),
    "injector_1.slacken_nut": ("union_nuts_open", (True, False, False)),
    "injector_1.tighten_nut": ("union_nuts_open", (False, False, False)),
    "bench.lay_tray": ("tray_laid", True),
    "engine.stop": ("engine", "stopped"),
}
TAKES_S = {"starter.crank_5": 5.0, "starter.crank_10": 10.0, "starter.rest": 60.0}


def track_of(*work: str) -> Track:
    """Build a track from lines as ``lift_pump.lever_10 fine_filter:screw_solid`` (what was done, part:key noticed)."""
    seen, moments, clock_s = dict(AT_THE_START), [], 0.0
    for number, line in enumerate(work, start=1):
        name, *noticed = line.split()
        part, action = name.split(".")
        before = dict(seen)
        if "engine:fires" in noticed:
            seen["engine"] = "running"
        if name in SETS:
            key, value = SETS[name]
            seen[key] = value
        ends_s = clock_s + TAKES_S.get(name, 20.0)
        pairs = [item.split(":") for item in noticed]
        observations = tuple(Observation(number, ends_s, where, "see", key, key) for where, key in pairs)
        moments.append(Moment(number, part, action, clock_s, ends_s, before, dict(seen), observations))
        clock_s = ends_s
    return Track(tuple(moments), handed_in=True)
