"""Rules of precedence: what comes before the fuel side is opened, and before anything dear is changed.

The order from tank to injector is common practice, no source; that a shut valve or an empty tank is likelier than a
broken part is in US Navy NAVEDTRA 14076. Points are judgement.
"""

from __future__ import annotations

from engine_sim.marking import judges_precedence as judge
from engine_sim.marking.judges import Rule
from engine_sim.marking.signs import FUEL_WORK

FAMILY = "precedence"

PRECEDENCE: tuple[Rule, ...] = (
    Rule(
        "does_it_crank",
        "Find out whether the engine turns over before touching the fuel side.",
        "You knew how the engine turned over before you touched the fuel side.",
        "You worked on the fuel side before finding out whether the engine turns over.",
        "An engine that hardly turns looks like a fuel fault from the cockpit, and one short turn of it settles that.",
        1.0,
        judge.knew_how_it_cranks,
        FAMILY,
    ),
    Rule(
        "follow_the_starter",
        "Where the engine turns badly or not at all, look at battery, cables and engine before the fuel side.",
        "The engine turned badly, and you looked for the reason before you touched the fuel side.",
        "The engine turned badly or not at all, and you went to the fuel side all the same.",
        "No fuel fault keeps a starter from turning, and an engine that hardly turns does not fire on the best fuel.",
        1.0,
        judge.followed_the_starter,
        FAMILY,
    ),
    Rule(
        "is_it_told_to_stop",
        "Look at the stop control, and listen for a stop solenoid, before touching the fuel side.",
        "You found out that the engine was not told to stop before touching the fuel side.",
        "You worked on the fuel side without having made sure that nothing told the engine to stop.",
        "It takes seconds, costs nothing, and with the engine told to stop nothing else helps.",
        1.5,
        judge.blind_needs(FUEL_WORK, ("stop_lever.*",), ("stop_solenoid.*", "engine.key_on", "battery.look")),
        FAMILY,
    ),
    Rule(
        "fuel_there_and_open",
        "Dip the tank in use and look at the valves before bleeding, opening or changing anything.",
        "You dipped the tank and looked at the valves before opening anything.",
        "You opened or changed something before both dipping the tank in use and looking at the valves.",
        "No fuel or a shut handle is likelier than a broken part, and a gauge can stick. The dipstick does not.",
        2.0,
        judge.fuel_there_and_open,
        FAMILY,
    ),
    Rule(
        "bowl_before_bleeding",
        "See what the separator holds, in its glass or in a jar, before bleeding or changing an element.",
        "You looked at what the separator holds before bleeding or changing an element.",
        "You drained, bled or changed an element without having looked at what the separator holds.",
        "It shows water, dirt and air at a glance; bleeding first carries them on to the injection pump.",
        1.5,
        judge.bowl_before_bleeding,
        FAMILY,
    ),
    Rule(
        "breather_before_changing",
        "Loosen the filler cap and listen before an element, a hose or a pump is changed.",
        "You had loosened the filler cap before you changed anything dear.",
        "You changed an element, a hose or a pump without having loosened the filler cap and listened.",
        "A blocked breather starves the engine like a clogged filter does. Loosening the cap takes ten seconds.",
        1.0,
        judge.breather_before_changing,
        FAMILY,
    ),
    Rule(
        "flow_at_fine_filter",
        "See what comes at a bleed screw before changing parts or slackening union nuts.",
        "You tried the flow at a bleed screw before changing parts or slackening union nuts.",
        "You changed a part or slackened a union nut before trying the flow at a bleed screw.",
        "That one test splits the circuit: no flow is a fault towards the tank, froth is air getting in, a clear run "
        "means the trouble lies further on.",
        2.0,
        judge.tried_flow_first,
        FAMILY,
    ),
)
