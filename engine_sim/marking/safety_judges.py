"""How a caution is judged: by the caution that stands beside an action at the bench, whatever the boat."""

from __future__ import annotations

from engine_sim.actions import caution_of
from engine_sim.marking.judges import Judge, Verdict, done_before, verdict
from engine_sim.marking.scheme import Limits
from engine_sim.marking.track import Moment, Patterns, Track

FUEL: tuple[str, ...] = ("fuel_opened", "fuelling", "high_pressure", "biocide")
OPENED: tuple[str, ...] = ("fuel_opened",)
TURNING: Patterns = (
    *("engine.turn_by_hand", "engine.clear_propeller", "exhaust.look_impeller", "exhaust.new_impeller"),
    *("battery.clean_terminals", "starter.clean_terminal", "starter.change", "injector.change", "preheat.mend"),
)
"""Work at which a turned key, or a slip with the spanner, hurts."""
CRANKS: Patterns = ("starter.crank_*", "starter.volts", "starter.drop_test", "hand_start.swing_*", "injector.listen")
BY_STARTER: Patterns = ("starter.crank_*", "starter.volts", "starter.drop_test")
HOT_WORK: Patterns = ("exhaust.look_elbow", "exhaust.clear", "injector.change", "preheat.mend", "preheat.feel_stems")
WRONG_FUEL = frozenset({"jar_petrol", "jar_crystals"})
CLEARS_FUEL: Patterns = ("tank.wipe_out", "tank.draw_bottom", "fuel_can.to_pump")
_LOOKS_LONG_S = 60.0
"""From so long on [s], what is done beside a running engine counts as letting it run on; judgement."""
_MEASURED = ("volts", "drop_test", "listen")
_MEASURED_S = 5.0
"""For how long another turns the engine while one measures or listens [s], as the bench says."""


def with_caution(track: Track, cautions: tuple[str, ...]) -> list[Moment]:
    """Return the moments at which something was done beside which one of the cautions stands."""
    return [m for m in track.moments if not m.refused and caution_of(m.kind, m.action) in cautions]


def before_the_first(cautions: tuple[str, ...], *needs: Patterns) -> Judge:
    """Judge the first moment with such a caution: each of ``needs`` must have been done before, each worth a share."""

    def judge(track: Track, limits: Limits) -> list[Verdict]:
        first = with_caution(track, cautions)[:1]
        return [Verdict(m, sum(done_before(track, m, need) for need in needs) / len(needs)) for m in first]

    return judge


def stands_at_each(cautions: tuple[str, ...], key: str, value: object) -> Judge:
    """Judge every moment with such a caution: ``key`` of what could be seen just before must be ``value``."""

    def judge(track: Track, limits: Limits) -> list[Verdict]:
        return [verdict(m, m.before.get(key) == value) for m in with_caution(track, cautions)]

    return judge


def engine_stood(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each opening of the fuel side and each turn of the starter once the engine has run: it must stand.

    One that dies while the hand is on its way counts as standing: that is all there was to notice.
    """
    ran = next((m.number for m in track.moments if m.after.get("engine") == "running"), None)
    if ran is None:
        return []
    at_stake = [*with_caution(track, OPENED), *track.among(BY_STARTER)]
    later = sorted((m for m in at_stake if m.number > ran), key=lambda m: m.number)
    return [verdict(m, m.before.get("engine") == "stopped" or "dies_meanwhile" in m.keys) for m in later]


def switched_off(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each piece of work among belts, shaft and heavy cables: an isolator, if there is one, must be off."""
    if not track.boat.has("battery"):
        return []
    return [verdict(m, m.before.get("battery_connected") is False) for m in track.among(TURNING)]


def turned_s(moment: Moment) -> float:
    """Return for how long the engine was turned in one moment [s]."""
    if moment.action in _MEASURED:
        return _MEASURED_S
    seconds = float(moment.action.rsplit("_", 1)[-1]) if moment.action[-1].isdigit() else _MEASURED_S
    return min(seconds, moment.end_s - moment.start_s)


def starter_rested(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each turn of the starter: not too long in one go, with a rest after."""
    found = []
    in_one_go_s, last_end_s = 0.0, float("-inf")
    for moment in track.among(BY_STARTER):
        rested = moment.start_s - last_end_s >= limits.crank_rest_s
        in_one_go_s = (0.0 if rested else in_one_go_s) + turned_s(moment)
        last_end_s = moment.end_s
        found.append(verdict(moment, in_one_go_s <= limits.crank_in_one_go_s))
    return found


def seacock_minded(track: Track, limits: Limits) -> list[Verdict]:
    """Judge long cranking, which wants the seacock shut, and a start with it shut, after which it must be opened."""
    found: list[Verdict] = []
    open_s, judged = 0.0, False
    for index, moment in enumerate(track.moments):
        if moment.among(("exhaust.drain",)) or moment.before.get("engine") == "running":
            open_s, judged = 0.0, False
        if not moment.among(CRANKS):
            continue
        is_open = moment.before.get("seacock_open") is True
        fired = moment.after.get("engine") == "running"
        open_s += turned_s(moment) if is_open and not fired else 0.0
        if open_s > limits.crank_seacock_open_s and not judged:
            found.append(verdict(moment, False))
            judged = True
        if moment.before.get("seacock_open") is False:
            found.append(verdict(moment, not fired or _opened_at_once(track.moments[index + 1 :])))
    return found


def _opened_at_once(later: tuple[Moment, ...]) -> bool:
    """Say whether the seacock was opened before the engine was run on, or the engine stopped again."""
    for moment in later:
        if moment.among(("exhaust.open_seacock", "engine.stop")):
            return True
        if moment.among(("engine.run_*",)) or moment.end_s - moment.start_s >= _LOOKS_LONG_S:
            return False
    return False


def no_bare_hand(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each search for spray: by a card, never by a hand; and each face that spray came near."""
    near = [m for m in track.moments if "spray_near_eyes" in m.keys]
    looked = track.among(("injector.card", "injector.finger"))
    found = [verdict(m, not m.among(("injector.finger",))) for m in looked]
    return sorted([*found, *(verdict(m, False) for m in near)], key=lambda one: one.moment.number)


def cooled_first(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each touch of hot parts: the engine must have cooled."""
    ran = any(m.before.get("engine_hot") for m in track.moments)
    return [verdict(m, not m.before.get("engine_hot")) for m in track.among(HOT_WORK)] if ran else []


def wrong_fuel_not_run(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the time after wrong fuel was found: the engine must not be turned on it."""
    found = next((m for m in track.moments if m.keys & WRONG_FUEL), None)
    if found is None:
        return []
    for moment in track.after(found):
        if moment.among(CLEARS_FUEL):
            break
        if moment.among((*CRANKS, "engine.run_*")):
            return [verdict(moment, False)]
    return [verdict(found, True)]


def made_fast_first(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the first work in a seaway: the boat must lie safely before."""
    first = with_caution(track, (*FUEL, "turning", "hot", "joint", "engineer", "can"))[:1]
    return [verdict(m, bool(m.before.get("made_fast"))) for m in first]
