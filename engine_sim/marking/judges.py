"""How a rule of order is judged: small functions that look through a track and return verdicts, one a moment."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from engine_sim.marking.scheme import Limits
from engine_sim.marking.signs import (
    BLEED_POINTS,
    CHECKS,
    CRANKS,
    ELEMENT_CHANGES,
    FAULT_CHANGES,
    FINE_FILTER,
    INJECTORS,
    OPENINGS,
    OWN_AIR,
    UNION_NUTS,
    bleeding_result,
    is_own_doing,
)
from engine_sim.marking.track import Moment, Patterns, Track


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a rule was kept at one moment; ``share`` [0..1] of that moment's worth."""

    moment: Moment
    share: float

    @property
    def kept(self) -> bool:
        """Say whether nothing was lost."""
        return self.share >= 1.0


LONG_FOUL_STROKES = 240
"""Strokes of the lever after which air that still comes wants an explanation; common practice, no source."""

Judge = Callable[[Track, Limits], list[Verdict]]


def verdict(moment: Moment, kept: bool) -> Verdict:
    """Return a whole verdict for or against."""
    return Verdict(moment, 1.0 if kept else 0.0)


def done_before(track: Track, moment: Moment, needs: Patterns) -> bool:
    """Say whether one of ``needs`` was done earlier than ``moment``."""
    return any(other.among(needs) for other in track.before(moment))


def first_needs(trigger: Patterns, *needs: Patterns) -> Judge:
    """Judge the first triggering moment only: each of ``needs`` must have been done before it, each worth a share."""

    def judge(track: Track, limits: Limits) -> list[Verdict]:
        triggered = track.among(trigger)[:1]
        return [Verdict(m, sum(done_before(track, m, need) for need in needs) / len(needs)) for m in triggered]

    return judge


def each_needs(trigger: Patterns, needs: Patterns) -> Judge:
    """Judge every triggering moment: one of ``needs`` must have been done before it."""

    def judge(track: Track, limits: Limits) -> list[Verdict]:
        return [verdict(m, done_before(track, m, needs)) for m in track.among(trigger)]

    return judge


def each_stands(trigger: Patterns, key: str, value: object) -> Judge:
    """Judge every triggering moment: ``key`` of what could be seen just before must be ``value``."""

    def judge(track: Track, limits: Limits) -> list[Verdict]:
        return [verdict(m, m.before.get(key) == value) for m in track.among(trigger)]

    return judge


def once_it_has_run(trigger: Patterns) -> Judge:
    """Judge every triggering moment after the engine has run: it must stand. Before that nothing was at stake."""

    def judge(track: Track, limits: Limits) -> list[Verdict]:
        ran = next((m.number for m in track.moments if m.after.get("engine") == "running"), None)
        later = [m for m in track.among(trigger) if ran is not None and m.number > ran]
        return [verdict(m, m.before.get("engine") == "stopped") for m in later]

    return judge


def both(*judges: Judge) -> Judge:
    """Put the verdicts of several judges together."""

    def judge(track: Track, limits: Limits) -> list[Verdict]:
        found = [one for judge_one in judges for one in judge_one(track, limits)]
        return sorted(found, key=lambda one: one.moment.number)

    return judge


def looked_before_change(table: dict[str, Patterns]) -> Judge:
    """Judge each change in ``table`` for a check before it, unless it puts back the learner's own doing."""

    def judge(track: Track, limits: Limits) -> list[Verdict]:
        changes = [m for m in track.among(tuple(table)) if not is_own_doing(track, m)]
        found = []
        for moment in changes:
            needs = next(table[pattern] for pattern in table if moment.among((pattern,)))
            at_the_part = tuple(need.replace("{part}", moment.part) for need in needs)
            found.append(verdict(moment, done_before(track, moment, at_the_part)))
        return found

    return judge


def checked_after_change(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each change: something that can show its effect must be done before the next change."""
    changes = [m for m in track.among(FAULT_CHANGES) if not is_own_doing(track, m)]
    found = []
    for index, moment in enumerate(changes):
        until = changes[index + 1].number if index + 1 < len(changes) else float("inf")
        between = [m for m in track.after(moment) if m.number < until]
        shows = any(m.among(CHECKS + CRANKS) for m in between)
        found.append(verdict(moment, shows))
    return found


def crank_seconds(moment: Moment) -> float:
    """Return for how long the key was to be held [s], from the action's name (``crank_10``)."""
    return float(moment.action.rsplit("_", 1)[-1])


def cranked_kindly(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each turn of the starter: within the time in one go, and with something found out between."""
    found = []
    in_one_go_s, since_finding_s, last_end_s = 0.0, 0.0, float("-inf")
    for moment in track.moments:
        if not moment.among(CRANKS):
            since_finding_s = 0.0 if moment.among(CHECKS + FAULT_CHANGES + OPENINGS) else since_finding_s
            continue
        rested = moment.start_s - last_end_s >= limits.crank_rest_s
        turned_s = min(crank_seconds(moment), moment.end_s - moment.start_s)
        in_one_go_s = (0.0 if rested else in_one_go_s) + turned_s
        since_finding_s = 0.0 if INJECTORS.is_bled_by(moment) else since_finding_s + turned_s
        last_end_s = moment.end_s
        kept = in_one_go_s <= limits.crank_in_one_go_s and since_finding_s <= limits.crank_without_finding_s
        found.append(verdict(moment, kept))
    return found


def bled_outwards(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the first bleeding at each place beyond the first screw: the place before it must have run clear."""
    found = []
    for nearer, farther in pairwise(BLEED_POINTS):
        first = next((m for m in track.moments if farther.is_bled_by(m)), None)
        if first is not None:
            before = [bleeding_result(m, nearer) for m in track.before(first) if nearer.is_bled_by(m)]
            found.append(verdict(first, bool(before) and before[-1] == "clear"))
    return found


def sought_the_leak(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the moment when the fine filter had run foul for long, with no work of one's own that let air in before."""
    strokes = 0
    for moment in track.moments:
        if moment.among(OWN_AIR):
            return []
        if FINE_FILTER.is_bled_by(moment) and bleeding_result(moment, FINE_FILTER) == "foul":
            strokes += int(moment.action.rsplit("_", 1)[-1])
        if strokes > LONG_FOUL_STROKES:
            tried = any(other.among(("*_joint.wipe_and_try", "*_joint.nip_up")) for other in track.moments)
            return [verdict(moment, tried)]
    return []


def bled_to_clear(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the last closing of each place that ran: clear fuel when closed, and closed while it was still flowing."""
    found = []
    for point in BLEED_POINTS:
        runs = [m for m in track.moments if point.is_bled_by(m) and bleeding_result(m, point) != "nothing"]
        closings = [m for m in track.among(point.closings) if runs and m.number > runs[-1].number]
        if not closings:
            continue
        between = [m for m in track.after(runs[-1]) if m.number < closings[0].number]
        flowing = point.by_starter or all(m.among(("*.look", *point.closings)) for m in between)
        clear = bleeding_result(runs[-1], point) == "clear"
        found.append(Verdict(closings[0], (0.5 * clear + 0.5 * flowing) if clear else 0.0))
    return found


def tight_before_start(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each turn of the starter after something was opened: screws, vent and drain must be closed again."""
    openings = ("fine_filter.open_screw", "injection_pump.open_screw", "separator.open_vent", "separator.open_drain")
    shows = ("fine_filter_screw_open", "injection_pump_screw_open", "separator_vent_open", "separator_drain_open")
    cranks = [m for m in track.among(CRANKS) if done_before(track, m, openings)]
    return [verdict(m, not any(m.before.get(key) for key in shows)) for m in cranks]


def tried_flow_first(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each change of an element and each slackened nut: flow must have been tried at the fine filter before."""
    found = []
    for moment in track.among(ELEMENT_CHANGES + UNION_NUTS):
        found.append(verdict(moment, any(FINE_FILTER.is_bled_by(m) for m in track.before(moment))))
    return found


def vent_opened_with_drain(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each opening of the drain: the vent on top must be open by the time the drain is closed."""
    found = []
    for moment in track.among(("separator.open_drain",)):
        closed = next((m for m in track.after(moment) if m.among(("separator.close_drain",))), None)
        vented = bool((closed.before if closed else moment.after).get("separator_vent_open"))
        found.append(verdict(moment, vented))
    return found


def no_empty_repeats(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the checks: the same one again with the same answer and nothing done between tells nothing new."""
    answers: dict[str, frozenset[str]] = {}
    repeats: list[Moment] = []
    checks = track.among(CHECKS)
    for moment in track.moments:
        if not moment.among(CHECKS) or moment.among(("lift_pump.lever_*",)):
            answers = {}
        elif answers.get(moment.name) == moment.keys:
            repeats.append(moment)
        else:
            answers[moment.name] = moment.keys
    if not checks:
        return []
    too_many = len(repeats) - int(limits.free_repeats)
    return [verdict(checks[-1], True)] if too_many <= 0 else [Verdict(repeats[-1], 1.0 / (1.0 + too_many))]
