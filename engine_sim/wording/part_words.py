"""What the parts are called and what they are for, by kind of part; a layout may give a part a label of its own."""

from __future__ import annotations

PARTS: dict[str, tuple[str, str]] = {
    "tank": ("tank", "Holds the fuel. Water and dirt gather at its floor, below the end of the pick-up tube."),
    "shut_off_valve": ("shut-off", "Shuts the fuel off at the tank. Open when its handle lies along the pipe."),
    "changeover_valve": ("changeover valve", "Chooses the tank that the fuel is drawn from."),
    "joint": ("{end} inlet joint", "Joins the hose from the {start} to the {end}. {where}"),
    "separator": ("separator", "Lets water and coarse dirt settle in its {bowl} bowl before the fuel goes on."),
    "lift_pump": (
        "lift pump",
        "Draws the fuel from the tank and pushes it on. Its hand lever does so by hand.",
    ),
    "electric_pump": (
        "electric lift pump",
        "Draws the fuel from the tank and pushes it on, as long as the key is on.",
    ),
    "fine_filter": ("fine filter", "Holds back fine dirt. Air gathers at its top, under the bleed screw."),
    "injection_pump": (
        "injection pump",
        "Presses a measured drop of fuel to each injector. It must be free of air.",
    ),
    "rotary_injection_pump": (
        "injection pump",
        "Raises the fuel's pressure inside its case and shares it out to the injectors. It must be free of air.",
    ),
    "injector": (
        "injector {number}",
        "Sprays the fuel into cylinder {number}. A union nut joins its high-pressure line.",
    ),
    "return_line": ("return line", "Leads fuel that is not burnt back to the tank."),
    "stop_lever": (
        "stop control",
        "Pulled out it shuts the fuel off at the injection pump, and the engine stops.",
    ),
    "stop_solenoid": (
        "stop solenoid",
        "Lets the injection pump deliver only while current holds it. It clicks when the key is turned on.",
    ),
    "battery": ("battery", "Turns the starter. Its isolator cuts it off."),
    "starter": ("starter", "Turns the engine so that it can fire."),
    "hand_start": ("starting handle", "Turns the engine by hand. The lifted valve lets it spin freely at first."),
    "preheat": ("glow plugs", "Warm the cylinders before a cold start."),
    "exhaust": ("exhaust", "Lets gas and cooling water out. The seacock lets the cooling water in."),
    "engine": (
        "engine",
        "{cylinders} cylinder{plural}, {power_kw} kW. It shows by speed, sound and smoke how it is fed.",
    ),
    "fuel_can": ("fuel can", "Holds clean fuel. Its own hose can feed the lift pump, past everything at the tank."),
    "bench": ("around the engine", "The space you work in: tray, rag, goggles, and time."),
}
"""Kind of part to label and purpose; what stands in braces is filled in from the layout."""

JOINT_UNDER: dict[str, str] = {
    "suction": "It is under suction.",
    "head": "The tank stands above it: it can leak either way.",
    "pressure": "It is under pressure.",
}
"""What a joint is under, in words."""

BOWL_OF: dict[bool, str] = {True: "glass", False: "metal"}
"""What a separator's bowl is made of; only a glass one shows what it holds."""

NUMBER_WORDS = ("no", "one", "two", "three", "four", "five", "six")
