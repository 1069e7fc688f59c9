"""The words of the form about a learner's own boat, and of the card that is made of it."""

from __future__ import annotations

OWN_FIELDS: dict[str, str] = {
    "name": "Boat's name",
    "engine": "Engine: what its plate says",
    "tank_stands": "Where the tank stands",
    "tank_l": "Litres in a full tank",
    "tanks": "How many tanks",
    "bowl": "Bowl of the separator",
    "lift_pump": "Lift pump",
    "cylinders": "Cylinders",
    "injection_pump": "Injection pump",
    "preheat": "Preheat (glow plugs)",
    "stop": "How it is stopped",
    "where_shut_off": "Where the shut-off is",
    "where_bleed": "Where the bleed screws are",
    "spanner_bleed": "Spanner for the bleed screws",
    "spanner_drain": "Spanner for the drain",
    "spanner_union": "Spanner for the union nuts",
    "element_separator": "Element of the separator: part number",
    "element_fine": "Element of the fine filter: part number",
    "must_know": "What the skipper must know: cautions of the engine's manual",
    "spares": "Spares aboard, and where they lie",
    "call": "Who to call",
}
"""What each thing that is asked is called, in the order of the form."""

OWN_CHOICES: dict[str, dict[str, str]] = {
    "tank_stands": {
        "below": "below the engine",
        "above": "above the engine",
        "beside": "at the engine's side",
    },
    "tanks": {"1": "one tank", "2": "two tanks with a changeover valve"},
    "bowl": {"glass": "glass", "metal": "metal", "hidden": "no view of it"},
    "lift_pump": {"lever": "with a hand lever", "electric": "electric"},
    "cylinders": {"1": "one", "2": "two", "3": "three", "4": "four"},
    "injection_pump": {"in_line": "in-line", "rotary": "rotary"},
    "preheat": {"yes": "yes", "no": "no"},
    "stop": {"pull": "by a pull", "solenoid": "by a stop solenoid"},
}
"""What can be chosen, and how it reads."""

OWN_HINTS: dict[str, str] = {
    "name": "It stands at the top of the card.",
    "engine": "Maker's number and type help whoever sells you a spare.",
    "tank_stands": "Compare the top of the tank with the lift pump.",
    "tank_l": "From 5 to 1000. With two tanks: in each.",
    "tanks": "",
    "bowl": "Can you see the fuel in it?",
    "lift_pump": "A small lever under it, or a wire to it?",
    "cylinders": "Count the high-pressure lines.",
    "injection_pump": "In-line: the lines leave it in a row. Rotary: in a ring.",
    "preheat": "",
    "stop": "A knob that you pull, or the key alone?",
    "where_shut_off": "Could a stranger find it in the dark?",
    "where_bleed": "From the tank outwards, one after the other.",
    "spanner_bleed": "In millimetres or inches.",
    "spanner_drain": "Write “by hand” where it needs none.",
    "spanner_union": "",
    "element_separator": "Copy it from the element itself.",
    "element_fine": "",
    "must_know": "In your own words: what must not be opened, how tight, who may do what.",
    "spares": "",
    "call": "A name and a number: engineer, harbour, rescue service.",
}
"""A little help under a field; empty where it needs none."""

OWN_PARTS_OF_FORM: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("The boat", ("name", "engine")),
    ("The tank", ("tank_stands", "tank_l", "tanks")),
    ("From the tank to the engine", ("bowl", "lift_pump")),
    ("The engine", ("cylinders", "injection_pump", "preheat", "stop")),
    (
        "For the card: where things are and what fits",
        (
            "where_shut_off",
            "where_bleed",
            "spanner_bleed",
            "spanner_drain",
            "spanner_union",
            "element_separator",
            "element_fine",
        ),
    ),
    ("For the card: what to know, to have, and whom to call", ("must_know", "spares", "call")),
)
"""The headings of the form with what stands under each."""

OWN_LONG = ("must_know", "spares", "call")
"""What is written on several lines."""

OWN_WRONG: dict[str, str] = {
    "empty": "{label} is empty. Write a name of 1 to {most} letters.",
    "long": "{label} has {given} letters; up to {most} are allowed. Take out {over}.",
    "no_text": "{label} was given as {given!r}; allowed is a text of up to {most} letters. Write it anew.",
    "sign": "{label} holds the sign {given!r}, which cannot be kept; allowed are letters, figures and plain signs. "
    "Take it out.",
    "number": "{label} was given as {given}; allowed is {low:g} to {high:g}. Write a number in that range.",
    "choice": "{label} was given as {given!r}; allowed is one of: {allowed}. Choose one of them.",
    "file": "The file of answers cannot be read: {why}. Mend that line, or fill in the form and keep it anew.",
}
"""What is said beside a field in which something is wrong."""

BLEED_POINTS: dict[str, str] = {
    "vent": "top vent",
    "screw": "bleed screw",
    "outlet_screw": "outlet screw",
    "lower_screw": "lower bleed screw",
}
"""Screws and vents at which air is let out, by the last word of their names."""

PATH_WORDS: dict[str, str] = {
    "way": "From the {tanks} the fuel goes through {parts} to {injectors}.",
    "ways": "From the {tanks} the fuel comes to the {valve}, which chooses between them.",
    "back": "The {back} leads what is not burnt back to the {tank}.",
    "injector": "{count} injector",
    "injectors": "{count} injectors",
    "bleed": "Air is let out at these points, in this order: {points}.",
    "point": "{part}, {screw}",
}
"""The fuel's way in a few sentences."""
