"""The page for the wall in Chromium: one key enters the room's choice; axe finds nothing; it reads from the back."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from bare_page import BarePage
from bench_wire import EXERCISE, Wire, ticket_for
from playwright.sync_api import Browser, expect

from engine_sim.bench import Bench
from engine_sim.bench.presenter_desk import PresenterDesk
from engine_sim.bench.presenter_words import TELLS
from engine_sim.wording import CAUTIONS

LEAST_LETTER_PX = 24
"""On a wall 1920 pixels wide; common practice for a slide that the back row reads, no source."""


@pytest.fixture
def wall(chromium_browser: Browser):
    context = chromium_browser.new_context(viewport={"width": 1920, "height": 1080}, reduced_motion="reduce")
    page = BarePage(context.new_page(), Wire(Bench(desk=PresenterDesk()))).open()
    page.page.set_default_timeout(10_000)
    yield page
    context.close()


def begin(wall: BarePage) -> None:
    page = wall.page
    wall.after(lambda: page.get_by_label(TELLS["boat"], exact=True).select_option("tank_below"))
    page.get_by_label(TELLS["fault"], exact=True).select_option("shut_valve")
    wall.after(page.get_by_role("button", name=TELLS["set_do"]).click)


def test_axe_finds_nothing_at_any_stage(wall):
    for stage in ("set", "show"):
        found = Axe().run(wall.page).response["violations"]
        assert [(one["id"], [node["target"] for node in one["nodes"]]) for one in found] == [], stage
        if stage == "set":
            begin(wall)


def test_one_key_enters_the_rooms_choice_time_after_time(wall):
    begin(wall)
    for count in (1, 2):
        wall.after(lambda: wall.page.keyboard.press("1"))
        assert len(wall.wire.noticed()) >= count


def test_the_back_row_can_read_it(wall):
    begin(wall)
    sizes = wall.page.evaluate(
        """() => [...document.querySelectorAll('.vote-one, .left-line, .facts')]
          .map((node) => parseFloat(getComputedStyle(node).fontSize))"""
    )
    assert sizes and min(sizes) >= LEAST_LETTER_PX
    box = wall.page.locator(".stage svg").bounding_box()
    assert box["y"] + box["height"] <= 1080


def test_cautions_stand_under_the_drawing_and_belong_to_their_choices(wall):
    begin(wall)
    page = wall.page
    starter = page.get_by_role("button", name="starter: crank for 5 s")
    ids = starter.get_attribute("aria-describedby").split()
    said = [page.locator(f"#{one}").inner_text() for one in ids]
    assert any(CAUTIONS["starting"] in text for text in said)
    first = page.locator(".vote-care .caution").first.bounding_box()
    stage = page.locator(".stage svg").bounding_box()
    assert stage["y"] + stage["height"] <= first["y"] and first["y"] + first["height"] <= 1080
    wall.after(page.get_by_role("button", name=TELLS["show_do"]).click)
    expect(page.locator(".vote-care")).to_be_hidden()


def test_what_it_was_is_shown_at_a_press(wall):
    begin(wall)
    expect(wall.page.locator(".was")).to_have_text("")
    wall.after(wall.page.get_by_role("button", name=TELLS["show_do"]).click)
    expect(wall.page.locator(".was")).to_contain_text("shut-off")
    expect(wall.page.locator(".known li").first).to_be_visible()


def test_a_logbook_goes_on_by_the_clickers_key_at_once(wall, tmp_path):
    worked = Wire(Bench(EXERCISE, tmp_path))
    worked.ask("page", "ticket", text=ticket_for("shut_valve"))
    worked.ask("shut_off", "look")
    worked.bench.desk.close()
    wall.after(
        lambda: wall.page.get_by_label(TELLS["replay_file"]).set_input_files(tmp_path / f"{EXERCISE}.logbook.jsonl")
    )
    expect(wall.page.locator(".was")).to_have_text("")
    wall.after(lambda: wall.page.keyboard.press("PageDown"))
    expect(wall.page.locator(".step-line")).to_contain_text(TELLS["step"].format(now=1, of=1))
    expect(wall.page.locator(".was")).to_contain_text("shut-off")
