"""Every word about the circuit that a learner reads: labels of parts, actions and faults, and what is noticed.

One thing has one name here, on the screens and in the lessons.
"""

from __future__ import annotations

PARTS: dict[str, tuple[str, str]] = {
    "tank": ("tank", "Holds the fuel. Water and dirt gather at its floor, below the end of the pick-up tube."),
    "shut_off": ("shut-off", "Shuts the fuel off at the tank. Open when its handle lies along the pipe."),
    "separator_joint": ("separator inlet joint", "Joins the hose from the tank to the separator. It is under suction."),
    "separator": ("separator", "Lets water and coarse dirt settle in its glass bowl before the fuel goes on."),
    "pump_joint": ("lift-pump inlet joint", "Joins the hose from the separator to the lift pump. It is under suction."),
    "lift_pump": ("lift pump", "Draws the fuel from the tank and pushes it on. Its hand lever does so by hand."),
    "fine_filter": ("fine filter", "Holds back fine dirt. Air gathers at its top, under the bleed screw."),
    "injection_pump": ("injection pump", "Presses a measured drop of fuel to each injector. It must be free of air."),
    "injector_1": ("injector 1", "Sprays the fuel into cylinder 1. A union nut joins its high-pressure line."),
    "injector_2": ("injector 2", "Sprays the fuel into cylinder 2. A union nut joins its high-pressure line."),
    "injector_3": ("injector 3", "Sprays the fuel into cylinder 3. A union nut joins its high-pressure line."),
    "return_line": ("return line", "Leads fuel that is not burnt back to the tank."),
    "stop_control": ("stop control", "Pulled out it shuts the fuel off at the injection pump, and the engine stops."),
    "battery": ("battery", "Turns the starter. Its isolator cuts it off."),
    "starter": ("starter", "Turns the engine so that it can fire."),
    "engine": ("engine", "Three cylinders, 20 kW. It shows by speed, sound and smoke how it is fed."),
    "bench": ("around the engine", "The space you work in: tray, rag, goggles, and time."),
}
"""Part id to label and purpose, in flow order."""

FAULTS: dict[str, str] = {
    "shut_valve": "shut",
    "empty_tank": "empty, the gauge is wrong",
    "slack_joint": "slack, lets air in",
    "water_in_bowl": "full of water",
    "loaded_element": "element choked with dirt",
    "air_in_filter": "full of air",
    "stop_control_pulled": "left pulled out",
    "stuck": "stuck, does not move",
    "flat_battery": "flat",
    "failed_starter": "does not turn the engine",
    "failed_pump": "does not pump",
    "blocked": "blocked",
    "leaks": "leaks fuel",
    "failed_injector": "does not spray",
}
"""What can be said to be wrong; the parts that each can be said of are in ``DIAGNOSES``."""

DIAGNOSES: dict[str, tuple[str, ...]] = {
    "shut_valve": ("shut_off",),
    "empty_tank": ("tank",),
    "slack_joint": ("separator_joint", "pump_joint"),
    "water_in_bowl": ("tank", "separator", "fine_filter"),
    "loaded_element": ("separator", "fine_filter"),
    "air_in_filter": ("fine_filter", "injection_pump"),
    "stop_control_pulled": ("stop_control",),
    "stuck": ("stop_control", "shut_off", "starter"),
    "flat_battery": ("battery",),
    "failed_starter": ("starter",),
    "failed_pump": ("lift_pump", "injection_pump"),
    "blocked": ("tank", "shut_off", "separator_joint", "pump_joint", "return_line"),
    "leaks": ("tank", "shut_off", "separator", "lift_pump", "fine_filter", "injection_pump", "return_line", "engine"),
    "failed_injector": ("injector_1", "injector_2", "injector_3"),
}

OPENINGS: dict[str, str] = {
    "separator.drain": "the separator's drain tap open",
    "separator.vent": "the separator's top vent open",
    "fine_filter.screw": "the fine filter's bleed screw open",
    "injection_pump.screw": "the injection pump's bleed screw open",
    "injector_1.nut": "the union nut of injector 1 slack",
    "injector_2.nut": "the union nut of injector 2 slack",
    "injector_3.nut": "the union nut of injector 3 slack",
}

MANUAL_FIRST = "Your engine's manual, the local rules and a qualified marine engineer come before anything said here."

CAUTIONS: dict[str, str] = {
    "fuel_opened": "Fuel may run out, or air be drawn in. Lay tray and rag first, engine stopped, no flame, fresh air. "
    "None of it goes overboard.",
    "waste": "Keep what comes out for an oily-waste point ashore. None of it goes overboard.",
    "high_pressure": "Never bring a hand near the spray: it goes through skin. Goggles on, rag over the nut. "
    "Fuel under the skin: go to hospital at once.",
    "starting": "Clear of belts and shaft. At most 10 to 15 s at a time, then rest the starter. Long cranking with the "
    "sea cock open can flood the engine.",
    "running": "Keep clothing and hands off belts, shaft and hot parts. Exhaust gas kills: fresh air below.",
    "battery": "A charging battery gives off gas that explodes. No sparks; negative side off first.",
    "joint": "Wipe it clean before you open or tighten it. Do not force it.",
    "fuelling": "No flame, no smoking. Catch every drip; none of it goes overboard.",
}

GAUGE_WORDS = (
    "empty",
    "one eighth",
    "a quarter",
    "three eighths",
    "half full",
    "five eighths",
    "three quarters",
    "seven eighths",
    "full",
)
"""What a gauge marked in eighths is read as."""

OWN_DEEDS = frozenset(
    {
        "handle_turned_open",
        "handle_turned_shut",
        "drain_opened",
        "drain_shut",
        "vent_opened",
        "vent_shut",
        "filled_from_top",
        "fuel_added",
        "tank_brimful",
        "element_changed",
        "old_seal",
        "screw_opened",
        "screw_shut",
        "screw_shut_flowing",
        "nut_slackened",
        "nut_tightened",
        "stop_pushed",
        "stop_drawn",
        "battery_isolated",
        "battery_connected",
        "stopped",
        "tray_laid",
        "wiped",
        "goggles_on",
        "already_runs",
        "spray_near_eyes",
    }
)
"""Sentences that only say what the learner's own hand did: no evidence of anything."""

SENTENCES: dict[str, str] = {
    # system
    "handed_in": "You have handed in. Nothing more can be done at this engine.",
    "not_worked_out": "The bench could not play this any further. What you did before is safe in your logbook.",
    "not_possible": "That cannot be done now: {why}",
    # tank
    "tank_outside": "The tank is dry outside, its filler cap is on and the vent hose is free.",
    "gauge_reads": "The fuel gauge shows {reading}.",
    "dip_fuel": "The dipstick comes up wet to {cm} cm. The pick-up tube ends at {pick_up} cm.",
    "fuel_added": "You pour in {litres} litres of clean fuel from the can.",
    "tank_brimful": "The tank takes no more.",
    # shut-off
    "handle_along": "The handle lies along the pipe: open.",
    "handle_across": "The handle lies across the pipe: shut.",
    "handle_turned_open": "You turn the handle along the pipe.",
    "handle_turned_shut": "You turn the handle across the pipe.",
    # joints
    "joint_dry": "The joint is dry and clean to look at.",
    "joint_wet": "The joint is wet with fuel.",
    "joint_turns": "Wiped dry and tried: the nut turns under your fingers.",
    "joint_tight": "Wiped dry and tried: the nut is tight.",
    "joint_nipped": "The nut takes a good half turn before it bites. It is tight now.",
    "joint_was_tight": "The nut does not move: it was tight.",
    "froth_in_hose": "Through the clear hose behind the joint you see bubbles in the fuel.",
    "air_in_hose": "Through the clear hose behind the joint you see mostly air.",
    "clear_in_hose": "Through the clear hose behind the joint you see clear fuel.",
    # separator
    "bowl_clean": "By torch: the bowl is full of clear fuel to the bottom.",
    "bowl_water": "By torch: a level line in the bowl, with a different layer {share} of the way up below it.",
    "bowl_all_water": "By torch: the bowl is the same from top to bottom, with no line in it, and paler than fuel.",
    "bowl_air": "By torch: there is air at the top of the bowl; {share} of it holds liquid.",
    "bowl_dark": "The glass is smeared dark and the element behind it looks black.",
    "separator_wet": "It is wet outside.",
    "drain_opened": "You open the drain tap over a jar.",
    "drain_shut": "You shut the drain tap.",
    "drain_runs_water": "About {ml} ml run into the jar; what comes now looks like water.",
    "drain_runs_fuel": "About {ml} ml run into the jar; what comes now looks like clean fuel.",
    "drain_dry": "Nothing comes from the drain.",
    "drain_draws": "Nothing comes from the drain; you hear it suck air in.",
    "vent_opened": "You slacken the top vent.",
    "vent_shut": "You tighten the top vent.",
    "vent_hiss": "A hiss at the vent: air goes in.",
    "vent_spits": "Fuel comes from the top vent.",
    "filled_from_top": "You pour in {ml} ml until fuel stands at the top vent.",
    "jar_empty": "There is nothing in the jar.",
    "jar_fuel": "The jar stands clear and bright, {ml} ml, one layer.",
    "jar_water": "The jar shows two layers: {water} ml of water under {fuel} ml of fuel.",
    "element_dark": "The old element is black and slimy all over.",
    "element_clean": "The old element looks clean.",
    "element_changed": "New element and seals in, hand-tight. The housing is empty of fuel now.",
    "old_seal": "The old sealing ring came away with it.",
    # lift pump
    "pump_dry": "The pump is dry outside and its vent hole is clean.",
    "lever_steady": "The lever gives a steady pulse at every stroke.",
    "lever_light": "The lever has gone light: there is pressure behind it and hardly anything moves.",
    "lever_hard": "The lever pulls hard and springs back slowly; hardly anything moves.",
    "lever_stiff": "The lever is stiff on the pull, but fuel moves.",
    "lever_spongy": "The lever feels spongy and the pump gurgles.",
    "lever_air": "The lever has next to no pull: the pump moves air.",
    "lever_engine_runs": "The engine runs and works the pump itself; the lever adds nothing.",
    "return_runs": "You hear fuel run back into the tank.",
    # screws
    "screw_opened": "You open the bleed screw by one and a half turns.",
    "screw_shut": "You tighten the bleed screw.",
    "screw_shut_flowing": "With one hand on the lever you tighten the bleed screw while it still flows.",
    "screw_is_open": "The bleed screw stands open.",
    "screw_is_shut": "The bleed screw is tight.",
    "screw_nothing": "Nothing comes from the bleed screw.",
    "screw_air": "Air hisses from the bleed screw, hardly any fuel.",
    "screw_froth": "Froth spits from the bleed screw.",
    "screw_clears": "First froth, then fuel without bubbles runs from the bleed screw.",
    "screw_solid": "Fuel without bubbles runs from the bleed screw.",
    "screw_weak": "A little fuel without bubbles wells from the bleed screw, far less than it should.",
    "screw_water": "What comes from the bleed screw runs in beads: there is water in it.",
    "screw_draws": "Nothing comes from the bleed screw; it draws air in.",
    "filter_dry": "The fine filter is dry outside.",
    "filter_wet": "The fine filter is wet outside.",
    "injection_pump_dry": "The injection pump is dry outside.",
    "injection_pump_wet": "The injection pump is wet outside.",
    # injectors
    "nut_tight": "The union nut is tight and dry.",
    "nut_slack": "The union nut is slack.",
    "nut_slackened": "You slacken the union nut by half a turn, holding the injector's union.",
    "nut_sprays": "The engine runs: fuel sprays from the union nut in time with it. Get clear and stop the engine.",
    "nut_tightened": "You tighten the union nut.",
    "nut_froth": "At the slack union nut of {part} froth comes out in time with the engine.",
    "nut_pulses": "At the slack union nut of {part} clear fuel comes out in pulses.",
    "nut_nothing": "Nothing comes at the slack union nut of {part}.",
    "spray_near_eyes": "Fuel spits into your face. You should have had goggles on.",
    # stop control
    "stop_home": "The stop control is pushed home; the lever at the injection pump stands at run.",
    "stop_out": "The stop control is pulled out; the lever at the injection pump stands at stop.",
    "stop_pushed": "You push the stop control home.",
    "stop_drawn": "You pull the stop control out.",
    # battery and starter
    "lamps_bright": "The panel lamps burn bright.",
    "lamps_dim": "The panel lamps are dim.",
    "lamps_dead": "The panel is dead.",
    "battery_isolated": "You turn the battery isolator off.",
    "battery_connected": "You turn the battery isolator on.",
    "starter_seen": "The starter and its cables are dry, clean and tight.",
    "starter_dead": "You turn the key. Nothing.",
    "cranks_briskly": "The starter turns the engine briskly.",
    "cranks_slowly": "The starter turns the engine slowly and tiredly.",
    "cranks_barely": "The starter barely moves the engine.",
    "smoke_none": "No smoke at all comes from the exhaust.",
    "smoke_white": "White smoke, smelling of fuel, comes from the exhaust.",
    "fires": "After {seconds} s it fires and runs.",
    "fires_not": "It does not fire.",
    "already_runs": "The engine runs already: the starter grinds on its turning flywheel. Let go of the key at once.",
    "starter_rests": "The starter cools.",
    # engine
    "engine_stands": "The engine stands still.",
    "engine_idles": "The engine runs evenly at idle, about {rpm} rpm.",
    "beat_uneven": "The beat is uneven: not every cylinder works.",
    "ran_well": "It ran evenly for {minutes} min at about {rpm} rpm.",
    "wavers": "After {seconds} s the speed begins to waver.",
    "loses_speed": "It does not hold its speed: about {rpm} rpm.",
    "dies": "After {seconds} s it dies.",
    "dies_meanwhile": "Meanwhile the engine dies.",
    "stopped": "You stop the engine. The stop control is home again.",
    "return_dry": "The return line is dry and runs free back to the tank.",
    # around the engine
    "open_things": "You see: {things}.",
    "all_shut": "You see no screw, tap or nut standing open.",
    "wet_places": "It is wet at: {things}.",
    "no_wet_places": "It is dry all round the engine.",
    "spilled": "About {ml} ml of fuel lie under the engine.",
    "tray_laid": "Tray and rag lie under the filters and pumps.",
    "wiped": "You wipe up. The rags go into a tin, for ashore.",
    "goggles_on": "Goggles and gloves are on.",
    "time_passes": "Time passes.",
}
