"""The best-policy worker: makes the check that the coach would make next, cures and hands in like the sound one."""

from __future__ import annotations

from engine_sim.attempt import Attempt, Step
from engine_sim.learners.checks import clean_once_more, drain_once_more
from engine_sim.learners.cures import bleed, make_safe
from engine_sim.learners.hands import Hands
from engine_sim.learners.poor import SURE_CURES
from engine_sim.learners.sound import leave_well, proves_itself, work
from engine_sim.marking.coach import Coach
from engine_sim.wording import OWN_DEEDS

MOST_CHECKS = 20
"""After so many of the coach's checks the sound worker's own order goes on; judgement."""
LOOKS = (
    ("stop_lever", "look"),
    ("stop_solenoid", "listen"),
    ("shut_off_valve", "look"),
    ("changeover_valve", "look"),
    ("tank", "dip"),
    ("separator", "look"),
    ("tank", "crack_cap"),
    ("tank", "close_cap"),
)
"""What every sound order has before a spanner: what tells the engine to stop, the valves, the dipstick, bowl, cap."""
CONFIRMED_BY: dict[str, tuple[str, ...]] = {
    "dead_solenoid": ("listen",),
    "no_preheat": ("heat_20", "feel_stems"),
    "slack_joint": ("wipe_and_try",),
    "screw_loose": ("try_screw", "try_vent"),
    "empty_tank": ("dip",),
    "gauge_wrong": ("tap_gauge",),
    "water_in_bowl": ("dip_paste",),
    "flat_battery": ("volts",),
    "bad_connection": ("feel_terminals", "feel_terminal"),
    "starter_solenoid": ("signal",),
    "blocked_intake": ("look_intake",),
    "fouled_propeller": ("look_propeller",),
    "blocked_exhaust": ("look_elbow",),
    "failed_injector": ("listen",),
}
"""What else is looked at, besides the part itself, before a fault is believed."""


class Follower:
    """Hands that ask the coach before each check and show it every step."""

    def __init__(self, hands: Hands) -> None:
        self.hands, self.coach, self.shown = hands, Coach(hands.attempt.scenario), 0
        self.telling: tuple[int, ...] = ()
        self.looked = False

    def show(self) -> tuple[Step, ...]:
        """Show the coach what was done since it last looked; return those steps."""
        steps = self.hands.attempt.steps[self.shown :]
        for step in steps:
            self.coach.see(step)
        self.shown += len(steps)
        return steps

    def look_first(self, deeds: tuple[tuple[str, str], ...]) -> None:
        """Look where looking costs next to nothing before the first spanner is taken up."""
        opens = any(offer.needs for part, action in deeds for offer in self.hands.offered(part, action))
        if not opens or self.looked:
            return
        self.looked = True
        hands = self.hands
        for kind, action in LOOKS:
            for part in hands.all(kind):
                if not any((step.part, step.action) == (part, action) for step in hands.attempt.steps):
                    hands.do(part, action)

    def stop_and_see_the_seacock(self) -> None:
        """Stop an engine that fires at the first turn at once, and see whether its seacock is open."""
        hands = self.hands
        if hands.running:
            hands.stop()
            for part in hands.all("exhaust"):
                hands.do(part, "look")

    def search(self) -> tuple[tuple[str, str], ...]:
        """Check what tells most for its minutes until one thing is left; return it as (fault, part), or nothing."""
        self.show()
        done: list[str] = []
        for _ in range(MOST_CHECKS):
            check = None if self.coach.is_known else self.coach.best()
            if check is None or check.name in done:
                break
            done.append(check.name)
            alive = len(self.coach.alive)
            self.look_first(check.deeds)
            for part, action in check.deeds:
                self.hands.do(part, action)
            if check.is_turn:
                self.stop_and_see_the_seacock()
            steps = self.show()
            if len(self.coach.alive) < alive:
                self.telling = tuple(
                    one.number for step in steps for one in step.observations if one.key not in OWN_DEEDS
                )
        self.hands.stop()
        if not self.coach.is_known:
            return ()
        return self.coach.causes[min(self.coach.alive)].said


def confirm(hands: Hands, fault: str, part: str) -> set[str]:
    """Look at the part that is under suspicion before it is touched; return what was noticed there."""
    actions = ("look", *CONFIRMED_BY.get(fault, ()))
    keys = {key for action in actions if hands.offers(part, action) for key in hands.do(part, action)}
    hands.stop()
    return keys - OWN_DEEDS


def cure(hands: Hands, fault: str, part: str) -> None:
    """Cure what was found, by the proper procedure."""
    at_tank = fault == "water_in_bowl" and part in hands.all("tank")
    SURE_CURES["water_in_tank" if at_tank else fault](hands, part)
    if fault == "shut_seacock" and "impeller_torn" in hands.do(part, "look_impeller"):
        hands.do(part, "new_impeller")
    if fault == "water_in_bowl":
        drain_once_more(hands, hands.one("separator"))
    if fault in ("slime", "dirt_in_tank"):
        clean_once_more(hands, part, hands.one("separator"))


def follow_the_coach(attempt: Attempt) -> None:
    """Searches by the best policy, cures, tries, bleeds once more where it starves.

    Where the coach is at an end, or the cure does not do, goes on like the sound one.
    """
    hands = Hands(attempt)
    make_safe(hands)
    follower = Follower(hands)
    said = follower.search()
    if not said:
        work(hands)
        leave_well(hands)
        return
    for fault, part in said:
        told = {one.key for one in attempt.observations if one.number in follower.telling}
        hands.note(part, fault, *sorted(told | confirm(hands, fault, part)))
        cure(hands, fault, part)
    amiss = hands.tries_out()
    if amiss:
        hands.stop()
        bleed(hands)
        amiss = hands.tries_out()
    if amiss or not proves_itself(hands):
        hands.stop()
        work(hands)
    leave_well(hands)
