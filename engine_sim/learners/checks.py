"""The sound worker's checks, from tank to fine filter: each tells whether it found something, and cures that."""

from __future__ import annotations

from engine_sim.learners.cures import (
    JAR_WATER,
    WATER,
    bleed,
    change_element,
    drain,
    drain_until_clean,
    fill_from_top,
    fill_tank,
    jar_away,
    renew_fuel,
    with_the_valve_shut,
)
from engine_sim.learners.hands import AIRY, CLEAR, FROTHY, SOLID, Hands

SPOILT = frozenset({"jar_petrol", "jar_crystals", "jar_slime", "jar_foul", "jar_dirt", "dip_slime", "dip_grit"})
HARD = frozenset({"lever_hard", "lever_stiff"})
SOFT = frozenset({"lever_soft", "lever_loses"})
OIL = frozenset({"oil_over", "oil_thin"})
WELL_BELOW_KPA = 16.0
"""Suction before the pump from which something holds the fuel [kPa]: twice what a clean way takes here; judgement."""


def fuel_there_and_open(hands: Hands) -> bool:
    """Is there fuel, and is it open: changeover and shut-off by eye, gauge, tap and dipstick at each tank."""
    found = False
    for valve in hands.all("changeover_valve"):
        hands.do(valve, "look")
    for valve in hands.all("shut_off_valve"):
        if "handle_across" in hands.do(valve, "look"):
            hands.note(valve, "shut_valve", "handle_across")
            hands.do(valve, "open")
            found = True
    empty = [tank for tank in hands.all("tank") if _is_empty(hands, tank)]
    if empty:
        _see_to_empty_tanks(hands, empty)
        bleed(hands)
        found = True
    return found


def cheap_looks(hands: Hands) -> bool:
    """Look where looking costs seconds: the bowl, the breather by a turn of the cap, the hoses before the pump."""
    for separator in hands.all("separator"):
        hands.do(separator, "look")
    found = breather(hands)
    for joint in hands.all("joint"):
        hands.do(joint, "look")
    return found


def _is_empty(hands: Hands, tank: str) -> bool:
    hands.do(tank, "read_gauge")
    stuck = "gauge_dead" in hands.do(tank, "tap_gauge")
    hands.do(tank, "dip_paste")
    if hands.figure("dip_fuel") <= hands.figure("dip_fuel", 1):
        return True
    if stuck:
        hands.note(tank, "gauge_wrong", "gauge_dead")
    return False


def _see_to_empty_tanks(hands: Hands, empty: list[str]) -> None:
    """Turn to the tank that has fuel where the valve stood wrong, or fill what is empty."""
    for valve in hands.all("changeover_valve"):
        hands.do(valve, "look")
        full = [tank for tank in hands.all("tank") if tank not in empty]
        label = {part.id: part.label for part in hands.attempt.parts()}
        drawn_dry = any(label[tank] in hands.last("changeover_at").text for tank in empty)
        if full == hands.all("tank")[:1] and drawn_dry:
            hands.note(valve, "wrong_setting", "changeover_at", "dip_fuel")
            hands.do(valve, "to_a")
            return
    for tank in empty:
        hands.note(tank, "empty_tank", "dip_fuel", "gauge_dead")
        fill_tank(hands, tank)
        hands.do(tank, "dip")


def bowl_and_sample(hands: Hands) -> bool:
    """What is in the bowl, and what comes from the tank's lowest point."""
    separator, found = hands.one("separator"), False
    looks = hands.do(separator, "look")
    spoilt = [tank for tank in hands.all("tank") if _sample_is_spoilt(hands, tank)]
    for tank in spoilt:
        _see_to_spoilt_tank(hands, tank)
        if hands.has_found("slime", "dirt_in_tank"):
            clean_once_more(hands, tank, separator)
        found = True
    waxy = {"bowl_waxy", "jar_waxy"} & (looks | hands.noticed_at("bench"))
    if waxy:
        hands.do("bench", "thermometer")
        hands.note(hands.one("tank"), "waxed_fuel", "bowl_waxy", "jar_waxy", "thermometer_reads")
        for part in hands.all("separator", "fine_filter"):
            hands.do(part, "warm")
        return True
    if looks & WATER or (not spoilt and "bowl_of_metal" in looks and _drains_water(hands, separator)):
        if not spoilt:
            hands.note(separator, "water_in_bowl", *WATER, *JAR_WATER, "drain_runs_water")
        drain_until_clean(hands, separator)
        bleed(hands)
        drain_once_more(hands, separator)
        found = True
    return found


def _drains_water(hands: Hands, separator: str) -> bool:
    """Drain a metal bowl into the jar and see."""
    return bool(JAR_WATER & drain(hands, separator))


def _sample_is_spoilt(hands: Hands, tank: str) -> bool:
    jar_away(hands)
    keys = hands.do(tank, "sample_sump")
    return bool(keys & (SPOILT | JAR_WATER))


def _see_to_spoilt_tank(hands: Hands, tank: str) -> None:
    keys = hands.noticed_at(tank)
    if "jar_petrol" in keys:
        hands.note(tank, "petrol_in_fuel", "jar_petrol")
    elif "jar_crystals" in keys:
        hands.note(tank, "urea_in_fuel", "jar_crystals")
    elif keys & {"jar_slime", "jar_foul", "dip_slime"}:
        hands.note(tank, "slime", "jar_slime", "jar_foul", "dip_slime", "bowl_slime")
    elif keys & {"jar_dirt", "dip_grit"}:
        hands.note(tank, "dirt_in_tank", "jar_dirt", "dip_grit", "bowl_grit")
    else:
        hands.note(tank, "water_in_bowl", *JAR_WATER, "paste_water", *WATER)
        _draw_water(hands, tank)
        return
    renew_fuel(hands, tank, bool(keys & {"jar_slime", "jar_foul", "jar_dirt", "dip_slime", "dip_grit"}))


def clean_once_more(hands: Hands, tank: str, separator: str) -> None:
    """Run her on the clean fuel, look again, and clean again what came back out of hoses and return line."""
    came_back = False
    for _ in range(3):
        hands.tries_out()
        hands.stop()
        hands.do("bench", "wait_30min")
        if not hands.do(tank, "dip") & {"dip_slime", "dip_grit"}:
            break
        renew_fuel(hands, tank, dirty=True)
        came_back = True
    if "bowl_dark" in hands.do(separator, "look") or came_back:
        change_element(hands, separator)
        bleed(hands)


def drain_once_more(hands: Hands, separator: str) -> None:
    """Run her, look again, and drain what has come after out of the hoses; a metal bowl is drained to see."""
    hands.tries_out()
    hands.stop()
    if hands.do(separator, "look") & {*WATER, "bowl_of_metal"}:
        drain_until_clean(hands, separator)
        bleed(hands)


def _draw_water(hands: Hands, tank: str) -> None:
    """Draw at the sump until the jar shows no more water."""
    for _ in range(12):
        jar_away(hands)
        if not JAR_WATER & hands.do(tank, "sample_sump"):
            break
    jar_away(hands)


def breather(hands: Hands) -> bool:
    """Is the tank's breather free: a turn of the cap, and listen."""
    found = False
    for tank in hands.all("tank"):
        if "cap_hisses" in hands.do(tank, "crack_cap"):
            if "breather_cleared" in hands.do(tank, "close_cap", "clear_breather"):
                hands.note(tank, "blocked_vent", "cap_hisses", "breather_cleared")
                found = True
        else:
            hands.do(tank, "close_cap")
    return found


def flow_at_the_fine_filter(hands: Hands) -> bool:
    """What comes at the fine filter's screw, and how the pump feels."""
    fine = hands.one("fine_filter")
    hands.do(fine, "open_screw")
    keys = hands.pump()
    for _ in range(2):
        if keys & (HARD | SOFT | SOLID):
            break
        keys = hands.pump() | (keys & FROTHY)
    hands.do(fine, "close_screw")
    hands.key_off()
    if hands.one("electric_pump") and not keys & (AIRY | SOLID):
        return restriction(hands) if _suction_kpa(hands) >= WELL_BELOW_KPA else weak_pump(hands, keys)
    if keys & HARD:
        return restriction(hands)
    if keys & SOFT:
        return weak_pump(hands, keys) if not leaks(hands) else True
    if keys & FROTHY or not keys & CLEAR:
        return air(hands)
    return False


def _suction_kpa(hands: Hands) -> float:
    pump = hands.one("electric_pump", "lift_pump")
    if "vacuum_reads" not in hands.noticed_at(pump):
        hands.do(pump, "fit_gauge")
    hands.pump()
    hands.do(pump, "read_vacuum")
    hands.key_off()
    return hands.figure("vacuum_reads")


def restriction(hands: Hands) -> bool:
    """Something holds the fuel before the pump: hoses by eye, then element and inlet, then the pick-up."""
    for joint in hands.all("joint"):
        if "hose_flat" in hands.do(joint, "look"):
            hands.note(joint, "collapsed_hose", "hose_flat")
            with_the_valve_shut(hands, joint, "new_hose")
            bleed(hands)
            return True
    for separator in hands.all("separator"):
        seen = hands.do(separator, "look")
        glass_clean = "bowl_clean" in seen and "bowl_dark" not in seen
        if glass_clean and _blown_free(hands):
            return True
        keys = change_element(hands, separator)
        if keys & {"element_dark"}:
            hands.note(separator, "loaded_element", "bowl_dark", "element_dark", *HARD)
        if "ball_freed" in keys:
            hands.note(separator, "stuck_ball", "ball_freed", *HARD)
        if keys & {"element_dark", "ball_freed"} or (not glass_clean and _blown_free(hands)):
            bleed(hands)
            return True
    return False


def _blown_free(hands: Hands) -> bool:
    for tank in hands.all("tank"):
        if "blown_free" in hands.do(tank, "blow_back"):
            hands.note(tank, "blocked_pick_up", "blown_free", *HARD)
            bleed(hands)
            return True
    return False


def leaks(hands: Hands) -> bool:
    """Try joints, vents and screws; tighten what turns; tell whether anything did."""
    found = False
    for joint in hands.all("joint"):
        hands.do(joint, "look")
        if "joint_turns" in hands.do(joint, "wipe_and_try"):
            hands.note(joint, "slack_joint", "joint_turns", "froth_in_hose", "air_in_hose", "joint_wet")
            hands.do(joint, "nip_up")
            found = True
    for separator in hands.all("separator"):
        if "vent_turns" in hands.do(separator, "try_vent"):
            hands.note(separator, "screw_loose", "vent_turns")
            hands.do(separator, "close_vent")
            found = True
    for part in hands.all("fine_filter", "injection_pump"):
        if "screw_turns" in hands.do(part, "try_screw"):
            hands.note(part, "screw_loose", "screw_turns", "filter_wet", "injection_pump_wet")
            for screw in ("close_lower_screw", "close_screw", "close_outlet_screw"):
                if hands.offers(part, screw):
                    hands.do(part, screw)
            found = True
    return found


def air(hands: Hands) -> bool:
    """There is air: look for where it comes in before bleeding it out."""
    found = leaks(hands)
    for separator in hands.all("separator"):
        if "bowl_air" in hands.do(separator, "look"):
            fill_from_top(hands, separator)
    clear = bleed(hands)
    if not clear and not found and hands.one("lift_pump"):
        return weak_pump(hands, {"lever_air"} & hands.noticed_at(hands.one("lift_pump")))
    if not found and not hands.found:
        hands.note(hands.one("fine_filter"), "air_in_filter", *AIRY)
    return True


def weak_pump(hands: Hands, keys: set[str]) -> bool:
    """The pump moves little and nothing holds the fuel: its diaphragm or a valve."""
    pump = hands.one("lift_pump", "electric_pump")
    torn = "pump_weeps" in hands.do(pump, "look") or ("lever_air" in keys)
    if hands.one("lift_pump") and torn:
        hands.note(pump, "torn_diaphragm", "pump_weeps", "lever_air", *SOFT)
    else:
        hands.note(pump, "leaking_valve", "vacuum_reads", "screw_weak", "screw_nothing", *SOFT)
    with_the_valve_shut(hands, pump, "change_pump")
    bleed(hands)
    if torn and hands.do(hands.one("engine"), "dip_oil") & OIL:
        hands.do(hands.one("engine"), "change_oil")
    return True


def oil(hands: Hands) -> bool:
    """Has fuel gone into the oil: then the lift pump's diaphragm is torn."""
    pump = hands.one("lift_pump")
    if not pump or not hands.do(hands.one("engine"), "dip_oil") & OIL:
        return False
    hands.do(pump, "look")
    hands.note(pump, "torn_diaphragm", "oil_over", "oil_thin", "smoke_blue", "pump_weeps")
    with_the_valve_shut(hands, pump, "change_pump")
    bleed(hands)
    hands.do(hands.one("engine"), "change_oil")
    return True
