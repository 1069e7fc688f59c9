"""Bleed screws at the fine filter and the injection pump: open, watch, tighten while it flows, try for tightness."""

from __future__ import annotations

from engine_sim.actions.action import Action, Do, Family, Only, Ready
from engine_sim.actions.parts import INJECTION_PUMPS
from engine_sim.actions.watching import froths, ring_signs, runs_in_beads, watch
from engine_sim.actions.workplace import LinkSum, Workplace, difference
from engine_sim.observations import Noticed, feel, see
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue
from engine_sim.wording import SCREW_WORDS

_TIGHTENING_S = SourcedValue(10.0, "s", COMMON_PRACTICE, "time to tighten a screw").value
_LAST_S = SourcedValue(3.0, "s", COMMON_PRACTICE, "the last turn of it, at which one sees what comes").value
_WATCHED_S = SourcedValue(4.0, "s", COMMON_PRACTICE, "for which one watches what comes").value
_FLOWING_M3_PER_S = SourcedValue(1e-7, "m3/s", FROM_MEMORY, "flow at a screw that is still seen").value


def look_at(place: Workplace, part: str) -> list[Noticed]:
    """Look at a filter or pump with bleed screws."""
    if place.is_off(part):
        return [see(part, "filter_is_off")]
    stem = "filter" if place.part(part).kind == "fine_filter" else "injection_pump"
    is_open = any(place.stands_open(link) for link in place.screws(part))
    screw = "screw_is_open" if is_open else "screw_is_shut"
    found = [see(part, f"{stem}_{'wet' if place.is_wet(part) else 'dry'}"), see(part, screw)]
    return [*found, *ring_signs(place, part)] if place.part(part).kind == "fine_filter" else found


def _open(name: str, key: str) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        was_open = place.stands_open(f"{part}.{name}")
        place.rig.set_open(f"{part}.{name}", 1.0)
        return [see(part, "open_already" if was_open else key), *watch(place, _WATCHED_S)]

    return do


def _shut(name: str) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        rig, link = place.rig, f"{part}.{name}"
        was_open = place.stands_open(link)
        place.go_on_with_the_lever(_TIGHTENING_S - _LAST_S)
        before = rig.passed(link)
        place.go_on_with_the_lever(_LAST_S)
        came = difference(before, rig.passed(link))
        rig.set_open(link, 0.0)
        return [see(part, _shut_key(place, came) if was_open else "screw_shut")]

    return do


def _shut_key(place: Workplace, came: LinkSum) -> str:
    """Return what is said of a screw tightened while so much fuel, water and air came from it at the last."""
    liquid, air = came[0] + came[1], max(0.0, came[2])
    if liquid + air < _FLOWING_M3_PER_S * _LAST_S:
        return "screw_shut_still"
    if froths(liquid, air):
        return "screw_shut_froth"
    if runs_in_beads(liquid, came[1]):
        return "screw_shut_watery"
    return "screw_shut_flowing" if place.lever_in_hand and not place.rig.engine.running else "screw_shut_running"


def _try(place: Workplace, part: str) -> list[Noticed]:
    loose = any(place.rig.is_open(link) for link in place.screws(part))
    return [feel(part, "screw_turns" if loose else "screw_tight")]


def _has(name: str) -> Only:
    def only(place: Workplace, part: str) -> bool:
        return place.has_link(f"{part}.{name}")

    return only


def _closed() -> Ready:
    def ready(place: Workplace, part: str) -> str:
        return "it is taken off." if place.is_off(part) else ""

    return ready


def _screw(name: str, ending: str, said: str, key: str) -> tuple[Action, Action]:
    """Return the opening and the closing of one screw."""
    return (
        Action(
            f"open_{ending}",
            f"open the {said}",
            15.0,
            _open(name, key),
            "spanner, rag",
            "fuel_opened",
            _WATCHED_S,
            ready=_closed(),
            only=_has(name),
        ),
        Action(
            f"close_{ending}",
            f"tighten the {said}",
            0.0,
            _shut(name),
            "spanner",
            plays_s=_TIGHTENING_S,
            ready=_closed(),
            only=_has(name),
        ),
    )


_TRY = Action("try_screw", "try its bleed screws with a spanner", 10.0, _try, "spanner", ready=_closed())

FAMILIES = (
    Family(
        ("fine_filter",),
        (
            Action("look", "look at the filter", 20.0, look_at, "torch"),
            *_screw("screw", "screw", SCREW_WORDS["screw"], "screw_opened"),
            *_screw("outlet_screw", "outlet_screw", SCREW_WORDS["outlet_screw"], "outlet_screw_opened"),
            _TRY,
        ),
    ),
    Family(
        INJECTION_PUMPS,
        (
            Action("look", "look at the pump", 20.0, look_at, "torch"),
            *_screw("lower_screw", "lower_screw", SCREW_WORDS["lower_screw"], "lower_screw_opened"),
            *_screw("screw", "screw", SCREW_WORDS["screw"], "screw_opened"),
            _TRY,
        ),
    ),
)
