"""What to teach next, by a stated rule: what most learners broke, weighed by its points, with the lesson to use."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from engine_sim.classroom.teaching.report.numbers import NOT_YET, PARTLY, ClassNumbers, plain_sentence
from engine_sim.marking.rules import RULES
from engine_sim.marking.safety import SAFETY_RULES

MOST = 3
"""So many suggestions are made."""
HOW = (
    "Each rule of order and each caution counts once for each learner who broke it, times its points in the marking "
    "rules: that is its weight. The three that weigh most are named, with the lesson that teaches them."
)
NOBODY = "Nobody broke a rule or a caution, so nothing asks to be taught again."
OBJECTIVE_OF: Mapping[str, str] = {
    "does_it_crank": "does_it_crank.tell_electrical",
    "follow_the_starter": "does_it_crank.measure_cranking",
    "is_it_told_to_stop": "does_it_crank.told_to_stop",
    "fuel_there_and_open": "is_there_fuel.gauge_or_dip",
    "bowl_before_bleeding": "water.tell_water",
    "breather_before_changing": "is_there_fuel.free_breather",
    "flow_at_fine_filter": "elements.split_filters",
    "look_before_change": "before_you_touch.look_around",
    "one_change_then_check": "prevention.prove_service",
    "find_out_between_tries": "does_it_crank.crank_safely",
    "lever_on_the_cam": "pumps.tell_lever",
    "no_empty_repeats": "under_way.spend_minutes",
    "drain_tank_below": "water.drain_low",
    "drain_tank_above": "water.drain_high",
    "drain_to_clean_fuel": "water.tell_water",
    "shut_before_opening": "elements.change_separator",
    "separator_element_steps": "elements.change_separator",
    "fine_filter_steps": "elements.change_fine",
    "nothing_poured_in": "elements.change_fine",
    "can_stands_right": "bad_fuel.rig_can",
    "can_return_first_to_jar": "bad_fuel.rig_can",
    "water_off_first": "bad_fuel.clean_tank",
    "bleed_outwards": "air.bleed_outwards",
    "bleed_with_fuel_open": "air.bleed_outwards",
    "bleed_to_clear": "air.bleed_outwards",
    "air_has_a_source": "air.find_joint",
    "prime_before_start": "air.bleed_outwards",
    "tight_before_start": "air.bleed_outwards",
    "short_turns_at_the_lines": "pumps.bleed_pump",
    "card_at_the_nuts": "pumps.bleed_pump",
    "lies_safely": "under_way.boat_first",
    "fresh_air": "before_you_touch.safe_first",
    "tray_laid": "before_you_touch.tray_and_rag",
    "gloves_on": "before_you_touch.safe_first",
    "goggles_at_high_pressure": "pumps.know_limit",
    "card_not_hand": "pumps.know_limit",
    "engine_stopped": "before_you_touch.safe_first",
    "isolator_off": "before_you_touch.isolate",
    "starter_rested": "does_it_crank.crank_safely",
    "seacock_minded": "does_it_crank.crank_safely",
    "cooled_first": "before_you_touch.safe_first",
    "wrong_fuel_not_run": "bad_fuel.refuse_start",
}
"""The objective that teaches each rule and caution, as ``lesson.objective``."""


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A rule to teach again: its sentence, its points, how many broke it, their product, and the lesson to use."""

    sentence: str
    points: float
    learners: int
    weight: float
    lesson: str
    objective: str


def what_next(numbers: ClassNumbers) -> tuple[Suggestion, ...]:
    """Return what to teach next, the most urgent first; see :data:`HOW`."""
    points = {rule.id: rule.points for rule in (*RULES, *SAFETY_RULES)}
    titles = {lesson.id: f"{lesson.number}. {lesson.title}" for lesson in numbers.lessons}
    found = []
    for one in (*numbers.rules, *numbers.cautions):
        worth, who = points.get(one.id, 0.0), len(one.learners)
        objective = OBJECTIVE_OF.get(one.id, "")
        lesson = objective.partition(".")[0]
        taught = plain_sentence(objective, numbers.lessons)
        found.append(Suggestion(one.sentence, worth, who, worth * who, titles.get(lesson, lesson), taught))
    ranked = sorted((one for one in found if one.weight > 0.0), key=lambda one: -one.weight)
    return tuple(ranked[:MOST])


def weakest_objective(numbers: ClassNumbers) -> tuple[str, int, int] | None:
    """Return the objective that most learners cannot do yet or only in part, how many, and of how many who showed it.

    None where everybody can do everything that was shown.
    """
    found = []
    for one in numbers.objectives:
        states = [own[one.id].state for own in numbers.can_do.values() if own[one.id].share is not None]
        short = sum(2 * (state == NOT_YET) + (state == PARTLY) for state in states)
        found.append((short, one.sentence, sum(state in (NOT_YET, PARTLY) for state in states), len(states)))
    worst = max(found, key=lambda one: one[0], default=None)
    return None if worst is None or worst[0] == 0 else worst[1:]
