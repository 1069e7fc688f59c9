"""Judges of looking before changing, of one change at a time, of the starter and of checks that tell nothing new."""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.marking.judges import Judge, Verdict, done_before, verdict
from engine_sim.marking.scheme import Limits
from engine_sim.marking.signs import (
    CHECKS,
    CRANKS,
    FAULT_CHANGES,
    LEVER,
    NEW_ELEMENTS,
    OPENINGS,
    RUNS,
    TURNS,
    UNION_NUTS,
    WAITS,
    at_part,
    bleed_points,
    is_own_doing,
    led_there,
    turned_s,
)
from engine_sim.marking.track import Moment, Patterns, Track

SHOWS_AFTERWARDS: Patterns = (
    *TURNS,
    *RUNS,
    *LEVER,
    *WAITS,
    "fine_filter.open_*screw",
    "*injection_pump.open_*screw",
    "bench.look_around",
    "*.read_*",
    "engine.key_on",
    "engine.look",
)
"""What can show the effect of a change wherever it was made."""
AT_THE_PART: Patterns = (
    "{part}.look*",
    "{part}.dip*",
    "{part}.wipe_and_try",
    "{part}.try_*",
    "{part}.volts",
    "{part}.listen",
    "{part}.feel_*",
    "{part}.card",
    "{part}.sample_sump",
    "{part}.crack_cap",
    "{part}.drop_test",
    "{part}.heat_*",
    "{part}.tap*",
)
DIRTY = frozenset(
    {
        "bowl_dark",
        "bowl_slime",
        "bowl_grit",
        "element_dark",
        "element_waxy",
        "jar_slime",
        "jar_dirt",
        "dip_slime",
        "dip_grit",
    }
)
FINDS_OUT: Patterns = (*CHECKS, *FAULT_CHANGES, *OPENINGS)
WAS_SOUND = frozenset(
    {
        "breather_free",
        "blown_easily",
        "return_free",
        "joint_was_tight",
        "filter_was_tight",
        "terminals_were_clean",
        "exhaust_was_clear",
    }
)
"""What is noticed where a change found nothing to change."""
_PUT_BACK: Patterns = ("separator.fit_old", "fine_filter.fit_old")
_RESETS: Patterns = (*LEVER, *RUNS, "preheat.heat_*", "engine.smoke")


def looked_before_change(table: Mapping[str, Patterns]) -> Judge:
    """Judge each change in ``table`` for a check before it, unless it puts back the learner's own doing.

    What another check showed of the part counts as a look. The first change at a part counts, not those that follow
    from it there.
    """

    def judge(track: Track, limits: Limits) -> list[Verdict]:
        found, changed = [], []
        for moment in track.among(tuple(table)):
            if moment.part in changed or is_own_doing(track, moment):
                continue
            changed.append(moment.part)
            needs = next(table[pattern] for pattern in table if moment.among((pattern,)))
            looked = done_before(track, moment, at_part(needs, moment.part)) or led_there(track, moment)
            found.append(verdict(moment, looked))
        return found

    return judge


def checked_after_change(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each change: something that can show its effect must be done before the next one at another part.

    An old element put back is a change as well, and so is a joint loosened, and the first union nut slackened after
    work elsewhere. Elements that dirt has been seen in may be changed in one go. What turned out to be sound was not
    changed: how it was found is the check.
    """
    work = track.among((*FAULT_CHANGES, *_PUT_BACK, *UNION_NUTS, "joint.undo"))
    steps = [m for m in work if not (m.keys & WAS_SOUND or is_own_doing(track, m))]
    found = []
    for index, moment in enumerate(steps):
        if moment.among(UNION_NUTS):
            continue
        following = next((m for m in steps[index + 1 :] if moment.kind != "injector" or not m.among(UNION_NUTS)), None)
        if following is not None and (following.part == moment.part or _one_job(track, moment, following)):
            continue
        last = following.number if following is not None else float("inf")
        shows = (*SHOWS_AFTERWARDS, *at_part(AT_THE_PART, moment.part))
        found.append(verdict(moment, any(m.among(shows) and m.number < last for m in track.after(moment))))
    return found


def _one_job(track: Track, moment: Moment, following: Moment) -> bool:
    """Say whether two elements are changed one after the other because dirt was seen, or a line opened to blow back.

    A tank that was wiped out is filled again before it can be seen what that did: this is the same job too.
    """
    if moment.among(("joint.undo",)) and following.among(("tank.blow_back",)):
        return True
    work = (
        *NEW_ELEMENTS,
        *_PUT_BACK,
        "separator.wipe_bowl",
        "tank.draw_bottom",
        "tank.polish",
        "tank.dose",
        "tank.wipe_out",
        "tank.add_fuel",
    )
    if not (moment.among(work) and following.among(work)):
        return False
    return any(m.keys & DIRTY for m in track.moments if m.number < following.number)


def found_out_between(track: Track, limits: Limits) -> list[Verdict]:
    """Judge each try after the first: something must be found out before the engine was turned for too long in all.

    Where no try went on for too long, but some followed each other with nothing between, there is nothing to say.
    """
    nuts = next((point for point in bleed_points(track) if point.by_starter), None)
    found: list[Verdict] = []
    since_finding_s, tries, in_a_row = 0.0, 0, False
    for moment in track.moments:
        if not moment.among(CRANKS):
            since_finding_s = 0.0 if moment.among(FINDS_OUT) else since_finding_s
            continue
        bleeds = nuts is not None and nuts.is_bled_by(moment)
        in_a_row = in_a_row or (since_finding_s > 0.0 and not bleeds)
        since_finding_s = 0.0 if bleeds else since_finding_s + turned_s(moment)
        too_long = since_finding_s > limits.crank_without_finding_s
        tries += 1
        if tries > 1 or too_long:
            found.append(verdict(moment, not too_long))
    return [] if in_a_row and all(one.kept for one in found) else found


def no_empty_repeats(track: Track, limits: Limits) -> list[Verdict]:
    """Judge the checks: the same one again with the same answer and nothing done between tells nothing new.

    A few repeats are free. It is only spoken of where there were too many: not to have done it is no merit.
    """
    answers: dict[str, frozenset[str]] = {}
    repeats: list[Moment] = []
    for moment in track.moments:
        if moment.refused:
            continue
        if not moment.among(CHECKS) or moment.among(_RESETS):
            answers = {}
        elif answers.get(moment.name) == moment.keys:
            repeats.append(moment)
        else:
            answers[moment.name] = moment.keys
    too_many = len(repeats) - int(limits.free_repeats)
    return [Verdict(repeats[-1], 1.0 / (1.0 + too_many))] if too_many > 0 else []
