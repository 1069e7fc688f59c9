"""The sound worker's first checks: does it crank, and is it told to stop; each tells whether it found something."""

from __future__ import annotations

from engine_sim.learners.hands import Hands

DEAD = frozenset({"starter_dead", "starter_clicks", "starter_chatters", "starter_thuds"})
SLOW = frozenset({"cranks_slowly", "cranks_barely"})


def cranks(hands: Hands) -> bool:
    """Does it crank: isolator, lamps, seacock, glow plugs, and five seconds of the starter."""
    found = _by_eye(hands)
    plugs = hands.one("preheat")
    if plugs:
        hands.do(plugs, "heat_20")
        if hands.figure("preheat_amps") < 5.0 and "stems_cold" in hands.do(plugs, "feel_stems"):
            hands.note(plugs, "no_preheat", "stems_cold", "preheat_amps")
            hands.do(plugs, "mend")
            found = True
    keys = hands.turn(short=True)
    for _ in range(3):
        if not keys & (DEAD | SLOW) or hands.running:
            break
        found = _why_it_does_not_crank(hands, keys) or found
        keys = hands.turn(short=True)
    return found


def _by_eye(hands: Hands) -> bool:
    battery, exhaust, found = hands.one("battery"), hands.one("exhaust"), False
    lamps = hands.do(battery, "look") if battery else set()
    if "isolator_is_off" in lamps:
        hands.note(battery, "isolator_off", "isolator_is_off", "lamps_dead")
        hands.do(battery, "connect")
        lamps, found = hands.do(battery, "look"), True
    if "lamps_dim" in lamps:
        hands.do(battery, "volts")
        hands.note(battery, "flat_battery", "lamps_dim", "volts_at_rest")
        hands.do(battery, "join_house_battery")
        found = True
    if exhaust and "seacock_is_shut" in hands.do(exhaust, "look"):
        hands.note(exhaust, "shut_seacock", "seacock_is_shut")
        hands.do(exhaust, "open_seacock")
        if "impeller_torn" in hands.do(exhaust, "look_impeller"):
            hands.do(exhaust, "new_impeller")
        found = True
    return found


def _why_it_does_not_crank(hands: Hands, keys: set[str]) -> bool:
    battery, starter = hands.one("battery"), hands.one("starter")
    if "starter_thuds" in keys:
        hands.do(hands.one("engine"), "clear_cylinders")
        return True
    if "starter_dead" in keys and "starter_smells" not in keys:
        hands.do(starter, "signal")
        hands.note(starter, "starter_solenoid", "volts_signal", "starter_dead")
        hands.do(starter, "change")
        return True
    if "terminal_hot" in hands.do(battery, "feel_terminals"):
        hands.note(battery, "bad_connection", "terminal_hot", "starter_clicks")
        hands.do(battery, "clean_terminals")
        return True
    if "terminal_hot" in hands.do(starter, "feel_terminal") or "starter_bad_wire" in hands.do(starter, "look"):
        hands.note(starter, "bad_connection", "terminal_hot", "starter_bad_wire", "starter_clicks")
        hands.do(starter, "clean_terminal")
        return True
    if not keys & DEAD:
        return False
    hands.note(starter, "failed_starter", "starter_burnt", "starter_clicks")
    hands.do(starter, "change")
    return True


def told_to_stop(hands: Hands) -> bool:
    """Is it told to stop: the lever, and the solenoid where there is one."""
    found = False
    for lever in hands.all("stop_lever"):
        if "stop_out" in hands.do(lever, "look"):
            hands.note(lever, "stop_control_pulled", "stop_out")
            hands.do(lever, "push_home")
            found = True
    for solenoid in hands.all("stop_solenoid"):
        if "solenoid_silent" in hands.do(solenoid, "listen"):
            hands.do(solenoid, "look", "volts")
            hands.note(solenoid, "dead_solenoid", "solenoid_silent")
            hands.do(solenoid, "change")
            found = True
    return found
