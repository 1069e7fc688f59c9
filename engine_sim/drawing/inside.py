"""What shows through: the glass bowl for everybody, and the x-ray layer where the exercise permits it.

Fuel is plain amber, water has waves and a dark level line, air is an empty pipe or outlined bubbles:
never colour alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from engine_sim.drawing import svg as s
from engine_sim.drawing.geometry import Box, Polyline, pieces
from engine_sim.drawing.seen import ALL_ONE

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


def bowl(name: str, box: Box) -> str:
    """Return the content of a glass bowl."""
    x, y = box.middle[0], box.bottom - 8.0
    specks = "".join(
        s.element("circle", class_="dirt", cx=x + dx, cy=y + dy, r=2.6)
        for dx, dy in ((-18, 1), (-9, -4), (0, 2), (9, -3), (18, 1))
    )
    return s.group(_layers(name, box), s.group(specks, id=f"{name}-dirt", visibility="hidden"), id=name)


def bowl_view(name: str, box: Box, water: float, air: float, dirty: bool) -> s.View:
    """Return the attributes of a glass bowl as a person sees it: shares of water and of air [0..1], and dirt.

    Where all of it is water there is no line to be seen, and it looks like pale fuel.
    """
    all_one = water >= ALL_ONE * max(1.0 - air, TRACE)
    seen = _layers_view(name, box, 0.0 if all_one else water, air)
    seen[f"{name}-fuel"]["class"] = "fuel pale" if all_one else "fuel"
    return seen | {f"{name}-dirt": {"visibility": "inherit" if dirty else "hidden"}}


@dataclass(frozen=True, slots=True)
class Insides:
    """What can be seen through: the vessels by the volume in them, the hoses as lines cut into so many pieces.

    ``slim`` names the hoses that are drawn thin, ``only_in_use`` those that lie there only while they are in use.
    """

    vessels: Mapping[str, Box]
    hoses: Mapping[str, Polyline]
    counts: Mapping[str, int]
    slim: frozenset[str]
    only_in_use: frozenset[str]

    def hose_layer(self) -> str:
        """Return the insides of the hoses, hidden at first."""
        hoses = "".join(self._hose(name, line) for name, line in self.hoses.items())
        return s.group(hoses, id="xray-hoses", visibility="hidden")

    def vessel_layer(self) -> str:
        """Return the insides of tanks, filters and pumps, hidden at first."""
        return s.group("".join(_vessel(*one) for one in self.vessels.items()), id="xray-vessels", visibility="hidden")

    def _hose(self, name: str, line: Polyline) -> str:
        slim = " slim" if name in self.slim else ""
        back = s.line(line, class_=f"inner{slim}")
        inner = "".join(
            s.line(piece, id=f"{_id(name)}-{i}", class_=f"fill fuel{slim}")
            + s.line(piece, id=f"{_id(name)}-{i}-water", class_="trickle", stroke_width=0)
            + s.line(piece, id=f"{_id(name)}-{i}-rim", class_=f"bubble-rim{slim}", stroke_dasharray="0 99")
            + s.line(piece, id=f"{_id(name)}-{i}-air", class_=f"bubble{slim}", stroke_dasharray="0 99")
            for i, piece in enumerate(pieces(line, self.counts.get(name, 1)))
        )
        return s.group(back, inner, id=f"{_id(name)}-all")

    def view(self, volumes: Mapping[str, Shares] | None, in_use: bool = True) -> s.View:
        """Return the attributes of the x-ray layer; ``None`` hides it and says nothing of what is inside."""
        if volumes is None:
            return {name: {"visibility": "hidden"} for name in ("xray-hoses", "xray-vessels")}
        shown: s.View = {name: {"visibility": "visible"} for name in ("xray-hoses", "xray-vessels")}
        for name, box in self.vessels.items():
            if name in volumes:
                shown |= _layers_view(_id(name), box, volumes[name].water_share, volumes[name].air_share)
        for name, volume in volumes.items():
            family, _, number = name.rpartition(".")
            if family in self.hoses:
                shown |= _piece_view(f"{_id(family)}-{number}", volume, slim=family in self.slim)
        shown |= {f"{_id(name)}-all": {"visibility": "inherit" if in_use else "hidden"} for name in self.only_in_use}
        return shown


def _vessel(name: str, box: Box) -> str:
    return s.rect(box, class_="empty") + _layers(_id(name), box) + s.rect(box, class_="symbol clear slim")


def _id(name: str) -> str:
    return "x-" + name.replace("_", "-").replace(".", "-")


def _layers(name: str, box: Box) -> str:
    fuel = s.rect(box, id=f"{name}-fuel", class_="fuel")
    water = s.rect(
        Box(box.x, box.y + box.height, box.width, 0), id=f"{name}-water", class_="water", fill="url(#waves) #7cc4f4"
    )
    edge = s.element(
        "path", id=f"{name}-line", class_="level", d=f"M{box.x} {box.y + box.height}h{box.width}", visibility="hidden"
    )
    return fuel + water + edge


def _layers_view(name: str, box: Box, water: float, air: float) -> s.View:
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
