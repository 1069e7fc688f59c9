"""Judges of the procedures: draining, changing an element, the high-pressure lines, the fuel can, a bad tank."""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.marking.judges import Judge, Verdict, done_before, verdict
from engine_sim.marking.judges_bleeding import screw_points
from engine_sim.marking.scheme import Limits
from engine_sim.marking.signs import (
    FILTERS_OFF,
    RUNS,
    TURNS,
    UNION_NUTS,
    at_part,
    nut_is_slack,
    result_at,
    supply_is_open,
    turned_s,
)
from engine_sim.marking.track import Moment, Patterns, Track

SHORT_TURN_S = 10.0
"""The longest turn of the starter with a union nut slack [s]; common practice, no source."""
DRAIN: Patterns = ("separator.open_drain",)
_STARTS_IN_THE_JAR = "return_line.to_jar"


def drained_with_tank_below(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each opening of the drain: way from the tank shut before, vent open by the time the drain is closed."""
    found = []
    for moment in track.among(DRAIN):
        closed = _closing(track, moment)
        vented = bool((closed.before if closed else moment.after).get(f"{moment.part}_vent_open"))
        found.append(Verdict(moment, 0.5 * (not supply_is_open(track, moment.before)) + 0.5 * vented))
    return found


def drained_with_tank_above(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each opening of the drain: way from the tank open; shut and vented is half as good."""
    found = []
    for moment in track.among(DRAIN):
        closed = _closing(track, moment)
        vented = bool((closed.before if closed else moment.after).get(f"{moment.part}_vent_open"))
        found.append(Verdict(moment, 1.0 if supply_is_open(track, moment.before) else 0.5 * vented))
    return found


def _closing(track: Track, moment: Moment) -> Moment | None:
    """Return the moment when a drain was closed that the moment had opened."""
    return next((m for m in track.after(moment) if m.among((f"{moment.part}.close_drain",))), None)


def drained_to_clean(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each drain that ran: the last that came was no water, and the jar was looked at before it was emptied.

    Whoever turns at a tap that is open already goes on with the same drain, and so does who closes it to read the jar
    and opens it again.
    """
    found = []
    for moment in track.among(DRAIN):
        if moment.before.get(f"{moment.part}_drain_open"):
            continue
        closed = _closing(track, moment)
        if closed is not None and _goes_on(track, closed):
            continue
        until = closed.number if closed else float("inf")
        keys = [
            seen.key
            for m in track.moments
            if moment.number <= m.number <= until
            for seen in m.observations
            if seen.part == moment.part and seen.key.startswith("drain_runs")
        ]
        if keys:
            found.append(Verdict(moment, 0.5 * (keys[-1] != "drain_runs_water") + 0.5 * _read_jar(track, moment)))
    return found


def _goes_on(track: Track, closed: Moment) -> bool:
    """Tell whether the same drain is opened again before anything but jar and bowl was seen to."""
    for later in track.after(closed):
        if later.among((f"{closed.part}.open_drain",)):
            return True
        if not later.among(("*.read_jar", "*.empty_jar", "*.fresh_jar", f"{closed.part}.look", "bench.wait_*")):
            return False
    return False


def _read_jar(track: Track, moment: Moment) -> bool:
    """Say whether a jar was held to the light before it was emptied."""
    for later in track.after(moment):
        if later.among(("*.read_jar",)):
            return True
        if later.among(("bench.empty_jar", "bench.fresh_jar")):
            return False
    return False


def shut_before_opening(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each filter or line opened: the way from the tank must be shut, or a can was in use.

    A valve that stood shut without anybody knowing is nobody's care.
    """
    opened = (*FILTERS_OFF, "*_pump.change_pump", "joint.new_hose", "joint.remake")
    found = []
    for moment in track.among(opened):
        on_can, is_open = bool(moment.before.get("can_in_use")), supply_is_open(track, moment.before)
        if on_can or is_open or done_before(track, moment, ("shut_off_valve.*", "changeover_valve.*")):
            found.append(verdict(moment, on_can or not is_open))
    return found


def each_job(start: Patterns, end: Patterns, steps: Mapping[str, Patterns], bad_ends: Mapping[str, Patterns]) -> Judge:
    """Judge a job done step by step, from ``start`` to ``end``: each step has a share, and how it ended has one.

    ``steps`` and ``bad_ends`` go by what is said where a step was left out, or the end was bad.
    """

    def judge(track: Track, limits: Limits) -> list[Verdict]:
        found = []
        for moment in track.among(start):
            ended = next((m for m in track.after(moment) if m.part == moment.part and m.among(end)), None)
            if ended is None:
                continue
            offered = {name: step for name, step in steps.items() if _is_offered(track, moment.part, step)}
            until = track.before(ended)
            left_out = [
                name for name, step in offered.items() if not any(m.among(at_part(step, moment.part)) for m in until)
            ]
            left_out += [name for name, bad in bad_ends.items() if ended.among(bad) and not _mended(track, ended)]
            found.append(Verdict(ended, 1.0 - len(left_out) / (len(offered) + 1), tuple(left_out)))
        return found

    return judge


def _is_offered(track: Track, part: str, step: Patterns) -> bool:
    """Say whether a step can be done in this boat: only the ball of an inlet is not in every separator."""
    return "{part}.check_ball" not in step or part in track.boat.with_ball


def _mended(track: Track, fitted: Moment) -> bool:
    """Say whether a filter that only touched its seat was tightened a little more before the starter was turned."""
    if not fitted.among(("fine_filter.fit_loose",)):
        return False
    later = track.after(fitted)
    started = next((m.number for m in later if m.among(TURNS)), float("inf"))
    return any(m.among((f"{fitted.part}.nip_up",)) and m.number < started for m in later)


def element_not_filled_dirty(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each new fine filter: nothing was poured into its clean side, and it was filled by bleeding.

    One that was never filled is another rule's matter.
    """
    found = []
    for moment in track.among(("fine_filter.fit_[!o]*",)):
        earlier = [m for m in track.before(moment) if m.part == moment.part]
        last_off = max((m.number for m in earlier if m.among(("fine_filter.take_off",))), default=0)
        poured = any(m.among(("fine_filter.pour_full",)) and m.number > last_off for m in earlier)
        if poured or _ran_clear_after(track, moment):
            found.append(verdict(moment, not poured))
    return found


def _ran_clear_after(track: Track, moment: Moment) -> bool:
    """Say whether fuel ran clear at a bleed screw after a moment."""
    points = screw_points(track)
    return any(point.is_bled_by(m) and result_at(m, point) == "clear" for m in track.after(moment) for point in points)


def bled_the_lines(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each turn of the engine with a union nut slack: a short one. The seacock is a matter of safety."""
    found = []
    for moment in track.among(TURNS):
        if nut_is_slack(moment.before):
            found.append(verdict(moment, turned_s(moment) <= SHORT_TURN_S))
    return found


def looked_for_spray(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the nuts that were slackened, once the engine runs again: looked at, or tried with a card."""
    slackened = track.among(UNION_NUTS)
    if not slackened:
        return []
    runs = [m for m in track.after(slackened[-1]) if m.after.get("engine") == "running" and not nut_is_slack(m.after)]
    if not runs:
        return []
    later = [m for m in track.moments if m.number > runs[0].number]
    nuts = sorted({m.part for m in slackened})
    seen = [any(m.among((f"{nut}.card", f"{nut}.look", "bench.look_around")) for m in later) for nut in nuts]
    return [Verdict(runs[0], sum(seen) / len(seen))]


def lobe_tried_again(track: Track, limits: Limits) -> list[Verdict]:
    """Judge a lever that flopped: the engine turned a little before the pump is condemned or the work handed in."""
    flopped = next((m for m in track.moments if "lever_flops" in m.keys), None)
    if flopped is None:
        return []
    for later in track.after(flopped):
        if later.among((*TURNS, "engine.turn_by_hand")):
            return [verdict(flopped, True)]
        if later.among(("*_pump.change_pump",)):
            return [verdict(later, False)]
    return [verdict(flopped, False)]


def can_stands_right(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each start and run on a can: lashed, its cap cracked, and the way from the tank shut."""
    found = []
    for moment in track.among((*TURNS, *RUNS)):
        seen = moment.before
        if seen.get("can_in_use"):
            kept = [bool(seen.get("can_lashed")), bool(seen.get("can_cap_open")), not supply_is_open(track, seen)]
            found.append(Verdict(moment, sum(kept) / len(kept)))
    return found


def can_return_first_to_jar(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the return line while a can feeds: not to the tank in a run, and into the jar before into the can."""
    found = [verdict(m, m.before.get("return_to") != "tank") for m in track.among(RUNS) if m.before.get("can_in_use")]
    led = track.among(("return_line.to_can",))[:1]
    found += [verdict(m, done_before(track, m, (_STARTS_IN_THE_JAR,))) for m in led]
    return sorted(found, key=lambda one: one.moment.number)


def water_off_first(track: Track, limits: Limits) -> list[Verdict]:
    """Judge polishing and biocide: water and what lies at the bottom drawn off before, at the same tank."""
    found = []
    for moment in track.among(("tank.polish", "tank.dose")):
        needs = at_part(("{part}.draw_bottom", "{part}.sample_sump", "{part}.wipe_out"), moment.part)
        found.append(verdict(moment, done_before(track, moment, needs)))
    return found
