"""The key to hoses and lines, and to fuel, water and air in them: drawn by the drawing's own functions."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import dataclass

from engine_sim.drawing import shapes
from engine_sim.drawing import svg as s
from engine_sim.drawing.geometry import Box
from engine_sim.drawing.inside import Insides
from engine_sim.drawing.paper import SVG

MIDDLE, HIGH = (110.0, 50.0), 116.0
"""The middle of each picture, and its height."""
_LEFT, _RIGHT, _Y = 20.0, 200.0, 50.0
_LINE = ((_LEFT, _Y), (_RIGHT, _Y))
_VESSEL = Box(60.0, 10.0, 100.0, 80.0)
_TRAY = "M30 40L44 74H176L190 40"

Drawn = tuple[tuple[str, str], ...]
"""Pictures with their words: what it is, a colon, how it stands."""


@dataclass(frozen=True, slots=True)
class Shares:
    """What is in a piece of hose or a vessel, as shares of it."""

    fuel_share: float
    water_share: float
    air_share: float


def lines_key() -> Drawn:
    """Return hoses, lines, the tray and what was spilled, each with its words."""
    return (
        (s.hose(_LINE), "hose: what is in it cannot be seen"),
        (s.hose(_LINE, "thin") + shapes.arrow(90.0, _Y) + shapes.arrow(130.0, _Y), "return line: back to the tank"),
        (
            s.line(_LINE, class_="pressure-wall") + s.line(_LINE, class_="pressure-body"),
            "high-pressure line: from injection pump to injector",
        ),
        (s.element("path", class_="waterline", d=f"M{_LEFT} {_Y}H{_RIGHT}"), "waterline: the sea outside"),
        (s.element("path", class_="dashed", d=_TRAY), "tray: not laid yet"),
        (s.element("path", class_="tray", d=_TRAY), "tray: laid"),
        (s.element("path", class_="spill", d="M60 76q10 -16 34 -12q40 -6 50 12Z"), "spilled: fuel under the engine"),
        (s.group(shapes.drop(110.0, 40.0, "wet")).replace("hidden", "visible"), "wet: fuel outside a part"),
    )


def insides_key() -> Drawn:
    """Return what fuel, water and air look like where the inside is shown, in a hose and in a vessel."""
    hoses = (
        ("fuel", Shares(1.0, 0.0, 0.0)),
        ("fuel with water running along its bottom", Shares(0.7, 0.3, 0.0)),
        ("fuel with a few bubbles", Shares(0.9, 0.0, 0.1)),
        ("froth: much air", Shares(0.4, 0.0, 0.6)),
        ("nothing but air", Shares(0.0, 0.0, 1.0)),
    )
    vessels = (
        ("fuel", Shares(1.0, 0.0, 0.0)),
        ("water under fuel", Shares(0.6, 0.4, 0.0)),
        ("air over fuel", Shares(0.6, 0.0, 0.4)),
    )
    return (
        *((_hose(shares), f"in a hose: {words}") for words, shares in hoses),
        *((_vessel(shares), f"in a tank or filter: {words}") for words, shares in vessels),
    )


def as_seen(svg: str, view: s.View) -> str:
    """Return a piece of a drawing with the view written into it."""
    ET.register_namespace("", SVG)
    root = ET.fromstring(f'<g xmlns="{SVG}">{svg}</g>')
    for node in root.iter():
        for key, value in view.get(node.get("id", ""), {}).items():
            node.set(key, value)
    return ET.tostring(root, encoding="unicode")


def _hose(shares: Shares) -> str:
    insides = Insides({}, {"hose": _LINE}, {"hose": 1}, frozenset(), frozenset())
    return s.hose(_LINE) + as_seen(insides.hose_layer(), insides.view({"hose.0": shares}))


def _vessel(shares: Shares) -> str:
    insides = Insides({"vessel": _VESSEL}, {}, {}, frozenset(), frozenset())
    frame = s.rect(_VESSEL.grown(4.0), class_="vessel", rx=8)
    return frame + as_seen(insides.vessel_layer(), insides.view({"vessel": shares}))
