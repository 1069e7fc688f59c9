"""Every word of the bench's own that a learner reads; names of parts, actions and faults come from the attempt."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from engine_sim.actions import parts_of
from engine_sim.circuit.layout import Layout
from engine_sim.drawing.seen import beside, in_words
from engine_sim.drawing.ways import after, before
from engine_sim.units import KILOPASCAL_PA, STANDARD_ATMOSPHERE_PA, clock_text, duration_text

CAUTIONS = (
    "This is a model to practise on. On a real boat the engine's own manual, local rules and a "
    "qualified marine engineer come first.",
    "Under way, make the boat safe first: sea room, anchor or sails, and a call if you need one. Mend second.",
    "Fuel spray from a high-pressure line goes through skin: goggles on, hands clear. If it hits you, "
    "go to hospital at once.",
    "Keep fuel out of the water: tray and rag first, waste ashore.",
)

PAGE: dict[str, str] = {
    "bench": "The bench",
    "parts": "Parts of the fuel system, in the order the fuel takes",
    "clock": "Time gone",
    "choose": "Choose a part on the drawing to see what you can do there.",
    "looked": "A tick beside its name: you have looked at it or worked there.",
    "choose_keys": "By keyboard: Tab to the drawing, arrow keys to move, Enter to choose, Escape to come back.",
    "do_here": "What you can do here",
    "closer": "Look closer at the drawing",
    "care_above": "take care, as said above",
    "takes": "takes",
    "may_spill": "may spill",
    "aboard": "Tools, spares and waste",
    "aboard_help": "Torch, spanners, rags, trays and gloves are all there. What can be used up is counted.",
    "needs": "needs",
    "take_care": "Take care:",
    "noticed": "What you notice",
    "nothing_yet": "Nothing yet. Newest will stand at the top.",
    "about": "Only:",
    "about_all": "everything",
    "pin": "Pin as evidence",
    "pin_short": "Pin",
    "note": "Your note",
    "notes": "Your notes",
    "note_label": "Write down what you find, what you do, and what is still to be done ashore",
    "note_do": "Keep this note",
    "diagnosis": "Your diagnosis",
    "diagnosis_help": "Say which part it is, what is wrong with it, and tick what you noticed that shows it. You can "
    "change it until you hand in.",
    "which_part": "Which part?",
    "which_fault": "What is wrong with it?",
    "not_chosen": "– choose –",
    "part_first": "– choose the part first –",
    "evidence": "What shows it? Tick what you noticed.",
    "no_evidence": "You have noticed nothing yet. Look, try and listen first.",
    "diagnosis_do": "Keep this diagnosis",
    "diagnosis_now": "Kept:",
    "diagnosis_none": "No diagnosis kept yet.",
    "hand_in": "Hand in",
    "hand_in_help": "When the engine runs well and all is closed and clean, hand in your work.",
    "hand_in_ask": "Hand in now? After that you can still look, but nothing can be changed.",
    "hand_in_no_diagnosis": "You have kept no diagnosis yet.",
    "hand_in_unkept": "Your diagnosis has changes that you have not kept.",
    "hand_in_left": "Still to be done:",
    "hand_in_yes": "Yes, hand in",
    "hand_in_back": "Not yet",
    "handed_in": "Handed in. You can look at everything, but nothing can be changed.",
    "logbook": "Your logbook",
    "logbook_help": "Every step is kept as you work. Close the page when you like; the bench opens where you left off.",
    "save": "Save my logbook",
    "saved": "Your logbook was given to you as a file.",
    "again_help": "Your logbook so far is kept beside this page under another name. An answer that you wrote on "
    "the page stays there: write it anew for another ticket.",
    "again_fresh": "Start again with a fresh ticket",
    "again_same": "Start the lesson again",
    "again_ask": "Start again from the beginning? Your logbook so far is kept under another name.",
    "again_yes": "Yes, start again",
    "again_back": "No, go on",
    "other_ticket": "Use another ticket",
    "help": "Help",
    "help_about": "Ask for a nudge first. Each help is kept in your logbook and costs a little of your method mark.",
    "plots": "Plots",
    "plots_help": "What the gauges showed over time, and the pressure along the fuel's way. Choose one to see it, "
    "choose it again to put it away.",
    "film": "Show how it goes",
    "film_skip": "Skip to the end",
    "sound": "Sound",
    "xray": "X-ray: show what is inside",
    "xray_key": "Fuel is plain. Water has waves and a dark line on top; in a pipe it is a dashed line. Air is bubbles, "
    "or an empty pipe.",
    "bowl_key": "In the glass bowl: fuel is plain, water has waves and a dark line on top, air is empty.",
    "ticket_title": "Which ticket?",
    "ticket_help": "A ticket is a short code. It decides which fault you get.",
    "ticket_label": "Type the ticket your instructor gave you",
    "ticket_do": "Open with this ticket",
    "ticket_fresh": "Practise with a fresh ticket",
    "ticket_back": "Back to my work",
    "ticket_is": "Ticket",
    "practice": "practice",
    "try_again": "Try again",
    "in_words": "The picture in words",
    "safety": "Cautions",
    "working": "Working …",
    "marks": "Your marks",
    "marks_help": "You practised, so the bench can mark your attempt now: five marks with reasons, and what to do "
    "better next time. It looks at all that could have been wrong: the first time on a boat it takes half a minute.",
    "marks_do": "Mark my attempt",
    "no_answer": "The bench does not answer. Nothing you did is lost: every finished step is in your logbook. "
    "Wait a moment. If it stays like this, press the button.",
    "not_alive": "The bench was not reached. Press the button: it opens where you left off.",
    "open_again": "Open this page again",
}

IN_USE = (
    "This exercise is open in another window. Only one window can work on it, so that your logbook stays sound. "
    "Go to the other window, or close it and then press “Try again” here."
)
NO_ROOM = (
    "Your logbook could not be written, so this step was not done: {reason}. Make room on the disk "
    "or ask your instructor, then try again."
)
CANNOT_OPEN = "The bench could not open your logbook: {reason} Ask your instructor; nothing was deleted."
PRESSED_TWICE = "That was pressed twice; it was done once."
STILL_WORKING = "The bench is still working on your last step. Press again when it is done."
NOT_UNDERSTOOD = "The bench did not understand that. Close this page and open it again; nothing is lost."
NOTE_EMPTY = "The note is empty. Write something first."
NOTE_KEPT = "Note kept."
NOTE_SHORT = "Note kept. The next person will want to read more: what was wrong, and what you did about it."
NOTE_TOO_LONG = (
    "A note can have up to {limit} letters; this one has {given}. Nothing was kept yet: shorten it "
    "or make two notes of it."
)
DIAGNOSIS_KEPT = "Diagnosis kept. You can change it until you hand in."
DIAGNOSIS_UNFINISHED = "Choose the part and what is wrong with it first."
SAID_BEFORE = "There is no more to say than before, and it costs nothing."
NO_HELP = "There is no such help in this exercise."
KEPT_AS = "Your earlier logbook is kept as {name}."
BROUGHT_BACK = "You have worked with this ticket before. The bench opens where you left off."
HANDED_IN = "Handed in. Well done for seeing it through."
XRAY_NOT_ALLOWED = "X-ray is not allowed in this exercise."
TICKET_LESSON = "This lesson needs no ticket."
MARKS_COME_FROM = "“Mark my attempt” gives your marks with their reasons; a fresh ticket sets another fault."
NOT_FRESH = "Only practice can start again. With your instructor's ticket the work goes on where you left off."


def engine_text(outside: Mapping[str, object]) -> str:
    """Return in a few words what the engine does."""
    if outside["engine"] == "running":
        return f"Engine running, {round(float(str(outside['speed_rpm'])), -1):.0f} rpm"
    return "Engine stopped"


def shore_text(outside: Mapping[str, object]) -> str:
    """Return how near the shore lies; empty where none is near or the boat lies safely."""
    if outside["shore_min"] is None or outside["made_fast"]:
        return ""
    return "The boat is ashore" if outside["ashore"] else f"Shore to leeward: {outside['shore_min']} min of drifting"


def lamps_text(outside: Mapping[str, object]) -> str:
    """Return in a few words how the panel lamps burn; empty on a boat without a battery."""
    if "key_on" not in outside:
        return ""
    return f"Panel lamps {outside['battery_lamps']}" if outside["key_on"] else "Key off, panel dark"


def offer_facts(takes_s: float, needs: str, spills: bool = False) -> str:
    """Return how long an action takes [s], 0 for one whose label says it, what it needs, and whether it may spill."""
    time = [f"{PAGE['takes']} {duration_text(takes_s)}"] if takes_s > 0 else []
    tools = [f"{PAGE['needs']} {needs}"] if needs else []
    return " · ".join([*time, *tools, *([PAGE["may_spill"]] if spills else [])])


def aboard_lines(stores: Mapping[str, float], outside: Mapping[str, object]) -> list[str]:
    """Return what is on board to work with, and what was used: spares by number, fuel in litres, waste in ml."""
    litres = stores.get("clean fuel", 0.0)
    spares = [f"{name}: {count:.0f}" for name, count in stores.items() if name != "clean fuel"]
    jar, waste, rags = (float(str(outside[key])) for key in ("jar_ml", "waste_ml", "oily_rags"))
    used = [
        f"in the jar: {jar:.0f} ml" if jar else "",
        f"waste for ashore: {waste:.0f} ml" if waste else "",
        f"oily rags for ashore: {rags:.0f}" if rags else "",
    ]
    return [f"clean fuel: {litres:g} litres", *spares, *(text for text in used if text)]


def clock(clock_s: float) -> str:
    """Return the time since the start as ``h:mm:ss``."""
    return clock_text(clock_s)


def describe(layout: Layout, seen: Mapping[str, object]) -> str:
    """Return what the picture shows, in sentences for those who do not see it."""
    rest = ". ".join(beside(layout, seen))
    lamps = lamps_text(seen)
    return " ".join(f"{lamps + '.' if lamps else ''} {in_words(layout, seen)} {rest + '.' if rest else ''}".split())


def inside_text(label: str, water_share: float, air_share: float, pressure_pa: float) -> str:
    """Return what the x-ray shows in one place: shares 0 to 1, absolute pressure [Pa]."""
    filled = _content_words({"fuel": 1.0 - water_share - air_share, "water": water_share, "air": air_share})
    above_kpa = (pressure_pa - STANDARD_ATMOSPHERE_PA) / KILOPASCAL_PA
    if abs(above_kpa) < 0.05:
        return f"{label}: {filled}, pressure as the air around"
    return f"{label}: {filled}, {abs(above_kpa):.1f} kPa {'above' if above_kpa > 0 else 'below'} the air around"


_AMOUNTS = ((0.1, "a little"), (0.375, "a quarter"), (0.625, "half"), (0.9, "three quarters"))


def _content_words(shares: Mapping[str, float]) -> str:
    found = sorted(((share, name) for name, share in shares.items() if share >= 0.005), reverse=True)
    if len(found) == 1:
        return "nothing but air" if found[0][1] == "air" else f"full of {found[0][1]}"
    return ", ".join(f"{next((word for limit, word in _AMOUNTS if s < limit), 'mostly')} {name}" for s, name in found)


SENSES = {"see": "see", "hear": "hear", "feel": "feel", "smell": "smell", "gauge": "gauge"}

_ROOMS = {
    "bowl": "bowl",
    "head": "head",
    "dirty": "before the element",
    "clean": "after the element",
    "gallery": "inside",
    "inlet": "inlet side",
    "outlet": "outlet side",
}


def place_name(layout: Layout, owner: str, family: str) -> str:
    """Return what a place inside is called: the part's name with the room in it, or the hose by what it leads to."""
    names = {part.component: part.label for part in parts_of(layout) if part.kind != "joint"}
    if owner in names:
        room = _ROOMS.get(family.rpartition(".")[2], "") if "." in family else ""
        return f"{_capital(names[owner])}, {room}" if room else _capital(names[owner])
    ends = [names.get(name, "") for found in (before(layout, owner), after(layout, owner)) for name in found[:1]]
    told = " to ".join(name for name in ends if name)
    return f"Hose from {told}" if told else "Hose"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def entry_head(kind: str, where: str, doing: str) -> str:
    """Return the line above what was noticed: where, and what was done."""
    if kind == "note":
        return PAGE["note"]
    if kind in ("hand_in", "help"):
        return PAGE[kind]
    return f"{where} – {doing}" if where else doing


def diagnosis_text(part: str, fault: str, evidence: int) -> str:
    """Return a kept diagnosis in words."""
    shown = (
        "nothing ticked yet to show it"
        if evidence == 0
        else f"with {evidence} thing{'s' if evidence > 1 else ''} you noticed"
    )
    return f"{part} – {fault}, {shown}."


def truth_lines(
    was: Iterable[tuple[str, str]], said: tuple[str, str] | None, runs: bool, marked: bool = True
) -> list[str]:
    """Return what a practice learner is told after handing in; faults come as labels of part and fault."""
    return [
        *(f"What it was: {part} – {fault}." for part, fault in was),
        f"What you said: {said[0]} – {said[1]}." if said else "What you said: you kept no diagnosis.",
        "The engine runs now." if runs else "The engine stands still now.",
        *((MARKS_COME_FROM,) if marked else ()),
    ]
