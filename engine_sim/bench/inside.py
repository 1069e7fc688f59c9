"""What shows through: the glass bowl for everybody, and the x-ray layer where the exercise permits it.

Fuel is plain amber, water has waves and a dark level line, air is an empty pipe or outlined bubbles:
never colour alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from engine_sim.bench import geometry as g
from engine_sim.bench import symbols as s

TRACE = 0.02
NEARLY_ALL = 0.95
_BUBBLE_GAPS = ((0.15, 26), (0.45, 17), (NEARLY_ALL, 11))
_HOSE_BODY = 12
_RETURN_BODY = 7


class Shares(Protocol):
    """What the x-ray tells of one volume; the three shares are 0 to 1 and add up to 1."""

    @property
    def fuel_share(self) -> float:
        """The part of the volume that is fuel."""

    @property
    def water_share(self) -> float:
        """The part of the volume that is water."""

    @property
    def air_share(self) -> float:
        """The part of the volume that is air."""


def bowl() -> str:
    """Return the content of the glass bowl."""
    specks = "".join(
        s.element("circle", class_="dirt", cx=x, cy=y, r=2.6)
        for x, y in ((374, 430), (383, 425), (392, 431), (401, 426), (410, 430))
    )
    return _layers("bowl", g.BOWL) + s.group(specks, id="bowl-dirt", visibility="hidden")


def bowl_view(outside: Mapping[str, object]) -> s.View:
    """Return the attributes of the glass bowl as a person sees it."""
    water, air = (float(str(outside[key])) for key in ("bowl_water_share", "bowl_air_share"))
    shown = _layers_view("bowl", g.BOWL, water, air)
    return shown | {"bowl-dirt": {"visibility": "inherit" if outside["bowl_dirty"] else "hidden"}}


def hose_layer(piece_counts: Mapping[str, int]) -> str:
    """Return the insides of the hoses, hidden at first."""
    hoses = "".join(_hose(name, points, piece_counts.get(name, 1)) for name, points in g.HOSES.items())
    return s.group(hoses, id="xray-hoses", visibility="hidden")


def vessel_layer() -> str:
    """Return the insides of tank, filters and pump, hidden at first."""
    vessels = "".join(_vessel(name, box) for name, box in g.VESSELS.items() if name != "separator.bowl")
    return s.group(vessels, id="xray-vessels", visibility="hidden")


def _vessel(name: str, box: g.Box) -> str:
    return s.rect(box, class_="empty") + _layers(_id(name), box) + s.rect(box, class_="symbol clear slim")


def _hose(name: str, points: g.Polyline, count: int) -> str:
    slim = " slim" if name == "return_line" else ""
    back = s.line(points, class_=f"inner{slim}")
    return back + "".join(
        s.line(piece, id=f"{_id(name)}-{i}", class_=f"fill fuel{slim}")
        + s.line(piece, id=f"{_id(name)}-{i}-water", class_="trickle", stroke_width=0)
        + s.line(piece, id=f"{_id(name)}-{i}-rim", class_=f"bubble-rim{slim}", stroke_dasharray="0 99")
        + s.line(piece, id=f"{_id(name)}-{i}-air", class_=f"bubble{slim}", stroke_dasharray="0 99")
        for i, piece in enumerate(g.pieces(points, count))
    )


def _id(name: str) -> str:
    return "x-" + name.replace("_", "-").replace(".", "-")


def _layers(name: str, box: g.Box) -> str:
    fuel = s.rect(box, id=f"{name}-fuel", class_="fuel")
    water = s.rect(
        g.Box(box.x, box.y + box.height, box.width, 0), id=f"{name}-water", class_="water", fill="url(#waves) #7cc4f4"
    )
    edge = s.element(
        "path", id=f"{name}-line", class_="level", d=f"M{box.x} {box.y + box.height}h{box.width}", visibility="hidden"
    )
    return fuel + water + edge


def _layers_view(name: str, box: g.Box, water: float, air: float) -> s.View:
    bottom = box.y + box.height
    top_of_fuel = box.y + box.height * min(1.0, air)
    top_of_water = bottom - box.height * min(1.0, water)
    return {
        f"{name}-fuel": {"y": f"{top_of_fuel:.1f}", "height": f"{max(0.0, bottom - top_of_fuel):.1f}"},
        f"{name}-water": {"y": f"{top_of_water:.1f}", "height": f"{max(0.0, bottom - top_of_water):.1f}"},
        f"{name}-line": {
            "d": f"M{box.x} {top_of_water:.1f}h{box.width}",
            "visibility": "inherit" if water >= TRACE else "hidden",
        },
    }


def xray_view(volumes: Mapping[str, Shares] | None) -> s.View:
    """Return the attributes of the x-ray layer; ``None`` hides it and says nothing of what is inside."""
    if volumes is None:
        return {name: {"visibility": "hidden"} for name in ("xray-hoses", "xray-vessels")}
    shown: s.View = {name: {"visibility": "visible"} for name in ("xray-hoses", "xray-vessels")}
    for name, box in g.VESSELS.items():
        if name in volumes and name != "separator.bowl":
            shown |= _layers_view(_id(name), box, volumes[name].water_share, volumes[name].air_share)
    for name, volume in volumes.items():
        family, _, number = name.rpartition(".")
        if family in g.HOSES:
            shown |= _piece_view(f"{_id(family)}-{number}", volume, slim=family == "return_line")
    return shown


def _piece_view(name: str, volume: Shares, slim: bool) -> s.View:
    full_width = _RETURN_BODY if slim else _HOSE_BODY
    extra = " slim" if slim else ""
    dry = volume.air_share >= NEARLY_ALL
    water_width = 0.0 if volume.water_share < TRACE else max(3.0, full_width * volume.water_share)
    bubbles = {
        "stroke-dasharray": f"0 {bubble_gap(volume.air_share)}",
        "visibility": "inherit" if TRACE <= volume.air_share < NEARLY_ALL else "hidden",
    }
    return {
        name: {"class": f"fill {'none' if dry else 'fuel'}{extra}"},
        f"{name}-water": {"stroke-width": f"{water_width:.1f}"},
        f"{name}-rim": bubbles,
        f"{name}-air": bubbles,
    }


def bubble_gap(air_share: float) -> int:
    """Return the distance between drawn bubbles: the more air, the closer; 0 or nothing but air draws none."""
    if TRACE <= air_share < NEARLY_ALL:
        return next(gap for limit, gap in _BUBBLE_GAPS if air_share < limit)
    return 999
