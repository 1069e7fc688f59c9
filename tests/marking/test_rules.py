"""Each rule of order has work that keeps it, work that breaks it, and work that never triggers it."""

from __future__ import annotations

from pathlib import Path

import pytest
from handmade import track_of

from engine_sim.marking.method import mark_order
from engine_sim.marking.rules import RULES
from engine_sim.marking.scheme import load_marking_scheme

SCHEME = load_marking_scheme(Path(__file__).parents[2] / "instructors/scenarios/no_start_harbour.toml")
BY_ID = {rule.id: rule for rule in RULES}
CLEAR, FROTH = "lift_pump.lever_60 fine_filter:screw_solid", "lift_pump.lever_60 fine_filter:screw_froth"
FIRES = "starter.crank_10 engine:fires"
PUMP_CLEAR = "lift_pump.lever_60 injection_pump:screw_solid"
OPEN, CLOSE = "fine_filter.open_screw", "fine_filter.close_screw"
PUMP_OPEN, PUMP_CLOSE = "injection_pump.open_screw", "injection_pump.close_screw"

KEPT: dict[str, list[tuple[str, ...]]] = {
    "made_safe": [("bench.lay_tray", OPEN)],
    "goggles_on": [("bench.put_on_goggles", "injector_1.slacken_nut")],
    "engine_stopped": [(FIRES, "engine.stop", OPEN, "starter.crank_5")],
    "does_it_crank": [("starter.crank_5", OPEN), ("battery.look", "pump_joint.nip_up")],
    "is_it_told_to_stop": [("stop_control.look", OPEN)],
    "fuel_there_and_open": [("tank.dip", "shut_off.look", OPEN), ("shut_off.look", "tank.dip", "pump_joint.nip_up")],
    "bowl_before_bleeding": [("separator.look", OPEN)],
    "flow_at_fine_filter": [(OPEN, FROTH, "separator.change_element")],
    "look_before_change": [
        ("pump_joint.wipe_and_try", "pump_joint.nip_up"),
        ("stop_control.look", "stop_control.push_home"),
    ],
    "one_change_then_check": [("tank.add_fuel", "tank.dip", "shut_off.open", "starter.crank_5")],
    "kind_to_the_starter": [
        ("starter.crank_10", "starter.rest", "starter.crank_10"),
        ("starter.crank_10", "separator.look", "tank.dip", "starter.crank_10", "starter.rest", "starter.crank_10"),
    ],
    "drain_and_change_properly": [
        ("shut_off.shut", "separator.open_vent", "separator.open_drain", "separator.close_drain"),
        ("shut_off.shut", "separator.change_element"),
    ],
    "bleed_outwards": [(OPEN, CLEAR, CLOSE, PUMP_OPEN, PUMP_CLEAR)],
    "air_has_a_source": [
        (OPEN, *(FROTH,) * 5, "pump_joint.wipe_and_try"),
        ("pump_joint.wipe_and_try", OPEN, *(FROTH,) * 9),
    ],
    "bleed_to_clear": [(OPEN, FROTH, CLEAR, CLOSE), (OPEN, FROTH, CLOSE, OPEN, CLEAR, CLOSE)],
    "tight_before_start": [(OPEN, CLEAR, CLOSE, "starter.crank_10")],
    "no_empty_repeats": [("tank.dip", "separator.look", "tank.add_fuel", "tank.dip")],
}
BROKEN: dict[str, list[tuple[str, ...]]] = {
    "made_safe": [(OPEN,), ("injector_1.slacken_nut", "bench.lay_tray")],
    "goggles_on": [("bench.lay_tray", "injector_1.slacken_nut")],
    "engine_stopped": [(FIRES, "injector_2.slacken_nut"), (FIRES, "separator.open_drain"), (FIRES, "starter.crank_5")],
    "does_it_crank": [(OPEN, "starter.crank_5")],
    "is_it_told_to_stop": [("pump_joint.nip_up", "stop_control.look")],
    "fuel_there_and_open": [("tank.read_gauge", "shut_off.look", OPEN), ("tank.dip", OPEN)],
    "bowl_before_bleeding": [(OPEN, "separator.look")],
    "flow_at_fine_filter": [
        ("separator.change_element",),
        (OPEN, CLOSE, "lift_pump.lever_60", "injector_1.slacken_nut"),
    ],
    "look_before_change": [("shut_off.open",), ("separator.look", "fine_filter.change_element")],
    "one_change_then_check": [("tank.add_fuel", "shut_off.open", "starter.crank_5")],
    "kind_to_the_starter": [
        ("starter.crank_10", "starter.crank_10"),
        ("starter.crank_10", "starter.rest") * 4,
    ],
    "drain_and_change_properly": [
        ("separator.open_vent", "separator.open_drain"),
        ("shut_off.shut", "separator.open_drain", "separator.close_drain", "separator.open_vent"),
    ],
    "bleed_outwards": [(PUMP_OPEN, PUMP_CLEAR), (OPEN, FROTH, CLOSE, PUMP_OPEN, PUMP_CLEAR)],
    "air_has_a_source": [(OPEN, *(FROTH,) * 5, CLEAR, CLOSE)],
    "bleed_to_clear": [(OPEN, FROTH, CLOSE), (OPEN, CLEAR, "bench.wipe_up", "starter.rest", CLOSE)],
    "tight_before_start": [(OPEN, CLEAR, "starter.crank_10")],
    "no_empty_repeats": [("tank.dip",) * 5],
}
UNTOUCHED = ("bench.wipe_up",)


def shares(rule_id: str, work: tuple[str, ...]) -> list[float]:
    return [one.share for one in BY_ID[rule_id].judge(track_of(*work), SCHEME.limits)]


def test_every_rule_has_work_that_keeps_it_and_work_that_breaks_it():
    assert set(KEPT) == set(BROKEN) == set(BY_ID)


@pytest.mark.parametrize(("rule_id", "work"), [(name, work) for name, works in KEPT.items() for work in works])
def test_kept(rule_id, work):
    found = shares(rule_id, work)
    assert found
    assert all(share == 1.0 for share in found)


@pytest.mark.parametrize(("rule_id", "work"), [(name, work) for name, works in BROKEN.items() for work in works])
def test_broken(rule_id, work):
    assert any(share < 1.0 for share in shares(rule_id, work))


@pytest.mark.parametrize("rule_id", sorted(BY_ID))
def test_not_triggered_by_work_that_has_nothing_to_do_with_it(rule_id):
    assert shares(rule_id, UNTOUCHED) == []


def test_putting_back_ones_own_doing_is_no_change_made_blind():
    assert shares("look_before_change", ("shut_off.shut", "shut_off.open")) == []
    assert shares("one_change_then_check", ("stop_control.pull", "stop_control.push_home")) == []


def test_never_opening_a_running_engine_earns_nothing_before_the_engine_has_run():
    assert shares("engine_stopped", ("starter.crank_5", OPEN, CLEAR, CLOSE, "starter.crank_10")) == []


def test_air_let_in_by_ones_own_work_needs_no_search():
    assert shares("air_has_a_source", ("separator.open_drain", OPEN, *(FROTH,) * 9)) == []
    assert shares("air_has_a_source", (OPEN, FROTH, FROTH, CLEAR)) == []


def test_rule_sentences_are_different_and_end_as_sentences():
    for name in ("sentence", "kept", "broken", "why"):
        texts = [getattr(rule, name) for rule in RULES]
        assert len(set(texts)) == len(RULES)
        assert all(one.endswith(".") for one in texts)


def test_two_sound_orders_earn_the_same():
    start = ("bench.lay_tray",)
    end = (OPEN, CLEAR, CLOSE, "starter.crank_10")
    looks = ("starter.crank_5", "stop_control.look", "tank.dip", "shut_off.look", "separator.look")
    one = mark_order(track_of(*start, *looks, *end), SCHEME)
    other = mark_order(track_of(*reversed(looks), *start, *end), SCHEME)
    assert one.score == other.score > 0


def test_nothing_done_is_nothing_earned():
    assert mark_order(track_of(), SCHEME).score == 0.0


def test_cranking_only_earns_next_to_nothing():
    assert mark_order(track_of("starter.crank_10", "starter.rest", "starter.crank_10"), SCHEME).score <= 0.2
