"""The rules of order as data. They are a partial order: any way of working that keeps them earns all their points.

Their sources: the order from tank to injector and the procedures for draining, changing and bleeding are common
practice, no source; bleeding until a solid run comes is in US Navy NAVEDTRA 14076 and 14329; that a shut valve or an
empty tank is likelier than a broken part is in NAVEDTRA 14076. Points are judgement.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine_sim.marking import judges
from engine_sim.marking.judges import Judge
from engine_sim.marking.signs import CRANKS, ELEMENT_CHANGES, FUEL_WORK, OPENINGS, UNION_NUTS


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule: what it asks, what is said when it was kept and when it was not, why, and its points."""

    id: str
    sentence: str
    kept: str
    broken: str
    why: str
    points: float
    judge: Judge


LOOKS_FIRST: dict[str, tuple[str, ...]] = {
    "tank.add_fuel": ("tank.dip",),
    "shut_off.open": ("shut_off.look",),
    "*_joint.nip_up": ("{part}.look", "{part}.wipe_and_try"),
    "*.change_element": ("{part}.look",),
    "stop_control.push_home": ("stop_control.look", "bench.look_around"),
    "battery.connect": ("battery.look", "bench.look_around"),
}

RULES: tuple[Rule, ...] = (
    Rule(
        "made_safe",
        "Lay the tray before anything wet is opened.",
        "You laid the tray before opening anything.",
        "Something was opened without the tray under it.",
        "A tray keeps fuel out of the bilge and the harbour.",
        1.0,
        judges.each_stands(OPENINGS, "tray_laid", True),
    ),
    Rule(
        "goggles_on",
        "Wear goggles before a union nut is slackened.",
        "You wore goggles before you slackened a union nut.",
        "You slackened a union nut without goggles on.",
        "Fuel from a high-pressure line goes through skin and eyes. It hardly hurts at first and is an emergency.",
        1.5,
        judges.each_needs(UNION_NUTS, ("bench.put_on_goggles",)),
    ),
    Rule(
        "engine_stopped",
        "Open the fuel side and turn the key only while the engine stands.",
        "Once the engine had run, it stood still whenever you opened something or turned the key.",
        "You opened the fuel side, or turned the key, with the engine running.",
        "A running engine sprays fuel from a slack nut, draws air in at a drain, and its flywheel breaks the starter.",
        2.0,
        judges.once_it_has_run((*OPENINGS, *CRANKS)),
    ),
    Rule(
        "does_it_crank",
        "Find out whether the engine turns over before touching the fuel side.",
        "You knew how the engine turned over before you touched the fuel side.",
        "You worked on the fuel side before finding out whether the engine turns over.",
        "A tired battery looks like a fuel fault from the cockpit, and one short turn of the starter settles it.",
        1.0,
        judges.first_needs(FUEL_WORK, (*CRANKS, "battery.look")),
    ),
    Rule(
        "is_it_told_to_stop",
        "Look at the stop control before touching the fuel side.",
        "You looked at the stop control before touching the fuel side.",
        "You worked on the fuel side without having looked at the stop control.",
        "It takes seconds, costs nothing, and with the control left pulled nothing else helps.",
        1.5,
        judges.first_needs(FUEL_WORK, ("stop_control.*",)),
    ),
    Rule(
        "fuel_there_and_open",
        "Dip the tank and look at the shut-off before bleeding, opening or changing anything.",
        "You dipped the tank and looked at the shut-off before opening anything.",
        "You opened or changed something before both dipping the tank and looking at the shut-off.",
        "No fuel or a shut handle is likelier than a broken part, and a gauge can stick. The dipstick does not.",
        2.0,
        judges.first_needs(FUEL_WORK, ("tank.dip",), ("shut_off.look", "shut_off.open")),
    ),
    Rule(
        "bowl_before_bleeding",
        "Look at the separator's bowl before draining, bleeding or changing an element.",
        "You looked at the bowl before draining, bleeding or changing an element.",
        "You drained, bled or changed an element without having looked at the bowl.",
        "The bowl shows water, dirt and air at a glance; bleeding first carries them on to the injection pump.",
        1.5,
        judges.first_needs(OPENINGS, ("separator.look",)),
    ),
    Rule(
        "flow_at_fine_filter",
        "Open the fine filter's bleed screw and work the lever before changing parts or slackening union nuts.",
        "You tried the flow at the fine filter before changing parts.",
        "You changed a part or slackened a union nut before trying the flow at the fine filter.",
        "That one test splits the circuit: no flow is a fault towards the tank, froth is air getting in, a clear run "
        "means the trouble lies further on.",
        2.0,
        judges.tried_flow_first,
    ),
    Rule(
        "look_before_change",
        "Look at a part, or try it, before changing it.",
        "Each thing you changed you had looked at first.",
        "You changed something that you had not looked at first.",
        "A change made blind costs time, lets in new air, and hides what was really wrong.",
        2.0,
        judges.looked_before_change(LOOKS_FIRST),
    ),
    Rule(
        "one_change_then_check",
        "Change one thing, then check what it did.",
        "After each change you checked what it did before making the next.",
        "You made a change and did not check what it did before going on.",
        "With two changes at once nobody knows which one helped, and a fault of one's own making stays hidden.",
        1.5,
        judges.checked_after_change,
    ),
    Rule(
        "kind_to_the_starter",
        "Crank in short turns with rests, and find something out between.",
        "You cranked in short turns and found something out between them.",
        "You kept cranking: too long in one go, or again and again with nothing found out between.",
        "Cranking flattens the battery, burns the starter and, with the seacock open, can fill the engine with water.",
        1.5,
        judges.cranked_kindly,
    ),
    Rule(
        "drain_and_change_properly",
        "With the tank below: shut the shut-off before draining or changing an element, and open the vent to drain.",
        "You shut the shut-off before opening the low side, and let air in at the top to drain the bowl.",
        "You drained or changed an element with the shut-off open, or drained without opening the vent.",
        "With the tank below, the fuel in the hose falls back when the low side is opened; the shut-off holds it. "
        "Without the vent the bowl does not empty but draws air.",
        1.0,
        judges.both(
            judges.each_stands(("separator.open_drain", *ELEMENT_CHANGES), "shut_off_open", False),
            judges.vent_opened_with_drain,
        ),
    ),
    Rule(
        "bleed_outwards",
        "Bleed from the tank outwards: fine filter, injection pump, and high-pressure lines only when those run clear.",
        "You bled outwards, each place only when the one before it ran clear.",
        "You bled a place before the one nearer the tank ran clear.",
        "Air left behind is pushed into what has just been cleared, and the work begins again.",
        1.0,
        judges.bled_outwards,
    ),
    Rule(
        "air_has_a_source",
        "When air keeps coming at the fine filter, look for where it gets in: try the joints under suction.",
        "Where air kept coming, you looked for the place where it gets in.",
        "Air kept coming at the fine filter and you bled on without trying the joints where it could get in.",
        "Bleeding takes out the air that is there. A joint that lets air in will bring it back by the next morning.",
        1.5,
        judges.sought_the_leak,
    ),
    Rule(
        "bleed_to_clear",
        "Go on until a solid clear run comes, and tighten while it is still flowing.",
        "You went on until the fuel ran clear and tightened while it was flowing.",
        "A screw was closed on froth, or only after the flow had stopped.",
        "The first clear spurt is followed by more air; a screw closed after the flow has stopped draws air back in.",
        1.0,
        judges.bled_to_clear,
    ),
    Rule(
        "tight_before_start",
        "Close every screw, vent and drain before turning the starter.",
        "Everything was closed before you turned the starter.",
        "You turned the starter with a screw, vent or drain still open.",
        "An open one on the suction side draws air, on the pressure side it spills fuel, and a start proves nothing.",
        1.0,
        judges.tight_before_start,
    ),
    Rule(
        "no_empty_repeats",
        "Do not repeat a check when nothing has changed.",
        "You did not repeat checks that could tell nothing new.",
        "You repeated checks when nothing had changed since the last time.",
        "Daylight, tide and patience run out; spend them on a check whose answer you don't know yet.",
        0.5,
        judges.no_empty_repeats,
    ),
)
