"""Learners who play an attempt with nobody at the keyboard. Each works only from what is noticed, and hands in."""

from __future__ import annotations

import re
from collections.abc import Callable

from engine_sim.attempt import Attempt, Diagnosis

Learner = Callable[[Attempt], None]
CLEAR = {"screw_solid", "screw_clears"}
FOUL = {"screw_air", "screw_froth"}
WATER = {"bowl_water", "bowl_all_water"}


class Hands:
    """A pair of hands at the engine, and the numbers of what was noticed that seemed to matter."""

    def __init__(self, attempt: Attempt) -> None:
        self.attempt = attempt
        self.evidence: list[int] = []

    @property
    def running(self) -> bool:
        return self.attempt.outside()["engine"] == "running"

    def do(self, *names: str, cite: set[str] | frozenset[str] = frozenset()) -> set[str]:
        """Do each ``part.action``; return the keys noticed at the last, remembering those in ``cite`` as evidence."""
        keys: set[str] = set()
        for name in names:
            step = self.attempt.act(*name.split("."))
            keys = {one.key for one in step.observations}
            self.evidence += [one.number for one in step.observations if one.key in cite]
        return keys

    def seen(self, keys: set[str]) -> list[int]:
        """Return the numbers of all observations so far with one of these keys."""
        return [one.number for one in self.attempt.observations if one.key in keys]

    def crank(self) -> None:
        """Try to start; where white smoke and no more comes, bleed the injector pipes and try again."""
        for last in (False, True):
            if not self.running:
                self.do("starter.crank_10")
            if not self.running:
                self.do("starter.rest", "stop_control.look")
            if not self.running and not last:
                self.bleed_pipes()

    def bleed_pipes(self) -> None:
        """Bleed the injector pipes at their union nuts: goggles, half a turn, short turns of the starter.

        The seacock is shut meanwhile: no exhaust gas lifts the water that long cranking pumps into the silencer.
        """
        nuts = [f"injector_{number}" for number in (1, 2, 3)]
        self.do("exhaust.shut_seacock", "bench.put_on_goggles", *(f"{nut}.slacken_nut" for nut in nuts))
        for turn in range(8):
            came = self.do("starter.crank_10")
            self.do("starter.rest")
            if turn >= 2 and "nut_pulses" in came:
                break
        self.do(*(f"{nut}.tighten_nut" for nut in nuts), "exhaust.open_seacock", "bench.wipe_up")

    def bleed_at(self, part: str) -> None:
        """Bleed at one screw until it runs clear, tighten while it flows."""
        self.do(f"{part}.open_screw")
        for _ in range(20):
            if self.do("lift_pump.lever_60") & CLEAR:
                break
        self.do(f"{part}.close_screw")

    def bleed(self) -> None:
        """Bleed outwards and wipe up."""
        self.bleed_at("fine_filter")
        self.bleed_at("injection_pump")
        self.do("bench.wipe_up")

    def finish(self, part: str, fault: str) -> None:
        """Start, run a while, stop, write down the diagnosis, hand in."""
        self.crank()
        if not self.running or "dies" in self.do("engine.run_idle_5min"):
            self.bleed()
            self.crank()
        if self.running:
            self.do("engine.stop")
        self.attempt.diagnose(Diagnosis(part, fault, tuple(self.evidence)))
        self.attempt.hand_in()


def dip_says_empty(hands: Hands) -> bool:
    """Dip the tank; remember the reading when it lies at the end of the pick-up or below."""
    dipped = next(one for one in hands.attempt.act("tank", "dip").observations if one.key == "dip_fuel")
    wet_to, pick_up = (float(found) for found in re.findall(r"\d+(?:\.\d+)?", dipped.text)[:2])
    if wet_to > pick_up + 1.0:
        return False
    hands.evidence.append(dipped.number)
    return True


def drain_bowl(hands: Hands) -> None:
    """Drain the bowl with the tank below: hold the fuel in the hose, let air in at the top, refill by hand."""
    for _ in range(3):
        hands.do("shut_off.shut", "separator.open_vent", "separator.open_drain", "separator.close_drain")
        hands.do("separator.read_jar", cite={"jar_water"})
        hands.do("shut_off.open", "separator.close_vent", "lift_pump.lever_60", "lift_pump.lever_60")
        if not hands.do("separator.look") & WATER:
            break


def find_slack_joint(hands: Hands) -> str:
    """Wipe and try both joints; nip up the one that turns and return it, or return nothing."""
    for joint in ("separator_joint", "pump_joint"):
        if "joint_turns" in hands.do(f"{joint}.wipe_and_try", cite={"joint_turns"}):
            hands.do(f"{joint}.nip_up", f"{joint}.wipe_and_try")
            return joint
    return ""


def work_on_fuel_flow(hands: Hands) -> tuple[str, str]:
    """Try the flow at the fine filter and follow what it says; return the diagnosis."""
    hands.do("fine_filter.open_screw")
    keys = hands.do(
        "lift_pump.lever_10", cite={"screw_nothing", "screw_draws", "screw_weak", "lever_hard", "lever_stiff"}
    )
    hands.do("fine_filter.close_screw")
    if keys & {"lever_hard", "lever_stiff"}:
        hands.do("separator.look", cite={"bowl_dark"})
        hands.do("shut_off.shut", "separator.change_element", "shut_off.open", "lift_pump.lever_60")
        return "separator", "loaded_element"
    hands.evidence += hands.seen(FOUL)
    joint = find_slack_joint(hands)
    return (joint, "slack_joint") if joint else ("fine_filter", "air_in_filter")


def work_from_tank_to_pump(attempt: Attempt) -> None:
    """The good worker: safe, does it crank, is it told to stop, fuel there and open, bowl, flow, only then parts."""
    hands = Hands(attempt)
    hands.do("bench.lay_tray", "bench.look_around", "starter.crank_5")
    if "stop_out" in hands.do("stop_control.look", cite={"stop_out"}):
        hands.do("stop_control.push_home")
        return hands.finish("stop_control", "stop_control_pulled")
    hands.do("tank.read_gauge")
    empty = dip_says_empty(hands)
    if empty:
        hands.do("tank.add_fuel", "tank.dip")
    if "handle_across" in hands.do("shut_off.look", cite={"handle_across"}):
        hands.do("shut_off.open", "lift_pump.lever_60")
        return hands.finish("shut_off", "shut_valve")
    bowl = hands.do("separator.look", cite=WATER)
    if empty:
        hands.bleed()
        return hands.finish("tank", "empty_tank")
    if bowl & WATER:
        drain_bowl(hands)
        found = ("separator", "water_in_bowl")
    else:
        found = work_on_fuel_flow(hands)
    hands.bleed()
    return hands.finish(*found)


SURE_CURES: dict[str, tuple[str, ...]] = {
    "shut_valve": ("shut_off.open",),
    "empty_tank": ("tank.add_fuel",),
    "slack_joint": ("{part}.nip_up",),
    "water_in_bowl": ("separator.open_drain", "separator.close_drain"),
    "loaded_element": ("separator.change_element",),
    "air_in_filter": (),
    "stop_control_pulled": ("stop_control.push_home",),
}


def guess_luckily(attempt: Attempt) -> None:
    """Guesses part and fault right out of the blue, cures that, looks at nothing, names no evidence."""
    wrong = attempt.scenario.faults[0]
    hands = Hands(attempt)
    hands.do(*(cure.format(part=wrong.part) for cure in SURE_CURES[wrong.fault]))
    if wrong.fault not in ("shut_valve", "stop_control_pulled"):
        hands.bleed()
    hands.finish(wrong.part, wrong.fault)


def work_in_poor_order(attempt: Attempt) -> None:
    """Comes to the same end: cranks long, bleeds from the far end and changes an element before looking at anything."""
    hands = Hands(attempt)
    hands.do("bench.lay_tray", *("starter.crank_10",) * 3, "injection_pump.open_screw", "lift_pump.lever_10")
    hands.do("injection_pump.close_screw", "fine_filter.change_element")
    hands.bleed()
    hands.do("pump_joint.look", "return_line.look")
    work_from_tank_to_pump(attempt)


def bleed_and_never_look_for_the_leak(attempt: Attempt) -> None:
    """Bleeds in good style until it runs clear, takes that for the cure and hands in."""
    hands = Hands(attempt)
    hands.do("bench.lay_tray", "starter.crank_5", "stop_control.look", "tank.dip", "shut_off.look", "separator.look")
    hands.bleed()
    hands.evidence += hands.seen(FOUL)
    hands.crank()
    hands.attempt.diagnose(Diagnosis("fine_filter", "air_in_filter", tuple(hands.evidence)))
    hands.attempt.hand_in()


def swap_parts(attempt: Attempt) -> None:
    """Changes and tightens everything within reach without a look, then tries to start and blames an element."""
    hands = Hands(attempt)
    hands.do("fine_filter.change_element", "separator.change_element", "separator_joint.nip_up", "pump_joint.nip_up")
    hands.do("starter.crank_10", "starter.crank_10", "lift_pump.lever_60", "starter.crank_10", "starter.crank_10")
    hands.attempt.diagnose(Diagnosis("fine_filter", "loaded_element"))
    hands.attempt.hand_in()


def crank_till_flat(attempt: Attempt) -> None:
    """Cranks until nothing turns any more, and blames the battery."""
    hands = Hands(attempt)
    for _ in range(60):
        if "cranks_briskly" not in hands.do("starter.crank_10"):
            break
    hands.attempt.diagnose(Diagnosis("battery", "flat_battery"))
    hands.attempt.hand_in()


def do_nothing(attempt: Attempt) -> None:
    """Hands in at once."""
    attempt.hand_in()


def only_look(attempt: Attempt) -> None:
    """Looks at everything, finds what can be found by looking, does nothing about it and says nothing."""
    for part in attempt.parts():
        attempt.act(part.id, "look" if part.id != "bench" else "look_around")
    attempt.hand_in()


KINDS: dict[str, Learner] = {
    "tank to pump": work_from_tank_to_pump,
    "poor order": work_in_poor_order,
    "bleeds only": bleed_and_never_look_for_the_leak,
    "lucky guess": guess_luckily,
    "swaps parts": swap_parts,
    "only looks": only_look,
    "cranks flat": crank_till_flat,
    "does nothing": do_nothing,
}
