"""The facts of a hand-in say what the mark sheet says, and come back whole from the file that they are kept in."""

from __future__ import annotations

import json
from dataclasses import asdict, replace
from functools import cache

import pytest
from feedback_sheets import empty_sheet
from feedback_sheets import sheet as sheet_by_hand

from engine_sim.attempt import Attempt, Diagnosis, open_exercise, read_logbook
from engine_sim.marking import Mark, MarkSheet, Reason, default_scheme, mark_attempt, mark_logbook
from engine_sim.marking.facts import (
    BROKEN,
    KEPT,
    NOT_AT_STAKE,
    Facts,
    facts_from,
    facts_of,
    sums_facts,
)
from engine_sim.marking.rules import RULES
from engine_sim.marking.safety import HARD_FAILS, SAFETY_RULES
from engine_sim.marking.sums import POINTS_EACH, SUMS, SumsSheet, figures_of, mark_answers
from engine_sim.scenarios import SetFault, compose_scenario

TICKET = "2222-2222"
CLUMSY = ("starter.crank_10", "fine_filter.open_screw", "lift_pump.lever_10", "fine_filter.close_screw", "tank.dip")


@cache
def clumsy() -> tuple[MarkSheet, Facts]:
    """A boat whose stop control is pulled: bled first, looked at afterwards, and the filter blamed for it."""
    scenario = replace(
        compose_scenario("tank_below", [SetFault("stop_control_pulled", "stop_control")]), help_most="check"
    )
    attempt = Attempt(scenario)
    for name in CLUMSY:
        attempt.act(*name.split("."))
    attempt.ask_help("nudge", "Look at the valves.")
    dipped = [seen.number for seen in attempt.observations if seen.part == "tank"]
    attempt.diagnose(Diagnosis("fine_filter", "loaded_element", tuple(dipped[:1])))
    attempt.hand_in()
    sheet = mark_attempt(scenario, attempt.steps, attempt.diagnosis, default_scheme(), with_coach=False)
    return sheet, facts_of(sheet, attempt.steps)


def named(facts: Facts, rule: str) -> tuple[str, int]:
    found = next(one for one in (*facts.rules, *facts.cautions) if one.id == rule)
    return found.state, found.step


def test_every_reason_of_a_rule_names_it_and_no_other_reason_names_one():
    sheet, _ = clumsy()
    reasons = [reason for name in ("safety", "method") for reason in sheet.marks[name].reasons]
    said = {reason.about: reason for reason in reasons if reason.about}
    sentences = {rule.id: (rule.kept, rule.broken.removesuffix(".")) for rule in (*RULES, *SAFETY_RULES)}
    assert said and set(said) <= set(sentences)
    for name, reason in said.items():
        assert reason.text.startswith(sentences[name][0] if reason.good else sentences[name][1])
    others = {reason.text for mark in sheet.marks.values() for reason in mark.reasons if not reason.about}
    assert others and not others & {text for pair in sentences.values() for text in pair}


def test_rules_broken_kept_and_not_at_stake_are_told_apart():
    _, facts = clumsy()
    assert named(facts, "fuel_there_and_open") == (BROKEN, 2)
    assert named(facts, "does_it_crank") == (KEPT, 2)
    assert named(facts, "can_stands_right") == (NOT_AT_STAKE, 0)
    assert named(facts, "tray_laid") == (BROKEN, 2)
    assert len(facts.rules) == len(RULES)
    assert len(facts.cautions) == len(SAFETY_RULES)


def test_what_a_rule_cost_is_what_the_sheet_says():
    sheet, facts = clumsy()
    broken = sum(one.points for one in facts.rules if one.state == BROKEN)
    reasons = sheet.marks["method"].reasons
    said = sum(reason.points for reason in reasons if reason.about and not reason.good)
    assert broken == pytest.approx(said)
    assert said > 0.0


def test_the_order_broke_first_where_the_earliest_broken_rule_says():
    _, facts = clumsy()
    broken = [one for one in facts.rules if one.state == BROKEN]
    assert facts.first_broken in broken
    assert facts.first_broken.step == min(one.step for one in broken) == 2
    assert facts.first_broken.moment_s > 0.0


def test_a_wrong_diagnosis_says_what_misled():
    _, facts = clumsy()
    (given,) = facts.diagnoses
    assert (given.part, given.right) == ("fine_filter", False)
    (sign,) = given.misled_by
    assert (sign.part, sign.shows) == ("tank", False)
    assert sign.text
    (truth,) = facts.truths
    assert (truth.part_label, truth.fault_label) == ("stop control", "left pulled out")


def test_a_right_diagnosis_was_misled_by_nothing():
    _, facts = clumsy()
    assert replace(facts.diagnoses[0], right=True).misled_by == ()


def test_checks_time_cranking_help_and_result():
    _, facts = clumsy()
    assert facts.first_check.name == "lift_pump.lever_10"
    assert "hand lever" in facts.first_check.words
    assert facts.checks == 2
    assert facts.cranked_s == pytest.approx(10.0)
    assert facts.clock_s > 60.0
    assert facts.helps == {"nudge": 1}
    assert (facts.cured, facts.passed, facts.handed_in, facts.worked) == (False, False, True, True)
    assert facts.versions["scheme_version"] == 2


def test_facts_come_back_from_plain_data_as_they_were():
    _, facts = clumsy()
    kept = json.loads(json.dumps(asdict(facts), ensure_ascii=False))
    assert facts_from(kept) == facts


def test_without_the_coach_nobody_says_which_checks_told_nothing():
    assert clumsy()[1].told_nothing == ()
    assert not clumsy()[1].by_coach


def test_with_the_coach_only_checks_during_the_search_can_have_told_nothing():
    sheet = sheet_by_hand()
    silent = replace(sheet.analysis, insights=tuple(replace(one, told_bits=0.0) for one in sheet.analysis.insights))
    facts = facts_of(replace(sheet, analysis=silent))
    found = sheet.analysis.found_step
    assert facts.by_coach
    assert [one.name for one in facts.told_nothing] == ["lift_pump.lever_10", "fine_filter.look"]
    assert all(one.step <= found for one in facts.told_nothing)


def test_what_is_cured_has_nothing_bad_said_of_its_cure():
    sheet, _ = clumsy()
    whole = Mark(10.0, 10.0, (Reason("It ran."), Reason("Nothing was left.")))
    assert facts_of(replace(sheet, marks={**sheet.marks, "cure": whole})).cured
    spoiled = replace(whole, reasons=(*whole.reasons, Reason("It was left so that it does not run.", good=False)))
    assert not facts_of(replace(sheet, marks={**sheet.marks, "cure": spoiled})).cured


def test_a_hard_fail_keeps_its_name_and_its_moment():
    text, why = HARD_FAILS["overboard_ml"]
    fail = Reason(text.format(amount=120.0), 300.0, False, 0.0, why, 4, "overboard_ml")
    (found,) = facts_of(replace(clumsy()[0], hard_fails=(fail,))).hard_fails
    assert (found.name, found.moment_s) == ("overboard_ml", 300.0)
    assert "120 ml" in found.text


def test_who_handed_in_nothing_has_facts_too():
    facts = facts_of(empty_sheet())
    assert not facts.worked
    assert facts.first_check is facts.first_broken is None
    assert {one.state for one in facts.rules} == {NOT_AT_STAKE}
    assert facts_from(json.loads(json.dumps(asdict(facts)))) == facts


def test_a_logbook_counts_only_as_far_as_it_was_marked(tmp_path):
    """The second diagnosis stands behind a line that was changed by hand."""
    with open_exercise("no_start_harbour", TICKET, tmp_path) as opened:
        opened.attempt.act("tank", "dip")
        opened.attempt.diagnose(Diagnosis("tank", "empty_tank"))
        opened.attempt.act("separator", "look")
        opened.attempt.diagnose(Diagnosis("separator", "loaded_element"))
    (place,) = tmp_path.glob("*.jsonl")
    data = place.read_bytes().replace(b'"part":"separator","action":"look"', b'"part":"separator","action":"drain"')
    scheme = default_scheme()
    scheme = replace(scheme, method=replace(scheme.method, coach_share=0.0))
    sheet = mark_logbook(data, "no_start_harbour", TICKET, scheme)
    facts = facts_of(sheet, read_logbook(data))
    assert [one.part for one in facts.diagnoses] == ["tank"]
    assert facts.ticket == TICKET


def test_sums_say_which_slip_was_behind_a_wrong_answer():
    first, second, third, *_ = SUMS
    slip = first.slips[0].wrong(figures_of(first, TICKET))
    right = second.right(figures_of(second, TICKET))
    marked = mark_answers({first.id: f"{slip:.6g}", second.id: f"{right:.6g}", third.id: "123456789"}, TICKET)
    facts = sums_facts(SumsSheet(marked), TICKET)
    said = {one.id: one for one in facts.sums}
    assert (said[first.id].right, said[first.id].slip) == (False, 0)
    assert said[first.id].slip_text
    assert (said[second.id].right, said[second.id].slip) == (True, -1)
    assert (said[third.id].right, said[third.id].answered, said[third.id].slip) == (False, True, -1)
    assert not said[SUMS[3].id].answered
    assert {one.maximum for one in facts.marks} == {POINTS_EACH}
    assert facts_from(json.loads(json.dumps(asdict(facts)))) == facts


def test_every_slip_of_every_sum_is_known_again():
    for item in SUMS:
        for number, slip in enumerate(item.slips):
            answer = slip.wrong(figures_of(item, TICKET))
            facts = sums_facts(SumsSheet(mark_answers({item.id: f"{answer:.8g}"}, TICKET)), TICKET)
            found = next(one for one in facts.sums if one.id == item.id)
            assert found.slip == number, (item.id, number, found)
