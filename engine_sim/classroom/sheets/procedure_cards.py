"""The procedure cards: the steps of each job in the order that marking asks, why, and the cautions that go with it."""

from __future__ import annotations

from engine_sim.actions import with_caution
from engine_sim.classroom.sheets.finder import kind_label
from engine_sim.classroom.sheets.markup import (
    bullets,
    card_heading,
    heading,
    numbered,
    paragraph,
    sentence,
    strong,
    time_words,
)
from engine_sim.classroom.sheets.procedure import Procedure, Step
from engine_sim.classroom.sheets.procedures import (
    PROCEDURES,
    UNTIL_WORDS,
    cautions_of,
    deeds_of,
    procedure,
)
from engine_sim.marking.judges import Rule
from engine_sim.marking.rules import RULES
from engine_sim.marking.safety import SAFETY_RULES
from engine_sim.wording import CAUTIONS, MANUAL_FIRST

TITLE = "Procedure cards"
SAFE = "before"
"""The card on which stands all that the safety mark asks."""
_ABOUT = (
    "The order of each card is the one that the marks ask for, and the words are those of the bench. "
    "The procedures are common practice; that one bleeds on until a solid run comes is in US Navy NAVEDTRA 14076 and "
    "14329."
)
_METHOD, _SAFETY = "What the marks ask here", "What safety asks at every job"
_ENGINEER = "engineer"
_RULES = {rule.id: rule for rule in (*RULES, *SAFETY_RULES)}


def procedure_cards() -> str:
    """Return the sheet as HTML."""
    head = heading(1, TITLE) + paragraph(_ABOUT) + bullets(one.title for one in PROCEDURES) + strong(MANUAL_FIRST)
    return head + "".join(card(one) for one in PROCEDURES)


def card(one: Procedure) -> str:
    """Return one card as HTML."""
    tools = dict.fromkeys(tool for step in deeds_of(one) for tool in _tools_of(step))
    asked = SAFETY_RULES if one.id == SAFE else tuple(_RULES[name] for name in (*one.rules, *one.mind))
    return "".join(
        (
            card_heading(one.title),
            strong(one.when),
            paragraph(f"Lay out: {', '.join(tools)}. Hands' work: {_hands_time(one)}.") if tools else "",
            heading(3, "Steps"),
            numbered(step_words(step) for step in one.steps),
            heading(3, "Cautions") if caution_words(one) else "",
            bullets(caution_words(one)),
            heading(3, _SAFETY if one.id == SAFE else _METHOD) if asked else "",
            bullets(_rule_words(rule) for rule in asked),
            _where_to_stop() if one.says_where_to_stop else "",
            *(strong(sentence) for sentence in one.ends),
            strong(MANUAL_FIRST),
        )
    )


def step_words(step: Step) -> str:
    """Return a step as a person reads it."""
    note = f" – {step.note}" if step.note else ""
    if step.card:
        return f"{procedure(step.card).title} (its own card){note}"
    until = " ".join(UNTIL_WORDS.get(key) or sentence(key) for key in step.until)
    rest = " The starter rests between." if step.rests else ""
    going_on = f". Go on until: {until}{rest}" if until else ""
    at = "" if step.kind == "bench" else f"{kind_label(step.kind)}: "
    return f"{at}{step.action.label}{note}{going_on}"


def caution_words(one: Procedure) -> tuple[str, ...]:
    """Return the cautions that stand beside a card's own steps."""
    return tuple(CAUTIONS[name] for name in cautions_of(one))


def _where_to_stop() -> str:
    """Return what is an engineer's work: every action of the bench that says so."""
    works = "; ".join(f"{kind_label(kind)}: {item.label}" for kind, item in with_caution(_ENGINEER))
    return heading(3, "Where an owner stops") + paragraph(f"{works}. {CAUTIONS[_ENGINEER]}")


def _rule_words(rule: Rule) -> str:
    return f"{rule.sentence} {rule.why}"


def _tools_of(step: Step) -> tuple[str, ...]:
    return tuple(tool for tool in step.action.needs.split(", ") if tool)


def _hands_time(one: Procedure) -> str:
    return "about " + time_words(sum(step.action.takes_s for step in deeds_of(one)))
