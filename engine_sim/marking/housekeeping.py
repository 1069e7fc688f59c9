"""The housekeeping mark: how the boat was left. Common practice, no source, but for the waste (MARPOL Annex I)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine_sim.actions import Workplace, caution_of
from engine_sim.actions.housings import leak_share
from engine_sim.attempt import Attempt, Step
from engine_sim.marking.marksheet import Mark, Reason, make_mark
from engine_sim.marking.scheme import HousekeepingScheme, Limits, MarkingScheme
from engine_sim.marking.signs import undone_by_hand
from engine_sim.marking.track import Moment, Track

LOOKS = frozenset(
    {
        *("look", "look_around", "read_gauge", "tap_gauge", "dip", "dip_paste", "read_jar", "try_vent", "try_screw"),
        *("wipe_and_try", "read_vacuum", "listen", "volts", "feel_terminals", "feel_terminal", "drop_test", "signal"),
        *("knock", "smoke", "feel_heat", "dip_oil", "look_intake", "look_propeller", "thermometer", "feel_stems"),
        *("card", "finger", "lever_10", "lever_60", "rest", "stop", "key_on", "key_off", "make_fast", "tell_someone"),
        *("ventilate", "extinguisher", "lay_tray", "put_on_goggles", "count_washers", "cool", "wait_10s"),
        *("wait_1min", "wait_5min", "wait_30min", "wait_night", "crank_5", "crank_10", "crank_30", "swing_10"),
        *("swing_down", "heat_10", "heat_20", "heat_30"),
    }
)
"""Actions after which there is nothing to put back."""
RENEWS = frozenset({"change_element", "change_pump", "change", "new_hose", "new_impeller", "mend", "remake"})
_FITS = "fit_"
_NOT_NEW = ("fit_old", "fit_gauge")
_WET_WORK = ("fuel_opened", "fuelling", "high_pressure")
LEAST_NOTE = 20
"""Characters from which a note can say anything; judgement."""

WHY_SHUT = "A screw left open lets air in or fuel out; fuel in the water is an offence and fuel in the bilge can burn."
WHY_VALVES = "The next person turns the key and believes the handles."
WHY_CLEAN = "Wiped dry, the next leak shows at once; left wet, nobody will ever know where it comes from."
WHY_WASTE = "Oily waste goes ashore in a can. A full jar falls over with the first wash that comes along."
WHY_STORES = "A washer too many in the hand is missing somewhere, and a spare fitted in vain is missing at sea."
WHY_NOTE = "What was found and done, and when: the next person starts where you stopped."
NOTHING_TO_LEAVE = "Nothing was opened or changed, so there was nothing to leave in order."


@dataclass(frozen=True, slots=True)
class Item:
    """One thing judged: its key in the scheme, the share kept [0..1], what is said and why."""

    key: str
    share: float
    kept: str
    broken: str
    why: str


def worked(track: Track) -> bool:
    """Say whether something was opened, turned or changed."""
    return any(_is_work(moment) for moment in track.moments)


def _is_work(moment: Moment) -> bool:
    return not moment.refused and moment.action not in LOOKS and not moment.action.startswith("run_")


def _opened(track: Track, cautions: tuple[str, ...]) -> bool:
    return any(not m.refused and caution_of(m.kind, m.action) in cautions for m in track.moments)


def listed(things: Sequence[str]) -> str:
    """Return things as a list in a sentence."""
    return things[0] if len(things) == 1 else ", ".join(things[:-1]) + " and " + things[-1]


def _sentence(things: Sequence[str]) -> str:
    """Return things as a sentence of their own, or an empty text."""
    return f"{listed(things)[:1].upper()}{listed(things)[1:]}." if things else ""


def left_open(place: Workplace, track: Track) -> list[str]:
    """Return what was left open, undone, slack or badly fitted, as phrases."""
    wrong = place.openings_in_words()
    for part in place.of_kind("joint"):
        if undone_by_hand(track.moments, part.id):
            wrong.append(f"the {part.label} undone")
    leaks = [part for part in place.of_kind("separator", "fine_filter") if leak_share(place, part.id) > 0.0]
    return wrong + [f"the {part.label} not sealed as it should be" for part in leaks]


def left_wrong(seen: dict[str, object], place: Workplace) -> list[str]:
    """Return the valves, controls and hoses that did not stand as they belong, as phrases."""
    wrong = [f"the {p.label} shut" for p in place.of_kind("shut_off_valve") if not seen[f"{p.id}_open"]]
    wrong += [f"the {p.label} open to no tank" for p in place.of_kind("changeover_valve") if not seen[f"{p.id}_ways"]]
    if seen.get("stop_control_pulled"):
        wrong.append("the stop control pulled")
    if seen.get("seacock_open") is False:
        wrong.append("the seacock shut")
    if seen.get("key_on") and seen["engine"] == "stopped":
        wrong.append("the key on")
    if seen.get("return_to", "tank") != "tank":
        wrong.append("the return line not led back to the tank")
    if seen.get("can_in_use"):
        wrong.append("the engine on the can instead of its tank")
    if place.rig.engine.solenoid_held:
        wrong.append("the stop solenoid tied by hand")
    return wrong


def _shut(attempt: Attempt, track: Track) -> list[Item]:
    wrong = left_open(attempt.place, track)
    if not wrong and not _opened(track, (*_WET_WORK, "filler")):
        return []
    text = f"You left {listed(wrong)}." if wrong else ""
    kept = "Everything you had opened was left shut, tight and refitted."
    return [Item("shut_and_tight", 0.0 if wrong else 1.0, kept, text, WHY_SHUT)]


def _valves(attempt: Attempt) -> list[Item]:
    wrong = left_wrong(attempt.outside(), attempt.place)
    text = f"You left {listed(wrong)}." if wrong else ""
    kept = "Valves, controls and hoses were left as they belong."
    return [Item("valves", 0.0 if wrong else 1.0, kept, text, WHY_VALVES)]


def _spilled(seen: object) -> float:
    return float(seen) if isinstance(seen, int | float) else 0.0


def _clean(attempt: Attempt, track: Track, limits: Limits) -> list[Item]:
    """Judge spilling and wiping up: each half."""
    most_ml = max((_spilled(m.after.get("spilled_ml")) for m in track.moments), default=0.0)
    if not _opened(track, _WET_WORK) and not most_ml:
        return []
    wet = [m for m in track.moments if _wets(m)]
    last_wet = wet[-1].number if wet else 0
    later = [m for m in track.moments if m.number > last_wet]
    wiped = not wet or any(m.action == "wipe_up" or FOUND_DRY in m.keys for m in later)
    little = most_ml <= limits.spilled_ml
    wrong = [] if little else [f"about {most_ml:.0f} ml of fuel was spilled (the limit is {limits.spilled_ml:.0f} ml)"]
    wrong += [] if wiped else ["it was not wiped up after the last wet work"]
    text = _sentence(wrong)
    kept = "Nothing to speak of was left spilled."
    return [Item("clean", 0.5 * little + 0.5 * wiped, kept, text, WHY_CLEAN)]


WHY_NOTHING = "How somebody clears up shows only after work; looking alone leaves nothing to clear up."
FOUND_DRY = "no_wet_places"
"""Noticed by who looks around and finds it dry: there is nothing to wipe up."""


def _wets(moment: Moment) -> bool:
    """Say whether something wet was worked at: what runs then lies in tray or boat, or at a part."""
    return not moment.refused and caution_of(moment.kind, moment.action) == "fuel_opened"


def _waste(attempt: Attempt, track: Track) -> list[Item]:
    seen = attempt.outside()
    came = any(_spilled(m.after.get("jar_ml")) or _spilled(m.after.get("waste_ml")) for m in track.moments)
    over = _spilled(seen["overboard_ml"]) > 0.0
    if not came and not over:
        return []
    full = _spilled(seen["jar_ml"]) > 0.0
    text = "Some of what had come out went over the side." if over else "The jar was left standing with fuel in it."
    kept = "What had come out is in the can for waste, or ashore."
    return [Item("waste", 0.0 if over or full else 1.0, kept, text, WHY_WASTE)]


_WATERY = frozenset({"screw_water", "screw_shut_watery"})
"""What shows water in a filter or pump: reason enough for a new element."""


def fitted_in_vain(track: Track, faulty: frozenset[str]) -> list[Moment]:
    """Return the renewals of parts that were sound and had shown nothing before."""
    seen_before: set[str] = set(faulty)
    vain = []
    for moment in track.moments:
        if _renews(moment) and moment.part not in seen_before:
            vain.append(moment)
        seen_before.update(one.part for one in moment.observations if moment.tells or one.key in _WATERY)
    return vain


def _renews(moment: Moment) -> bool:
    fits = moment.action.startswith(_FITS) and moment.action not in _NOT_NEW
    return not moment.refused and (fits or moment.action in RENEWS)


def _stores(track: Track, faulty: frozenset[str], place: Workplace) -> list[Item]:
    """Judge washers counted after the last refit, and spares not fitted in vain: each half."""
    renewed = [m for m in track.moments if _renews(m)]
    if not renewed:
        return []
    counted = any(m.action == "count_washers" and m.number > renewed[-1].number for m in track.moments)
    vain = fitted_in_vain(track, faulty)
    wrong = [] if counted else ["washers, rings and tools were not counted after the last refit"]
    if vain:
        where = listed(list(dict.fromkeys(f"the {place.label(m.part)}" for m in vain)))
        wrong.append(f"new parts were fitted at {where} where nothing had shown that they were needed")
    text = _sentence(wrong)
    kept = "Washers and tools were counted, and no spare was fitted in vain."
    return [Item("stores", 0.5 * counted + 0.5 * (not vain), kept, text, WHY_STORES)]


def tells_the_next_person(steps: Sequence[Step]) -> bool:
    """Say whether the notes in the logbook are long enough to tell the next person anything."""
    return len(" ".join(_notes(steps))) >= LEAST_NOTE


def _notes(steps: Sequence[Step]) -> list[str]:
    return [step.text.strip() for step in steps if step.kind == "note"]


def _note(steps: Sequence[Step]) -> list[Item]:
    notes, written = _notes(steps), tells_the_next_person(steps)
    short = "Your note in the logbook is too short to tell the next person what was found and done."
    broken = short if any(notes) else "You wrote no note in the logbook for the next person."
    return [Item("note", float(written), "A note in the logbook tells the next person.", broken, WHY_NOTE)]


def items_of(
    attempt: Attempt, track: Track, steps: Sequence[Step], faulty: frozenset[str], scheme: MarkingScheme
) -> tuple[Item, ...]:
    """Return what was at stake, and how it was kept; ``attempt`` must not have been put through the test yet."""
    return (
        *_shut(attempt, track),
        *_valves(attempt),
        *_clean(attempt, track, scheme.limits),
        *_waste(attempt, track),
        *_stores(track, faulty, attempt.place),
        *_note(steps),
    )


def mark_housekeeping(items: Sequence[Item], track: Track, cured: bool, moment_s: float, scheme: MarkingScheme) -> Mark:
    """Mark how the boat was left at ``moment_s`` [s], by what :func:`items_of` found before the engine test.

    What was not at stake does not count; where the engine was not ``cured`` only a share of it does.
    """
    most, points = scheme.weights.housekeeping, scheme.housekeeping
    if not track.moments or not (worked(track) or cured):
        return Mark(0.0, most, (Reason(NOTHING_TO_LEAVE, None, False, most, WHY_NOTHING),))
    return sum_up(items, cured, moment_s, most, points)


def sum_up(items: Sequence[Item], cured: bool, moment_s: float, most: float, points: HousekeepingScheme) -> Mark:
    """Return the mark for what was at stake; where the engine was not cured only a share of it counts."""
    at_stake = sum(float(getattr(points, item.key)) for item in items)
    counts = 1.0 if cured else points.uncured_share
    worth = most / at_stake if at_stake else 0.0
    reasons, score = [], 0.0
    for item in items:
        worth_here = float(getattr(points, item.key)) * worth
        score += worth_here * item.share * counts
        good = item.share >= 1.0
        text = item.kept if good else item.broken
        moved = worth_here if good else worth_here * (1.0 - item.share)
        reasons.append(Reason(text, moment_s, good, moved * counts, "" if good else item.why))
    if not cured:
        text = "It counts in part only, since the engine was not cured."
        reasons.append(Reason(text, None, False, most * (1.0 - counts)))
    return make_mark(score, most, tuple(reasons))
