"""What can be done follows from the layout: its parts, their actions, their words, and every fault that can be said."""

from __future__ import annotations

import ast
import inspect
import math
from pathlib import Path

import pytest
from hands_kit import LAYOUTS, boat, do, every_action, keys

import engine_sim.actions
from engine_sim.actions import actions_of, parts_of
from engine_sim.circuit import load_layout
from engine_sim.errors import OutOfRange, UnknownName
from engine_sim.faults import faults
from engine_sim.wording import CAUTIONS, DIAGNOSES, FAULTS, OPENINGS, OWN_DEEDS, PARTS, SENTENCES

ONE_QUICK = [pytest.param(name, marks=[] if name == "tank_below" else [pytest.mark.slow]) for name in LAYOUTS]
KNOWN_SINCE_THE_FIRST_LAYOUT = [
    ("tank", "tank"),
    ("shut_off", "shut-off"),
    ("separator_joint", "separator inlet joint"),
    ("separator", "separator"),
    ("pump_joint", "lift-pump inlet joint"),
    ("lift_pump", "lift pump"),
    ("fine_filter", "fine filter"),
    ("injection_pump", "injection pump"),
    ("injector_1", "injector 1"),
    ("injector_2", "injector 2"),
    ("injector_3", "injector 3"),
    ("return_line", "return line"),
    ("stop_control", "stop control"),
    ("battery", "battery"),
    ("starter", "starter"),
    ("engine", "engine"),
    ("bench", "around the engine"),
]


def test_first_layout_keeps_its_parts_and_their_order():
    found = [(part.id, part.label) for part in parts_of(load_layout("tank_below"))]
    assert [pair for pair in found if pair in KNOWN_SINCE_THE_FIRST_LAYOUT] == KNOWN_SINCE_THE_FIRST_LAYOUT


@pytest.mark.parametrize("layout", LAYOUTS)
def test_each_part_of_a_layout_is_met_once_and_has_words(layout):
    parts = parts_of(load_layout(layout))
    ids = [part.id for part in parts]
    assert len(ids) == len(set(ids))
    assert len({part.label for part in parts}) == len(parts), "no two parts are called the same"
    for part in parts:
        assert part.label and part.purpose.endswith(".") and "{" not in part.label + part.purpose
    met = {part.component for part in parts}
    hidden = [name for name, kind in load_layout(layout).kinds.items() if kind in PARTS and name not in met]
    assert hidden == []


@pytest.mark.parametrize("layout", LAYOUTS)
def test_each_part_can_be_looked_at_and_each_offer_is_complete(layout):
    attempt = boat(layout)
    for part in attempt.parts():
        offers = attempt.offers(part.id)
        assert {offer.action for offer in offers} & {"look", "look_around"}, part.id
        labels = [offer.label for offer in offers]
        assert len(labels) == len(set(labels)), part.id
        for offer in offers:
            assert math.isfinite(offer.takes_s) and offer.takes_s > 0.0
        for item in actions_of(attempt.place, part.id):
            assert item.caution == "" or item.caution in CAUTIONS
            assert attempt.place.stores.missing(item.uses) == "", "there is one of each to begin with"


@pytest.mark.parametrize("layout", ONE_QUICK)
def test_everything_can_be_tried_at_once_and_says_something(layout):
    """One thing after the other on one boat, in file order and back: never an error, always an observation."""
    attempt = boat(layout)
    work = every_action(attempt)
    for part, name in [*work, *reversed(work)]:
        step = attempt.act(part, name)
        assert step.observations and all(seen.text for seen in step.observations)
        assert "not_worked_out" not in keys(step), (part, name)
        assert {seen.part for seen in step.observations} <= {one.id for one in attempt.parts()}


def noticing_calls() -> list[tuple[str, ast.Call]]:
    """Return every call in the actions that makes an observation."""
    folder = Path(inspect.getfile(engine_sim.actions)).parent
    senses = {"see", "hear", "feel", "smell", "read", "told"}
    return [
        (path.name, node)
        for path in sorted(folder.glob("*.py"))
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in senses
    ]


def test_every_sentence_that_actions_name_is_in_the_table():
    named = [
        (where, literal.value)
        for where, call in noticing_calls()
        for literal in ast.walk(call.args[1])
        if len(call.args) > 1 and isinstance(literal, ast.Constant) and isinstance(literal.value, str)
    ]
    assert len(named) > 100
    whole = [pair for pair in named if not pair[1].startswith(".") and not pair[1].endswith("_")]
    assert [pair for pair in whole if pair[1] not in SENTENCES and pair[1] not in {"wet", "dry"}] == []


def test_words_belong_together():
    assert set(SENTENCES) >= OWN_DEEDS
    assert set(DIAGNOSES) == set(FAULTS)
    assert {kind for kinds in DIAGNOSES.values() for kind in kinds} <= set(PARTS)
    assert all("{part}" in text for text in OPENINGS.values())


def test_every_fault_that_can_be_set_can_be_said_of_its_part():
    for item in faults().values():
        assert item.diagnosis in DIAGNOSES, item.id


@pytest.mark.parametrize("duration_s", [math.nan, math.inf, -math.inf, -1.0, 1e9])
def test_time_that_is_none_is_refused_at_the_door(duration_s):
    attempt = boat()
    with pytest.raises(OutOfRange, match="duration"):
        attempt.place.wait(duration_s)
    assert attempt.clock_s == 0.0


@pytest.mark.parametrize("given", ["separater", "", "TANK", None, 7, ["tank"], {"a": 1}])
def test_what_does_not_exist_is_refused_whatever_it_is(given):
    attempt = boat()
    with pytest.raises(UnknownName, match="No part is called"):
        attempt.act(given, "look")
    with pytest.raises(UnknownName, match="No action at the tank is called"):
        attempt.act("tank", given)
    assert attempt.steps == () and attempt.clock_s == 0.0


def test_what_is_used_up_is_missed():
    attempt = boat()
    for _ in range(3):
        assert "element_changed" in do(attempt, "fine_filter.change_element")
    clock_s = attempt.clock_s
    assert do(attempt, "fine_filter.change_element") == ["none_left"]
    assert attempt.clock_s == clock_s
