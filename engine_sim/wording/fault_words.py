"""What can be said to be wrong with a part, and with which kinds of part it can be."""

from __future__ import annotations

FAULTS: dict[str, str] = {
    "shut_valve": "shut",
    "wrong_setting": "set to the wrong tank",
    "empty_tank": "empty, the gauge is wrong",
    "gauge_wrong": "its gauge shows something else than is in it",
    "blocked_vent": "breather blocked",
    "blocked_pick_up": "pick-up tube blocked",
    "slack_joint": "slack, lets air in",
    "collapsed_hose": "its hose is kinked or sucked flat",
    "screw_loose": "a bleed screw or vent is loose",
    "water_in_bowl": "water in it",
    "stuck_ball": "the ball at its inlet is jammed",
    "loaded_element": "element choked with dirt",
    "air_in_filter": "full of air",
    "air_in_line": "air in its high-pressure line",
    "waxed_fuel": "fuel turned waxy by the cold",
    "slime": "slime growing in it",
    "dirt_in_tank": "dirt on its floor",
    "petrol_in_fuel": "petrol in the diesel",
    "urea_in_fuel": "urea solution in the diesel",
    "stop_control_pulled": "left pulled out",
    "dead_solenoid": "does not pull",
    "stuck": "stuck, does not move",
    "torn_diaphragm": "diaphragm torn",
    "leaking_valve": "a valve in it does not close",
    "cam_on_lobe": "sound, its cam stood on the lobe",
    "failed_pump": "does not pump",
    "blocked": "blocked inside",
    "blocked_return": "blocked, fuel cannot run back",
    "leaks": "leaks fuel",
    "failed_injector": "does not spray",
    "leaking_injector": "drips instead of spraying",
    "isolator_off": "isolator left off",
    "flat_battery": "flat",
    "bad_connection": "a bad connection at it",
    "starter_solenoid": "its solenoid does not pull in",
    "failed_starter": "does not turn the engine",
    "no_preheat": "does not heat",
    "blocked_intake": "air intake blocked",
    "blocked_exhaust": "blocked",
    "fouled_propeller": "propeller fouled",
    "low_compression": "worn, too little compression",
    "shut_seacock": "seacock left shut",
}
"""What can be said to be wrong; the kinds of part that each can be said of are in ``DIAGNOSES``."""

_PUMPS = ("injection_pump", "rotary_injection_pump")
_VALVES = ("shut_off_valve", "changeover_valve")

DIAGNOSES: dict[str, tuple[str, ...]] = {
    "shut_valve": _VALVES,
    "wrong_setting": ("changeover_valve",),
    "empty_tank": ("tank", "fuel_can"),
    "gauge_wrong": ("tank",),
    "blocked_vent": ("tank", "fuel_can"),
    "blocked_pick_up": ("tank",),
    "slack_joint": ("joint",),
    "collapsed_hose": ("joint",),
    "screw_loose": ("separator", "fine_filter", *_PUMPS),
    "water_in_bowl": ("tank", "separator", "fine_filter"),
    "stuck_ball": ("separator",),
    "loaded_element": ("separator", "fine_filter"),
    "air_in_filter": ("fine_filter", *_PUMPS),
    "air_in_line": ("injector",),
    "waxed_fuel": ("tank", "separator", "fine_filter"),
    "slime": ("tank", "separator"),
    "dirt_in_tank": ("tank",),
    "petrol_in_fuel": ("tank", "fuel_can"),
    "urea_in_fuel": ("tank", "fuel_can"),
    "stop_control_pulled": ("stop_lever",),
    "dead_solenoid": ("stop_solenoid",),
    "stuck": ("stop_lever", "stop_solenoid", "shut_off_valve", "changeover_valve", "starter"),
    "torn_diaphragm": ("lift_pump",),
    "leaking_valve": ("lift_pump", "electric_pump"),
    "cam_on_lobe": ("lift_pump",),
    "failed_pump": ("lift_pump", "electric_pump", *_PUMPS),
    "blocked": ("tank", "shut_off_valve", "changeover_valve", "joint", "return_line"),
    "blocked_return": ("return_line",),
    "leaks": (
        "tank",
        "shut_off_valve",
        "changeover_valve",
        "separator",
        "lift_pump",
        "electric_pump",
        "fine_filter",
        *_PUMPS,
        "injector",
        "return_line",
        "engine",
    ),
    "failed_injector": ("injector",),
    "leaking_injector": ("injector",),
    "isolator_off": ("battery",),
    "flat_battery": ("battery",),
    "bad_connection": ("battery", "starter"),
    "starter_solenoid": ("starter",),
    "failed_starter": ("starter",),
    "no_preheat": ("preheat",),
    "blocked_intake": ("engine",),
    "blocked_exhaust": ("exhaust",),
    "fouled_propeller": ("engine",),
    "low_compression": ("engine",),
    "shut_seacock": ("exhaust",),
}
"""Fault to the kinds of part that can be said to have it."""

OPENINGS: dict[str, str] = {
    "drain": "the {part}'s drain tap open",
    "vent": "the {part}'s top vent open",
    "screw": "the {part}'s bleed screw open",
    "outlet_screw": "the {part}'s outlet screw open",
    "lower_screw": "the {part}'s lower bleed screw open",
    "nut": "the union nut of {part} slack",
    "filler": "the {part}'s filler cap loose or off",
    "housing": "the {part} taken apart",
    "hose_off": "the {part} taken off at its end",
}
"""Something that stands open, by the last word of its name; ``part`` is the part's label."""

WET = "wet with fuel"
"""Said of a part that is wet outside."""
SPILLED = "about {ml} ml of fuel lie in the boat"
STANDS = "the engine did not run when you last tried it"
"""Said of what is left undone."""
