"""Does an action: sees whether it can be done, takes what it uses from the stores, lets its time pass, and does it."""

from __future__ import annotations

from engine_sim.actions.action import Action
from engine_sim.actions.jar import ml
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, hear, see, told

_LEVER = "lift_pump"


def why_not(place: Workplace, part: str, item: Action) -> str:
    """Return why an action cannot be done now, as a learner reads it, or an empty text."""
    reason = item.ready(place, part)
    if reason:
        return told(part, "not_possible", why=reason).text()
    missing = place.stores.missing(item.uses)
    return told(part, "none_left", thing=missing).text() if missing else ""


def _over_the_rim(place: Workplace) -> list[Noticed]:
    """Let what the jar does not hold run over its rim."""
    over_m3 = place.jar.run_over(place.rig)
    place.rig.lose(over_m3)
    return [see(place.first("bench"), "jar_over", ml=ml(over_m3))] if ml(over_m3) > 0 else []


def perform(place: Workplace, part: str, item: Action) -> list[Noticed]:
    """Do an action at a part and return what was noticed; what cannot be done says why and takes no time."""
    reason = item.ready(place, part)
    if reason:
        return [told(part, "not_possible", why=reason)]
    missing = place.stores.missing(item.uses)
    if missing:
        return [told(part, "none_left", thing=missing)]
    place.stores.use(item.uses)
    began_s, was_safe = place.rig.clock_s, place.is_safe
    noticed = [hear(place.first("engine"), "dies_meanwhile")] if place.wait(item.takes_s) else []
    noticed += item.do(place, part)
    noticed += _over_the_rim(place)
    if place.drift(began_s, was_safe and place.is_safe):
        noticed.append(see(place.first("bench"), "ashore"))
    place.note_heat()
    place.lever_in_hand = place.part(part).kind == _LEVER and place.lever_in_hand
    return noticed
