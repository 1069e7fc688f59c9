"""Proper procedures on any boat: draining, changing an element, bleeding outwards, emptying a tank, tidying up."""

from __future__ import annotations

from engine_sim.learners.hands import CLEAR, FROTHY, SOLID, Hands

WATER = frozenset({"bowl_water", "bowl_all_water"})
JAR_WATER = frozenset({"jar_water", "jar_all_water"})
SPOILT_JAR = frozenset({*JAR_WATER, "jar_slime", "jar_dirt", "jar_petrol"})
NO_USE = frozenset({"lever_hard", "lever_air", "lever_soft", "screw_nothing", "screw_draws"})
"""What makes no sense to go on pumping over."""
MOST_IN_VAIN, TRIES_JOINTS_AFTER, MOST_CLOSINGS = 7, 2, 3
"""After how many minutes of pumping in vain somebody gives up, or tries the joints; how often a screw is closed.

All three are judgement.
"""


def make_safe(hands: Hands) -> None:
    """Make safe before anything else: boat fast, somebody told, fresh air, extinguisher, tray, a look round."""
    hands.do("bench", "make_fast", "tell_someone", "ventilate", "extinguisher", "put_on_goggles", "lay_tray")
    hands.do("bench", "look_around")


def jar_away(hands: Hands) -> None:
    """Pour the jar into the can for waste when it holds anything."""
    if hands.sees("jar_ml", 0):
        hands.do("bench", "empty_jar")


def drain(hands: Hands, separator: str) -> set[str]:
    """Drain a separator to clean fuel: with the tank's head from above, else with the valve shut and the vent open."""
    valve = hands.one("shut_off_valve")
    if not hands.tank_above:
        hands.do(valve, "shut")
        hands.do(separator, "open_vent")
    keys = hands.do(separator, "open_drain")
    for _ in range(6):
        if "drain_runs_water" not in keys:
            break
        keys = hands.do("bench", "wait_10s")
        if int(str(hands.sees("jar_ml", 0))) > 1500:
            hands.do("bench", "empty_jar")
    hands.do(separator, "close_drain")
    keys = hands.do("bench", "read_jar")
    jar_away(hands)
    if not hands.tank_above:
        hands.do(valve, "open")
        hands.do(separator, "fill", "close_vent")
    return keys


def drain_until_clean(hands: Hands, separator: str) -> None:
    """Drain, pump what stands in the hose into the bowl, look again, until no more water comes."""
    for _ in range(5):
        keys = drain(hands, separator)
        hands.pump()
        if not keys & SPOILT_JAR and not hands.do(separator, "look") & WATER:
            break
    hands.key_off()


def fill_from_top(hands: Hands, separator: str) -> None:
    """Fill an emptied separator at its top vent."""
    hands.do(separator, "open_vent", "fill", "close_vent")


def with_the_valve_shut(hands: Hands, part: str, action: str) -> set[str]:
    """Take something off with the way from the tank shut, and open it again."""
    valve = hands.one("shut_off_valve")
    hands.do(valve, "shut")
    keys = hands.do(part, action)
    hands.do(valve, "open")
    return keys


def change_element(hands: Hands, part: str) -> set[str]:
    """Change an element step by step; return what was seen on the way."""
    valve = hands.one("shut_off_valve")
    hands.do(valve, "shut")
    hands.do(part, "clean_outside")
    if part in hands.all("separator"):
        keys = hands.do(part, "take_bowl_off", "check_ring", "wipe_bowl")
        if hands.offers(part, "check_ball"):
            keys |= hands.do(part, "check_ball")
        hands.do(part, "fit_wetted")
        hands.do(valve, "open")
        fill_from_top(hands, part)
    else:
        keys = hands.do(part, "take_off", "check_ring", "wipe_seat")
        hands.do(part, "fit_by_hand" if hands.offers(part, "fit_by_hand") else "fit_bolted")
        hands.do(valve, "open")
    return keys


def bleed_at(hands: Hands, part: str, opens: str, most: int = 15) -> set[str]:
    """Bleed at one screw beyond the first clear spurt, and tighten it while it flows; return what came at the end."""
    keys: set[str] = set()
    for _ in range(MOST_CLOSINGS):
        hands.do(part, opens)
        keys, clear = _until_clear(hands, most)
        if "screw_shut_froth" not in hands.do(part, opens.replace("open", "close")) or not clear:
            break
    return keys


def _until_clear(hands: Hands, most: int) -> tuple[set[str], bool]:
    """Pump at an open screw until solid fuel comes; where froth goes on and on, try the places where air gets in."""
    keys: set[str] = set()
    for turn in range(most):
        before, keys = keys, hands.pump()
        runs_back = {"screw_weak", "return_runs"} <= keys
        clear = bool(keys & SOLID or ((keys & before & CLEAR or runs_back) and not keys & FROTHY))
        if clear and "lever_spongy" not in keys:
            return keys, True
        if turn >= MOST_IN_VAIN and keys & NO_USE:
            break
        if turn == TRIES_JOINTS_AFTER and hands.seeks_leaks:
            try_joints(hands)
    return keys, False


def try_joints(hands: Hands) -> None:
    """Try the joints and vents before the pump, once; whoever finds one slack tightens it."""
    for joint in hands.all("joint"):
        tried = hands.noticed_at(joint) & {"joint_tight", "joint_turns"}
        if not tried and "joint_turns" in hands.do(joint, "wipe_and_try"):
            hands.note(joint, "slack_joint", "joint_turns", "froth_in_hose", "air_in_hose", "joint_wet")
            hands.do(joint, "nip_up")


def screws(hands: Hands) -> list[tuple[str, str]]:
    """Return the bleed screws of this boat from the tank outwards."""
    names = ("open_lower_screw", "open_screw", "open_outlet_screw")
    parts = hands.all("fine_filter", "injection_pump")
    return [(part, name) for part in parts for name in names if hands.offers(part, name)]


def bleed(hands: Hands) -> bool:
    """Bleed the low-pressure side outwards; tell whether it ran clear at the first screw."""
    first = True
    for number, (part, name) in enumerate(screws(hands)):
        ran = bleed_at(hands, part, name)
        clear = bool(ran & (CLEAR | {"return_runs"}))
        first = clear if number == 0 else first
        if not clear:
            break
    hands.key_off()
    if hands.tidy:
        hands.do("bench", "wipe_up")
    return first


def bleed_pipes(hands: Hands) -> None:
    """Bleed the injector pipes: goggles, nuts slack, short turns with the seacock shut, tighten one at a time."""
    nuts, exhaust = hands.all("injector"), hands.one("exhaust")
    if not hands.sees("goggles_on"):
        hands.do("bench", "put_on_goggles")
    hands.shut_the_seacock()
    for nut in nuts:
        hands.do(nut, "slacken_nut")
    for turn in range(8):
        came = hands.turn()
        if hands.running or (turn >= 2 and "nut_pulses" in came and "nut_froth" not in came):
            break
        hands.rest()
    hands.stop()
    for nut in nuts:
        hands.do(nut, "tighten_nut", "wipe")
    if exhaust and not hands.sees("seacock_open"):
        hands.do(exhaust, "open_seacock")
        hands.shut_for_cranking = False
    hands.turned_s = 0.0


def fill_tank(hands: Hands, tank: str, cans: int = 2) -> None:
    """Pour clean fuel into a tank."""
    for _ in range(cans):
        if "fuel_added" not in hands.do(tank, "add_fuel"):
            break


def renew_fuel(hands: Hands, tank: str, dirty: bool) -> None:
    """Empty a tank and wipe it out, fill it anew, and flush what lies before the pump; dirt goes with the element."""
    hands.do(tank, "wipe_out")
    fill_tank(hands, tank, 3)
    for separator in hands.all("separator"):
        if dirty and hands.do(separator, "look") & {"bowl_dark", "bowl_of_metal"}:
            change_element(hands, separator)
        drain_until_clean(hands, separator)
        if dirty and "bowl_dark" in hands.do(separator, "look"):
            change_element(hands, separator)
    bleed(hands)


def tidy_up(hands: Hands) -> None:
    """Leave everything shut, tight and clean, with waste and rags ashore."""
    jar_away(hands)
    for tank in hands.all("tank"):
        if hands.sees(f"{tank}_filler_cap", hands.sees("filler_cap")) != "on":
            hands.do(tank, "close_cap")
    hands.do("bench", "wipe_up", "count_washers", "look_around", "waste_ashore")
    battery = hands.one("battery")
    if battery and not hands.sees("battery_connected"):
        hands.do(battery, "connect")
