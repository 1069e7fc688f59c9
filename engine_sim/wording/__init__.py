"""Every word about the circuit that a learner reads: labels of parts, actions and faults, and what is noticed.

One thing has one name here, on the screens and in the lessons.
"""

from engine_sim.wording.around_sentences import AROUND
from engine_sim.wording.card_words import CARD_WORDS
from engine_sim.wording.cautions import CAUTIONS, GAUGE_WORDS, MANUAL_FIRST, SHARE_WORDS
from engine_sim.wording.drawing_words import DRAWING_WORDS
from engine_sim.wording.engine_sentences import AT_THE_ENGINE
from engine_sim.wording.fault_words import DIAGNOSES, FAULTS, OPENINGS, SPILLED, STANDS, WET
from engine_sim.wording.filter_sentences import AT_THE_FILTERS, SCREW_WORDS
from engine_sim.wording.glossary import Entry, glossary
from engine_sim.wording.own_boat_words import (
    BLEED_POINTS,
    OWN_CHOICES,
    OWN_FIELDS,
    OWN_HINTS,
    OWN_LONG,
    OWN_PARTS_OF_FORM,
    OWN_WRONG,
    PATH_WORDS,
)
from engine_sim.wording.own_deeds import OWN_DEEDS
from engine_sim.wording.part_words import BOWL_OF, JOINT_UNDER, NUMBER_WORDS, PARTS
from engine_sim.wording.tank_sentences import AT_THE_TANK

SENTENCES: dict[str, str] = {**AROUND, **AT_THE_TANK, **AT_THE_FILTERS, **AT_THE_ENGINE}
"""Key to sentence; what stands in braces is filled in."""

__all__ = [
    "BLEED_POINTS",
    "BOWL_OF",
    "CARD_WORDS",
    "CAUTIONS",
    "DIAGNOSES",
    "DRAWING_WORDS",
    "FAULTS",
    "GAUGE_WORDS",
    "JOINT_UNDER",
    "MANUAL_FIRST",
    "NUMBER_WORDS",
    "OPENINGS",
    "OWN_CHOICES",
    "OWN_DEEDS",
    "OWN_FIELDS",
    "OWN_HINTS",
    "OWN_LONG",
    "OWN_PARTS_OF_FORM",
    "OWN_WRONG",
    "PARTS",
    "PATH_WORDS",
    "SCREW_WORDS",
    "SENTENCES",
    "SHARE_WORDS",
    "SPILLED",
    "STANDS",
    "WET",
    "Entry",
    "glossary",
]
