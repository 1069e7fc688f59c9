"""Rules of bleeding, from the tank outwards to the injectors, by lever, by electric pump or by a high tank alone.

Bleeding until a solid run comes is in US Navy NAVEDTRA 14076 and 14329; the rest is common practice, no source. Points
are judgement.
"""

from __future__ import annotations

from engine_sim.marking import judges_bleeding as judge
from engine_sim.marking import judges_procedures
from engine_sim.marking.judges import Rule

FAMILY = "bleeding"

BLEEDING: tuple[Rule, ...] = (
    Rule(
        "bleed_outwards",
        "Bleed from the tank outwards: fine filter, inlet before outlet; injection pump, lower before upper screw; "
        "and high-pressure lines only when those run clear.",
        "You bled outwards, each place only when the one before it ran clear.",
        "You bled a place before the one nearer the tank ran clear.",
        "Air left behind is pushed into what has just been cleared, and the work begins again.",
        1.0,
        judge.bled_outwards,
        FAMILY,
    ),
    Rule(
        "bleed_with_fuel_open",
        "Open the way from the tank again before bleeding.",
        "You had opened the way from the tank again before you bled.",
        "You bled with the way from the tank shut by your own hand.",
        "With the shut-off shut the pump only pulls on what is left in the hoses, and may draw air past a good seal.",
        0.5,
        judge.bled_with_fuel_open,
        FAMILY,
    ),
    Rule(
        "bleed_to_clear",
        "Go on until a solid clear run comes, and tighten while it is still flowing.",
        "In the end you went on until the fuel ran clear, and tightened while it was flowing.",
        "A screw was closed on froth, at the first clear spurt, or only after the flow had stopped.",
        "The first clear spurt is followed by more air; a screw closed after the flow has stopped draws air back in.",
        1.0,
        judge.bled_to_clear,
        FAMILY,
    ),
    Rule(
        "air_has_a_source",
        "When air keeps coming at the fine filter, look for where it gets in: try the joints, vents and screws.",
        "Where air kept coming, you looked for the place where it gets in.",
        "Air kept coming at the fine filter and you bled on without trying the places where it could get in.",
        "Bleeding takes out the air that is there. A joint that lets air in will bring it back by the next morning.",
        1.5,
        judge.sought_the_leak,
        FAMILY,
    ),
    Rule(
        "prime_before_start",
        "After the fuel side was opened, fill it by lever or electric pump before turning the starter.",
        "You filled what you had opened, by lever or electric pump, before you turned the starter.",
        "You opened the fuel side, and turned the starter before it was filled again.",
        "An emptied filter holds air enough to stop the engine for many minutes of cranking; a lever does it for free.",
        1.0,
        judge.primed_before_start,
        FAMILY,
    ),
    Rule(
        "tight_before_start",
        "Close every screw, vent and drain before turning the starter, and every union nut before running the engine.",
        "All that you had opened was closed before you turned the starter, or ran the engine.",
        "You turned the starter with a screw, vent, drain, joint or filter open, or ran it with a union nut slack.",
        "An open one on the suction side draws air, on the pressure side it spills fuel, and a start proves nothing.",
        1.0,
        judge.tight_before_start,
        FAMILY,
    ),
    Rule(
        "short_turns_at_the_lines",
        "With a union nut slack, turn the engine for ten seconds at most.",
        "You bled the high-pressure lines in short turns.",
        "You turned the engine for longer than ten seconds while a union nut was slack.",
        "In short turns one sees froth become clear pulses, and tightens before the fuel is everywhere.",
        1.0,
        judges_procedures.bled_the_lines,
        FAMILY,
    ),
    Rule(
        "card_at_the_nuts",
        "When the engine runs again, look at each nut that was slackened, or hold a card before it.",
        "You looked at the nuts that you had slackened once the engine ran.",
        "Nuts were slackened, the engine ran again, and you did not look whether they spray.",
        "A nut that is not quite tight sprays finely enough to go through skin and to catch fire.",
        0.5,
        judges_procedures.looked_for_spray,
        FAMILY,
    ),
)
