"""Judges of what comes first: cheap looks before openings, and a test that splits the circuit before dear changes.

Work that a check had led to is not asked for more: who sees water in the bowl need not look elsewhere first.
"""

from __future__ import annotations

from engine_sim.marking.judges import Judge, Verdict, done_before, is_possible, verdict
from engine_sim.marking.scheme import Limits
from engine_sim.marking.signs import (
    DEAR_CHANGES,
    FILTERS_OFF,
    FUEL_WORK,
    LINES_OPENED,
    LOW_PRESSURE_SCREWS,
    TURNS,
    TURNS_BADLY,
    bleed_points,
    led_there,
)
from engine_sim.marking.track import Moment, Patterns, Track

DIPS: Patterns = ("tank.dip", "tank.dip_paste")
STOP_LOOKS: Patterns = ("stop_lever.*", "stop_solenoid.*")
SHUT_OFF_LOOKS: Patterns = ("shut_off_valve.look", "shut_off_valve.open")
CHANGEOVER_LOOKS: Patterns = ("changeover_valve.look", "changeover_valve.to_*")
BREATHER_TRIES: Patterns = ("tank.crack_cap", "tank.open_cap", "tank.clear_breather", "tank.add_fuel")
BOWL_LOOKS: Patterns = ("separator.look", "separator.read_jar", "bench.read_jar", "tank.sample_sump", "tank.dip_paste")
CRANKING_CHECKS: Patterns = (
    "battery.*",
    "starter.[!cr]*",
    "starter.clean_terminal",
    "starter.change",
    "hand_start.look",
    "engine.turn_by_hand",
    "engine.dip_oil",
    "exhaust.*",
)


def first_blind(track: Track, trigger: Patterns) -> list[Moment]:
    """Return the first triggering moment with the engine standing, unless a check had already led to its part.

    What is done at a running engine is a matter of safety: there is fuel, and it cranks.
    """
    standing = [m for m in track.among(trigger) if m.before.get("engine") != "running"]
    return [m for m in standing[:1] if not led_there(track, m)]


def blind_needs(trigger: Patterns, *needs: Patterns) -> Judge:
    """Judge the first triggering moment that no check led to: each of ``needs`` that the boat has, before it."""

    def judge(track: Track, limits: Limits) -> list[Verdict]:
        asked = [need for need in needs if is_possible(track.boat, need)]
        found = first_blind(track, trigger) if asked else []
        return [Verdict(m, sum(done_before(track, m, need) for need in asked) / len(asked)) for m in found]

    return judge


def knew_how_it_cranks(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the first work on the fuel side: how the engine turns must be known by then, or it ran."""
    found = []
    for moment in first_blind(track, FUEL_WORK):
        ran = any(m.before.get("engine") == "running" for m in track.before(moment))
        found.append(verdict(moment, ran or done_before(track, moment, (*TURNS, "battery.look", "battery.volts"))))
    return found


def followed_the_starter(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the first work on the fuel side after the engine turned badly or not at all: look there first."""
    bad = next((m for m in track.among(TURNS) if m.keys & TURNS_BADLY), None)
    if bad is None:
        return []
    later = [m for m in track.among(FUEL_WORK) if m.number > bad.number][:1]
    between = [m for m in track.after(bad) if later and m.number < later[0].number]
    return [
        verdict(m, any(other.among(CRANKING_CHECKS) for other in between)) for m in later if not led_there(track, m)
    ]


def fuel_there_and_open(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the first work on the fuel side: the tank in use dipped, shut-off and changeover looked at."""
    found = []
    for moment in first_blind(track, FUEL_WORK):
        done = [_dipped(track, moment)]
        done += [
            done_before(track, moment, need)
            for need in (SHUT_OFF_LOOKS, CHANGEOVER_LOOKS)
            if is_possible(track.boat, need)
        ]
        found.append(Verdict(moment, sum(done) / len(done)))
    return found


def _dipped(track: Track, moment: Moment) -> bool:
    """Say whether the dipstick had been in a tank that feeds the engine."""
    dipped = [m.part for m in track.before(moment) if m.among(DIPS)]
    in_use = track.boat.tanks_in_use(moment.before)
    return any(part in in_use or not in_use for part in dipped)


def opened_blind(track: Track) -> list[Moment]:
    """Return the first dear change, or line opened, at each part to which no check led, with cheap looks still to make.

    The cheap looks are those at the stop control, at the fuel in the tank, at the valves and into the bowl.
    """
    looks = (STOP_LOOKS, SHUT_OFF_LOOKS, CHANGEOVER_LOOKS, BOWL_LOOKS)
    asked = [need for need in looks if is_possible(track.boat, need)]
    found: dict[str, Moment] = {}
    for moment in track.among((*DEAR_CHANGES, *LINES_OPENED)):
        place = "injectors" if moment.kind == "injector" else moment.part
        if place in found or led_there(track, moment) or moment.before.get("engine") == "running":
            continue
        if not (_dipped(track, moment) and all(done_before(track, moment, need) for need in asked)):
            found[place] = moment
    return list(found.values())


def bowl_before_bleeding(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the first bleeding or filter opened: what the bowl holds must have been looked at, in glass or in a jar."""
    trigger = (*LOW_PRESSURE_SCREWS, *FILTERS_OFF)
    if track.boat.glass_bowls or not track.boat.kinds:
        trigger = ("separator.open_drain", *trigger)
    return blind_needs(trigger, BOWL_LOOKS)(track, limits)


def breather_before_changing(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the first dear change that no check led to: the filler cap loosened and listened at before."""
    return blind_needs(tuple(one for one in DEAR_CHANGES if one != "injector.slacken_nut"), BREATHER_TRIES)(
        track, limits
    )


def tried_flow_first(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each dear change that no check led to: what comes at a bleed screw must have been tried before.

    At the injectors of an engine that has run there is fuel: they need no such test. Where a check led to one change,
    nothing is said of the others that were well tried.
    """
    points = [point for point in bleed_points(track) if not point.by_starter]
    ran = next((m.number for m in track.moments if m.after.get("engine") == "running"), float("inf"))
    found, led = [], False
    for moment in track.among(DEAR_CHANGES):
        if moment.kind == "injector" and moment.number > ran:
            continue
        tried = any(point.is_bled_by(m) for m in track.before(moment) for point in points)
        if tried or not led_there(track, moment):
            found.append(verdict(moment, tried))
        else:
            led = True
    return [] if led and all(one.kept for one in found) else found
