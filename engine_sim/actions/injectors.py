"""At an injector: its union nut, slackened with the engine standing, cranking or running; a card held before it."""

from __future__ import annotations

from engine_sim.actions.action import Action, Family
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, feel, hear, see
from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

FROTH_AIR_M3 = SourcedValue(5e-9, "m3", FROM_MEMORY, "air in a line that shows as froth at its nut").value
_SHOWS_M3 = SourcedValue(1e-8, "m3", FROM_MEMORY, "spray over a few seconds that is seen").value
_CRANKED_S = SourcedValue(5.0, "s", COMMON_PRACTICE, "for which another turns the key while one listens").value
_LISTEN_S = SourcedValue(3.0, "s", FROM_MEMORY, "for which one listens to what a slackened nut does to the beat").value


def _look(place: Workplace, part: str) -> list[Noticed]:
    line = place.line(place.part(part))
    if line.nut_slack:
        return [see(part, "nut_slack")]
    return [see(part, "nut_wet" if place.is_wet(part) else "nut_tight")]


def _slacken(place: Workplace, part: str) -> list[Noticed]:
    number, engine = place.part(part).number - 1, place.rig.engine
    worked, sprayed_m3 = engine.lines[number].injects, engine.sprayed_m3[number]
    engine.lines[number].nut_slack = True
    noticed = [see(part, "nut_slackened")]
    if not engine.running:
        return noticed
    died = place.wait(_LISTEN_S)
    if engine.sprayed_m3[number] - sprayed_m3 > _SHOWS_M3:
        noticed += [see(part, "nut_sprays"), *_in_the_face(place)]
    else:
        noticed.append(see(part, "nut_dry"))
    noticed.append(hear(place.first("engine"), "beat_stumbles" if worked else "beat_unchanged"))
    return [*noticed, hear(place.first("engine"), "dies_meanwhile")] if died else noticed


def _in_the_face(place: Workplace) -> list[Noticed]:
    return [] if place.goggles_on else [feel("bench", "spray_near_eyes")]


def _tighten(place: Workplace, part: str) -> list[Noticed]:
    place.line(place.part(part)).nut_slack = False
    return [see(part, "nut_tightened")]


def at_slack_nuts(place: Workplace) -> list[Noticed]:
    """Return what shows at slack union nuts while the engine turns."""
    noticed = [
        see(part.id, _nut_key(place, part.id), part=part.label)
        for part in place.of_kind("injector")
        if place.line(part).nut_slack
    ]
    return [*noticed, *_in_the_face(place)] if noticed else []


def _nut_key(place: Workplace, part: str) -> str:
    rig = place.rig
    pump = place.first("injection_pump", "rotary_injection_pump")
    flow = rig.circuit.flow_m3_per_s[rig.topology.link_number(f"{pump}.plungers")]
    if flow <= 0.0:
        return "nut_nothing"
    return "nut_froth" if place.line(place.part(part)).air_m3 > FROTH_AIR_M3 else "nut_pulses"


def _sprays(place: Workplace, part: str) -> bool:
    return place.rig.engine.running and (place.line(place.part(part)).nut_slack or place.is_wet(part))


def _card(place: Workplace, part: str) -> list[Noticed]:
    if not place.rig.engine.running:
        return [see(part, "card_engine_stands")]
    return [see(part, "card_wet" if _sprays(place, part) else "card_dry")]


def _finger(place: Workplace, part: str) -> list[Noticed]:
    """Feel for spray with the bare hand: that is what nobody may do."""
    if not _sprays(place, part):
        return [feel(part, "finger_lucky")]
    place.hurt = True
    return [feel(part, "finger_pierced")]


def _listen(place: Workplace, part: str) -> list[Noticed]:
    """Listen, a screwdriver's handle at the ear, while another turns the engine."""
    engine, turned_s = place.rig.engine, 0.0
    if not engine.running:
        turned_s, _ = place.rig.crank(_CRANKED_S)
    creaks = engine.lines[place.part(part).number - 1].injects and engine.injected_m3 > _SHOWS_M3
    found = [hear(part, "injector_creaks" if creaks else "injector_silent")]
    fired = turned_s > 0.0 and engine.running
    return [*found, hear(place.first("engine"), "fires", seconds=max(1, int(turned_s + 0.5)))] if fired else found


def _wipe(place: Workplace, part: str) -> list[Noticed]:
    place.wipe(part)
    return [see(part, "nut_wiped")]


def _change(place: Workplace, part: str) -> list[Noticed]:
    number = place.part(part).number
    place.rig.engine.renew_injector(number - 1)
    place.wipe(part)
    return [see(part, "injector_changed")]


def _engine_stands(place: Workplace, _part: str) -> str:
    return "the engine runs." if place.rig.engine.running else ""


FAMILIES = (
    Family(
        ("injector",),
        (
            Action("look", "look at the union nut", 15.0, _look, "torch"),
            Action("card", "hold a card before the nut", 20.0, _card, "card, torch", "high_pressure"),
            Action("finger", "feel for spray with the fingers", 10.0, _finger, "", "high_pressure"),
            Action(
                "listen",
                "listen at it while another turns the engine for 5 s",
                30.0,
                _listen,
                "long screwdriver, a second pair of hands",
                "starting",
                _CRANKED_S,
            ),
            Action("wipe", "wipe nut and line dry", 15.0, _wipe, "rag"),
            Action(
                "slacken_nut",
                "slacken the union nut",
                45.0,
                _slacken,
                "two spanners, goggles, rag",
                "high_pressure",
            ),
            Action("tighten_nut", "tighten the union nut", 30.0, _tighten, "two spanners", "high_pressure"),
            Action(
                "change",
                "have the injector changed",
                60.0 * MINUTE_S,
                _change,
                "spare injector, washer, an engineer",
                "engineer",
                uses=("injector", "washer"),
                ready=_engine_stands,
            ),
        ),
    ),
)
