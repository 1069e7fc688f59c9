"""Marks mean something: kinds of learners come out in the order that a good instructor would give them."""

from __future__ import annotations

import pytest
from boats import PLACES, SCHEME, marks_of, passes, total
from learners import KINDS

MOST = sum(SCHEME.weights.of(name) for name in ("order", "diagnosis", "outcome"))
NEVER_PASS = ("lucky guess", "swaps parts", "only looks", "cranks flat", "does nothing")
LEAK, STOP, ELEMENT = (
    ("slack_joint", "pump_joint"),
    ("stop_control_pulled", "stop_control"),
    ("loaded_element", "separator"),
)
ON_EVERY_FAULT = pytest.mark.parametrize(("fault", "part"), PLACES)


@ON_EVERY_FAULT
def test_working_from_tank_to_pump_earns_nine_tenths_of_each_mark(fault, part):
    marks = marks_of("tank to pump", fault, part)
    assert {name: mark.score >= 0.9 * mark.maximum for name, mark in marks.items()} == dict.fromkeys(marks, True)
    assert passes("tank to pump", fault, part)


@ON_EVERY_FAULT
def test_doing_nothing_earns_nothing(fault, part):
    assert total("does nothing", fault, part) == 0.0


@pytest.mark.parametrize(("fault", "part"), [LEAK, STOP])
def test_poor_order_with_the_same_end_earns_less_for_the_order_alone(fault, part):
    good, poor = marks_of("tank to pump", fault, part), marks_of("poor order", fault, part)
    assert poor["outcome"].score == good["outcome"].score
    assert poor["diagnosis"].score == good["diagnosis"].score
    assert poor["order"].score <= 0.7 * good["order"].score


def test_bleeding_over_a_leak_fails_the_outcome_by_the_engine_itself():
    marks = marks_of("bleeds only", *LEAK)
    assert marks["outcome"].score < SCHEME.pass_line.outcome_share * marks["outcome"].maximum
    texts = [reason.text for reason in marks["outcome"].reasons if not reason.good]
    assert any("still showed something" in one for one in texts)
    assert not passes("bleeds only", *LEAK)


def test_bleeding_alone_cures_where_air_is_the_only_fault():
    assert marks_of("bleeds only", "air_in_filter", "fine_filter")["outcome"].score == SCHEME.weights.outcome


@pytest.mark.parametrize("kind", [kind for kind in NEVER_PASS if kind != "cranks flat"])
def test_luck_swapping_looking_and_cranking_do_not_pass(kind):
    assert not passes(kind, *STOP)
    assert total(kind, *STOP) < total("tank to pump", *STOP)


@pytest.mark.parametrize("kind", ["lucky guess", "swaps parts"])
def test_changing_the_right_part_without_a_look_does_not_pass(kind):
    assert not passes(kind, *ELEMENT)


@pytest.mark.slow
def test_cranking_until_nothing_turns_earns_next_to_nothing_for_the_order():
    assert marks_of("cranks flat", *STOP)["order"].score <= 0.2


def test_seeing_the_fault_and_leaving_it_is_not_full_order():
    assert marks_of("only looks", *STOP)["order"].score <= 0.6 * SCHEME.weights.order


def test_right_without_evidence_is_not_full():
    assert marks_of("lucky guess", *STOP)["diagnosis"].score == SCHEME.weights.diagnosis - SCHEME.diagnosis.evidence


def test_finding_it_early_costs_nothing():
    order = marks_of("tank to pump", *STOP)["order"]
    assert order.score == order.maximum
    assert not any(reason.text.startswith("You dipped") for reason in order.reasons)


@pytest.mark.slow
@ON_EVERY_FAULT
@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "tank to pump"])
def test_every_kind_stands_where_it_belongs_on_every_fault(kind, fault, part):
    row = f"{kind:14} {fault:20} {part:16} " + " ".join(
        f"{name} {mark.score:5.2f}" for name, mark in marks_of(kind, fault, part).items()
    )
    print(row)
    assert total(kind, fault, part) <= total("tank to pump", fault, part)
    assert total("does nothing", fault, part) <= total(kind, fault, part)
    if kind in NEVER_PASS:
        assert not passes(kind, fault, part)
    if kind == "poor order":
        assert marks_of(kind, fault, part)["outcome"].score == SCHEME.weights.outcome
