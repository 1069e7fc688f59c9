"""At the lift pump: its looks, its hand lever and how that feels, the vacuum gauge at its inlet, a new pump."""

from __future__ import annotations

from collections.abc import Iterator

from engine_sim.actions.action import Action, Do, Family
from engine_sim.actions.gauges import vacuum
from engine_sim.actions.watching import WEAK_M3_PER_S, Reading, openings, passed_between, reading, ways_back
from engine_sim.actions.workplace import Workplace
from engine_sim.components import engine_figures
from engine_sim.observations import Noticed, feel, hear, see
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

_LIGHT_SHARE = SourcedValue(0.15, "1", FROM_MEMORY, "share of a stroke below which hardly anything moves").value
_LOSES_SHARE = SourcedValue(0.5, "1", FROM_MEMORY, "share of a stroke below which a hand feels it slip back").value
_HARD_PA = SourcedValue(20e3, "Pa", FROM_MEMORY, "suction from which the lever pulls hard").value
_STIFF_PA = SourcedValue(15e3, "Pa", FROM_MEMORY, "suction from which the lever feels stiff").value
_PUSHES_SHARE = SourcedValue(0.5, "1", FROM_MEMORY, "share of the spring's pressure that a hand feels").value
_SPONGY_SHARE = SourcedValue(0.1, "1", FROM_MEMORY, "share of air in the pump from which the lever feels spongy").value
_PUMPS_AIR_SHARE = SourcedValue(0.8, "1", FROM_MEMORY, "share of air in the pump from which it has no pull").value


def _look(place: Workplace, part: str) -> list[Noticed]:
    return [see(part, "pump_weeps" if place.is_wet(part) else "pump_dry")]


def _lever(strokes: int) -> Do:
    def do(place: Workplace, part: str) -> list[Noticed]:
        rig = place.rig
        if rig.engine.running:
            return [feel(part, "lever_engine_runs")]
        before = reading(place)
        rig.work_lever(strokes // 2)
        middle = reading(place)
        rig.work_lever(strokes - strokes // 2)
        place.lever_in_hand = True
        seconds = strokes / engine_figures.LEVER_STROKES_PER_S
        felt = lever_feel(place, part, before, strokes)
        return [*felt, *vacuum(place), *openings(place, before, middle, seconds)]

    return do


def lever_feel(place: Workplace, part: str, before: Reading, strokes: int) -> Iterator[Noticed]:
    """Yield how the lever felt over so many strokes, and whether fuel was heard to run back to the tank."""
    rig = place.rig
    if rig.engine.cam_on_lobe:
        yield feel(part, "lever_flops")
        return
    after = reading(place)
    fuel, water, air = passed_between(before, after, part)
    share = (fuel + water + air) / (strokes * rig.number(part, "stroke_m3") * rig.number(part, "stroke_efficiency"))
    air_share = air / (fuel + water + air) if share > 0.0 else 0.0
    yield feel(part, _lever_key(place, part, share, air_share))
    for line in place.of_kind("return_line"):
        back = sum(passed_between(before, after, link)[0] for link in ways_back(place, line.id))
        if back > WEAK_M3_PER_S * strokes:
            yield hear(line.id, "return_runs")


def _lever_key(place: Workplace, part: str, share: float, air_share: float) -> str:
    rig = place.rig
    at_inlet_pa, at_outlet_pa = rig.circuit.link_pressures_pa(rig.topology.link_number(part))
    ambient_pa = rig.circuit.fluids.ambient_pa
    suction_pa, pushes_pa = ambient_pa - at_inlet_pa, at_outlet_pa - ambient_pa
    pushes = pushes_pa > _PUSHES_SHARE * rig.number(part, "spring_pa")
    if share < _LIGHT_SHARE:
        return "lever_hard" if suction_pa > _HARD_PA else "lever_light" if pushes else "lever_soft"
    if air_share > _PUMPS_AIR_SHARE:
        return "lever_air"
    if air_share > _SPONGY_SHARE:
        return "lever_spongy"
    if suction_pa > _STIFF_PA:
        return "lever_stiff"
    return "lever_loses" if share < _LOSES_SHARE and not pushes else "lever_steady"


def _listen(place: Workplace, part: str) -> list[Noticed]:
    drives = place.rig.circuit.drives
    return [hear(part, "pump_hums" if drives.electric_on else "pump_silent")]


def _change_pump(place: Workplace, part: str) -> list[Noticed]:
    """Put in a sound pump: its figures become those of the layout, and it comes empty."""
    rig = place.rig
    for name, value in rig.topology.links[rig.topology.link_number(part)].numbers.items():
        rig.set_number(part, name, value)
    for link in rig.topology.links:
        if link.part == part and link.b is None:
            rig.set_open(link.id, link.opening)
    for volume in (f"{part}.inlet", f"{part}.outlet"):
        fuel, water, _ = rig.shares(volume)
        rig.lose((fuel + water) * rig.topology.volumes[rig.topology.volume_number(volume)].volume_m3)
        rig.take_out(volume)
    place.wipe(part)
    return [see(part, "pump_changed")]


def _fit_gauge(place: Workplace, part: str) -> list[Noticed]:
    place.gauge_fitted = True
    return [see(part, "gauge_fitted"), *vacuum(place)]


def _read_gauge(place: Workplace, _part: str) -> list[Noticed]:
    return vacuum(place)


def _gauge_is_fitted(place: Workplace, _part: str) -> str:
    return "" if place.gauge_fitted else "no vacuum gauge is fitted."


def _engine_stands(place: Workplace, _part: str) -> str:
    return "the engine runs." if place.rig.engine.running else ""


_LOOK = Action("look", "look at the pump", 20.0, _look, "torch")
_GAUGE = (
    Action(
        "fit_gauge",
        "fit the vacuum gauge at the pump's inlet",
        5.0 * MINUTE_S,
        _fit_gauge,
        "vacuum gauge, spanner, washer",
        "fuel_opened",
        ready=_engine_stands,
    ),
    Action("read_vacuum", "read the vacuum gauge", 5.0, _read_gauge, "vacuum gauge", ready=_gauge_is_fitted),
)
_CHANGE = Action(
    "change_pump",
    "fit the spare lift pump",
    30.0 * MINUTE_S,
    _change_pump,
    "spanners, gasket, tray, rag",
    "fuel_opened",
    uses=("lift pump", "washer", "washer"),
    ready=_engine_stands,
)

FAMILIES = (
    Family(
        ("lift_pump",),
        (
            _LOOK,
            Action("lever_10", "work the hand lever, 10 strokes", 5.0, _lever(10), plays_s=10.0),
            Action("lever_60", "work the hand lever, 60 strokes", 5.0, _lever(60), plays_s=60.0),
            *_GAUGE,
            _CHANGE,
        ),
    ),
    Family(("electric_pump",), (_LOOK, Action("listen", "listen to the pump", 5.0, _listen), *_GAUGE, _CHANGE)),
)
