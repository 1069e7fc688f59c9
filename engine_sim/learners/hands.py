"""Hands at any boat: what its parts are by what can be done at them, work done with care, and what was noticed."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from engine_sim.attempt import Attempt, Diagnosis, Offer
from engine_sim.observations import Observation
from engine_sim.wording import CAUTIONS

Learner = Callable[[Attempt], None]

TOLD_BY: tuple[tuple[str, str], ...] = (
    ("dip", "tank"),
    ("to_a", "changeover_valve"),
    ("wipe_and_try", "joint"),
    ("take_bowl_off", "separator"),
    ("lever_10", "lift_pump"),
    ("change_pump", "electric_pump"),
    ("change_element", "fine_filter"),
    ("slacken_nut", "injector"),
    ("to_jar", "return_line"),
    ("push_home", "stop_lever"),
    ("hold", "stop_solenoid"),
    ("isolate", "battery"),
    ("crank_10", "starter"),
    ("swing_10", "hand_start"),
    ("heat_20", "preheat"),
    ("knock", "exhaust"),
    ("run_idle_1min", "engine"),
    ("lash", "fuel_can"),
    ("look_around", "bench"),
    ("open", "shut_off_valve"),
    ("open_screw", "injection_pump"),
)
"""What can be done at a part and the kind of part that it tells."""

CLEAR = frozenset({"screw_solid", "screw_clears"})
SOLID = frozenset({"screw_solid"})
AIRY = frozenset({"screw_air", "screw_froth", "screw_clears"})
FROTHY = frozenset({"screw_air", "screw_froth", "lever_air", "lever_spongy"})
"""Air that keeps coming; a boat whose return line draws a little in between shows froth for a moment only."""
AMISS = frozenset(
    {
        *("wavers", "dies", "dies_meanwhile", "loses_speed", "ran_unevenly", "beat_uneven", "engine_knocks"),
        *("engine_labours", "engine_overheats", "smoke_white", "smoke_black", "smoke_blue", "water_missing"),
        "engine_stands",
    }
)
"""What a running engine shows when something is wrong."""
WITH_THE_KEY = ("crank_", "swing_", "heat_", "key_on", "listen", "volts", "drop_test", "signal")
WORK = ("spanner", "strap", "wire brush", "screwdriver", "twine", "boathook, knife", "an engineer")
KEEPS_COOL = (CAUTIONS["fuel_opened"], CAUTIONS["hot"])


@dataclass(frozen=True)
class Finding:
    """What somebody found: part, fault, and the numbers of what showed it."""

    part: str
    fault: str
    evidence: tuple[int, ...]


def figures(text: str) -> list[float]:
    """Return the numbers in a sentence."""
    return [float(found) for found in re.findall(r"\d+(?:\.\d+)?", text)]


class Hands:
    """A pair of hands: they know the parts of the boat, take care before they work, and remember what they noticed."""

    def __init__(self, attempt: Attempt, careful: bool = True, tidy: bool = True, seeks_leaks: bool = True) -> None:
        self.attempt, self.careful, self.tidy, self.seeks_leaks = attempt, careful, tidy, seeks_leaks
        self.kinds: dict[str, list[str]] = {}
        for part in attempt.parts():
            can = {offer.action for offer in attempt.offers(part.id)}
            kind = next(kind for action, kind in TOLD_BY if action in can)
            self.kinds.setdefault(kind, []).append(part.id)
        self.found: list[Finding] = []
        self.turned_s = 0.0
        self.shut_for_cranking = False
        self.isolated = False

    # ---- the boat -----------------------------------------------------------------------------------------------

    def all(self, *kinds: str) -> list[str]:
        """Return the parts of these kinds."""
        return [part for kind in kinds for part in self.kinds.get(kind, [])]

    def one(self, *kinds: str) -> str:
        """Return the first part of these kinds, or an empty text."""
        return next(iter(self.all(*kinds)), "")

    def offered(self, part: str, action: str) -> list[Offer]:
        """Return the offer to do something at a part, or nothing where this boat has it not."""
        return [offer for offer in self.attempt.offers(part) if offer.action == action]

    def offers(self, part: str, action: str) -> bool:
        """Tell whether something can be done at a part of this boat."""
        return bool(self.offered(part, action))

    def sees(self, name: str, otherwise: object = None) -> object:
        """Return what is seen from where one stands."""
        return self.attempt.outside().get(name, otherwise)

    @property
    def running(self) -> bool:
        """Tell whether the engine runs."""
        return self.sees("engine") == "running"

    @property
    def tank_above(self) -> bool:
        """Tell whether the tank stands above the separator, as its joint's description says."""
        purposes = {part.id: part.purpose for part in self.attempt.parts()}
        return "stands above" in purposes[self.all("joint")[0]]

    # ---- doing --------------------------------------------------------------------------------------------------

    def do(self, part: str, *actions: str) -> set[str]:
        """Do things at a part, each with the care it asks for; return the keys noticed at all of them."""
        keys: set[str] = set()
        for action in actions:
            if self.careful:
                self._take_care(part, action)
            keys |= {one.key for one in self.attempt.act(part, action).observations}
            self._open_the_seacock()
        return keys

    def _open_the_seacock(self) -> None:
        """Open the seacock at once when the engine has fired with it shut for cranking."""
        if self.shut_for_cranking and self.running:
            self.attempt.act(self.one("exhaust"), "open_seacock")
            self.shut_for_cranking = False

    def _take_care(self, part: str, action: str) -> None:
        battery = self.one("battery")
        offer = next(offer for offer in self.attempt.offers(part) if offer.action == action)
        if battery and action.startswith(WITH_THE_KEY) and not self.sees("battery_connected"):
            self._switch_on(battery)
        if self.running:
            return
        if offer.caution in KEEPS_COOL and self.sees("engine_hot"):
            self.attempt.act("bench", "cool")
        works = any(tool in offer.needs for tool in WORK) and not action.startswith(WITH_THE_KEY)
        if battery and works and self.sees("battery_connected") and not self.sees("key_on"):
            self.attempt.act(battery, "isolate")
            self.isolated = True

    def _switch_on(self, battery: str) -> None:
        """Turn the isolator on; where it was not these hands that turned it off, that is a find."""
        if not self.isolated:
            self.attempt.act(battery, "look")
            self.note(battery, "isolator_off", "isolator_is_off", "lamps_dead")
        self.attempt.act(battery, "connect")

    def first_numbers(self, part: str, *keys: str) -> tuple[int, ...]:
        """Return the number of what was noticed first with each of these keys, at the part if it was noticed there."""
        found = []
        for key in keys:
            seen = [one for one in self.attempt.observations if one.key == key]
            there = [one for one in seen if one.part == part] or seen
            found += [one.number for one in there[:1]]
        return tuple(sorted(found))

    def noticed_at(self, part: str) -> set[str]:
        """Return the keys of everything noticed at a part so far."""
        return {one.key for one in self.attempt.observations if one.part == part}

    def times_noticed(self, key: str) -> int:
        """Return how often something was noticed so far."""
        return sum(one.key == key for one in self.attempt.observations)

    def last(self, key: str) -> Observation:
        """Return what was noticed last with a key."""
        return [one for one in self.attempt.observations if one.key == key][-1]

    def figure(self, key: str, place: int = 0) -> float:
        """Return a figure of the last sentence with a key."""
        return figures(self.last(key).text)[place]

    def note(self, part: str, fault: str, *keys: str) -> None:
        """Remember a finding with what showed it, unless it is known already."""
        if (part, fault) not in [(one.part, one.fault) for one in self.found]:
            self.found.append(Finding(part, fault, self.first_numbers(part, *keys)))

    def has_found(self, *faults: str) -> bool:
        """Tell whether one of these faults is among the findings."""
        return any(one.fault in faults for one in self.found)

    # ---- pumping ------------------------------------------------------------------------------------------------

    def pump(self, long: bool = True) -> set[str]:
        """Make fuel come: by lever, or by the key where the pump is electric."""
        lever = self.one("lift_pump")
        if lever:
            felt = self.do(lever, "lever_60" if long else "lever_10")
            if "lever_flops" in felt:
                self.do(self.one("engine"), "turn_by_hand")
                self.note(lever, "cam_on_lobe", "lever_flops")
                felt |= self.do(lever, "lever_60" if long else "lever_10")
            return felt
        if not self.sees("key_on"):
            self.do(self.one("engine"), "key_on")
        return self.do("bench", "wait_1min" if long else "wait_10s")

    def key_off(self) -> None:
        """Turn the key off where it was on for the pump."""
        if self.sees("key_on") and not self.running:
            self.do(self.one("engine"), "key_off")

    # ---- starting and running -----------------------------------------------------------------------------------

    def turn(self, short: bool = False) -> set[str]:
        """Turn the engine once, as this boat's engine is turned, with what it asks for before."""
        exhaust, plugs, hand = self.one("exhaust"), self.one("preheat"), self.one("hand_start")
        if exhaust and self.turned_s > 20.0 and self.sees("seacock_open"):
            self.shut_the_seacock()
        if plugs:
            self.do(plugs, "heat_20")
        keys = self.do(hand, "swing_10") if hand else self.do(self.one("starter"), "crank_5" if short else "crank_10")
        self.turned_s = 0.0 if self.running else self.turned_s + 10.0
        return keys

    def shut_the_seacock(self) -> None:
        """Shut the seacock for cranking again and again."""
        if self.one("exhaust") and self.sees("seacock_open"):
            self.do(self.one("exhaust"), "shut_seacock")
            self.shut_for_cranking = True

    def rest(self) -> None:
        """Let the starter rest, where there is one."""
        if self.one("starter"):
            self.do(self.one("starter"), "rest")

    def start(self, tries: int = 2) -> set[str]:
        """Try to start; return what was noticed at the last try."""
        self.key_off()
        keys: set[str] = set()
        for number in range(tries):
            if self.running:
                break
            if number:
                self.rest()
            keys = self.turn()
        return keys

    def stop(self) -> None:
        """Stop the engine if it runs, and turn the key off."""
        if self.running:
            self.do(self.one("engine"), "stop")
        self.key_off()

    def tries_out(self, cruise: bool = True) -> set[str]:
        """Start, watch the water, run at idle and in gear; return what is amiss, nothing if all is well.

        The engine is left running when it runs.
        """
        keys = self.start()
        engine, exhaust = self.one("engine"), self.one("exhaust")
        if not self.running:
            return {"engine_stands", *(keys & {"smoke_white", "smoke_black", "smoke_none"})}
        keys = self.do(exhaust, "look") if exhaust else set()
        keys |= self.do(engine, "run_idle_1min")
        if self.running and cruise:
            keys |= self.do(engine, "run_cruise_5min")
        return keys & AMISS

    # ---- the end ------------------------------------------------------------------------------------------------

    def hand_in(self) -> None:
        """Say what was found, the first finding last, and hand in."""
        for one in reversed(self.found):
            self.attempt.diagnose(Diagnosis(one.part, one.fault, one.evidence))
        self.attempt.hand_in()
