"""What each fault shows that a sound boat does not: played at its usual severity on every boat, check by check.

Playing takes minutes, so what came of it lies beside this module as data, and ``fuelcourse build`` plays anew only the
boats for which that data no longer speaks: after a new fault, a new check or a new version of the simulator.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from copy import deepcopy
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from engine_sim.actions import Workplace
from engine_sim.attempt import Attempt
from engine_sim.circuit import layout_names
from engine_sim.errors import BadScenario
from engine_sim.faults import fault, faults
from engine_sim.faults.places import places_of
from engine_sim.marking.coach.checks import DRAIN_BY_HEAD, DRAIN_FROM_BELOW, BoatCheck, Deed, checks_of
from engine_sim.marking.coach.outcomes import alike
from engine_sim.marking.sayings import Saying, coarse
from engine_sim.marking.track import boat_of
from engine_sim.scenarios import Scenario, SetFault, compose_scenario
from engine_sim.scenarios.scenario import layout_of
from engine_sim.version import SIMULATOR_VERSION
from engine_sim.wording import OWN_DEEDS

DATA_FILE = "what_shows.json"
IN_THE_COLD = "tank_below in the cold"
COLD_C = 2.0
"""A winter's morning [degC], on which an engine starts only on hot glow plugs; judgement."""

_START: tuple[Deed, ...] = (("starter", "crank_10"),)
MORE_CHECKS: tuple[tuple[Deed, ...], ...] = (
    (("tank", "tap_gauge"),),
    (("tank", "blow_back"),),
    (*_START, ("engine", "run_idle_5min")),
    (("hand_start", "swing_10"), ("engine", "run_idle_5min")),
    (("starter", "crank_5"), ("battery", "feel_terminals")),
    (("starter", "crank_5"), ("starter", "feel_terminal")),
    (("lift_pump", "fit_gauge"), *_START, ("engine", "run_fast_1min"), ("lift_pump", "read_vacuum")),
    (("electric_pump", "fit_gauge"), *_START, ("engine", "run_fast_1min"), ("electric_pump", "read_vacuum")),
)
"""Checks beside those that the coach thinks of: what takes long, and what shows how an engine dies."""
COLD_CHECKS: tuple[tuple[Deed, ...], ...] = (
    (("preheat", "heat_20"), ("starter", "crank_5")),
    (("preheat", "heat_20"), ("preheat", "feel_stems")),
)

MORE, LESS = "+", "-"
"""The end of a sign's name where a sound boat says the same with a smaller figure, or a larger one."""

Shows = Mapping[str, tuple[str, ...]]
"""Check, as ``kind.action`` of each deed joined by ``+``, to the signs that it shows, as ``kind.key``."""


@dataclass(frozen=True, slots=True)
class PlayedBoat:
    """What was played on one boat: the names of the checks, and what each fault (``kind.fault``) showed at them."""

    checks: tuple[str, ...]
    shows: Mapping[str, Shows]


def boats_to_play() -> tuple[str, ...]:
    """Return the names of the boats on which every fault is played: every layout, and one on a winter's morning."""
    return (*layout_names(), IN_THE_COLD)


def sound_boat(boat: str) -> Scenario:
    """Return a boat, named as in :func:`boats_to_play`, with nothing wrong."""
    return compose_scenario("tank_below", temperature_c=COLD_C) if boat == IN_THE_COLD else compose_scenario(boat)


def causes_on(boat: str) -> dict[str, tuple[Scenario, ...]]:
    """Return all that can be wrong on a boat, as ``kind.fault``, with a scenario for each part that can have it."""
    sound = sound_boat(boat)
    layout = layout_of(sound.layout).layout
    kinds = dict(places_of(layout))
    found: dict[str, tuple[Scenario, ...]] = {}
    for name in faults():
        for part in fault(name).places(layout):
            try:
                one = compose_scenario(sound.layout, [SetFault(name, part)], temperature_c=sound.weather.temperature_c)
            except BadScenario:
                continue
            cause = f"{kinds[part]}.{name}"
            found[cause] = (*found.get(cause, ()), one)
    return found


def checks_on(boat: str) -> tuple[BoatCheck, ...]:
    """Return the checks that are played on a boat."""
    place = Workplace(sound_boat(boat).prepare())
    if boat != IN_THE_COLD:
        drain = DRAIN_BY_HEAD if boat_of(place.rig.layout).tank_above else DRAIN_FROM_BELOW
        return checks_of(place, (*MORE_CHECKS, drain))
    wanted = {"+".join(f"{kind}.{name}" for kind, name in deeds) for deeds in COLD_CHECKS}
    return tuple(check for check in checks_of(place, COLD_CHECKS) if _by_kind(place, check) in wanted)


def _by_kind(place: Workplace, check: BoatCheck) -> str:
    return "+".join(f"{place.part(part).kind}.{name}" for part, name in check.deeds)


def play_boat(boat: str, only: Iterable[str] | None = None) -> PlayedBoat:
    """Play every fault on a boat, or ``only`` some causes, and every check on each."""
    checks = checks_on(boat)
    sound = Attempt(sound_boat(boat))
    as_sound = {check.name: _signs(sound, check) for check in checks}
    names = {check.name: _by_kind(sound.place, check) for check in checks}
    shows: dict[str, Shows] = {}
    for cause, scenarios in causes_on(boat).items():
        if only is not None and cause not in only:
            continue
        told: dict[str, set[str]] = {}
        for attempt in map(Attempt, scenarios):
            for check in checks:
                new = (_new_sign(sign, as_sound[check.name]) for sign in _signs(attempt, check))
                told.setdefault(names[check.name], set()).update(
                    f"{attempt.place.part(part).kind}.{key}" for part, key in filter(None, new)
                )
        shows[cause] = {name: tuple(sorted(signs)) for name, signs in sorted(told.items()) if signs}
    return PlayedBoat(tuple(sorted(set(names.values()))), dict(sorted(shows.items())))


def _signs(attempt: Attempt, check: BoatCheck) -> tuple[Saying, ...]:
    """Return what a check shows on a boat as it is found, own deeds left out."""
    boat = deepcopy(attempt)
    seen = [one for part, name in check.deeds for one in boat.act(part, name).observations]
    return tuple(coarse(one) for one in seen if one.key not in OWN_DEEDS and one.sense != "system")


def _new_sign(sign: Saying, as_sound: tuple[Saying, ...]) -> tuple[str, str] | None:
    """Return where a sign is and its key where a sound boat shows it not; a figure's key ends in ``+`` or ``-``."""
    if any(alike((sign,), (other,)) for other in as_sound):
        return None
    for other in as_sound:
        if (other.part, other.key, other.words) == (sign.part, sign.key, sign.words):
            return sign.part, f"{sign.key}{MORE if sign.figures > other.figures else LESS}"
    return sign.part, sign.key


# ---- kept as data ---------------------------------------------------------------------------------------------------


@cache
def played() -> Mapping[str, PlayedBoat]:
    """Return what was played, boat by boat, as it was kept."""
    return read_played(files("engine_sim.classroom.sheets").joinpath(DATA_FILE).read_text("utf-8"))


def read_played(text: str) -> dict[str, PlayedBoat]:
    """Return what was played, out of the data file's text; nothing where it was played with another simulator."""
    data = json.loads(text)
    if data["simulator"] != SIMULATOR_VERSION:
        return {}
    return {
        boat: PlayedBoat(
            tuple(kept["checks"]),
            {cause: {name: tuple(signs) for name, signs in shows.items()} for cause, shows in kept["shows"].items()},
        )
        for boat, kept in data["boats"].items()
    }


def as_text(boats: Mapping[str, PlayedBoat]) -> str:
    """Return the data file's text: one line for each fault on each boat, so that a change is read easily."""
    parts = []
    for boat, kept in boats.items():
        lines = ",\n".join(f"    {json.dumps(cause)}: {json.dumps(shows)}" for cause, shows in kept.shows.items())
        checks = json.dumps(kept.checks)
        parts.append(f'  {json.dumps(boat)}: {{"checks": {checks},\n   "shows": {{\n{lines}\n   }}}}')
    return f'{{"simulator": {SIMULATOR_VERSION},\n "boats": {{\n' + ",\n".join(parts) + "\n }}\n"


def is_current(boat: str, kept: PlayedBoat | None) -> bool:
    """Tell whether what was kept of a boat speaks of every fault and every check that it has now."""
    if kept is None or set(kept.shows) != set(causes_on(boat)):
        return False
    place = Workplace(sound_boat(boat).prepare())
    return set(kept.checks) == {_by_kind(place, check) for check in checks_on(boat)}


def brought_up_to_date(kept: Mapping[str, PlayedBoat]) -> dict[str, PlayedBoat]:
    """Return what each boat shows, played anew where what was ``kept`` no longer speaks for it."""
    return {boat: kept[boat] if is_current(boat, kept.get(boat)) else play_boat(boat) for boat in boats_to_play()}
