"""Each rule of method has work that keeps it, work that breaks it, and work that never puts it at stake.

What is sound is common practice of the trade, no source, but for bleeding until a solid run comes (US Navy NAVEDTRA
14076 and 14329) and for the shut valve and the empty tank that come first (NAVEDTRA 14076).
"""

from __future__ import annotations

import pytest
from handmade import BOATS, track_of

from engine_sim.marking.judges import judge_rule
from engine_sim.marking.rules import RULES
from engine_sim.marking.scheme import default_scheme

LIMITS = default_scheme().limits
BY_ID = {rule.id: rule for rule in RULES}
CLEAR, FROTH = "lift_pump.lever_60 fine_filter:screw_solid", "lift_pump.lever_60 fine_filter:screw_froth"
SPURT = "lift_pump.lever_10 fine_filter:screw_clears"
FIRES = "starter.crank_10 engine:fires"
RUN = "engine.run_idle_5min"
PUMP_CLEAR = "lift_pump.lever_60 injection_pump:screw_solid"
OPEN, CLOSE = "fine_filter.open_screw", "fine_filter.close_screw"
PUMP_OPEN, PUMP_CLOSE = "injection_pump.open_screw", "injection_pump.close_screw"
LOWER_OPEN, LOWER_CLOSE = "injection_pump.open_lower_screw", "injection_pump.close_lower_screw"
SHUT, VENT, DRAIN, DRAIN_SHUT = "shut_off.shut", "separator.open_vent", "separator.open_drain", "separator.close_drain"
NUT = "injector_1.slacken_nut"
OFF, FILTER_OFF = "separator.take_bowl_off", "fine_filter.take_off"
ON_A_CAN = ("can.fill", "can.lash", "can.crack_cap", "shut_off.shut", "can.to_pump")

Work = tuple[str, ...]
KEPT: dict[str, list[Work]] = {
    "does_it_crank": [("starter.crank_5", OPEN), ("battery.look", "pump_joint.nip_up"), ("starter.drop_test", OPEN)],
    "follow_the_starter": [("starter.crank_5 starter:starter_clicks", "battery.volts", "pump_joint.nip_up")],
    "is_it_told_to_stop": [("stop_control.look", OPEN)],
    "fuel_there_and_open": [("tank.dip", "shut_off.look", OPEN), ("shut_off.look", "tank.dip_paste", VENT)],
    "bowl_before_bleeding": [("separator.look", OPEN), ("tank.sample_sump", OPEN)],
    "breather_before_changing": [("tank.crack_cap", "fine_filter.change_element"), ("tank.add_fuel", FILTER_OFF)],
    "flow_at_fine_filter": [(OPEN, FROTH, "separator.change_element"), (PUMP_OPEN, PUMP_CLEAR, NUT)],
    "look_before_change": [
        ("pump_joint.wipe_and_try", "pump_joint.nip_up"),
        ("stop_control.look", "stop_control.push_home"),
        ("fine_filter.try_screw", CLOSE),
        ("separator.look", "separator.change_element", "separator.change_element"),
        ("starter.crank_5", "battery.connect"),
    ],
    "one_change_then_check": [
        ("tank.add_fuel", "tank.dip", "shut_off.open", "starter.crank_5"),
        ("separator.look separator:bowl_slime", "separator.change_element", "fine_filter.change_element", CLEAR),
        ("tank.draw_bottom", "tank.polish", "tank.dose", "tank.dip"),
        ("separator.fit_old", OPEN, CLEAR, CLOSE, NUT, "starter.crank_10"),
        ("injector_1.change", NUT, "injector_2.slacken_nut", "starter.crank_10"),
    ],
    "find_out_between_tries": [
        ("starter.crank_10", "battery.volts", "starter.crank_10"),
        (
            "starter.crank_10",
            "separator.look",
            "tank.dip",
            "starter.crank_10",
            "starter.rest",
            "engine.smoke",
            "starter.crank_10",
        ),
    ],
    "lever_on_the_cam": [("lift_pump.lever_10 lift_pump:lever_flops", "engine.turn_by_hand", "lift_pump.lever_10")],
    "no_empty_repeats": [],
    "drain_tank_below": [(SHUT, VENT, DRAIN, DRAIN_SHUT), (SHUT, DRAIN, VENT, DRAIN_SHUT)],
    "drain_tank_above": [],
    "drain_to_clean_fuel": [
        (f"{DRAIN} separator:drain_runs_fuel", DRAIN_SHUT, "separator.read_jar"),
        (f"{DRAIN} separator:drain_runs_water", "bench.wait_10s separator:drain_runs_fuel", "bench.read_jar"),
    ],
    "shut_before_opening": [(SHUT, "separator.change_element"), (*ON_A_CAN, "fine_filter.change_element")],
    "separator_element_steps": [
        ("separator.clean_outside", OFF, "separator.check_ring", "separator.wipe_bowl", "separator.fit_wetted")
    ],
    "fine_filter_steps": [
        ("fine_filter.clean_outside", FILTER_OFF, "fine_filter.wipe_seat", "fine_filter.check_ring", step, *nip)
        for step, nip in (("fine_filter.fit_by_hand", ()), ("fine_filter.fit_loose", ("fine_filter.nip_up",)))
    ],
    "nothing_poured_in": [("fine_filter.pour_full", FILTER_OFF, "fine_filter.fit_by_hand", OPEN, CLEAR)],
    "can_stands_right": [(*ON_A_CAN, "starter.crank_10"), (*reversed(ON_A_CAN), "engine.run_idle_5min")],
    "can_return_first_to_jar": [
        (*ON_A_CAN, "return_line.to_jar", "engine.run_idle_1min", "return_line.to_can", "engine.run_idle_5min")
    ],
    "water_off_first": [("tank.draw_bottom", "tank.polish", "tank.dose"), ("tank.sample_sump", "tank.dose")],
    "bleed_outwards": [
        (OPEN, CLEAR, CLOSE, PUMP_OPEN, PUMP_CLEAR),
        (OPEN, CLEAR, CLOSE, "fine_filter.open_outlet_screw", CLEAR, PUMP_OPEN, PUMP_CLEAR),
        (OPEN, CLEAR, CLOSE, PUMP_OPEN, PUMP_CLEAR, PUMP_CLOSE, OPEN, FROTH, CLEAR, CLOSE, PUMP_OPEN, PUMP_CLEAR),
    ],
    "bleed_with_fuel_open": [(SHUT, "shut_off.open", OPEN, CLEAR), (SHUT, "can.to_pump", OPEN, CLEAR)],
    "bleed_to_clear": [
        (OPEN, FROTH, CLEAR, CLOSE),
        (OPEN, FROTH, CLOSE, OPEN, CLEAR, CLOSE),
        (OPEN, CLEAR, "bench.wait_10s", f"{CLOSE} fine_filter:screw_shut_flowing"),
        (PUMP_OPEN, "lift_pump.lever_60 injection_pump:screw_weak", f"{PUMP_CLOSE} injection_pump:screw_shut_still"),
    ],
    "air_has_a_source": [
        (OPEN, *(FROTH,) * 5, "pump_joint.wipe_and_try"),
        ("pump_joint.wipe_and_try", OPEN, *(FROTH,) * 9),
    ],
    "prime_before_start": [
        ("separator.change_element", OPEN, CLEAR, CLOSE, "starter.crank_10"),
        (SHUT, VENT, DRAIN, DRAIN_SHUT, "lift_pump.lever_60", "starter.crank_10"),
    ],
    "tight_before_start": [
        (OPEN, CLEAR, CLOSE, "starter.crank_10"),
        (NUT, OPEN, CLOSE, "starter.crank_10"),
        (NUT, FIRES, "injector_1.tighten_nut", RUN),
    ],
    "short_turns_at_the_lines": [(NUT, "starter.crank_10 injector_1:nut_froth")],
    "card_at_the_nuts": [(NUT, "injector_1.tighten_nut", FIRES, "injector_1.card")],
}
BROKEN: dict[str, list[Work]] = {
    "does_it_crank": [(OPEN, "starter.crank_5")],
    "follow_the_starter": [
        ("starter.crank_5 starter:starter_dead", OPEN),
        ("starter.volts starter:cranks_slowly", OPEN),
    ],
    "is_it_told_to_stop": [("pump_joint.nip_up", "stop_control.look")],
    "fuel_there_and_open": [("tank.read_gauge", "shut_off.look", OPEN), ("tank.dip", OPEN)],
    "bowl_before_bleeding": [(OPEN, "separator.look")],
    "breather_before_changing": [("fine_filter.change_element",), ("lift_pump.change_pump", "tank.crack_cap")],
    "flow_at_fine_filter": [
        ("separator.change_element",),
        (OPEN, CLOSE, "lift_pump.lever_60", NUT),
        (OPEN, "bench.wait_10s fine_filter:screw_nothing", CLOSE, "lift_pump.change_pump"),
    ],
    "look_before_change": [
        ("shut_off.open",),
        ("separator.look", "fine_filter.change_element"),
        ("return_line.blow_through", "return_line.look"),
        ("battery.clean_terminals",),
    ],
    "one_change_then_check": [
        ("tank.add_fuel", "shut_off.open", "starter.crank_5"),
        ("separator.change_element", "fine_filter.look", "fine_filter.change_element"),
        ("separator.fit_old", NUT, "starter.crank_30"),
        ("fine_filter.fit_by_hand", NUT, "starter.crank_30"),
    ],
    "find_out_between_tries": [("starter.crank_10", "starter.rest") * 4, ("starter.crank_30", "starter.crank_5")],
    "lever_on_the_cam": [
        ("lift_pump.lever_10 lift_pump:lever_flops", "lift_pump.change_pump"),
        ("lift_pump.lever_10 lift_pump:lever_flops", "fine_filter.look"),
    ],
    "no_empty_repeats": [("tank.dip",) * 5],
    "drain_tank_below": [(VENT, DRAIN), (SHUT, DRAIN, DRAIN_SHUT, VENT), (DRAIN,)],
    "drain_tank_above": [],
    "drain_to_clean_fuel": [
        (f"{DRAIN} separator:drain_runs_water", DRAIN_SHUT, "separator.read_jar"),
        (f"{DRAIN} separator:drain_runs_fuel", DRAIN_SHUT, "bench.empty_jar", "bench.read_jar"),
    ],
    "shut_before_opening": [("separator.change_element",), (SHUT, "shut_off.open", FILTER_OFF), ("pump_joint.remake",)],
    "separator_element_steps": [
        (OFF, "separator.check_ring", "separator.wipe_bowl", "separator.fit_wetted"),
        ("separator.clean_outside", OFF, "separator.wipe_bowl", "separator.fit_wetted"),
        ("separator.clean_outside", OFF, "separator.check_ring", "separator.wipe_bowl", "separator.fit_dry"),
    ],
    "fine_filter_steps": [
        ("fine_filter.clean_outside", FILTER_OFF, "fine_filter.wipe_seat", "fine_filter.fit_by_hand"),
        ("fine_filter.clean_outside", FILTER_OFF, "fine_filter.wipe_seat", "fine_filter.check_ring",
         "fine_filter.fit_loose", "starter.crank_10", "fine_filter.nip_up"),
    ],
    "nothing_poured_in": [(FILTER_OFF, "fine_filter.pour_full", "fine_filter.fit_by_hand")],
    "can_stands_right": [("can.to_pump", "starter.crank_10"), (*ON_A_CAN[1:2], *ON_A_CAN[3:], "engine.run_idle_5min")],
    "can_return_first_to_jar": [
        (*ON_A_CAN, "engine.run_idle_5min"),
        (*ON_A_CAN, "return_line.to_can", "engine.run_idle_5min"),
    ],
    "water_off_first": [("tank.dose",), ("tank.polish", "tank.draw_bottom")],
    "bleed_outwards": [
        (PUMP_OPEN, PUMP_CLEAR),
        (OPEN, FROTH, CLOSE, PUMP_OPEN, PUMP_CLEAR),
        (OPEN, CLEAR, CLOSE, PUMP_OPEN, PUMP_CLEAR, PUMP_CLOSE, OPEN, FROTH, CLOSE, PUMP_OPEN, PUMP_CLEAR),
        (OPEN, CLEAR, CLOSE, NUT, "starter.crank_10 injector_1:nut_froth"),
        ("fine_filter.open_outlet_screw", CLEAR, "fine_filter.close_outlet_screw", OPEN, CLEAR),
    ],
    "bleed_with_fuel_open": [(SHUT, OPEN, CLEAR)],
    "bleed_to_clear": [
        (OPEN, FROTH, CLOSE),
        (OPEN, SPURT, CLOSE),
        (OPEN, CLEAR, "bench.wipe_up", "starter.rest", CLOSE),
        (OPEN, CLEAR, f"{CLOSE} fine_filter:screw_shut_still"),
        (OPEN, CLEAR, f"{CLOSE} fine_filter:screw_shut_froth"),
    ],
    "air_has_a_source": [(OPEN, *(FROTH,) * 5, CLEAR, CLOSE)],
    "prime_before_start": [("separator.change_element", "starter.crank_10"), (SHUT, VENT, DRAIN, "starter.crank_10")],
    "tight_before_start": [(OPEN, CLEAR, "starter.crank_10"), (SHUT, OFF, "starter.crank_10"), (NUT, FIRES, RUN)],
    "short_turns_at_the_lines": [(NUT, "starter.crank_30 injector_1:nut_froth")],
    "card_at_the_nuts": [(NUT, "injector_1.tighten_nut", FIRES, "injector_2.card")],
}  # fmt: skip
KEPT_ELSEWHERE: list[tuple[str, str, Work]] = [
    ("drain_tank_above", "high_tank", (DRAIN, DRAIN_SHUT)),
    ("drain_tank_above", "single_cylinder", ("shut_off.look", DRAIN)),
    ("does_it_crank", "single_cylinder", ("hand_start.swing_10", OPEN)),
    ("find_out_between_tries", "single_cylinder", ("hand_start.swing_10", "tank.dip") * 3),
    ("is_it_told_to_stop", "electric_pump", ("stop_control.look", "stop_solenoid.listen", OPEN)),
    ("is_it_told_to_stop", "metal_bowl", ("engine.key_on", "stop_control.look", OPEN)),
    ("is_it_told_to_stop", "single_cylinder", ("stop_control.look", OPEN)),
    ("fuel_there_and_open", "two_tanks", ("tank.dip", "changeover.look", "shut_off.look", OPEN)),
    ("fuel_there_and_open", "two_tanks", ("shut_off.look", "changeover.to_b", "starboard_tank.dip", OPEN)),
    ("bowl_before_bleeding", "metal_bowl", (DRAIN, "bench.read_jar", OPEN)),
    ("drain_tank_below", "two_tanks", ("changeover.to_none", VENT, DRAIN, DRAIN_SHUT)),
    ("shut_before_opening", "two_tanks", ("changeover.to_none", "separator.change_element")),
    ("bleed_outwards", "high_tank", (OPEN, f"{OPEN} fine_filter:screw_solid", CLOSE, LOWER_OPEN, PUMP_CLEAR,
                                     LOWER_CLOSE, PUMP_OPEN, PUMP_CLEAR)),
    ("bleed_to_clear", "electric_pump", ("engine.key_on", OPEN, "bench.wait_1min fine_filter:screw_solid", CLOSE)),
    ("flow_at_fine_filter", "electric_pump", ("engine.key_on", f"{OPEN} fine_filter:screw_nothing", NUT)),
    ("flow_at_fine_filter", "high_tank", (f"{OPEN} fine_filter:screw_solid", CLOSE, NUT)),
    ("prime_before_start", "electric_pump", ("fine_filter.change_element", "engine.key_on", "bench.wait_1min",
                                             "starter.crank_10")),
    ("separator_element_steps", "metal_bowl", ("separator.clean_outside", OFF, "separator.check_ball",
                                               "separator.check_ring", "separator.wipe_bowl", "separator.fit_wetted")),
    ("fine_filter_steps", "two_tanks", ("fine_filter.clean_outside", FILTER_OFF, "fine_filter.wipe_seat",
                                        "fine_filter.check_ring", "fine_filter.fit_bolted")),
    ("short_turns_at_the_lines", "single_cylinder", (NUT, "hand_start.swing_10 injector_1:nut_froth")),
    ("air_has_a_source", "electric_pump", ("engine.key_on", OPEN, *("bench.wait_1min fine_filter:screw_froth",) * 5,
                                           "pump_joint.wipe_and_try")),
]  # fmt: skip
BROKEN_ELSEWHERE: list[tuple[str, str, Work]] = [
    ("drain_tank_above", "high_tank", (SHUT, DRAIN, DRAIN_SHUT)),
    ("drain_tank_above", "single_cylinder", (SHUT, VENT, DRAIN)),
    ("is_it_told_to_stop", "electric_pump", ("stop_control.look", OPEN)),
    ("fuel_there_and_open", "two_tanks", ("tank.dip", "shut_off.look", OPEN)),
    ("fuel_there_and_open", "two_tanks", ("starboard_tank.dip", "changeover.look", "shut_off.look", OPEN)),
    ("bleed_outwards", "high_tank", (OPEN, CLEAR, CLOSE, PUMP_OPEN, PUMP_CLEAR)),
    ("prime_before_start", "electric_pump", ("fine_filter.change_element", "engine.key_on", "starter.crank_10")),
    ("separator_element_steps", "metal_bowl", ("separator.clean_outside", OFF, "separator.check_ring",
                                               "separator.wipe_bowl", "separator.fit_wetted")),
    ("air_has_a_source", "electric_pump", ("engine.key_on", OPEN, *("bench.wait_1min fine_filter:screw_froth",) * 5)),
]  # fmt: skip
UNTOUCHED = ("bench.wipe_up",)
NOT_ON_THIS_BOAT = {"drain_tank_above": "tank_below"}


def shares(rule_id: str, work: Work, boat: str = "tank_below", tells: tuple[int, ...] = ()) -> list[float]:
    return [one.share for one in BY_ID[rule_id].judge(track_of(*work, boat=boat, tells=tells), LIMITS)]


NO_MERIT = {"no_empty_repeats"}
"""Rules that are only spoken of where they were broken."""


def test_every_rule_has_work_that_keeps_it_and_work_that_breaks_it():
    assert set(KEPT) == set(BROKEN) == set(BY_ID)
    for ours, elsewhere, unspoken in ((KEPT, KEPT_ELSEWHERE, NO_MERIT), (BROKEN, BROKEN_ELSEWHERE, set())):
        named = {name for name, works in ours.items() if works} | {name for name, _, _ in elsewhere}
        assert named | unspoken == set(BY_ID)


@pytest.mark.parametrize(
    ("rule_id", "boat", "work"),
    [*((name, "tank_below", work) for name, works in KEPT.items() for work in works), *KEPT_ELSEWHERE],
)
def test_kept(rule_id, boat, work):
    found = shares(rule_id, work, boat)
    assert found
    assert all(share == 1.0 for share in found)


@pytest.mark.parametrize(
    ("rule_id", "boat", "work"),
    [*((name, "tank_below", work) for name, works in BROKEN.items() for work in works), *BROKEN_ELSEWHERE],
)
def test_broken(rule_id, boat, work):
    assert any(share < 1.0 for share in shares(rule_id, work, boat))


@pytest.mark.parametrize("boat", BOATS)
@pytest.mark.parametrize("rule_id", sorted(BY_ID))
def test_not_triggered_by_work_that_has_nothing_to_do_with_it(rule_id, boat):
    assert shares(rule_id, UNTOUCHED, boat) == []


def test_a_nut_slackened_on_a_running_engine_needs_no_flow_tried_before():
    work = (FIRES, NUT, "engine.run_idle_1min injector_1:nut_pulses", "injector_1.tighten_nut", "injector_1.change")
    froth = (FIRES, NUT, "engine.run_idle_1min injector_1:nut_froth", "injector_1.tighten_nut")
    for rule_id in ("flow_at_fine_filter", "bleed_outwards", "fuel_there_and_open", "bleed_to_clear"):
        assert shares(rule_id, work) == shares(rule_id, froth) == []
    assert shares("flow_at_fine_filter", work[1:]) == [0.0, 0.0]


def test_draining_is_judged_by_where_the_tank_lies():
    for boat in BOATS:
        above = boat in ("high_tank", "single_cylinder")
        assert bool(shares("drain_tank_above", (DRAIN,), boat)) == above
        assert bool(shares("drain_tank_below", (DRAIN,), boat)) != above


def test_draining_a_metal_bowl_is_how_one_looks_into_it():
    assert shares("bowl_before_bleeding", (DRAIN,), "metal_bowl") == []
    assert shares("bowl_before_bleeding", (DRAIN,), "tank_below") == [0.0]


@pytest.mark.parametrize(
    ("rule_id", "work", "tells"),
    [
        ("find_out_between_tries", ("starter.crank_30",), ()),
        ("find_out_between_tries", ("starter.crank_10", "starter.rest", "starter.crank_10"), ()),
        ("find_out_between_tries", ("starter.crank_5",) * 3 + ("separator.look", "starter.crank_5"), ()),
        ("nothing_poured_in", (FILTER_OFF, "fine_filter.fit_dry", "starter.crank_30"), ()),
        ("nothing_poured_in", (FILTER_OFF, "fine_filter.fit_old", OPEN, CLEAR), ()),
        ("no_empty_repeats", ("tank.dip",) * 2, ()),
        ("no_empty_repeats", ("tank.dip", "separator.look", "tank.add_fuel", "tank.dip"), ()),
        ("flow_at_fine_filter", ("separator.look", OFF, OPEN, CLEAR, CLOSE, FILTER_OFF), (1,)),
    ],
)
def test_what_is_allowed_but_was_not_done_is_neither_blamed_nor_praised(rule_id, work, tells):
    assert shares(rule_id, work, tells=tells) == []


@pytest.mark.parametrize(
    ("rule_id", "boat", "work", "left_out"),
    [
        ("separator_element_steps", "tank_below",
         (OFF, "separator.check_ring", "separator.wipe_bowl", "separator.fit_dry"),
         "cleaning it outside first, wetting the new seals with fuel."),
        ("separator_element_steps", "metal_bowl",
         ("separator.clean_outside", OFF, "separator.check_ring", "separator.fit_wetted"),
         "wiping bowl and seat, trying the ball at its inlet."),
        ("fine_filter_steps", "tank_below",
         (FILTER_OFF, "fine_filter.check_ring", "fine_filter.wipe_seat", "fine_filter.fit_by_hand"),
         "cleaning its head first."),
        ("fine_filter_steps", "tank_below",
         ("fine_filter.clean_outside", FILTER_OFF, "fine_filter.check_ring", "fine_filter.fit_forced"),
         "wiping the seat, the right tightness."),
    ],
)  # fmt: skip
def test_the_steps_that_were_left_out_are_named_and_no_others(rule_id, boat, work, left_out):
    rule = BY_ID[rule_id]
    judged = judge_rule(rule, rule.judge(track_of(*work, boat=boat), LIMITS))
    assert judged is not None
    assert judged[0].text.split(": ", 1)[1] == left_out


def test_putting_back_ones_own_doing_is_no_change_made_blind():
    for work in (
        ("shut_off.shut", "shut_off.open"),
        ("stop_control.pull", "stop_control.push_home"),
        (OPEN, CLEAR, CLOSE),
        (NUT, "injector_1.tighten_nut"),
        (VENT, "separator.close_vent"),
        ("pump_joint.undo pump_joint:not_possible", "bench.wipe_up"),
    ):
        assert shares("look_before_change", work) == []
        assert shares("one_change_then_check", work) == []


def test_what_turns_out_to_be_sound_needs_no_check_of_its_effect():
    free = ("tank.clear_breather tank:breather_free", "return_line.blow_through return_line:return_free", "tank.dip")
    assert shares("one_change_then_check", free) == []
    assert shares("prime_before_start", (free[1], "starter.crank_10")) == []
    cleared = ("tank.clear_breather tank:breather_cleared", "pump_joint.nip_up pump_joint:joint_nipped", "tank.dip")
    assert shares("one_change_then_check", cleared) == [0.0, 0.0]


def test_air_let_in_by_ones_own_work_needs_no_search():
    assert shares("air_has_a_source", (DRAIN, OPEN, *(FROTH,) * 9)) == []
    assert shares("air_has_a_source", (OPEN, FROTH, FROTH, CLEAR)) == []


def test_a_drain_under_a_high_tank_needs_no_filling_afterwards():
    assert shares("prime_before_start", (DRAIN, DRAIN_SHUT, "starter.crank_10"), "high_tank") == []
    assert shares("prime_before_start", (DRAIN, DRAIN_SHUT, "starter.crank_10"), "tank_below") == [0.0]


@pytest.mark.parametrize(
    ("rule_id", "work"),
    [
        ("does_it_crank", ("separator.look", DRAIN)),
        ("is_it_told_to_stop", ("separator.look", DRAIN)),
        ("fuel_there_and_open", ("pump_joint.look", "pump_joint.nip_up")),
        ("flow_at_fine_filter", ("separator.look", "separator.change_element")),
        ("breather_before_changing", ("separator.look", "separator.change_element")),
    ],
)
def test_work_that_a_check_led_to_is_not_asked_for_more(rule_id, work):
    assert shares(rule_id, work, tells=(1,)) == []
    assert shares(rule_id, work) == [0.0]


def test_rule_sentences_are_different_and_end_as_sentences():
    for name in ("sentence", "kept", "broken", "why"):
        texts = [getattr(rule, name) for rule in RULES]
        assert len(set(texts)) == len(RULES)
        assert all(one.endswith(".") for one in texts)


def test_rules_name_kinds_of_part_that_every_boat_maker_knows():
    assert len({rule.id for rule in RULES}) == len(RULES)
    assert all(rule.points > 0.0 and rule.family for rule in RULES)
