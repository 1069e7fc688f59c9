"""What stands on the sheets of an exercise on paper."""

from __future__ import annotations

PAGE = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>{title}</title><style>
  body {{ font: 16px/1.4 "Source Sans 3", "Source Sans Pro", sans-serif; max-width: 60rem; margin: 1.5rem auto;
    padding: 0 1rem; color: #000; background: #fff; }}
  table {{ border-collapse: collapse; width: 100%; }}
  th, td {{ border-bottom: 1px solid #888; text-align: left; vertical-align: top; padding: .3rem .5rem; }}
  th {{ background: #dde4ea; }}
  figure {{ margin: .5rem 0; }}
  h2 {{ margin-top: 1.5rem; }}
  @media print {{ h2.card {{ break-before: page; }} tr, figure {{ break-inside: avoid; }} }}
</style></head><body>{body}</body></html>
"""

NAME_AND_TICKET = "Name: ______________________________   Ticket: {ticket}"
PICTURE = "The boat: {title}"
WHAT_TO_DO = "What to do"
STEPS = (
    "Say aloud what you do, one thing at a time. Your instructor tells you what you notice, and nothing more.",
    "Hear whether it cranks, then work from the tank to the engine: cheap looks first, changes last.",
    "Write down each check and what you noticed, before you say the next one.",
    "Say what is wrong and which lines show it, then how you mend it and how you prove it.",
    "Leave everything shut, tight and clean.",
)
CAUTIONS_HEAD = "On a real boat, before you touch anything"
CAUTIONS = (
    ("Whatever you open", "fuel_opened"),
    ("Nuts of the high-pressure lines", "high_pressure"),
    ("Hands at the engine", "turning"),
    ("Starter", "starting"),
    ("Seacock", "seacock"),
    ("A warm engine", "hot"),
    ("Waste", "waste"),
)
"""At what, and which of the course's cautions stands on the sheet; that the manual comes first stands before them."""
CHECKS_HEAD = "Your checks, in your order"
CHECKS_SAID = "One line for each thing you do. The minutes are about what it takes on board."
CHECK_COLUMNS = (("no.", 6), ("what you did, and at which part", 37), ("what you noticed", 44), ("min", 13))
DIAGNOSIS_HEAD = "What is wrong"
DIAGNOSIS_COLUMNS = (("part", 40), ("what is wrong with it", 60))
EVIDENCE_HEAD = "What shows it"
EVIDENCE_COLUMNS = (("line no.", 12), ("what you noticed there, and what it rules out", 88))
CURE_HEAD = "How you mend it, and how you prove that it is mended"
CURE_COLUMNS = (("what you do, in order", 60), ("what it should show", 40))

INSTRUCTORS = "{title}: the instructor's sheet"
FOR_YOU_ALONE = "For the instructor alone. Whoever reads on knows what is wrong."
TICKET = "This sheet belongs to the learners' sheet with the ticket {ticket}. Another ticket may draw another fault."
TRUTH_HEAD = "What is wrong"
HOW_HEAD = "How to play it"
HOW = (
    "Learners say what they do; you read out what stands beside it, word for word, and nothing more.",
    "Each line is as the boat is found. Until something is opened or mended, a check made again shows the same.",
    "What is not in the table shows nothing new. If it would harm somebody or spill fuel, stop and ask why.",
    "Count the minutes. A check that costs more and could have waited is worth a talk afterwards.",
)
FIRST_HEAD = "What shows first"
TABLE_HEAD = "What the class may do, and what is noticed"
TABLE_SAID = (
    "Played for this very draw. Bold: a boat with nothing wrong would show something else, so that this line tells."
)
TABLE_COLUMNS = (("what is done", 42), ("what is noticed", 58))
NOTHING = "Nothing."
WAY_HEAD = "A good order of checks on this boat, for who has noticed nothing yet"
MENDED_HEAD = "What mends it"
MENDED_SAID = "With tray, rag and goggles ready and the battery isolated, in this order:"
THEN = "After that, switched on again:"
NOT_MENDED = "Nothing on board mends this for good. Call a qualified marine engineer."
