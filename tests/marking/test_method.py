"""The method mark: any sound order earns all of it, luck and cranking do not, and the coach's share is generous.

The orders are made up by hand, step by step, on several boats; each is sound by the common practice of the trade.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest
from handmade import BOATS, track_of

from engine_sim.marking.coach import Advice, Analysis, Insight, Suspect
from engine_sim.marking.method import CHECKS_WHY, mark_method
from engine_sim.marking.scheme import default_scheme

SCHEME = default_scheme()
MOST = SCHEME.weights.method
CLEAR, PUMP_CLEAR = "lift_pump.lever_60 fine_filter:screw_solid", "lift_pump.lever_60 injection_pump:screw_solid"
FROTH = "lift_pump.lever_60 fine_filter:screw_froth"
BLEED = ("fine_filter.open_screw", FROTH, CLEAR, "fine_filter.close_screw", "injection_pump.open_screw", PUMP_CLEAR,
         "injection_pump.close_screw")  # fmt: skip
BY_KEY = ("engine.key_on", "fine_filter.open_screw", "bench.wait_1min fine_filter:screw_solid",
          "fine_filter.close_screw", "injection_pump.open_screw", "bench.wait_1min injection_pump:screw_solid",
          "injection_pump.close_screw", "engine.key_off")  # fmt: skip
WITH_LOWER = (*BLEED[:4], "injection_pump.open_lower_screw", PUMP_CLEAR, "injection_pump.close_lower_screw", *BLEED[4:])
BLEEDS = {"electric_pump": BY_KEY, "high_tank": WITH_LOWER}
CRANK = {"single_cylinder": "hand_start.swing_10"}
LOOKS: dict[str, tuple[str, ...]] = {
    "tank_below": ("stop_control.look", "tank.dip", "shut_off.look", "separator.look"),
    "high_tank": ("stop_control.look", "tank.dip_paste", "shut_off.look", "separator.look"),
    "electric_pump": ("stop_control.look", "stop_solenoid.listen", "tank.dip", "shut_off.look", "separator.look"),
    "two_tanks": ("stop_control.look", "tank.dip", "changeover.look", "shut_off.look", "separator.look"),
    "single_cylinder": ("stop_control.look", "tank.dip", "shut_off.look", "separator.look"),
    "metal_bowl": ("stop_control.look", "stop_solenoid.look", "tank.dip", "shut_off.look", "tank.sample_sump"),
}


def score(*work: str, boat: str = "tank_below", tells: tuple[int, ...] = (), analysis: Analysis | None = None) -> float:
    return mark_method(track_of(*work, boat=boat, tells=tells, followed=bool(tells)), analysis, SCHEME).score


def leak_worked_on(boat: str, looks: tuple[str, ...]) -> tuple[str, ...]:
    """Return work that ends in a joint nipped up, with the looks in the order given."""
    crank = CRANK.get(boat, "starter.crank_5")
    joint = ("pump_joint.wipe_and_try", "pump_joint.nip_up", "pump_joint.wipe_and_try")
    return (crank, *looks, *joint, *BLEEDS.get(boat, BLEED), f"{crank} engine:fires", "engine.run_idle_5min")


@pytest.mark.parametrize("boat", BOATS)
def test_every_order_of_the_looks_earns_all_the_points(boat):
    for looks in permutations(LOOKS[boat]):
        assert score(*leak_worked_on(boat, looks), boat=boat, tells=(1,)) == MOST


def water_drained(*, above: bool) -> tuple[str, ...]:
    drain = ("separator.open_drain separator:drain_runs_water", "bench.wait_10s separator:drain_runs_fuel")
    if above:
        return (*drain, "separator.close_drain", "separator.read_jar")
    first = ("shut_off.shut", "separator.open_vent", *drain, "separator.close_drain", "separator.read_jar")
    return (*first, "shut_off.open", "lift_pump.lever_60", "separator.close_vent")


SOUND_WAYS: list[tuple[str, tuple[str, ...]]] = [
    # straight from the water in the bowl to the drain, and only then the rest
    ("tank_below", ("separator.look", *water_drained(above=False), *BLEED, "starter.crank_10 engine:fires")),
    ("high_tank", ("separator.look", *water_drained(above=True), "starter.crank_10 engine:fires")),
    ("single_cylinder", ("separator.look", *water_drained(above=True), "hand_start.swing_10 engine:fires")),
    # first the starter, then at once the stop control: pushed home, and away
    ("two_tanks", ("starter.crank_5", "stop_control.look", "stop_control.push_home", "starter.crank_5 engine:fires")),
    # the other tank is taken first, and dipped afterwards
    ("two_tanks", ("changeover.look", "tank.dip", "changeover.to_b", "starboard_tank.dip", "lift_pump.lever_60",
                   "starter.crank_10 engine:fires")),
    # a flat battery: lamps, volts, then the house battery; nothing of the fuel side is looked at
    ("metal_bowl", ("battery.look", "battery.volts", "battery.join_house_battery", "starter.crank_10 engine:fires")),
    # slime: both elements in one job, by steps at the first and in one go at the second
    ("tank_below", ("starter.crank_5", "stop_control.look", "tank.dip", "shut_off.look",
                    "separator.look separator:bowl_slime", "tank.crack_cap", "fine_filter.open_screw",
                    "lift_pump.lever_10 fine_filter:screw_weak", "fine_filter.close_screw", "shut_off.shut",
                    "separator.clean_outside", "separator.take_bowl_off", "separator.check_ring", "separator.wipe_bowl",
                    "separator.fit_wetted", "fine_filter.change_element", "shut_off.open", *BLEED,
                    "starter.crank_10 engine:fires")),
    # froth that goes on: the joints tried while it is bled
    ("tank_below", ("starter.crank_5", "stop_control.look", "tank.dip", "shut_off.look", "separator.look",
                    "fine_filter.open_screw", *(FROTH,) * 4, "pump_joint.wipe_and_try", "pump_joint.nip_up", FROTH,
                    CLEAR, "fine_filter.close_screw", "starter.crank_10 engine:fires")),
    # home on a can
    ("tank_below", ("starter.crank_5", "stop_control.look", "shut_off.look", "tank.dip", "separator.look",
                    "fine_filter.open_screw", "lift_pump.lever_10 fine_filter:screw_nothing",
                    "fine_filter.close_screw", "can.fill", "can.lash", "can.crack_cap", "shut_off.shut", "can.to_pump",
                    "return_line.to_jar", *BLEED, "starter.crank_10 engine:fires", "engine.run_idle_1min",
                    "return_line.to_can", "engine.run_cruise_30min")),
    # the pipes, after the low side ran clear
    ("electric_pump", ("starter.crank_5", *LOOKS["electric_pump"], *BY_KEY, "injector_1.slacken_nut",
                       "injector_2.slacken_nut", "starter.crank_10 injector_1:nut_froth injector_2:nut_froth",
                       "starter.crank_10 injector_1:nut_pulses injector_2:nut_pulses", "injector_2.tighten_nut",
                       "injector_1.tighten_nut", "starter.crank_10 engine:fires", "injector_1.card",
                       "injector_2.look")),
]  # fmt: skip


@pytest.mark.parametrize(("boat", "work"), SOUND_WAYS)
def test_very_different_sound_ways_earn_all_the_points(boat, work):
    mark = mark_method(track_of(*work, boat=boat, tells=(1,), followed=True), None, SCHEME)
    assert [reason.text for reason in mark.reasons if not reason.good] == []
    assert mark.score == MOST


POOR_WAYS: list[tuple[str, ...]] = [
    ("fine_filter.change_element", "separator.change_element", "pump_joint.nip_up", *("starter.crank_10",) * 4),
    ("injection_pump.open_screw", "lift_pump.lever_10", "injection_pump.close_screw", "fine_filter.change_element"),
    ("starter.crank_30", "separator.open_drain", "separator.close_drain", *("starter.crank_10",) * 3),
    ("can.to_pump", "engine.run_idle_5min", "injector_1.slacken_nut", "starter.crank_30"),
]


@pytest.mark.parametrize("work", POOR_WAYS)
@pytest.mark.parametrize("boat", ["tank_below", "two_tanks", "metal_bowl"])
def test_poor_ways_earn_less_than_half_even_where_they_lead_somewhere(work, boat):
    assert score("lift_pump.look", *work, boat=boat, tells=(1,)) < 0.6 * MOST
    assert score(*work, boat=boat) < 0.3 * MOST


def test_nothing_done_is_nothing_earned():
    assert score() == 0.0


@pytest.mark.parametrize(
    ("boat", "turn"), [("tank_below", "starter.crank_10"), ("single_cylinder", "hand_start.swing_10")]
)
def test_cranking_only_earns_next_to_nothing(boat, turn):
    assert 0.0 < score(turn, turn, turn, boat=boat) <= 0.02 * MOST


def test_luck_earns_little_and_what_was_seen_but_not_followed_not_all():
    assert score("shut_off.open", "starter.crank_10 engine:fires") <= 0.05 * MOST
    seen = track_of("starter.crank_5", *LOOKS["tank_below"], tells=(5,))
    assert mark_method(seen, None, SCHEME).score == pytest.approx(SCHEME.method.not_followed_share * MOST)


GROPES = ("pump_joint.undo", "separator.take_bowl_off", "fine_filter.take_off")


@pytest.mark.parametrize("opened", [1, 2, 3])
def test_who_opens_one_part_after_another_before_the_cheap_looks_was_lucky_to_find_it(opened):
    track = track_of("starter.crank_5", *GROPES[:opened], "shut_off.look", tells=(opened + 2,), followed=True)
    mark = mark_method(track, None, SCHEME)
    worst = mark.reasons[0]
    if opened == 1:
        assert worst.good
    else:
        assert (worst.good, worst.step) == (False, 3)
        assert mark.score < SCHEME.method.opened_blind_share * MOST
    looked = track_of(
        *LOOKS["tank_below"], *GROPES, "shut_off.look", tells=(len(LOOKS["tank_below"]) + 4,), followed=True
    )
    assert mark_method(looked, None, SCHEME).reasons[0].good


def coached(best_minutes: float, own_minutes: float, *insights: Insight) -> Analysis:
    return Analysis(insights, best_minutes, own_minutes, 2, ())


WORK = leak_worked_on("tank_below", LOOKS["tank_below"])
DIP = Advice("tank", "dip", "dip the tank", 1.5, 4.0, "It tells in a minute and a half.")


def test_the_coach_is_generous_and_takes_no_more_than_its_share():
    def given(best: float, own: float) -> float:
        return score(*WORK, tells=(1,), analysis=coached(best, own))

    assert given(10.0, 10.0) == given(10.0, 20.0) == MOST
    assert given(10.0, 10_000.0) == pytest.approx(MOST * (1.0 - SCHEME.method.coach_share))
    assert given(10.0, 10_000.0) < given(10.0, 40.0) < given(10.0, 25.0) < MOST


def test_cranking_alone_is_not_efficient_however_few_checks_it_wasted():
    def given(*shares: float) -> float:
        suspects = tuple(Suspect(f"fault_{n}", "tank", share, "tank", "fault") for n, share in enumerate(shares))
        analysis = replace(coached(10.0, 10.0, Insight(9, 90.0, suspects)), found_step=0)
        return score(*WORK, tells=(1,), analysis=analysis)

    assert given(1.0) == given(0.6, 0.4) == MOST
    assert given(*(0.1,) * 10) == pytest.approx(MOST * (1.0 - 0.8 * SCHEME.method.coach_share))


def test_work_after_the_search_is_over_breaks_no_rule_of_precedence():
    work = ("starter.crank_5", "pump_joint.look", "pump_joint.wipe_and_try", "pump_joint.nip_up", "pump_joint.look")
    over, not_yet = coached(1.0, 1.0, Insight(3, 60.0, ())), replace(coached(1.0, 1.0), found_step=4)
    assert score(*work, tells=(1,), analysis=replace(over, found_step=3)) == MOST
    track = track_of("starter.crank_5", "separator.look", "fine_filter.look", "fine_filter.change_element", *BLEED)
    told, cap = replace(track, followed=True), "You had loosened the filler cap before you changed anything dear."
    praised = {one.text for one in mark_method(told, replace(over, found_step=3), SCHEME).reasons if one.good}
    assert not {one for one in praised if "filler cap" in one or "tried the flow" in one}
    cracked = track_of("starter.crank_5", "separator.look", "tank.crack_cap", "fine_filter.change_element", *BLEED)
    assert cap in {one.text for one in mark_method(cracked, replace(over, found_step=2), SCHEME).reasons if one.good}
    assert score(*work, tells=(1,), analysis=not_yet) < MOST


def test_what_the_coach_would_have_done_too_breaks_no_rule_of_precedence():
    work = ("starter.crank_5", "fine_filter.open_screw", "lift_pump.lever_10 fine_filter:screw_solid")
    as_the_coach = Insight(2, 20.0, (), best=replace(DIP, part="fine_filter", action="open_screw"))
    assert score(*work, tells=(3,), analysis=coached(1.0, 1.0, as_the_coach)) == MOST
    assert score(*work, tells=(3,), analysis=coached(1.0, 1.0, Insight(2, 20.0, (), best=DIP))) < MOST


def test_the_dearest_check_is_named_with_its_moment_and_the_better_one():
    cheap, dear = Insight(2, 40.0, ()), Insight(5, 300.0, (), best=DIP, lost_minutes=12.0)
    mark = mark_method(track_of(*WORK, tells=(1,), followed=True), coached(1.0, 50.0, cheap, dear), SCHEME)
    reason = mark.reasons[-1]
    assert (reason.good, reason.step, reason.moment_s) == (False, 5, 300.0)
    assert reason.why == CHECKS_WHY


@pytest.mark.parametrize(
    ("work", "step"),
    [
        (("starter.crank_10", "separator.look", "separator.change_element"), 3),
        (("starter.crank_10", "starter.crank_10"), 2),
        (("starter.crank_10", "shut_off.open", "starter.crank_10"), 2),
    ],
)
def test_work_that_came_upon_nothing_is_told_with_its_moment_and_why(work, step):
    track = track_of(*work)
    first = mark_method(track, None, SCHEME).reasons[0]
    assert (first.good, first.step, first.moment_s) == (False, step, track.moments[step - 1].end_s)
    assert first.why


def test_what_is_seen_only_when_the_part_is_opened_is_said_to_be_seen_and_earns_no_more():
    track = track_of("starter.crank_10", "fine_filter.take_off", "fine_filter.fit_dry", "separator.take_bowl_off")
    opened = mark_method(replace(track, opened_at=4, followed=True), None, SCHEME)
    first = opened.reasons[0]
    assert (first.good, first.step, first.text.startswith("You saw what was wrong only when")) == (False, 4, True)
    assert first.why
    assert opened.score == mark_method(track, None, SCHEME).score


def test_reasons_name_step_and_moment_and_add_up():
    track = track_of("separator.look", *POOR_WAYS[1], tells=(1,), followed=True)
    mark = mark_method(track, None, SCHEME)
    lost = [reason for reason in mark.reasons if not reason.good]
    assert {reason.step for reason in lost} <= {moment.number for moment in track.moments}
    assert all(reason.why and reason.moment_s == track.moments[reason.step - 1].end_s for reason in lost)
    assert mark.score == pytest.approx(MOST - sum(reason.points for reason in lost), abs=0.05)
