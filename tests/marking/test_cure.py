"""The cure: the engine's own answer in its test on boats of every layout, and the cause gone, not only its sign."""

from __future__ import annotations

import pytest
from deeds import LAYOUTS, SCHEME, boat, played, pumped, turn

from engine_sim.attempt import Attempt
from engine_sim.faults import faults
from engine_sim.marking.cure import Cured, mark_cure, started_well, try_out
from engine_sim.marking.diagnosis import labels_of
from engine_sim.marking.look_over import as_left, engine_stopped
from engine_sim.scenarios.scenario import layout_of

TEST = SCHEME.engine_test
ON_EVERY_BOAT = pytest.mark.parametrize("layout", LAYOUTS)
SHUT, STOP, LEAK = ("shut_valve", "shut_off"), ("stop_control_pulled", "stop_control"), ("slack_joint", "pump_joint")
BLED = ("fine_filter.open_screw", *("lift_pump.lever_60",) * 4, "fine_filter.close_screw")
BLED_ON = ("injection_pump.open_screw", *("lift_pump.lever_60",) * 4, "injection_pump.close_screw")

NUTS = ("injector_1", "injector_2", "injector_3")
WELL_BLED = (
    ("fine_filter", "open_outlet_screw", "close_outlet_screw"),
    ("injection_pump", "open_screw", "close_screw"),
)


def keys(step) -> set[str]:
    return {seen.key for seen in step.observations}


def bleed_well(attempt: Attempt) -> None:
    """Bleed outwards until fuel without bubbles runs at each screw, then the injector pipes."""
    for part, opens, closes in WELL_BLED:
        attempt.act(part, opens)
        for _ in range(15):
            if keys(attempt.act("lift_pump", "lever_60")) & {"screw_solid"}:
                break
        attempt.act(part, closes)
    for nut in NUTS:
        attempt.act(nut, "slacken_nut")
    for _ in range(4):
        attempt.act("starter", "rest")
        if not keys(attempt.act("starter", "crank_10")) & {"nut_froth", "nut_nothing"}:
            break
    for nut in NUTS:
        attempt.act(nut, "tighten_nut")
    attempt.act("engine", "stop")


def cured(layout: str, *found: tuple[str, str], work: tuple[str, ...] = ()) -> Cured:
    """Return what the test says of a boat with faults after some work."""
    scenario = boat(layout, *found)
    return try_out(played(scenario, *work), scenario, TEST)


def points(one: Cured, layout: str, *found: tuple[str, str]) -> float:
    """Return the cure mark [points]."""
    return mark_cure(one, labels_of(boat(layout, *found)), 0.0, SCHEME).score


@ON_EVERY_BOAT
def test_what_is_put_right_earns_all_and_what_is_left_nothing(layout):
    right = cured(layout, STOP, work=("stop_control.push_home",))
    assert (right.through, right.gone, right.left) == (True, True, ())
    assert points(right, layout, STOP) == SCHEME.weights.cure
    wrong = cured(layout, STOP)
    assert not wrong.through and not wrong.gone
    assert points(wrong, layout, STOP) == 0.0
    assert {one.key for one in wrong.left} >= {"stop_out"}


def test_bleeding_over_a_leak_fails_by_the_engine_and_by_the_joint():
    scenario = boat("tank_below", LEAK)
    attempt = played(scenario)
    bleed_well(attempt)
    one = try_out(attempt, scenario, TEST)
    assert not one.through and not one.gone
    assert "joint_turns" in {found.key for found in one.left}
    assert points(one, "tank_below", LEAK) < SCHEME.pass_line.cure_share * SCHEME.weights.cure


def test_mended_but_not_bled_has_its_cause_gone_all_the_same():
    one = cured("tank_below", LEAK, work=("pump_joint.nip_up",))
    assert not one.through
    assert one.gone
    assert points(one, "tank_below", LEAK) == SCHEME.cure.cause_gone * SCHEME.cure.not_started_share
    reasons = mark_cure(one, labels_of(boat("tank_below", LEAK)), 0.0, SCHEME).reasons
    assert [n for n, reason in enumerate(reasons) if "not been bled out" in reason.text] == [0]


def test_what_is_left_is_said_in_the_words_in_which_it_shows():
    one = cured("high_tank", ("water_in_tank", "tank"))
    reason = mark_cure(one, labels_of(boat("high_tank", ("water_in_tank", "tank"))), 0.0, SCHEME).reasons[-1]
    paste = next(found for found in one.left if found.key == "paste_water")
    assert f"{paste.figures[0]:g} cm" in reason.text and "#" not in reason.text


def test_mended_and_bled_comes_through():
    scenario = boat("tank_below", LEAK)
    attempt = played(scenario, "pump_joint.nip_up")
    bleed_well(attempt)
    one = try_out(attempt, scenario, TEST)
    assert one.through and one.gone


def test_a_sign_drained_away_leaves_the_water_in_the_tank():
    drained = (
        "shut_off.shut",
        "separator.open_vent",
        "separator.open_drain",
        "bench.wait_1min",
        "separator.close_drain",
        "separator.fill",
        "separator.close_vent",
        "shut_off.open",
        *BLED,
        *BLED_ON,
    )
    one = cured("tank_below", ("water_in_tank", "tank"), work=drained)
    assert "paste_water" in {found.key for found in one.left}
    assert not one.gone


def test_an_engine_that_runs_over_a_choked_breather_is_not_cured():
    one = cured("high_tank", ("blocked_vent", "tank"))
    assert "cap_hisses" in {found.key for found in one.left}
    assert not one.gone
    assert cured("high_tank", ("blocked_vent", "tank"), work=("tank.clear_breather",)).gone


def test_an_isolator_turned_off_to_be_safe_is_turned_on_for_the_test_and_one_found_off_is_not():
    safe = cured("tank_below", STOP, work=("battery.isolate", "stop_control.push_home"))
    assert safe.through and safe.gone
    found_off = cured("tank_below", ("isolator_off", "battery"))
    assert not started_well(found_off.result) and not found_off.gone


def test_no_flow_without_any_air_is_a_way_that_is_blocked():
    one = cured("electric_pump", ("loaded_element", "fine_filter"))
    assert not one.through and not one.gone


def test_running_on_the_can_is_home_but_no_cure():
    work = ("can.fill", "can.crack_cap", "can.to_pump", "return_line.to_can", *BLED, *BLED_ON)
    one = cured("tank_below", ("blocked_pick_up", "tank"), work=work)
    assert "can_in_use" in {found.key for found in one.left}
    assert not one.gone


def test_one_of_two_faults_put_right_is_not_a_cure():
    both = (STOP, ("fouled_propeller", "engine"))
    one = cured("high_tank", *both, work=("stop_control.push_home",))
    assert not one.gone
    assert {found.key for found in one.left} == {"propeller_foul"}
    two = cured("high_tank", *both, work=("stop_control.push_home", "engine.clear_propeller"))
    assert two.through and two.gone


@ON_EVERY_BOAT
def test_the_look_over_asks_only_for_what_the_boat_has(layout):
    place = Attempt(boat(layout)).place
    for part, name in (*as_left(place), *engine_stopped(place)):
        assert name in {offer.action for offer in Attempt(boat(layout)).offers(part)}


def test_every_kind_of_part_with_a_fault_is_looked_over():
    for layout in LAYOUTS:
        place = Attempt(boat(layout)).place
        looked = {place.part(part).kind for part, _ in (*as_left(place), *engine_stopped(place))}
        sits = {place.part(part).kind for kind in faults().values() for part in kind.places(place.rig.layout)}
        assert sits <= looked | {"engine"}


WITHOUT_EFFECT: dict[str, tuple[str, ...]] = {
    "gauge_wrong": LAYOUTS,
    "gauge_shifted": LAYOUTS,
    "cam_on_lobe": LAYOUTS,
    "air_in_line": LAYOUTS,
    "low_compression": LAYOUTS,
    "leaking_valve": ("high_tank", "electric_pump", "single_cylinder"),
    "air_in_filter": ("electric_pump",),
}
"""Faults over which a boat of these layouts comes through untouched: a gauge that lies, a cam that turns on by itself,
air that clears by itself, compression that is enough on a warm day, a valve that fuel by its own head does not need."""


@pytest.mark.slow
@ON_EVERY_BOAT
@pytest.mark.parametrize("fault", sorted(faults()))
def test_no_boat_is_cured_by_leaving_it_alone(layout, fault):
    places = faults()[fault].places(layout_of(layout).layout)
    for part in places[:1]:
        one = cured(layout, (fault, part))
        print(layout, fault, part, one.through, one.gone, [found.key for found in one.left])
        assert not (one.through and one.gone) or layout in WITHOUT_EFFECT.get(fault, ())
        if layout not in WITHOUT_EFFECT.get(fault, ()):
            assert points(one, layout, (fault, part)) < SCHEME.pass_line.cure_share * SCHEME.weights.cure


@pytest.mark.parametrize("layout", ["electric_pump", "single_cylinder"])
def test_the_test_turns_and_primes_as_the_boat_is_made(layout):
    work = ("shut_off.open", "fine_filter.open_screw", *pumped(layout), "fine_filter.close_screw", turn(layout))
    one = cured(layout, SHUT, work=work)
    assert one.through and one.gone
