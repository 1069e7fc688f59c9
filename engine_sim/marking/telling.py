"""What tells: observations that a boat without the fault, put through the same, would not have given."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace

from engine_sim.attempt import Attempt
from engine_sim.marking.replaying import REFUSALS, healthy_boat, is_running
from engine_sim.marking.sayings import Saying, coarse
from engine_sim.marking.signs import FILTERS_OFF, is_own_doing
from engine_sim.marking.track import Moment, Track
from engine_sim.observations import Observation
from engine_sim.scenarios import Scenario
from engine_sim.wording import OWN_DEEDS

COMPLAINT = frozenset(
    {
        *("fires", "fires_not", "smoke_none", "smoke_white", "dies", "dies_meanwhile", "wavers", "loses_speed"),
        *("ran_well", "ran_unevenly", "engine_idles", "engine_stands", "lever_engine_runs", "time_passes"),
    }
)
"""Keys that only say again that the engine does not run as it should: the complaint itself shows no fault."""
TELLS_NOTHING = frozenset({"spilled", "handed_in", "not_worked_out", *REFUSALS, *COMPLAINT, *OWN_DEEDS})
ENGINE_KINDS = frozenset({"battery", "starter", "hand_start", "exhaust", "engine", "preheat"})
"""Kinds of part that wear by the learner's own cranking; what they show counts for faults that sit at one of them."""
CHANGES = frozenset(
    {
        *("add_fuel", "clear_breather", "blow_back", "draw_bottom", "polish", "wipe_out", "dose", "open", "to_a"),
        *("to_b", "to_both", "nip_up", "remake", "new_hose", "close_vent", "close_screw", "close_outlet_screw"),
        *("close_lower_screw", "change_element", "fit_wetted", "fit_dry", "fit_by_hand", "fit_loose", "fit_forced"),
        *("fit_bolted", "fit_bolted_dry", "change_pump", "tighten_nut", "change", "mend", "clean_terminals"),
        *("clean_terminal", "join_house_battery", "connect", "connect_wire", "hold", "push_home", "turn_by_hand"),
        *("clear_intake", "clear_propeller", "new_impeller", "clear", "open_seacock", "warm", "blow_through"),
    }
)
"""Actions by which a fault at the part can be cured; what shows at that part only afterwards was not worked out."""
BAD_ELEMENT = frozenset({"element_dark", "element_waxy"})
"""Keys of what a filter's element shows when it is taken out and is not clean."""
_DRAIN = "open_drain"
_RUNS = "run_"


def tells_of_fault(observation: Observation, sound: Sequence[Saying]) -> bool:
    """Say whether nothing that the other boat showed at the same step says the same."""
    if observation.key in TELLS_NOTHING:
        return False
    own = coarse(observation)
    return not any(own.agrees_with(other) for other in sound)


@dataclass(frozen=True, slots=True)
class Telling:
    """Numbers of the observations that tell: of each of the scenario's faults, and of anything at all."""

    by_fault: tuple[frozenset[int], ...]
    together: frozenset[int]


def cures_of(track: Track, part: str) -> list[int]:
    """Return the steps by which a fault at a part may have been cured.

    A bowl of glass is looked into, not drained; what only puts back the learner's own doing cures nothing.
    """
    glass = part in track.boat.glass_bowls
    return [
        moment.number
        for moment in track.moments
        if moment.part == part and not moment.refused
        if moment.action in CHANGES or (glass and moment.action == _DRAIN)
        if not is_own_doing(track, moment)
    ]


def last_step_that_matters(scenario: Scenario, track: Track, evidence: Iterable[int]) -> int:
    """Return the step after which nothing can tell any more: all cured, and everything named seen."""
    firsts = [cures_of(track, wrong.part)[:1] for wrong in scenario.faults]
    if not track.moments or not all(firsts):
        return track.moments[-1].number if track.moments else 0
    named = set(evidence)
    steps = [m.number for m in track.moments if any(one.number in named for one in m.observations)]
    return max(*(first[0] for first in firsts), *steps, 0)


def differing(track: Track, other: Scenario, until: int) -> frozenset[int]:
    """Return the numbers of the observations up to a step that the same actions on another boat do not give.

    Where the other boat's engine starts and the real one's did not, it is stopped again, so that the two stay
    comparable.
    """
    twin = Attempt(other)
    numbers: set[int] = set()
    for moment in track.moments:
        if moment.number > until:
            break
        played = twin.act(moment.part, moment.action)
        if moment.after["engine"] != "running" and is_running(twin):
            twin.act("engine", "stop")
        if not moment.refused:
            sound = [coarse(one) for one in played.observations]
            numbers.update(one.number for one in moment.observations if tells_of_fault(one, sound))
    return frozenset(numbers)


def of_the_fuel(track: Track, numbers: frozenset[int], kind: str) -> frozenset[int]:
    """Leave out what the engine's own parts show, unless the fault sits at a part of such a kind."""
    if kind in ENGINE_KINDS:
        return numbers
    seen = {one.number: track.boat.kinds.get(one.part, "") for m in track.moments for one in m.observations}
    return frozenset(number for number in numbers if seen[number] not in ENGINE_KINDS)


def telling_of(scenario: Scenario, track: Track, evidence: Iterable[int] = ()) -> Telling:
    """Return what tells of each fault; ``evidence`` holds the numbers named in diagnoses.

    One fault is told by what differs from a sound boat. Of several, each is told by what would differ without it
    alone, and by what no single one of them explains.
    """
    until = last_step_that_matters(scenario, track, evidence)
    faults = scenario.faults
    sound = differing(track, healthy_boat(scenario), until)
    kinds = [track.boat.kinds[wrong.part] for wrong in faults]
    if len(faults) == 1:
        only = of_the_fuel(track, sound, kinds[0])
        return Telling((only,), only)
    without = [
        differing(track, replace(scenario, faults=faults[:index] + faults[index + 1 :]), until)
        for index in range(len(faults))
    ]
    joint = sound.difference(*without)
    by_fault = tuple(of_the_fuel(track, own | joint, kind) for own, kind in zip(without, kinds, strict=True))
    return Telling(by_fault, frozenset().union(*by_fault))


def with_telling(scenario: Scenario, track: Track, telling: Telling, named: frozenset[str] = frozenset()) -> Track:
    """Return the track with each check marked that showed something of a fault, in time.

    Only what was found before the faulty part was changed counts: what shows afterwards was not worked out. The
    work led to a part when the part was worked on, or is among those ``named`` in a diagnosis.
    """
    firsts = [min(cures_of(track, wrong.part), default=None) for wrong in scenario.faults]

    def tells(moment: Moment) -> bool:
        if moment.refused or moment.action in CHANGES or moment.action.startswith(_RUNS):
            return False
        return any(
            any(one.number in numbers for one in moment.observations)
            for first, numbers in zip(firsts, telling.by_fault, strict=True)
            if first is None or moment.number < first
        )

    moments = tuple(replace(moment, tells=tells(moment)) for moment in track.moments)
    parts = {wrong.part for wrong in scenario.faults}
    opened = any(moment.part in parts and moment.action.startswith("open_") for moment in track.moments)
    followed = opened or any(first is not None for first in firsts) or bool(parts & named)
    return replace(track, moments=moments, followed=followed, opened_at=opened_at(track, parts))


def opened_at(track: Track, parts: Collection[str]) -> int:
    """Return the first step at which one of the faulty parts was opened and its element seen to be bad, or 0."""
    opened = (m for m in track.among(FILTERS_OFF) if m.part in parts and m.keys & BAD_ELEMENT)
    return next((m.number for m in opened), 0)
