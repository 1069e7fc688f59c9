"""Judges of bleeding: outwards, with fuel there, until solid, tightened while it flows, the leak looked for."""

from __future__ import annotations

from engine_sim.marking.judges import Verdict, done_before, verdict
from engine_sim.marking.scheme import Limits
from engine_sim.marking.signs import (
    CRANKS,
    FILTERS_OFF,
    FITS,
    LEVER,
    LINES_OPENED,
    OPENINGS,
    OWN_AIR,
    RAN_WEAK,
    RUNS,
    SHUT_FLOWING,
    SHUT_ON_FROTH,
    SHUT_STILL,
    TURNS,
    UNION_NUTS,
    BleedPoint,
    bleed_points,
    nut_is_slack,
    ran_solid,
    result_at,
    supply_is_open,
    undone_by_hand,
)
from engine_sim.marking.track import Moment, Patterns, Track

LONG_FOUL_S = 240.0
"""For how long fuel is driven by lever or pump until air that still comes wants an explanation [s]; judgement."""
PRIMED_S = 30.0
"""For how long lever or electric pump work until what was opened is full again [s]; common practice, no source."""
LEAK_TRIES: Patterns = ("joint.wipe_and_try", "joint.nip_up", "joint.remake", "*.try_vent", "*.try_screw")
LETS_AIR_IN: Patterns = (
    *FILTERS_OFF,
    *FITS,
    *(one for one in LINES_OPENED if one not in ("return_line.blow_through", "*_pump.fit_gauge")),
    "tank.wipe_out",
)
_BY_HAND: Patterns = ("fine_filter.*", "*injection_pump.*", "*.look")


def screw_points(track: Track) -> list[BleedPoint]:
    """Return the bleeding places on the low-pressure side."""
    return [point for point in bleed_points(track) if not point.by_starter]


def bled_outwards(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the bleeding at each place beyond the first: the place before it must have run clear by then.

    Where the place before was bled once more, what came there counts for the next bleeding too.
    """
    found = []
    points = bleed_points(track)
    for index, point in enumerate(points):
        here = [other for other in points[:index] if other.stage == point.stage]
        nearer = here or [other for other in points[:index] if other.stage == point.stage - 1]
        for moment in _bleedings(track, point, nearer) if nearer else []:
            ran = _ran_before(track, moment, nearer)
            found.append(Verdict(moment, ran if here else float(ran >= 1.0)))
    return sorted(found, key=lambda one: one.moment.number)


def _bleedings(track: Track, point: BleedPoint, nearer: list[BleedPoint]) -> list[Moment]:
    """Return the first bleeding at a place, and the first one after each time when a nearer place was bled again.

    At an engine that runs nothing is at stake.
    """
    found: list[Moment] = []
    again = True
    for moment in track.moments:
        if point.is_bled_by(moment):
            if again and moment.before.get("engine") != "running":
                found.append(moment)
            again = False
        elif any(other.is_bled_by(moment) for other in nearer):
            again = True
    return found


def _ran_before(track: Track, moment: Moment, places: list[BleedPoint]) -> float:
    """Return 1 where one of the places ran clear last, a half where none of them was tried, 0 where it ran foul."""
    results = [result_at(m, place) for m in track.before(moment) for place in places if place.is_bled_by(m)]
    if not results:
        return 0.5
    return 1.0 if results[-1] == "clear" else 0.0


def bled_with_fuel_open(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each bleeding after the learner had shut the way from the tank: it must be open again, or a can in use."""
    found = []
    shutting = ("shut_off_valve.shut", "changeover_valve.to_none")
    for moment in track.moments:
        bled = any(point.is_bled_by(moment) for point in screw_points(track))
        if bled and done_before(track, moment, shutting):
            found.append(verdict(moment, supply_is_open(track, moment.before) or bool(moment.before.get("can_in_use"))))
    return found


def bled_to_clear(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the last closing of each place that ran: solid fuel when closed, and closed while it was still flowing.

    A nut slackened on a running engine, to hear what its cylinder does, is a check and no bleeding.
    """
    found = []
    for point in bleed_points(track):
        runs = [
            m
            for m in track.moments
            if point.is_bled_by(m) and result_at(m, point) in ("clear", "foul")
            if not (point.by_starter and m.before.get("engine") == "running")
        ]
        closings = [m for m in track.among(point.closings) if runs and m.number > runs[-1].number]
        if closings:
            found.append(Verdict(closings[0], _how_closed(track, point, runs[-1], closings[0])))
    return found


def _how_closed(track: Track, point: BleedPoint, last_run: Moment, closing: Moment) -> float:
    """Return 0 for a place closed on froth, else a half for solid fuel and a half for having it flow meanwhile.

    Froth that comes only while the screw is tightened, after a long solid run, costs a half: it could be opened again.
    """
    if result_at(last_run, point) != "clear":
        return 0.0
    solid = 1.0 if ran_solid(last_run, point) else 0.5
    if SHUT_ON_FROTH in closing.keys:
        return 0.5 if solid >= 1.0 else 0.0
    return 0.5 * solid + 0.5 * _was_flowing(track, point, last_run, closing)


def _was_flowing(track: Track, point: BleedPoint, last_run: Moment, closing: Moment) -> bool:
    """Say whether a place was closed while it flowed: it was seen to, or nothing else was done between.

    Where little wells up at best, nobody sees it flow in the moment of closing.
    """
    if point.by_starter or closing.keys & SHUT_FLOWING:
        return True
    between = [m for m in track.after(last_run) if m.number < closing.number]
    seen_still = SHUT_STILL in closing.keys and RAN_WEAK not in last_run.keys
    return not seen_still and all(m.among(_BY_HAND) for m in between)


def sought_the_leak(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the moment when the fine filter had run foul for long, with no work of one's own that let air in before."""
    driven_s = 0.0
    points = [point for point in screw_points(track) if point.stage == 0]
    for moment in track.moments:
        if moment.among(OWN_AIR):
            return []
        foul = any(point.is_bled_by(moment) and result_at(moment, point) == "foul" for point in points)
        driven_s += _driven_s(track, moment) if foul else 0.0
        if driven_s > LONG_FOUL_S:
            return [verdict(moment, any(other.among(LEAK_TRIES) for other in track.moments))]
    return []


def _driven_s(track: Track, moment: Moment) -> float:
    """Return for how long fuel was driven [s]: a stroke of the lever a second, or the electric pump's time."""
    tail = moment.action.rsplit("_", 1)[-1]
    if moment.among(LEVER) and tail.isdigit():
        return float(tail)
    by_key = track.boat.has("electric_pump") and bool(moment.before.get("key_on"))
    return moment.end_s - moment.start_s if by_key else 0.0


def primed_before_start(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the first try to start after the circuit was opened: it must have been filled by lever or pump before."""
    found: list[Verdict] = []
    opened: Moment | None = None
    primed_s = 0.0
    for moment in track.moments:
        if moment.among(LETS_AIR_IN) or (moment.among(("separator.open_drain",)) and not track.boat.tank_above):
            opened, primed_s = moment, 0.0
        elif opened is not None and moment.among(CRANKS):
            found.append(verdict(moment, primed_s >= PRIMED_S))
            opened = None
        elif any(point.is_bled_by(moment) and result_at(moment, point) == "clear" for point in screw_points(track)):
            primed_s = PRIMED_S
        else:
            primed_s += _driven_s(track, moment)
    return found


def tight_before_start(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each turn of the starter after something was opened: screws, vents, drains and filters closed again.

    Union nuts are slack while the lines are bled by turning the engine; tight they must be when it is run.
    """
    openings = tuple(one for one in OPENINGS if one not in UNION_NUTS)
    cranks = [m for m in track.among(TURNS) if done_before(track, m, (*openings, "separator.open_vent"))]
    runs = [m for m in track.among(RUNS) if done_before(track, m, UNION_NUTS)]
    found = [verdict(m, not _stands_open(m) and not _joint_is_undone(track, m)) for m in cranks] + [
        verdict(m, not nut_is_slack(m.before)) for m in runs
    ]
    return sorted(found, key=lambda one: one.moment.number)


def _joint_is_undone(track: Track, moment: Moment) -> bool:
    """Say whether a joint stood loose that had been loosened by hand."""
    before = track.before(moment)
    return any(undone_by_hand(before, joint) for joint in track.boat.parts_of("joint"))


def _stands_open(moment: Moment) -> bool:
    """Say whether a bleed screw, a vent, a drain or a filter was seen to be open."""
    ends = ("screw_open", "_vent_open", "_drain_open")
    return any(bool(shown) and key.endswith(ends) for key, shown in moment.before.items()) or bool(
        moment.before.get("taken_apart")
    )
