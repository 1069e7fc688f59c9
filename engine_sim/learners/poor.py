"""Learners who do not work soundly, or not honestly. Only the lucky guesser and the forgers know what is wrong."""

from __future__ import annotations

from collections.abc import Callable

from engine_sim.attempt import Attempt, Diagnosis
from engine_sim.faults import fault
from engine_sim.learners.cures import (
    bleed,
    bleed_pipes,
    change_element,
    drain_until_clean,
    fill_tank,
    renew_fuel,
    with_the_valve_shut,
)
from engine_sim.learners.hands import AIRY, Hands
from engine_sim.learners.sound import work

MOST_TURNS = 24
"""Turns of ten seconds, without a rest, after which even this learner has had enough; judgement."""
Cure = Callable[[Hands, str], object]


def work_in_a_hurry(attempt: Attempt) -> None:
    """Works in the good order, but lays no tray, wipes nothing, leaves a cap loose and the jar full, writes nothing."""
    hands = Hands(attempt, tidy=False)
    hands.do("bench", "ventilate", "put_on_goggles", "look_around")
    work(hands)
    hands.do(hands.one("tank"), "crack_cap")
    battery = hands.one("battery")
    if battery and not hands.sees("battery_connected"):
        hands.do(battery, "connect")
    hands.hand_in()


def swap_parts(attempt: Attempt) -> None:
    """Changes and tightens everything within reach without a look, then tries to start and blames an element."""
    hands = Hands(attempt, careful=False, tidy=False)
    for part in hands.all("fine_filter", "separator"):
        hands.do(part, "change_element")
    for joint in hands.all("joint"):
        hands.do(joint, "nip_up")
    hands.do(hands.one("lift_pump", "electric_pump"), "change_pump")
    for _ in range(2):
        hands.start()
        hands.pump()
    hands.stop()
    attempt.diagnose(Diagnosis(hands.one("fine_filter"), "loaded_element"))
    attempt.hand_in()


def bleed_and_never_look_for_the_leak(attempt: Attempt) -> None:
    """Bleeds in good style until it runs clear, takes that for the cure and hands in."""
    hands = Hands(attempt, seeks_leaks=False)
    hands.do("bench", "ventilate", "put_on_goggles", "lay_tray")
    hands.turn(short=True)
    hands.stop()
    for lever in hands.all("stop_lever"):
        hands.do(lever, "look")
    for tank in hands.all("tank"):
        hands.do(tank, "dip")
    for part in hands.all("shut_off_valve", "separator"):
        hands.do(part, "look")
    bleed(hands)
    hands.tries_out(cruise=False)
    hands.stop()
    fine = hands.one("fine_filter")
    hands.note(fine, "air_in_filter", *AIRY)
    hands.hand_in()


def crank_till_flat(attempt: Attempt) -> None:
    """Cranks without a rest until nothing turns any more or the engine goes on running, and blames the battery."""
    hands = Hands(attempt, careful=False, tidy=False)
    hand, starter = hands.one("hand_start"), hands.one("starter")
    for _ in range(MOST_TURNS):
        keys = hands.do(hand, "swing_10") if hand else hands.do(starter, "crank_10")
        if hands.running:
            if not hands.do(hands.one("engine"), "run_idle_1min") & {"dies", "engine_stands"}:
                break
        elif not keys & {"cranks_briskly", "cranks_slowly", "swings_freely"}:
            break
    hands.stop()
    if starter:
        attempt.diagnose(Diagnosis(hands.one("battery"), "flat_battery"))
    attempt.hand_in()


def do_nothing(attempt: Attempt) -> None:
    """Hands in at once."""
    attempt.hand_in()


def only_look(attempt: Attempt) -> None:
    """Looks at everything, finds what can be found by looking, does nothing about it and says nothing."""
    for part in attempt.parts():
        for offer in attempt.offers(part.id):
            if offer.action in ("look", "look_around"):
                attempt.act(part.id, offer.action)
    attempt.hand_in()


def _does(*actions: str, then_bleed: bool = False) -> Cure:
    """Return the cure that only does these things at the faulty part."""

    def cure(hands: Hands, part: str) -> None:
        hands.do(part, *actions)
        if then_bleed:
            bleed(hands)

    return cure


def _off_and_on(action: str) -> Cure:
    """Return the cure that takes something off and puts a new one on, the way from the tank shut meanwhile."""

    def cure(hands: Hands, part: str) -> None:
        with_the_valve_shut(hands, part, action)
        bleed(hands)

    return cure


def _change_element(hands: Hands, part: str) -> None:
    change_element(hands, part)
    bleed(hands)


def _fill(hands: Hands, part: str) -> None:
    fill_tank(hands, part)
    bleed(hands)


def _renew(hands: Hands, part: str) -> None:
    renew_fuel(hands, part, dirty=True)


def _pipes(hands: Hands, _part: str) -> None:
    bleed_pipes(hands)


def _bleed(hands: Hands, _part: str) -> None:
    bleed(hands)


def _drain(hands: Hands, part: str) -> None:
    drain_until_clean(hands, part)
    bleed(hands)


def _draw_water(hands: Hands, part: str) -> None:
    for _ in range(12):
        hands.do(part, "sample_sump")
        hands.do("bench", "empty_jar")
    _drain(hands, hands.one("separator"))


def _warm(hands: Hands, _part: str) -> None:
    for part in hands.all("separator", "fine_filter"):
        hands.do(part, "warm")


def _tighten(hands: Hands, part: str) -> None:
    closes = [name for name in ("close_vent", "close_screw") if hands.offers(part, name)]
    hands.do(part, *closes[:1])
    bleed(hands)


def _turn_to_full(hands: Hands, part: str) -> None:
    hands.do(part, "to_a")
    bleed(hands)


def _clean(hands: Hands, part: str) -> None:
    hands.do(part, "clean_terminals" if hands.offers(part, "clean_terminals") else "clean_terminal")


def _nothing(_hands: Hands, _part: str) -> None:
    """Nothing on board mends it."""


SURE_CURES: dict[str, Cure] = {
    "shut_valve": _does("open", then_bleed=True),
    "wrong_setting": _turn_to_full,
    "empty_tank": _fill,
    "gauge_wrong": _nothing,
    "gauge_shifted": _nothing,
    "blocked_vent": _does("clear_breather"),
    "blocked_pick_up": _does("blow_back", then_bleed=True),
    "collapsed_hose": _off_and_on("new_hose"),
    "blocked_return": _does("blow_through"),
    "slack_joint": _does("nip_up", then_bleed=True),
    "screw_loose": _tighten,
    "air_in_filter": _bleed,
    "air_in_line": _pipes,
    "water_in_bowl": _drain,
    "water_in_tank": _draw_water,
    "loaded_element": _change_element,
    "stuck_ball": _change_element,
    "slime": _renew,
    "dirt_in_tank": _renew,
    "waxed_fuel": _warm,
    "petrol_in_fuel": _renew,
    "urea_in_fuel": _renew,
    "torn_diaphragm": _off_and_on("change_pump"),
    "leaking_valve": _off_and_on("change_pump"),
    "cam_on_lobe": _nothing,
    "stop_control_pulled": _does("push_home"),
    "dead_solenoid": _does("change"),
    "isolator_off": _does("connect"),
    "flat_battery": _does("join_house_battery"),
    "bad_connection": _clean,
    "starter_solenoid": _does("change"),
    "failed_starter": _does("change"),
    "no_preheat": _does("mend"),
    "leaking_injector": _does("change"),
    "failed_injector": _does("change"),
    "blocked_intake": _does("clear_intake"),
    "blocked_exhaust": _does("clear"),
    "fouled_propeller": _does("clear_propeller"),
    "low_compression": _nothing,
    "shut_seacock": _does("open_seacock"),
}
"""Fault to what mends it, for somebody who knows."""


def guess_luckily(attempt: Attempt) -> None:
    """Guesses part and fault right out of the blue, cures that, looks at nothing, names no evidence."""
    hands = Hands(attempt, careful=False, tidy=False)
    for wrong in attempt.scenario.faults:
        SURE_CURES[wrong.fault](hands, wrong.part)
    hands.tries_out(cruise=False)
    hands.stop()
    for wrong in attempt.scenario.faults:
        attempt.diagnose(Diagnosis(wrong.part, fault(wrong.fault).diagnosis))
    attempt.hand_in()
