"""The register of symbols: each sign of the drawing, on which boat it is found, and how it stands; pure data.

``seen`` is what a person there sees that makes it look so, as the drawing reads it; a part that is ``unknown`` nobody
has looked at yet. ``says`` names a state that the words under the drawing do not speak of.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Symbol:
    """One sign: a kind of part on a boat, how it stands, and its state in words where the drawing's own say none."""

    kind: str
    says: str = ""
    seen: Mapping[str, object] = field(default_factory=dict)
    unknown: bool = False
    layout: str = "tank_below"


def _tank(**seen: object) -> Symbol:
    return Symbol("tank", "", {"gauge_reading": 0.5, "filler_cap": "closed", **seen})


def _separator(**seen: object) -> Symbol:
    return Symbol("separator", "", {"bowl_water_share": 0.0, "bowl_air_share": 0.0, "bowl_dirty": False, **seen})


def _screw(comes: str, says: str) -> Symbol:
    return Symbol("fine_filter", says, {"fine_filter_screw_open": True, "comes": {"fine_filter.screw": comes}})


GROUPS: tuple[tuple[str, tuple[Symbol, ...]], ...] = (
    (
        "Tank and can",
        (
            _tank(),
            _tank(filler_cap="cracked"),
            _tank(filler_cap="off"),
            Symbol("tank", "gauge not read yet", unknown=True),
            Symbol("fuel_can", "cap shut, not lashed", {"can_cap_open": False, "can_lashed": False}),
            Symbol("fuel_can", "cap loose, lashed", {"can_cap_open": True, "can_lashed": True}),
        ),
    ),
    (
        "Valves and joints",
        (
            Symbol("shut_off_valve", seen={"shut_off_open": True}),
            Symbol("shut_off_valve", seen={"shut_off_open": False}),
            Symbol("shut_off_valve", unknown=True),
            Symbol("changeover_valve", seen={"changeover_ways": ("a",)}, layout="two_tanks"),
            Symbol("changeover_valve", seen={"changeover_ways": ("b",)}, layout="two_tanks"),
            Symbol("changeover_valve", seen={"changeover_ways": ()}, layout="two_tanks"),
            Symbol("changeover_valve", unknown=True, layout="two_tanks"),
            Symbol("joint", "as it should be"),
            Symbol("joint", "", {"weeping": ("separator_joint",)}),
        ),
    ),
    (
        "Separator",
        (
            _separator(),
            _separator(bowl_water_share=0.4),
            _separator(bowl_water_share=1.0),
            _separator(bowl_air_share=0.5),
            _separator(bowl_dirty=True),
            Symbol("separator", unknown=True),
            _separator(separator_vent_open=True),
            _separator(separator_drain_open=True),
            Symbol("separator", "taken apart", {"taken_apart": ("separator",)}),
            Symbol("separator", layout="metal_bowl"),
        ),
    ),
    (
        "Pumps and fine filter",
        (
            Symbol("lift_pump", "with its hand lever"),
            Symbol("electric_pump", "driven by a motor", layout="electric_pump"),
            Symbol("injection_pump", "its bleed screws tight"),
            Symbol("injection_pump", "", {"injection_pump_screw_open": True}),
            Symbol("rotary_injection_pump", "of the rotary kind: the same sign", layout="metal_bowl"),
            Symbol("fine_filter", "its bleed screws tight"),
            Symbol("fine_filter", "", {"taken_apart": ("fine_filter",)}),
            Symbol("fine_filter", "", {"weeping": ("fine_filter",)}),
        ),
    ),
    (
        "What comes at an open screw",
        (
            _screw("nothing", "nothing comes"),
            _screw("fuel", "fuel without bubbles"),
            _screw("froth", "froth: fuel and air"),
            _screw("air", "hardly anything but air"),
            _screw("water", "water in it"),
        ),
    ),
    (
        "At the engine",
        (
            Symbol("injector", "union nut tight"),
            Symbol("injector", "", {"union_nuts_open": (True, False, False)}),
            Symbol("stop_lever", "pushed home", {"stop_control_pulled": False}),
            Symbol("stop_lever", "pulled out", {"stop_control_pulled": True}),
            Symbol("stop_lever", "not looked at yet", unknown=True),
            Symbol("stop_solenoid", "its coil holds the plunger", layout="metal_bowl"),
            Symbol("preheat", "for cold starts"),
            Symbol("battery", "isolator on", {"battery_connected": True}),
            Symbol("battery", "isolator off", {"battery_connected": False}),
            Symbol("battery", "isolator not looked at yet", unknown=True),
            Symbol("starter", "stands"),
            Symbol("starter", "turns the engine", {"cranking": True}),
            Symbol("hand_start", "without a starter", layout="single_cylinder"),
            Symbol("engine", "stands; key off", {"engine": "stopped", "key_on": False, "speed_rpm": 0}),
            Symbol(
                "engine",
                "runs; panel lamps bright",
                {"engine": "running", "key_on": True, "battery_lamps": "bright", "speed_rpm": 2000},
            ),
            Symbol(
                "engine",
                "key on, panel dead",
                {"engine": "stopped", "key_on": True, "battery_lamps": "dead", "speed_rpm": 0},
            ),
        ),
    ),
    (
        "Exhaust and seacock",
        (
            Symbol("exhaust", "seacock open", {"seacock_open": True}),
            Symbol("exhaust", "seacock shut", {"seacock_open": False}),
            Symbol("exhaust", "seacock not looked at yet", unknown=True),
            Symbol("exhaust", "white smoke", {"seacock_open": True, "smoke": "white"}),
            Symbol("exhaust", "black smoke", {"seacock_open": True, "smoke": "black"}),
            Symbol("exhaust", "blue smoke", {"seacock_open": True, "smoke": "blue"}),
        ),
    ),
)
"""The signs of parts, group by group; lines and what flows in them are drawn beside (``symbols``)."""
