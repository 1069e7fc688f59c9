"""The safety mark: what comes before a spanner, what must never happen, and what fails by itself.

Sources: spray of some bar goes through skin and is a surgical emergency (hand-surgery outlines); oil in the water is an
offence above 15 ppm (MARPOL Annex I; 33 CFR 151.10), below it local port rules; negative off first, starter at most
30 s then two minutes' rest (US Army TM 10-3930-671-24); anchor first (seamanship manuals). The shorter 10 to 15 s of
small boats, gloves, fresh air, extinguisher, isolator and seacock are common practice, no source. Points are judgement.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from engine_sim.marking import safety_judges as judges
from engine_sim.marking.housekeeping import worked
from engine_sim.marking.judges import Rule, judge_rule
from engine_sim.marking.marksheet import Mark, Reason, make_mark
from engine_sim.marking.replaying import Mishap
from engine_sim.marking.scheme import MarkingScheme
from engine_sim.marking.track import Track

NOTHING_DONE = "Nothing was done on the engine, so there is no safe work to mark."
NOTHING_AT_STAKE = "You did nothing in which safe work could show."
NOTHING_HURTS = "Nothing that you did could have hurt anybody or fouled the water."
BROKEN_SHARE = 0.5
"""What is kept at most of a caution broken once [share of its points]; judgement: once is enough to be hurt."""

HARD_FAILS: dict[str, tuple[str, str]] = {
    "flooded": (
        "The engine was cranked until sea water filled its silencer and ran into the cylinders.",
        "While it does not fire no gas lifts the cooling water out. Shut the seacock while you crank again and again, "
        "and open it at once when it fires.",
    ),
    "rod_bent": (
        "The starter was kept at an engine that water had locked, and a connecting rod bent.",
        "Water cannot be compressed. An engine that stops dead with a thud is never cranked again before an engineer "
        "has let the water out.",
    ),
    "hurt": (
        "A hand was held into the spray of a high-pressure line: fuel went through the skin.",
        "It hardly hurts at first and is an emergency all the same: go to hospital at once and say diesel injection. "
        "Look for spray with a card.",
    ),
    "overboard_ml": (
        "Oily waste, about {amount:.0f} ml of it, was tipped over the side.",
        "Oil in the water is an offence, and it harms what lives there. What comes out goes into the can for waste and "
        "to the oily-waste point ashore.",
    ),
    "ashore": (
        "The boat drifted ashore while all hands were at the engine.",
        "With a shore to leeward the boat comes before the engine: anchor or set sail first, call early, then mend.",
    ),
}

SAFETY_RULES: tuple[Rule, ...] = (
    Rule(
        "lies_safely",
        "In a seaway, anchor or set sail for sea room before anything is mended.",
        "The boat lay safely before you began to mend.",
        "You began to mend in a seaway before the boat lay safely.",
        "A boat that drifts while all hands are below is lost before the engine is.",
        2.0,
        judges.made_fast_first,
    ),
    Rule(
        "fresh_air",
        "Open hatches, and put the extinguisher within reach, before fuel is opened or poured.",
        "There was fresh air, and an extinguisher within reach, before you opened or poured fuel.",
        "You opened or poured fuel without both fresh air and an extinguisher within reach.",
        "Fuel mist and fuel on hot parts catch fire far below the point at which a puddle does.",
        1.0,
        judges.before_the_first(judges.FUEL, ("bench.ventilate",), ("bench.extinguisher",)),
    ),
    Rule(
        "tray_laid",
        "Lay the tray before anything wet is opened.",
        "You laid the tray before opening anything.",
        "Something was opened without the tray under it.",
        "A tray keeps fuel out of the bilge and the harbour.",
        1.0,
        judges.stands_at_each(judges.OPENED, "tray_laid", True),
    ),
    Rule(
        "gloves_on",
        "Put goggles and gloves on before fuel is opened.",
        "You had goggles and gloves on before you opened the fuel.",
        "You opened the fuel with bare hands and eyes.",
        "Fuel is bad for skin, and bleeding spits.",
        1.0,
        judges.stands_at_each(("fuel_opened", "biocide"), "goggles_on", True),
    ),
    Rule(
        "goggles_at_high_pressure",
        "Wear goggles at every work on a high-pressure line.",
        "You wore goggles at the high-pressure lines.",
        "You worked at a high-pressure line without goggles on.",
        "Fuel from a high-pressure line goes through skin and eyes. It hardly hurts at first and is an emergency.",
        2.0,
        judges.stands_at_each(("high_pressure",), "goggles_on", True),
    ),
    Rule(
        "card_not_hand",
        "Look for spray with a card, never with a hand, and keep the face away.",
        "You looked for spray with a card.",
        "A hand or the face came near the spray of a high-pressure line.",
        "The spray goes through skin from about seven bar; a high-pressure line carries twenty to thirty times that.",
        2.0,
        judges.no_bare_hand,
    ),
    Rule(
        "engine_stopped",
        "Open the fuel side and turn the key only while the engine stands.",
        "Once the engine had run, it stood still whenever you opened something or turned the key.",
        "You opened the fuel side, or turned the key, with the engine running.",
        "A running engine sprays fuel on hot parts, draws air in at a drain, and its flywheel breaks the starter.",
        2.0,
        judges.engine_stood,
    ),
    Rule(
        "isolator_off",
        "Turn the battery isolator off before hands go among belts, shaft or heavy cables.",
        "The battery was switched off while your hands were among moving parts or heavy cables.",
        "Your hands were among moving parts or heavy cables with the battery on.",
        "Somebody turns the key, or a spanner bridges the cable: the one takes fingers, the other burns.",
        1.5,
        judges.switched_off,
    ),
    Rule(
        "starter_rested",
        "Crank in short turns, and let the starter rest between them.",
        "You cranked in short turns with rests between.",
        "You cranked too long in one go, or again without a rest.",
        "Long cranking burns the starter and flattens the battery.",
        1.5,
        judges.starter_rested,
    ),
    Rule(
        "seacock_minded",
        "Shut the seacock while cranking again and again, and open it at once when the engine fires.",
        "You minded the seacock while cranking.",
        "You cranked for long with the seacock open, or let the engine run on with it shut.",
        "Without exhaust gas the cooling water stays in the silencer until it floods the engine; without water the "
        "pump's impeller is torn in a minute or two.",
        1.5,
        judges.seacock_minded,
    ),
    Rule(
        "cooled_first",
        "Let hot parts cool before hands go near them.",
        "You let the engine cool before you worked at its hot parts.",
        "You worked at hot parts of the engine before they had cooled.",
        "Hot metal burns hands, and fuel on it catches fire.",
        1.0,
        judges.cooled_first,
    ),
    Rule(
        "wrong_fuel_not_run",
        "When the jar smells of petrol or leaves crystals, do not turn the engine on that fuel.",
        "You did not turn the engine on fuel that you had found to be wrong.",
        "You turned the engine on fuel that you had found to be wrong.",
        "Petrol wrecks pump and pistons and makes the engine space explosive; urea solution eats the pump.",
        1.5,
        judges.wrong_fuel_not_run,
    ),
)


def hard_fails_of(mishaps: Sequence[Mishap]) -> tuple[Reason, ...]:
    """Return what fails by itself, with its moment and its why; a bent rod and its flood are one thing each."""
    found = []
    for one in mishaps:
        text, why = HARD_FAILS[one.name]
        found.append(Reason(text.format(amount=one.amount), one.moment_s, False, 0.0, why, one.step, one.name))
    return tuple(found)


def _nothing_at_stake(track: Track, hard_fails: Sequence[Reason], ceiling: float, scheme: MarkingScheme) -> Mark:
    """Mark work in which no caution was at stake: whole where something was put right all the same."""
    most = scheme.weights.safety
    if worked(track):
        return make_mark(ceiling, most, (*hard_fails, Reason(NOTHING_HURTS, None, True, ceiling)))
    score = min(ceiling, most * scheme.safety.nothing_at_stake_share)
    return make_mark(score, most, (Reason(NOTHING_AT_STAKE, None, False, most - score), *hard_fails))


def _no_small_matter(rule: Rule, found: tuple[Reason, float]) -> tuple[Reason, float]:
    """Let a caution that was broken once cost a good part of it, however often it was kept."""
    reason, share = found
    if reason.good or share <= BROKEN_SHARE:
        return found
    return replace(reason, points=rule.points * (1.0 - BROKEN_SHARE)), BROKEN_SHARE


def mark_safety(track: Track, hard_fails: Sequence[Reason], seaway: float, scheme: MarkingScheme) -> Mark:
    """Mark safe work: cautions kept over cautions at stake; in a calm (``seaway`` 0) nobody has to anchor first."""
    most = scheme.weights.safety
    if not track.moments:
        return Mark(0.0, most, (Reason(NOTHING_DONE, None, False, most),))
    judged = []
    for rule in SAFETY_RULES:
        if rule.id == "lies_safely" and seaway <= 0.0:
            continue
        found = judge_rule(rule, rule.judge(track, scheme.limits))
        if found is not None:
            judged.append((rule, _no_small_matter(rule, found)))
    at_stake = sum(rule.points for rule, _ in judged)
    ceiling = most * (scheme.safety.hard_fail_share if hard_fails else 1.0)
    if not at_stake:
        return _nothing_at_stake(track, hard_fails, ceiling, scheme)
    worth = most / at_stake
    kept = sum(rule.points * share for rule, (_, share) in judged) * worth
    reasons = tuple(replace(reason, points=reason.points * worth) for _, (reason, _) in judged)
    failed = tuple(replace(one, points=max(0.0, kept - ceiling) / len(hard_fails)) for one in hard_fails)
    return make_mark(min(kept, ceiling), most, (*failed, *reasons))
