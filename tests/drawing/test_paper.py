"""The drawing on paper needs no style sheet and nothing from elsewhere; how it looks is compared in the browser."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from boats_to_draw import COURSE, as_found, drawing_named

from engine_sim.drawing import on_paper
from engine_sim.drawing.paper import SVG

OPENED = {"fine_filter_screw_open": True, "weeping": ("fine_filter",), "bowl_water_share": 0.4, "tray_laid": True}


def printed(boat: str, **changes: object) -> ET.Element:
    drawing = drawing_named(boat)
    written = drawing.picture(drawing.skeleton("A boat"), drawing.view(as_found(boat) | changes, "words"))
    return ET.fromstring(on_paper(written, "A boat & more", "What is seen.", drawing.frame("fine_filter")))


@pytest.mark.parametrize("boat", COURSE)
def test_every_shape_has_its_looks_of_its_own(boat: str) -> None:
    root = printed(boat, **OPENED)
    assert {node.tag.removeprefix(f"{{{SVG}}}") for node in root.iter()} <= {
        "svg", "title", "desc", "g", "path", "rect", "circle", "text", "line", "ellipse", "polygon",
    }  # fmt: skip
    for node in root.iter():
        assert not {"class", "id", "visibility"} & set(node.attrib)
        assert not [value for value in node.attrib.values() if "var(" in value or "url(" in value or "inherit" in value]
        if node.tag in (f"{{{SVG}}}path", f"{{{SVG}}}rect", f"{{{SVG}}}circle"):
            assert {"fill", "stroke"} & set(node.attrib), node.attrib


def test_title_and_words_stand_in_it() -> None:
    root = printed("tank_below")
    assert (root[0].text, root[1].text) == ("A boat & more", "What is seen.")
    assert (root.get("role"), root.get("aria-label")) == ("img", "A boat & more")


def test_the_names_of_all_parts_are_written() -> None:
    said = {node.text for node in printed("tank_below").iter(f"{{{SVG}}}text")}
    assert {line for label in drawing_named("tank_below").labels.values() for line in label.lines} <= said
