"""From signs to causes and checks: what was played, with the coach's weights and the actions' own times and tools.

The causes of a sign stand by the coach's weight. Beside each stands the check that tells it best from the others of
the same sign: cheap, and shown by few of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from engine_sim.actions import Action, action_of_kind
from engine_sim.circuit import load_layout
from engine_sim.classroom.sheets.noticed import CHECK_WORDS, IDLE, LOAD, LOOKS, SAME_CHECK, TURN, Sign
from engine_sim.classroom.sheets.noticed_words import LEFT_OUT
from engine_sim.classroom.sheets.plays import PlayedBoat, played, sound_boat
from engine_sim.faults import fault
from engine_sim.faults.places import places_of
from engine_sim.marking.coach.checks import ABOUT
from engine_sim.marking.coach.likelihood import weight_at
from engine_sim.marking.track import boat_of
from engine_sim.wording import FAULTS, PARTS

_ONE_KIND = {"rotary_injection_pump": "injection_pump"}
"""Kinds of part that have one name on a sheet."""
_PUTS_BACK = ("close_", "key_off", "stop", "wait_")
_LEFT_S, _ELSEWHERE_S = 120.0, 60.0
"""What a check costs beyond its own time for each thing more that it leaves possible, and where it is not made at the
part itself [s]; judgement."""
_SHOW_AGAIN = (*TURN, "tank.tap_gauge")
"""Checks that only show the sign again, or the gauge instead of the fuel."""
_TELL_NOTHING = frozenset(key for keys in LEFT_OUT.values() for key in keys) - {"injector.injector_silent"}
_RUNS = (*IDLE, *LOAD)
_TOLD_BY_RUNNING = ("injector",)
"""Kinds of part whose faults show best in how the engine runs."""
_ABOUT = {**ABOUT, "joint": frozenset({"joint"})}
ABOVE, BELOW = "tank above", "tank below"

Cause = str
"""A kind of part and a fault at it, as ``kind.fault``."""


@dataclass(frozen=True, slots=True)
class Check:
    """A check as a person does it: its deeds by kind of part, in words, its time [s] and its tools."""

    name: str
    words: str
    seconds: float
    tools: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """A sign with its causes, the likeliest first, and the checks, the cheapest first, with the causes each tells."""

    sign: Sign
    causes: tuple[Cause, ...]
    checks: tuple[tuple[Check, tuple[Cause, ...]], ...]


def plain(name: str) -> str:
    """Return a name of the played data with one kind of part for what has one name on a sheet."""
    for kind, other in _ONE_KIND.items():
        name = name.replace(kind, other)
    return name


@cache
def shown_on() -> Mapping[str, Mapping[Cause, Mapping[str, frozenset[str]]]]:
    """Return boat, cause and check to the signs shown."""
    return {boat: _plainly(kept) for boat, kept in played().items()}


def _plainly(kept: PlayedBoat) -> dict[Cause, dict[str, frozenset[str]]]:
    found: dict[Cause, dict[str, frozenset[str]]] = {}
    for cause, shows in kept.shows.items():
        here = found.setdefault(plain(cause), {})
        for check, signs in shows.items():
            name = plain(SAME_CHECK.get(check, check))
            here[name] = here.get(name, frozenset()) | {plain(sign) for sign in signs}
    return found


@cache
def shown() -> Mapping[Cause, Mapping[str, frozenset[str]]]:
    """Return cause and check to the signs shown on any boat."""
    found: dict[Cause, dict[str, frozenset[str]]] = {}
    for boat in shown_on().values():
        for cause, shows in boat.items():
            here = found.setdefault(cause, {})
            for name, signs in shows.items():
                here[name] = here.get(name, frozenset()) | signs
    return found


# ---- causes ---------------------------------------------------------------------------------------------------------


def cause_words(cause: Cause) -> str:
    """Return a cause as a diagnosis says it."""
    kind, name = cause.split(".")
    return f"{kind_label(kind)}: {FAULTS[fault(name).diagnosis]}"


def kind_label(kind: str) -> str:
    """Return what a part of a kind is called where no one part is meant."""
    return "joint" if kind == "joint" else PARTS[kind][0].removesuffix(" {number}")


@cache
def weight_of(cause: Cause) -> float:
    """Return how likely the coach holds a cause to be, over the boats that can have it."""
    kind, name = cause.split(".")
    weights = []
    for boat in shown_on():
        layout = load_layout(sound_boat(boat).layout)
        parts = [part for part, here in places_of(layout) if plain(here) == kind and part in fault(name).places(layout)]
        if parts:
            weights.append(sum(weight_at(layout, name, part) for part in parts))
    return sum(weights) / len(weights) if weights else 0.0


def by_weight(causes: Iterable[Cause]) -> tuple[Cause, ...]:
    """Return causes, the likeliest first; those said in the same words count once."""
    found: dict[str, Cause] = {}
    for cause in sorted(causes, key=lambda cause: (-weight_of(cause), cause)):
        found.setdefault(cause_words(cause), cause)
    return tuple(found.values())


@cache
def lies_above(boat: str) -> bool:
    """Tell whether a boat's tanks lie above its separator."""
    return boat_of(load_layout(sound_boat(boat).layout)).tank_above


def only_where(sign: Sign, cause: Cause) -> str:
    """Return where a cause shows a sign on every boat, and on no other: ``tank above``, ``tank below``, or nothing."""
    can = {boat for boat, causes in shown_on().items() if cause in causes and _offers(boat, sign)}
    does = {boat for boat in can if cause in causes_on(boat, sign)}
    above = {boat for boat in can if lies_above(boat)}
    if not sign.by_height or not above or above == can:
        return ""
    return ABOVE if does == above else BELOW if does == can - above else ""


def _offers(boat: str, sign: Sign) -> bool:
    return any(plain(SAME_CHECK.get(name, name)) in sign.at for name in played()[boat].checks)


# ---- signs ----------------------------------------------------------------------------------------------------------


def causes_on(boat: str, sign: Sign) -> frozenset[Cause]:
    """Return the causes that show a sign on a boat."""
    return frozenset(cause for cause, shows in shown_on()[boat].items() if _is_shown(sign, shows))


def _is_shown(sign: Sign, shows: Mapping[str, frozenset[str]]) -> bool:
    keys, also, without = set(sign.keys), set(sign.also), set(sign.without)
    bars = set(sign.bars) or keys
    if any(bars & shows.get(name, frozenset()) for name in sign.not_before):
        return False
    at = [shows[name] for name in sign.at if name in shows]
    return any(keys & here and also <= here and not without & here for here in at)


def row_of(sign: Sign) -> Row:
    """Return a sign with all that it can mean and how to tell."""
    causes = by_weight({cause for boat in shown_on() for cause in causes_on(boat, sign)})
    telling: dict[str, list[Cause]] = {}
    for cause in causes if len(causes) > 1 else ():
        best = _best_check(sign, cause, causes)
        if best is not None:
            telling.setdefault(best, []).append(cause)
    checks = sorted((check_of(name) for name in telling), key=lambda check: (check.seconds, check.words))
    return Row(sign, causes, tuple((check, tuple(telling[check.name])) for check in checks))


def _best_check(sign: Sign, cause: Cause, among: tuple[Cause, ...]) -> str | None:
    """Return the check that best tells a cause from the others of its sign.

    It is cheap, made at the part itself, and few of the others show the same there.
    """
    best: tuple[float, str] | None = None
    for name, signs in _shown_with(sign, cause).items():
        if not _may_tell(name, cause):
            continue
        for key in signs - _TELL_NOTHING - {*sign.keys, *sign.also}:
            others = sum(key in shown()[other].get(name, ()) for other in among) - 1
            elsewhere = cause.split(".")[0] not in (name.split(".")[0], key.split(".")[0])
            cost = check_of(name).seconds + _LEFT_S * others + _ELSEWHERE_S * elsewhere
            if others < len(among) - 1 and (best is None or (cost, name) < best):
                best = cost, name
    return best[1] if best else None


def _shown_with(sign: Sign, cause: Cause) -> Mapping[str, frozenset[str]]:
    """Return what a cause shows, check by check, on the boats on which it shows a sign."""
    found: dict[str, frozenset[str]] = {}
    for boat, causes in shown_on().items():
        if cause in causes_on(boat, sign):
            for name, signs in causes[cause].items():
                found[name] = found.get(name, frozenset()) | signs
    return found


def _may_tell(name: str, cause: Cause) -> bool:
    kind, first = cause.split(".")[0], name.split(".")[0]
    if name in _SHOW_AGAIN:
        return False
    if name in _RUNS or "run_" in name:
        return name in _RUNS and kind in _TOLD_BY_RUNNING
    return kind in _ABOUT.get(first, {kind})


# ---- checks ---------------------------------------------------------------------------------------------------------


@cache
def check_of(name: str) -> Check:
    """Return a check by its name, with its words, time and tools from the actions themselves."""
    deeds = [tuple(deed.split(".")) for deed in name.split("+")]
    items = [(kind, action_of_kind(kind, action)) for kind, action in deeds]
    seconds = sum(item.takes_s + item.plays_s for _, item in items)
    tools = dict.fromkeys(tool for _, item in items for tool in item.needs.split(", ") if tool)
    return Check(name, CHECK_WORDS.get(name) or _words_of(items), seconds, tuple(tools))


def _words_of(items: list[tuple[str, Action]]) -> str:
    """Return what is done, part by part; what only puts back or waits is left out, unless it is all there is."""
    told = [one for one in items if not one[1].id.startswith(_PUTS_BACK)] or items
    words, last = "", ""
    for kind, item in told:
        at = "" if kind == last else f"{kind_label(kind)}: "
        words += f"{'; ' if words else ''}{at}{item.label}"
        last = kind
    return words


def looks() -> tuple[tuple[Check, tuple[tuple[str, tuple[Cause, ...]], ...]], ...]:
    """Return each look that shows causes at once, the cheapest first, with its signs and what each tells."""
    found = []
    for name, keys in LOOKS.items():
        causes = {key: by_weight(cause for cause, all_ in shown().items() if key in all_.get(name, ())) for key in keys}
        found.append((check_of(name), tuple((key, those) for key, those in causes.items() if those)))
    return tuple(sorted((one for one in found if one[1]), key=lambda one: (one[0].seconds, one[0].words)))


def silent_causes() -> tuple[Cause, ...]:
    """Return the causes that show nothing at any check, on any boat, and are not said in the words of one that does."""
    told = {cause_words(cause) for cause, shows in shown().items() if shows}
    return by_weight(cause for cause in shown() if cause_words(cause) not in told)


def signs_shown() -> frozenset[str]:
    """Return every sign that any fault shows anywhere."""
    return frozenset(key for shows in shown().values() for keys in shows.values() for key in keys)
