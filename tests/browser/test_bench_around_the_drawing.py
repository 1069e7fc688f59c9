"""What stands around the drawing in Chromium: the closer look, the switches, the stores, and the button that mends."""

from __future__ import annotations

import pytest
from bench_wire import LESSON
from playwright.sync_api import expect

from engine_sim.bench.words import PAGE

pytestmark = pytest.mark.browser


def test_one_button_mends_a_page_that_is_not_answered(bare, chromium_page):
    bench = bare()
    bench.do("tank", "look")
    chromium_page.evaluate("window.benchIsDead = true")
    chromium_page.locator(".spot[data-part=shut_off]").click()
    again = chromium_page.get_by_role("button", name=PAGE["open_again"])
    expect(again).to_be_visible()
    again.click()
    chromium_page.wait_for_selector(".fuel-bench[data-ready=yes]")
    expect(chromium_page.locator(".entry")).to_have_count(1)
    bench.do("shut_off", "look")
    expect(chromium_page.locator(".entry")).to_have_count(2)


def test_a_closer_look_shows_the_chosen_part_larger(bare):
    bench = bare(LESSON)
    bench.choose("separator")
    lens = bench.page.locator(".lens")
    bench.page.get_by_text(PAGE["closer"]).click()
    x, y, wide, high = map(float, lens.get_attribute("viewBox").split())
    spot = next(one for one in bench.wire.bench.spots if one["part"] == "separator")
    fx, fy, fw, fh = spot["frame"]
    assert x <= fx and y <= fy and fx + fw <= x + wide and fy + fh <= y + high
    drawn = bench.page.locator(".stage svg")
    scale = lens.bounding_box()["width"] / wide
    assert scale > 1.3 * drawn.bounding_box()["width"] / spot["sheet"][0]


def test_the_switches_stand_right_under_the_drawing(bare):
    bench = bare(LESSON)
    bench.choose("fine_filter")
    drawing, under = bench.page.locator(".stage").bounding_box(), bench.page.locator(".under").bounding_box()
    assert 0 <= under["y"] - (drawing["y"] + drawing["height"]) < 30


def test_spares_and_waste_are_counted(bare):
    bench = bare()
    bench.page.get_by_text(PAGE["aboard"]).click()
    listed = bench.page.locator(".card", has_text=PAGE["aboard"]).locator("li")
    expect(listed.filter(has_text="separator element: 3")).to_have_count(1)
    bench.do("separator", "change_element")
    expect(listed.filter(has_text="separator element: 2")).to_have_count(1)


def test_the_drawing_held_beside_the_list_covers_nothing_below(bare):
    bench = bare(LESSON)
    page = bench.page
    bench.choose("stop_control")
    places = """() => ['.held', '.cards'].map((name) => {
      const box = document.querySelector(name).getBoundingClientRect(); return [box.top, box.bottom]; })"""
    for scrolled in (0, 100, 200, 300):
        page.evaluate(f"window.scrollTo(0, {scrolled})")
        (_, held_bottom), (cards_top, _) = page.evaluate(places)
        assert held_bottom <= cards_top
