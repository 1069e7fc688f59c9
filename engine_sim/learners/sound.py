"""The tank-to-pump worker: cheap checks first, battery to injectors; each find is cured and tried before the next."""

from __future__ import annotations

from collections.abc import Callable

from engine_sim.attempt import Attempt
from engine_sim.circuit import load_layout
from engine_sim.faults.places import volume_share
from engine_sim.learners import checks, electrics
from engine_sim.learners.cures import bleed, bleed_pipes, change_element, make_safe, tidy_up
from engine_sim.learners.hands import AIRY, AMISS, FROTHY, Hands
from engine_sim.wording import GAUGE_WORDS

Check = Callable[[Hands], bool]

MOST_STEPS = 220
"""After so many steps even a patient worker gives up and calls an engineer; judgement."""
STARVED = frozenset({"wavers", "dies", "dies_meanwhile", "loses_speed", "engine_stands"})


def after_the_fine_filter(hands: Hands) -> bool:
    """What comes at the injection pump's screw: little is a choked fine filter, froth is air."""
    pump, fine = hands.one("injection_pump"), hands.one("fine_filter")
    hands.do(pump, "open_screw")
    keys = hands.pump()
    hands.do(pump, "close_screw")
    hands.key_off()
    if keys & {"screw_weak", "screw_nothing"} and "return_runs" not in keys:
        if "element_dark" in change_element(hands, fine):
            hands.note(fine, "loaded_element", "element_dark", "screw_weak")
        bleed(hands)
        return True
    if keys & FROTHY:
        bleed(hands)
        if not hands.found:
            hands.note(pump, "air_in_filter", *AIRY)
        return True
    return False


def engine_side(hands: Hands) -> bool:
    """What looks like fuel and is not: air intake, propeller, exhaust, cooling water."""
    engine, exhaust = hands.one("engine"), hands.one("exhaust")
    if "intake_blocked" in hands.do(engine, "look_intake"):
        hands.note(engine, "blocked_intake", "intake_blocked", "smoke_black", "engine_labours")
        hands.do(engine, "clear_intake")
        return True
    if "propeller_foul" in hands.do(engine, "look_propeller"):
        hands.note(engine, "fouled_propeller", "propeller_foul", "smoke_black", "engine_labours")
        hands.do(engine, "clear_propeller")
        return True
    if "elbow_blocked" in hands.do(exhaust, "look_elbow"):
        hands.note(exhaust, "blocked_exhaust", "elbow_blocked", "smoke_black", "engine_labours")
        hands.do(exhaust, "clear")
        return True
    return False


def cylinders(hands: Hands) -> bool:
    """Which cylinder does not work, and why: look at each nut, listen, slacken the nut of the silent one."""
    found = False
    hands.start()
    for nut in hands.all("injector"):
        wet = "nut_wet" in hands.do(nut, "look")
        silent = "injector_silent" in hands.do(nut, "listen")
        if wet and not silent and hands.do(hands.one("engine"), "run_idle_1min") & {"engine_knocks", "smoke_black"}:
            hands.note(nut, "leaking_injector", "nut_wet")
            _new_injector(hands, nut)
            found = True
        elif silent:
            found = _silent(hands, nut) or found
        hands.start()
    hands.stop()
    return found


def _new_injector(hands: Hands, nut: str) -> None:
    hands.stop()
    if hands.sees("engine_hot"):
        hands.do("bench", "cool")
    hands.do(nut, "change")


def _silent(hands: Hands, nut: str) -> bool:
    """Let the pipe of a silent injector spit: froth is air, clear pulses without a spray a dead injector."""
    if not hands.running:
        bleed_pipes(hands)
    else:
        hands.do(nut, "slacken_nut")
        hands.do(hands.one("engine"), "run_idle_1min")
        hands.do(nut, "tighten_nut", "wipe")
    if "nut_froth" in hands.noticed_at(nut):
        hands.note(nut, "air_in_line", "nut_froth", "injector_silent", "beat_unchanged")
        return True
    if "injector_creaks" in hands.do(nut, "listen"):
        hands.note(nut, "air_in_line", "injector_silent", "beat_unchanged")
        return True
    hands.note(nut, "failed_injector", "injector_silent", "nut_pulses", "beat_unchanged")
    _new_injector(hands, nut)
    return True


def return_line(hands: Hands) -> bool:
    """Can what is not burnt run back."""
    found = False
    for line in hands.all("return_line"):
        swollen = "return_swollen" in hands.do(line, "look")
        if "return_cleared" in hands.do(line, "blow_through"):
            hands.note(line, "blocked_return", "return_cleared", "return_swollen")
            found = True
        found = found or swollen
    return found


def compression(hands: Hands) -> bool:
    """All fuel checks are well, it cranks briskly and smokes white: too little compression."""
    if hands.running or "smoke_white" not in hands.start():
        return False
    hands.note(hands.one("engine"), "low_compression", "smoke_white", "fires_not")
    return False


def breather_by_wire(hands: Hands) -> bool:
    """Put a wire through the breathers."""
    found = False
    for tank in hands.all("tank"):
        if "breather_cleared" in hands.do(tank, "clear_breather"):
            hands.note(tank, "blocked_vent", "breather_cleared", "cap_hisses")
            found = True
    return found


def gauges(hands: Hands) -> bool:
    """Does the gauge show what the dipstick shows, by the handbook's table of this tank."""
    boat = load_layout(hands.attempt.scenario.layout)
    for tank in hands.all("tank"):
        hands.do(tank, "read_gauge", "dip")
        height = hands.figure("dip_fuel") / 100.0 / boat.figures[tank]["height_m"]
        words = hands.last("gauge_reads").text.removeprefix("The fuel gauge shows ").rstrip(".")
        if abs(GAUGE_WORDS.index(words) / 8.0 - volume_share(boat, tank, height)) > 0.15:
            hands.note(tank, "gauge_wrong", "gauge_reads", "dip_fuel")
    return False


FIRST: tuple[Check, ...] = (electrics.cranks, electrics.told_to_stop, checks.fuel_there_and_open, checks.cheap_looks)
FUEL: tuple[Check, ...] = (
    checks.bowl_and_sample,
    checks.breather,
    checks.flow_at_the_fine_filter,
    after_the_fine_filter,
)
LAST: tuple[Check, ...] = (cylinders, checks.leaks, engine_side, return_line, breather_by_wire, compression)
SOUND: tuple[Check, ...] = (
    checks.leaks,
    *FUEL,
    breather_by_wire,
    return_line,
    engine_side,
    gauges,
)
"""What is gone through when the engine runs well and yet something is said to be wrong."""


def in_order(signs: set[str]) -> tuple[Check, ...]:
    """Return the checks in the order that the running engine's own signs suggest."""
    if "beat_uneven" in signs:
        return (cylinders, *FUEL, *LAST[1:])
    if "smoke_blue" in signs:
        return (checks.oil, *FUEL, *LAST)
    if signs & {"engine_labours", "smoke_black"}:
        return (engine_side, *FUEL, *LAST)
    if not signs:
        return SOUND
    return (*FUEL, *LAST)


def work(hands: Hands) -> None:
    """Find and cure what is wrong, one thing after another, until the engine comes through a long trial."""
    signs = first_things_first(hands)
    for _ in range(3):
        if len(hands.attempt.steps) > MOST_STEPS:
            return
        if signs or not hands.found:
            signs = go_through(hands, in_order(signs))
        if not signs and proves_itself(hands):
            return
        signs = signs or {"untried"}


def first_things_first(hands: Hands) -> set[str]:
    """Go through what costs next to nothing; return what is amiss with the engine after it."""
    signs = {"untried"}
    for check in FIRST:
        found = check(hands)
        if check is electrics.cranks and hands.running and "beat_uneven" in hands.noticed_at(hands.one("engine")):
            found = cylinders(hands)
        if found and not (signs := hands.tries_out()):
            return signs
    return hands.tries_out(cruise=False) if hands.running else signs


def go_through(hands: Hands, order: tuple[Check, ...]) -> set[str]:
    """Go through checks, trying the engine after each cure; return what is amiss with it in the end."""
    signs = {"untried"}
    hands.stop()
    for check in order:
        if len(hands.attempt.steps) > MOST_STEPS:
            break
        opened = hands.times_noticed("screw_opened")
        if check(hands):
            signs = hands.tries_out()
            if signs & STARVED and hands.times_noticed("screw_opened") > opened:
                hands.stop()
                bleed(hands)
                signs = hands.tries_out()
            if not signs:
                break
        hands.stop()
    return hands.tries_out() if "untried" in signs else signs


def proves_itself(hands: Hands) -> bool:
    """Run long, stop, let her stand half an hour, start again."""
    engine = hands.one("engine")
    amiss = hands.tries_out() if not hands.running else set()
    if not amiss and hands.running:
        amiss |= hands.do(engine, "run_cruise_5min") & AMISS
    hands.stop()
    if amiss:
        return False
    hands.do("bench", "wait_30min")
    amiss = hands.tries_out(cruise=False)
    if hands.running:
        amiss |= hands.do(engine, "run_idle_5min") & AMISS
    hands.stop()
    return not amiss


def leave_well(hands: Hands) -> None:
    """Tidy up, write a note for the next person, say what was found, hand in."""
    tidy_up(hands)
    said = "; ".join(f"{one.part}: {one.fault}" for one in hands.found) or "nothing found"
    hands.attempt.note(f"Found: {said}. Cured, tried at idle and in gear, stood half an hour, started again.")
    hands.hand_in()


def work_from_tank_to_pump(attempt: Attempt) -> None:
    """The good worker."""
    hands = Hands(attempt)
    make_safe(hands)
    work(hands)
    leave_well(hands)
