"""The drawing for a page that carries no style sheet (nbgrader's pages, a PDF): each shape with its own attributes.

What the style sheet says by class is written out, what is hidden is left out, and the sheet is white whatever the
page around it is.
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from engine_sim.drawing.geometry import Box

SVG = "http://www.w3.org/2000/svg"
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_VARIABLE = re.compile(r"var\((--[a-z]+)\)")
_PATTERN = "url("
_ROOT = ".fb-svg"
_NOT_DRAWN = ("title", "desc", "style", "defs")
_HUMP, _ROW = 8.0, 10.0
"""Half a wave's length and the distance between rows of waves, as in the drawing's own pattern."""
_FRAME_PX = 5.0
"""Width of the frame's stroke, which lies inside the room of the part, clear of the name under it."""
_FRAME = {"fill": "none", "stroke": "#0b4f8a", "stroke-width": f"{_FRAME_PX:g}", "stroke-dasharray": "14 8"}


@dataclass(frozen=True, slots=True)
class Rule:
    """One line of the style sheet: the classes that an element and those around it must have, and what it then has."""

    steps: tuple[frozenset[str], ...]
    child: bool
    says: Mapping[str, str]

    def holds(self, around: tuple[frozenset[str], ...]) -> bool:
        """Tell whether the rule speaks of an element, given its classes last and those around it before."""
        *outer, last = self.steps
        if not around or not last <= around[-1]:
            return False
        if not outer:
            return True
        within = around[-2:-1] if self.child else around[:-1]
        return any(outer[0] <= classes for classes in within)


@cache
def _sheet() -> tuple[tuple[Rule, ...], Mapping[str, str]]:
    """Return the rules of the style sheet in order of weight, and its colours by name."""
    text = files("engine_sim.drawing").joinpath("drawing.css").read_text(encoding="utf-8")
    rules: list[Rule] = []
    colours: dict[str, str] = {}
    for selectors, body in _RULE.findall(text):
        says = dict(part.split(":", 1) for part in body.strip().split(";") if part)
        colours |= {name: value for name, value in says.items() if name.startswith("--")}
        for selector in selectors.strip().split(","):
            rest = selector.strip().removeprefix(_ROOT)
            if rest.strip() and rest != " *":
                rules.append(_rule(rest, says))
    return tuple(sorted(rules, key=lambda rule: sum(len(step) for step in rule.steps))), colours


def _rule(selector: str, says: Mapping[str, str]) -> Rule:
    steps = tuple(frozenset(step.strip("*").split(".")) - {""} for step in re.split(r"[ >]+", selector.strip()))
    return Rule(steps, ">" in selector, says)


def on_paper(drawing: str, title: str, words: str, here: Box | None = None) -> str:
    """Return a drawing, its view and names written in, as SVG of plain shapes; ``here`` is framed.

    ``title`` names the picture and ``words`` says it for those who do not see it.
    """
    root = ET.fromstring(drawing)
    _, _, wide, high = root.get("viewBox", "0 0 1 1").split()
    ET.register_namespace("", SVG)
    sheet = ET.Element(_tag("svg"), {"viewBox": f"0 0 {wide} {high}", "width": "100%", "role": "img"})
    sheet.attrib |= {"aria-label": title, "font-family": "sans-serif", "style": f"max-width:{wide}px;height:auto"}
    for name, text in (("title", title), ("desc", words)):
        ET.SubElement(sheet, _tag(name)).text = text
    white = {"x": "0", "y": "0", "width": wide, "height": high, "fill": "#fff", "stroke": "none"}
    ET.SubElement(sheet, _tag("rect"), white)
    sheet.extend(_plain(node, (), "visible") for node in root if node.tag.removeprefix(f"{{{SVG}}}") not in _NOT_DRAWN)
    for group in [node for node in sheet.iter() if node.tag == _tag("g")]:
        for empty in [node for node in group if node.tag == _tag("g") and not len(node)]:
            group.remove(empty)
    if here is not None:
        inside = here.grown(-_FRAME_PX / 2.0)
        box = {name: f"{value:g}" for name, value in zip(("x", "y", "width", "height"), _of(inside), strict=True)}
        ET.SubElement(sheet, _tag("rect"), {**box, **_FRAME})
    return ET.tostring(sheet, encoding="unicode")


def _of(box: Box) -> tuple[float, float, float, float]:
    return box.x, box.y, box.width, box.height


def _tag(name: str) -> str:
    return f"{{{SVG}}}{name}"


def _plain(node: ET.Element, around: tuple[frozenset[str], ...], before: str) -> ET.Element:
    """Return a copy of an element with its looks written out, without what is hidden."""
    classes = (*around, frozenset(node.get("class", "").split()))
    rules, colours = _sheet()
    looks = {key: value for key, value in node.attrib.items() if key not in ("class", "id")}
    for rule in rules:
        if rule.holds(classes):
            looks |= rule.says
    visible = looks.pop("visibility", "inherit")
    visible = before if visible == "inherit" else visible
    if looks.get("fill", "").startswith(_PATTERN):
        return _waves(looks, colours)
    plain = ET.Element(node.tag, {key: _value(value, colours) for key, value in looks.items()})
    plain.text = node.text
    plain.extend(_shown(node, classes, visible))
    if visible == "hidden" and node.tag != _tag("g"):
        return ET.Element(_tag("g"))
    return plain


def _shown(node: ET.Element, classes: tuple[frozenset[str], ...], visible: str) -> Iterator[ET.Element]:
    for child in node:
        copy = _plain(child, classes, visible)
        if copy.tag != _tag("g") or len(copy):
            yield copy


def _value(value: str, colours: Mapping[str, str]) -> str:
    return _VARIABLE.sub(lambda found: colours[found.group(1)], value).removesuffix("px")


def _waves(looks: Mapping[str, str], colours: Mapping[str, str]) -> ET.Element:
    """Return water: a flat ground with waves on it, as many as have room; a page may not know pattern fills."""
    x, y, width, height = (float(looks.get(name, "0")) for name in ("x", "y", "width", "height"))
    group = ET.Element(_tag("g"))
    ground = {"x": f"{x:g}", "y": f"{y:g}", "width": f"{width:g}", "height": f"{height:g}"}
    ET.SubElement(group, _tag("rect"), {**ground, "fill": colours["--water"], "stroke": "none"})
    first = math.ceil(x / _HUMP) * _HUMP
    humps = int((x + width - first) // _HUMP)
    rows = range(math.ceil((y - 1.0) / _ROW), int((y + height - 9.0) // _ROW) + 1)
    lines = "".join(f"M{first:g} {row * _ROW + 5.0:g}q4 -5 8 0{'t8 0' * (humps - 1)}" for row in rows)
    if lines and humps > 0:
        wave = {"d": lines, "fill": "none", "stroke": colours["--deep"], "stroke-width": "1.8"}
        ET.SubElement(group, _tag("path"), wave)
    return group
