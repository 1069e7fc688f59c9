"""The words of the page about a learner's own engine, beside those of the form itself."""

from __future__ import annotations

from engine_sim.wording import OWN_CHOICES, OWN_FIELDS, OWN_HINTS, OWN_LONG, OWN_PARTS_OF_FORM

ANSWERS_FILE, LAYOUT_FILE = "my_engine.toml", "my_engine_layout.toml"
CARD_FILE, BLANK_FILE = "my_engine_card.pdf", "blank_card.pdf"
UNREAD_FILE = "my_engine_not_read.toml"
FROM_THE_FORM = "Made from the form of your own engine. Keep the form anew, and this is written anew."

FORM: dict[str, str] = {
    "form_title": "Your own engine",
    "form_help": "Say what you know of your boat. What you do not know yet, leave as it is; go and look, then return.",
    "draw": "Draw my boat",
    "keep": "Keep",
    "practise": "Practise on my boat",
    "card": "Card to print",
    "blank": "Blank card for class",
    "give_up": "Tell me what it is",
    "give_up_ask": "Shall I tell you now? You can go on at the bench, and see inside.",
    "give_up_yes": "Yes, tell me",
    "give_up_back": "No, I will keep looking",
    "another": "Another fault",
    "another_ask": "Begin anew with another fault? Nothing of this one is kept.",
    "another_yes": "Yes, another fault",
    "another_back": "No, go on with this one",
    "end_practice": "End the practice",
}
"""What the page's own script writes."""

TELLS: dict[str, str] = {
    "picture": "The fuel path of {name}",
    "drawn": "This is your boat, as far as the form tells. Is it right? If not, change the form and draw it anew.",
    "kept": f"Your answers are kept in {ANSWERS_FILE}, and your boat in {LAYOUT_FILE}, beside this page.",
    "put_by": f"The file that could not be read is put by as {UNREAD_FILE}.",
    "card_made": f"Your card is {CARD_FILE}, beside this page, and it was given to you as a file. "
    "Your answers are kept too.",
    "blank_made": f"The blank card is {BLANK_FILE}, beside this page, and it was given to you as a file.",
    "making": "Laying out the card …",
    "setting": "Setting a fault on your boat, and trying whether it shows …",
    "wrong": "Nothing is lost. Mend what is said beside the fields, then press again.",
    "not_written": "The file {name} could not be written: {why}. Make room on the disk or ask your instructor, and "
    "press again. What you typed still stands in the form.",
    "not_read": "{why} What stood in it is left alone.",
    "practice": "Practice on {name}",
    "story": "Something is wrong on your boat. Find it and cure it. Nothing of this practice is kept in a file: it is "
    "gone when you close the page.",
    "begun": "The fault is set. Go down to the bench and find it.",
    "ended": "The practice is over.",
    "no_practice": "There is no practice going on. Press “Practise on my boat” first.",
    "no_fault": "No fault was found that shows on this boat. Change the form a little and press again.",
}
"""What Python says in answer."""


def for_the_page() -> dict[str, object]:
    """Return all that the form needs to be built: headings with fields, labels, choices, hints."""
    return {
        "said": FORM,
        "groups": [[title, list(names)] for title, names in OWN_PARTS_OF_FORM],
        "labels": OWN_FIELDS,
        "choices": {name: list(map(list, choices.items())) for name, choices in OWN_CHOICES.items()},
        "hints": OWN_HINTS,
        "long": list(OWN_LONG),
    }
