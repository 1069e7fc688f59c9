"""The better move for each thing that cost: the rule's own sentence, or what to do before handing in.

The rules bring their sentences along. For what no rule says, the words stand here; common practice, no source.
"""

from __future__ import annotations

from engine_sim.marking import cure, diagnosis, housekeeping, method
from engine_sim.marking.marksheet import Reason
from engine_sim.marking.rules import RULES
from engine_sim.marking.safety import HARD_FAILS, SAFETY_RULES

BY_TEXT = {
    method.NOT_FOLLOWED: "Go on at the place that showed it: find out what is wrong there, put it right, and try the "
    "engine.",
    diagnosis.NONE_GIVEN: "Before you hand in, write down the part, what is wrong with it, and what you noticed that "
    "shows it, even where you are not sure.",
    housekeeping.NOTHING_TO_LEAVE: "Go on until you have put right what was wrong; then shut, tighten and wipe up, and "
    "write down what it was.",
}
BY_WHY = {
    diagnosis.WHY_SIDE: "Before you name a part, find out on which side of the lift pump's inlet the trouble lies, "
    "with a check that comes out differently for the two sides.",
    diagnosis.WHY_PART: "Before you name a part, make a check at it that would come out differently if it were sound.",
    diagnosis.WHY_FAULT: "At the part you suspect, make one more check that tells apart what can be wrong with it.",
    diagnosis.WHY_EVIDENCE: "With your diagnosis, tick what you saw, heard or felt that a sound boat would not show.",
    diagnosis.WHY_ALL: "Do not stop at the first thing found: run the engine after the cure, and go on looking while "
    "anything still shows.",
    cure.WHY_TEST: "Put right what was found, bleed where air came in, and before you hand in run the engine at idle "
    "and at cruise, stop it, let it stand and start it again.",
    cure.WHY_CAUSE: "Before you hand in, look once more wherever something had shown, and go on until it shows no "
    "more.",
    housekeeping.WHY_SHUT: "Before you hand in, go along the fuel's way from the tank on: shut and tighten every "
    "screw, tap, nut and joint that you opened.",
    housekeeping.WHY_VALVES: "Before you hand in, put every valve, key and control back as the next person expects it.",
    housekeeping.WHY_CLEAN: "Lay the tray first; wipe up, and wipe dry what you had opened, before you hand in.",
    housekeeping.WHY_WASTE: "Pour the jar into the can for waste, and take it to the oily-waste point ashore.",
    housekeeping.WHY_STORES: "Fit a new part only where a check has shown that it is needed, and count washers, rings "
    "and tools after the last refit.",
    housekeeping.WHY_NOTE: "Before you hand in, write a note in the logbook: what you found, what you did, and when.",
    HARD_FAILS["flooded"][1]: "Shut the seacock while you crank again and again, and open it at once when the engine "
    "fires.",
    HARD_FAILS["rod_bent"][1]: "Where the engine stops dead with a thud, leave the key alone and have the water let "
    "out first.",
    HARD_FAILS["hurt"][1]: "Hold a card before the nut, never a hand, with goggles and gloves on.",
    HARD_FAILS["ashore"][1]: "Anchor, or set sail for sea room, before you go below, and call early.",
    HARD_FAILS["overboard_ml"][1]: "Pour the jar into the can for waste, and take it to the oily-waste point ashore.",
}
BY_MARK = {
    "safety": "Before you open anything: open hatches, put the extinguisher within reach, lay tray and rag, and put "
    "goggles and gloves on.",
    "method": "First the quick looks that open nothing, from the tank towards the engine; then, where a check shows "
    "something, go on at that place until you know what causes it.",
    "diagnosis": BY_WHY[diagnosis.WHY_PART],
    "cure": BY_WHY[cure.WHY_TEST],
    "housekeeping": BY_WHY[housekeeping.WHY_SHUT],
}
ELSE = "Stop, tell someone, and look before you go on."


def rule_sentence(reason: Reason) -> str:
    """Return the plain rule that a reason says was broken, or an empty text."""
    return next((rule.sentence for rule in (*RULES, *SAFETY_RULES) if rule.id == reason.about), "")


def better_move(mark: str, reason: Reason) -> str:
    """Return what would have been better, in one sentence; every reason of every mark has one."""
    known = rule_sentence(reason) or BY_TEXT.get(reason.text) or BY_WHY.get(reason.why)
    return known or BY_MARK.get(mark, ELSE)
