"""The drawing of a boat: a skeleton that never changes, the attributes that follow what is seen, and where to press."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Mapping
from functools import cached_property
from importlib.resources import files

from engine_sim.actions.parts import INJECTION_PUMPS, LIFT_PUMPS
from engine_sim.circuit.layout import Layout
from engine_sim.drawing import shapes
from engine_sim.drawing import svg as s
from engine_sim.drawing.engine_side import ENGINE_SIDE_PARTS
from engine_sim.drawing.fuel_side import FUEL_SIDE, Outside
from engine_sim.drawing.geometry import Box
from engine_sim.drawing.inside import Insides
from engine_sim.drawing.labels import LINE, SIZE, Label, frame_of, place_labels, waterline_label
from engine_sim.drawing.plan import CAN, FINE_FILTER, SEPARATOR, TANK, Place, Plan
from engine_sim.drawing.routes import Routes
from engine_sim.drawing.seen import names, share
from engine_sim.drawing.ways import can_hoses
from engine_sim.wording import DRAWING_WORDS

_SVG = "http://www.w3.org/2000/svg"
_PARTS = {**FUEL_SIDE, **ENGINE_SIDE_PARTS}
_CORNER = 46.0


class Drawing:
    """One boat's drawing, made from its layout alone."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.plan = Plan(layout)
        self.routes = Routes(self.plan)

    @cached_property
    def labels(self) -> Mapping[str, Label]:
        """The parts' names on the drawing, by the parts' ids."""
        return place_labels(self.routes)

    # ---- the skeleton -------------------------------------------------------------------------------------------

    def skeleton(self, title: str, piece_counts: Mapping[str, int] | None = None) -> str:
        """Return the drawing with every id that the view speaks of.

        ``piece_counts`` says in how many pieces each hose is shown in x-ray; without it there is no x-ray layer at all.
        """
        insides = self.insides(piece_counts) if piece_counts is not None else None
        head = (
            s.text_element("title", title, id="title")
            + s.text_element("desc", DRAWING_WORDS["start"], id="desc")
            + s.element("style", files("engine_sim.drawing").joinpath("drawing.css").read_text(encoding="utf-8"))
            + _definitions()
        )
        layers = (
            head,
            self._boat(),
            self._lines(),
            insides.hose_layer() if insides else "",
            *(self._part(place) for place in self.plan.places.values()),
            insides.vessel_layer() if insides else "",
            self._led_away(),
            *(shapes.drop(*self._wet_at(place), f"{place.id}-wet") for place in self.plan.places.values()),
        )
        return (
            f'<svg xmlns="{_SVG}" class="fb-svg" viewBox="0 0 {self.plan.width:g} {self.plan.height:g}" '
            f'role="img" aria-labelledby="title desc">{"".join(layers)}</svg>'
        )

    def _boat(self) -> str:
        plan = self.plan
        right, low, y = plan.width - 4.0, plan.height - 6.0, plan.waterline_y
        hull = s.element(
            "path",
            class_="hull",
            d=f"M4 {plan.bus_y - 22}V{low - _CORNER}Q4 {low} {4 + _CORNER} {low}"
            f"H{right - _CORNER}Q{right} {low} {right} {low - _CORNER}V{plan.bus_y - 22}",
        )
        label = waterline_label(self.routes, self.labels, DRAWING_WORDS["waterline"])
        water = s.element("path", class_="waterline", d=f"M4 {y}H{right}")
        if label is not None:
            at = {"x": label.box.x, "y": label.box.bottom - 6.0}
            water += s.text_element("text", DRAWING_WORDS["waterline"], class_="heading start", **at)
        block = s.rect(plan.block, class_="block", rx=8)
        first = self.routes.injectors[0] if self.routes.injectors else None
        heading = ""
        if first is not None:
            x = (first.x + self.routes.injectors[-1].x) / 2
            heading = s.text_element(
                "text", DRAWING_WORDS["injectors"], class_="heading", x=x, y=self.routes.leak_y - 14.0
            )
        return hull + water + block + heading

    def _lines(self) -> str:
        routes = self.routes
        high = "".join(
            s.line(line, class_="pressure-wall") + s.line(line, class_="pressure-body") for line in routes.high_pressure
        )
        taps = "".join(
            s.element("path", class_="tap", d=f"M{place.x} {routes.leak_y}V{place.box.y}") for place in routes.injectors
        )
        in_use = self._can_hoses()
        hoses = "".join(
            s.hose(line, "thin" if name == routes.return_line else "hose")
            for name, line in routes.hoses.items()
            if name not in in_use
        )
        stubs = "".join(s.hose(line) for line in routes.stubs)
        leak = s.hose(routes.leak_off, "thin") if routes.leak_off else ""
        return leak + taps + hoses + stubs + high

    def _part(self, place: Place) -> str:
        if place.kind in _PARTS:
            return _PARTS[place.kind][0](self.layout, place)
        if place.kind == "return_line":
            return "".join(shapes.arrow(place.x + dx, self.plan.bus_y) for dx in (-44.0, 0.0))
        return self._tray() if place.kind == "bench" else ""

    def _tray(self) -> str:
        box = self.plan.tray
        shape = f"M{box.x} {box.y}L{box.x + 14} {box.bottom}H{box.right - 14}L{box.right} {box.y}"
        return (
            s.element("path", class_="dashed", id="tray-place", d=shape)
            + s.element(
                "path",
                class_="spill",
                id="spill",
                visibility="hidden",
                d=f"M{box.right + 8} {box.bottom + 2}q10 -16 34 -12q40 -6 50 12Z",
            )
            + s.element("path", class_="tray", id="tray", visibility="hidden", d=shape)
        )

    def _can_hoses(self) -> frozenset[str]:
        """Return the hoses that lie on the drawing only while the fuel can is in use."""
        return frozenset(self.routes.hoses) & frozenset(can_hoses(self.layout))

    def _led_away(self) -> str:
        """Return what is drawn only while a hose lies elsewhere: the gap that it leaves, where it goes, and the jar."""
        routes, found = self.routes, ""
        for can in (place for place in self.plan.places.values() if place.kind == CAN):
            hoses = "".join(s.hose(routes.hoses[name]) for name in sorted(self._can_hoses()))
            gap = s.line(routes.own_hose_off, class_="gap") if routes.own_hose_off else ""
            found += s.group(gap, hoses, id=f"{can.id}-at-pump", visibility="hidden")
        for to, line in routes.led_to.items():
            jar = ""
            if to == "jar":
                x, y = line[-1]
                jar = s.element(
                    "path",
                    class_="symbol",
                    d=f"M{x - 18} {y - 18}V{y + 14}Q{x - 18} {y + 20} {x - 12} {y + 20}H{x + 12}"
                    f"Q{x + 18} {y + 20} {x + 18} {y + 14}V{y - 18}",
                )
            gap = s.line(routes.return_gap(to), class_="gap")
            found += s.group(gap, jar, s.hose(line, "thin"), id=f"return-to-{to}", visibility="hidden")
        return found

    @staticmethod
    def _wet_at(place: Place) -> tuple[float, float]:
        if place.kind == "injector":
            return place.box.right + 16.0, place.box.bottom - 36.0
        return place.box.right - 4.0, place.box.bottom - 12.0

    # ---- what is seen -------------------------------------------------------------------------------------------

    def view(self, outside: Outside, description: str) -> s.View:
        """Return the attributes of the drawing for what a person there sees; ``description`` is it in words."""
        seen: s.View = {"desc": {"text": description}}
        wet = names(outside, "weeping")
        for place in self.plan.places.values():
            if place.kind in _PARTS:
                seen |= _PARTS[place.kind][1](self.layout, place, outside)
            seen[f"{place.id}-wet"] = s.shown(place.id in wet)
        where = str(outside.get("return_to", "tank"))
        seen |= {f"return-to-{to}": s.shown(to == where) for to in self.routes.led_to}
        laid = bool(outside.get("tray_laid"))
        spilled = share(outside, "spilled_ml") > 0.0
        return seen | {"tray": s.shown(laid), "tray-place": s.shown(not laid), "spill": s.shown(spilled)}

    def insides(self, piece_counts: Mapping[str, int]) -> Insides:
        """Return what the x-ray shows of this boat."""
        return Insides(
            self._vessels(), self.routes.hoses, piece_counts, frozenset({self.routes.return_line}), self._can_hoses()
        )

    def _vessels(self) -> dict[str, Box]:
        found: dict[str, Box] = {}
        for place in self.plan.places.values():
            found |= _rooms(place)
        volumes = {volume.id for volume in self.layout.blueprint.volumes}
        return {name: box for name, box in found.items() if name in volumes}

    # ---- for the page -------------------------------------------------------------------------------------------

    def spots(self) -> list[dict[str, object]]:
        """Return the buttons over the drawing in flow order: where they lie, their labels, and the sheet's size."""
        sheet = [self.plan.width, self.plan.height]
        least = min(min(place.spot.width, place.spot.height) for place in self.plan.places.values())
        found: list[dict[str, object]] = []
        for place in self.plan.places.values():
            box, label, frame = place.spot, self.labels[place.id], frame_of(place)
            found.append(
                {
                    "part": place.id,
                    "name": place.part.label,
                    "box": [box.x, box.y, box.width, box.height],
                    "frame": [frame.x, frame.y, frame.width, frame.height],
                    "label": [label.x, label.box.y],
                    "align": label.align,
                    "lines": list(label.lines),
                    "sheet": sheet,
                    "size": SIZE,
                    "least": least,
                }
            )
        return found

    def frame(self, part: str) -> Box | None:
        """Return the frame around a part that is chosen; None for what is not on the drawing."""
        place = self.plan.places.get(part)
        return frame_of(place) if place is not None else None

    def picture(self, drawing: str, seen: Mapping[str, s.Attributes]) -> str:
        """Return a skeleton with the view and the parts' names written into it, for pages without the bench."""
        ET.register_namespace("", _SVG)
        root = ET.fromstring(drawing)
        for node in root.iter():
            for key, value in seen.get(node.get("id", ""), {}).items():
                if key == "text":
                    node.text = value
                else:
                    node.set(key, value)
        for label in self.labels.values():
            for number, text in enumerate(label.lines):
                written = ET.SubElement(root, f"{{{_SVG}}}text", {"class": "small", "text-anchor": label.align})
                written.set("x", f"{label.x:g}")
                written.set("y", f"{label.box.y + (number + 1) * LINE - 5:g}")
                written.text = text
        return ET.tostring(root, encoding="unicode")


def _rooms(place: Place) -> dict[str, Box]:
    """Return the rooms inside a part that the x-ray shows, by the volume in each."""
    box, name = place.box, place.id
    if place.kind in (TANK, CAN):
        inner = box.grown(-4.0) if place.kind == TANK else Box(box.x + 4, box.y + 16, box.width - 8, box.height - 20)
        return {name: inner}
    if place.kind == SEPARATOR:
        return {f"{name}.head": Box(box.x + 2, box.y + 2, box.width - 4, 38.0)}
    if place.kind == FINE_FILTER:
        left, low = box.x + 8, box.height - 38
        return {
            f"{name}.dirty": Box(left, box.y + 36, 15.0, low),
            f"{name}.clean": Box(left + 18, box.y + 36, box.width - 34, low),
        }
    if place.kind in INJECTION_PUMPS:
        return {f"{name}.gallery": Box(box.x + 4, box.bottom - 36, box.width - 8, 32.0)}
    if place.kind in LIFT_PUMPS:
        return {
            f"{name}.inlet": Box(place.x - 26, place.port_y - 11, 22.0, 22.0),
            f"{name}.outlet": Box(place.x + 4, place.port_y - 11, 22.0, 22.0),
        }
    return {}


def _definitions() -> str:
    flat = s.element("rect", class_="water-flat", width=16, height=10)
    wave = s.element("path", class_="wave", d="M0 5q4 -5 8 0t8 0")
    waves = s.element("pattern", flat + wave, id="waves", width=16, height=10, patternUnits="userSpaceOnUse")
    return s.element("defs", waves)
