"""The card by the engine: a boat's own fuel path, the order of checks, bleed points, spares and cautions on one sheet.

What it says of the work is read from the rules by which work is marked and from the cautions of the bench, so that
card, bench and marks say the same. A blank one has lines to write on.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from fpdf.fonts import TTFFont

from engine_sim.actions.parts import Part
from engine_sim.bench.own_engine import OwnEngine
from engine_sim.circuit.layout import Layout, read_layout
from engine_sim.classroom.card_sheet import Block, Card, Row, printed
from engine_sim.classroom.feedback_pdf import TYPE, empty_sheet, read_picture
from engine_sim.drawing import Drawing, on_paper
from engine_sim.drawing.path import bleed_points, on_the_way, still_picture
from engine_sim.marking.rules import RULES
from engine_sim.marking.rules_precedence import PRECEDENCE
from engine_sim.scenarios.own_boat import BadOwnBoat, OwnBoat, answers_of, blank_answers, boat_from
from engine_sim.scenarios.own_layout import layout_text
from engine_sim.wording import CARD_WORDS, CAUTIONS, MANUAL_FIRST, OWN_CHOICES, PARTS

_AIR_RULES = ("bleed_outwards", "bleed_with_fuel_open", "bleed_to_clear", "tight_before_start")
_CAN_RULES = ("can_stands_right", "can_return_first_to_jar")
_CARE = ("fuel_opened", "turning", "high_pressure", "starting")
"""Cautions on the card: what any work at the fuel path needs, and what hurts most."""
_LABELS, _NUMBERS = 0.25, 0.06
_STOPS = ".,;:!?"
_NEXT = "\N{NO-BREAK SPACE}· "
_ONE, _SOME, _MANY = 1, 2, 3
"""How many lines there are to write on."""


@cache
def own_engine(folder: str = ".") -> OwnEngine:
    """Return the page for a learner's own engine, whose files stand in ``folder``; asked again, the same one."""
    return OwnEngine(Path(folder).resolve(), card_pdf)


def card_pdf(boat: OwnBoat | None) -> bytes:
    """Return the card of a boat as a PDF of one page of A4, or a blank one to fill in by hand.

    Raises BadOwnBoat where a text has letters that the card's type lacks.
    """
    if boat is None:
        return printed(_blank_card())
    refuse_strange_letters(boat)
    return printed(_card(boat))


def refuse_strange_letters(boat: OwnBoat) -> None:
    """Raise BadOwnBoat, by field, for letters that cannot be printed."""
    type_face = empty_sheet(0.0).fonts[TYPE]
    known = type_face.cmap if isinstance(type_face, TTFFont) else {}
    wrong = {}
    for name, text in answers_of(boat).items():
        strange = dict.fromkeys(letter for letter in text if ord(letter) not in known and letter != "\n")
        if strange:
            wrong[name] = CARD_WORDS["no_letters"].format(signs=" ".join(strange))
    if wrong:
        raise BadOwnBoat(wrong)


# ---- a boat's card --------------------------------------------------------------------------------------------------


def _card(boat: OwnBoat) -> Card:
    layout = read_layout(layout_text(boat))
    name = _line(boat.name)
    title = CARD_WORDS["picture"].format(name=name)
    picture, words = still_picture(Drawing(layout), title)
    engine = [Row(own=_line(boat.engine), label=CARD_WORDS["engine"])] if boat.engine else []
    return Card(
        title=CARD_WORDS["title"].format(name=name),
        facts=[*engine, Row(_facts(boat), label=CARD_WORDS["boat"])],
        first=MANUAL_FIRST,
        picture=read_picture(on_paper(picture, title, words)),
        pale=False,
        caption="",
        left=[_path(boat, layout), _bowl(boat)],
        right=[_order(), _air(boat, layout), _can()],
        either=[_care(boat), *_own_block("spares", boat.spares), *_own_block("call", boat.call)],
        foot=CARD_WORDS["by_hand"],
    )


def _line(text: str) -> str:
    """Return a text of several lines as one; a line that ends without a stop gets a semicolon behind it."""
    *lines, last = [line.strip() for line in text.splitlines() if line.strip()] or [""]
    return " ".join([*(line if line[-1] in _STOPS else f"{line};" for line in lines), last])


def _facts(boat: OwnBoat) -> str:
    say = answers_of(boat)
    where = OWN_CHOICES["tank_stands"][boat.tank_stands]
    litres = CARD_WORDS["tank_facts" if boat.tanks == 1 else "tanks_facts"].format(where=where, litres=boat.tank_l)
    count = OWN_CHOICES["cylinders"][say["cylinders"]]
    return _NEXT.join(
        (
            f"{OWN_CHOICES['tanks'][say['tanks']]} {litres}",
            CARD_WORDS["cylinder" if boat.cylinders == 1 else "cylinders"].format(count=count),
            CARD_WORDS["pump"].format(kind=OWN_CHOICES["injection_pump"][boat.injection_pump]),
            CARD_WORDS["preheat" if boat.preheat else "no_preheat"],
            CARD_WORDS["stop"].format(how=OWN_CHOICES["stop"][boat.stop]),
        )
    )


def _path(boat: OwnBoat, layout: Layout) -> Block:
    """Return the parts in the order of the fuel, all injectors together, each with the learner's own words."""
    parts = [part for part in on_the_way(layout) if part.number <= 1]
    rows = [Row(_printed_of(boat, part), _own_of(boat, part), _label_of(part)) for part in parts]
    stop = "stop_lever" if boat.stop == "pull" else "stop_solenoid"
    label, purpose = PARTS[stop]
    return Block(CARD_WORDS["path"], [*rows, Row(purpose, label=label)], _LABELS)


def _label_of(part: Part) -> str:
    return CARD_WORDS["injectors"] if part.kind == "injector" else part.label


def _printed_of(boat: OwnBoat, part: Part) -> str:
    if part.kind == "injector":
        return CARD_WORDS["injectors_do"]
    if part.kind == "separator":
        bowl = "" if boat.bowl == "hidden" else boat.bowl
        purpose = " ".join(PARTS["separator"][1].format(bowl=bowl).split())
        return f"{purpose} {CARD_WORDS[f'bowl_{boat.bowl}']}"
    return part.purpose


def _own_of(boat: OwnBoat, part: Part) -> str:
    """Return what the learner wrote about a part."""
    found = {
        "shut_off_valve": (("", boat.where_shut_off),),
        "separator": (("element", boat.element_separator), ("drain", boat.spanner_drain)),
        "fine_filter": (("element", boat.element_fine),),
        "injector": (("union", boat.spanner_union),),
    }.get(part.kind, ())
    return "\n".join(CARD_WORDS[key].format(own=_line(text)) if key else _line(text) for key, text in found if text)


def _bowl(boat: OwnBoat | None) -> Block:
    """Return how the bowl is drained: as the tank stands, and both ways where nobody has said."""
    ways = {"below": ("drain_tank_below",), "above": ("drain_tank_above",), "beside": ("drain_tank_above",)}
    names = ways[boat.tank_stands] if boat is not None else ("drain_tank_below", "drain_tank_above")
    return Block(CARD_WORDS["bowl"], [Row(_sentence(name)) for name in (*names, "drain_to_clean_fuel")])


def _order() -> Block:
    """Return the order of checks: the rules of what comes before what, cheap looks first."""
    return Block(CARD_WORDS["order"], _numbered([Row(rule.sentence) for rule in PRECEDENCE]), _NUMBERS)


def _air(boat: OwnBoat | None, layout: Layout) -> Block:
    points = _numbered([Row(str(point)) for point in bleed_points(layout)])
    rules = [Row(_sentence(name)) for name in _AIR_RULES]
    if boat is None:
        blank = Row(CARD_WORDS["write_screws"], lines=_SOME)
        return Block(CARD_WORDS["air"], [*points, blank, *rules], _NUMBERS)
    spanner = CARD_WORDS["bleed"].format(own=_line(boat.spanner_bleed)) if boat.spanner_bleed else ""
    own = [Row(own=text) for text in (_line(boat.where_bleed), spanner) if text]
    moves = Row(CARD_WORDS[f"moved_by_{boat.lift_pump}"])
    return Block(CARD_WORDS["air"], [*points, *own, moves, *rules], _NUMBERS)


def _can() -> Block:
    rules = (Row(_sentence(name)) for name in _CAN_RULES)
    return Block(CARD_WORDS["can_title"], _numbered([Row(CARD_WORDS["can"]), *rules]), _NUMBERS)


def _care(boat: OwnBoat | None) -> Block:
    known = [Row(CARD_WORDS["write_must_know"], lines=_SOME)] if boat is None else []
    own = [Row(own=_line(boat.must_know))] if boat is not None and boat.must_know else []
    return Block(CARD_WORDS["care"], [*known, *own, *(Row(CAUTIONS[name]) for name in _CARE)])


def _own_block(key: str, text: str) -> list[Block]:
    """Return what the learner wrote, or lines to write it on."""
    return [Block(CARD_WORDS[key], [Row(own=_line(text)) if text else Row(lines=_SOME)])]


def _numbered(rows: list[Row]) -> list[Row]:
    return [Row(row.text, row.own, f"{number}.", row.lines) for number, row in enumerate(rows, 1)]


def _sentence(name: str) -> str:
    """Return what a rule asks, in its own words."""
    return next(rule.sentence for rule in RULES if rule.id == name)


# ---- the blank card -------------------------------------------------------------------------------------------------


def _blank_card() -> Card:
    """Return a card to fill in by hand; its drawing, of the commonest boat, is pale."""
    layout = read_layout(layout_text(boat_from(blank_answers() | {"name": CARD_WORDS["blank_title"]})))
    title = CARD_WORDS["blank_picture"]
    picture, words = still_picture(Drawing(layout), title)
    return Card(
        title=CARD_WORDS["blank_title"],
        facts=[
            Row(CARD_WORDS["write_boat"], label=CARD_WORDS["boat"]),
            Row(CARD_WORDS["write_kinds"], label=CARD_WORDS["engine"]),
        ],
        first=MANUAL_FIRST,
        picture=read_picture(on_paper(picture, title, words)),
        pale=True,
        caption=title,
        left=[_blank_path(layout), _bowl(None)],
        right=[_order(), _air(None, layout), _can()],
        either=[_care(None), *(Block(CARD_WORDS[key], [Row(lines=_MANY)]) for key in ("spares", "call"))],
        foot=CARD_WORDS["by_hand"],
    )


def _blank_path(layout: Layout) -> Block:
    asked = {
        "tank": ("write_tank", 0),
        "shut_off_valve": ("write_where", _ONE),
        "separator": ("write_bowl", _ONE),
        "lift_pump": ("write_pump", 0),
        "fine_filter": ("write_element", _ONE),
        "injector": ("write_union", _ONE),
    }
    rows = []
    for part in (part for part in on_the_way(layout) if part.number <= 1):
        key, lines = asked.get(part.kind, ("", 0))
        rows.append(Row(CARD_WORDS[key] if key else part.purpose, label=_label_of(part), lines=lines))
    valve = Row(CARD_WORDS["write_valve"], label=PARTS["changeover_valve"][0], lines=_ONE)
    return Block(CARD_WORDS["path"], [rows[0], valve, *rows[1:]], _LABELS)
