"""The drawing on paper looks the same as the drawing at the bench, point by point, on every boat of the course."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest
from PIL import Image, ImageChops
from playwright.sync_api import Page

from engine_sim.drawing import on_paper
from engine_sim.drawing.fuel_side import bowl_box

sys.path.insert(0, str(Path(__file__).parents[1] / "drawing"))

from boats_to_draw import COURSE, as_found, drawing_named

pytestmark = pytest.mark.browser

PAGE = """<style>body{{margin:0;background:#fff}} svg{{display:block;width:900px!important;max-width:none!important}}
text{{font-family:monospace!important}}</style>{svg}"""
AT_WORK = {
    "fine_filter_screw_open": True,
    "fine_filter_screw_comes": "fuel_and_air",
    "weeping": ("fine_filter", "injector_1"),
    "bowl_water_share": 0.3,
    "bowl_air_share": 0.2,
    "tray_laid": True,
    "spilled_ml": 30.0,
    "union_nuts_open": (True,),
    "shut_off_open": False,
    "smoke": "white",
}


QUICK = ("tank_below",)
BOATS = [pytest.param(boat, marks=[] if boat in QUICK else [pytest.mark.slow]) for boat in COURSE]


def picture(page: Page, svg: str) -> Image.Image:
    page.set_content(PAGE.format(svg=svg))
    return Image.open(io.BytesIO(page.locator("svg").screenshot())).convert("RGB")


def inside_a_bowl(found: tuple[int, int, int, int], boat: str, wide: int) -> bool:
    """Tell whether what differs lies in a glass bowl; there the waves end where there is room for whole ones."""
    drawing = drawing_named(boat)
    scale = wide / drawing.plan.width
    bowls = [bowl_box(place).grown(1.0 / scale) for place in drawing.plan.places.values() if place.kind == "separator"]
    left, top, right, bottom = (edge / scale for edge in found)
    return any(box.x <= left and box.y <= top and right <= box.right and bottom <= box.bottom for box in bowls)


@pytest.mark.parametrize("work", [{}, AT_WORK], ids=["as found", "at work"])
@pytest.mark.parametrize("boat", BOATS)
def test_paper_and_screen_look_the_same(chromium_page: Page, boat: str, work: dict[str, object]) -> None:
    drawing = drawing_named(boat)
    view = drawing.view(as_found(boat) | work, "words")
    screen = drawing.picture(drawing.skeleton("A boat"), view)
    paper = on_paper(screen, "A boat", "words")
    differs = ImageChops.difference(picture(chromium_page, screen), picture(chromium_page, paper))
    found = differs.getbbox()
    assert found is None or ("q4 -5 8 0" in paper and inside_a_bowl(found, boat, differs.width))
