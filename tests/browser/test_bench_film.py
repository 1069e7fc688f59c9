"""The film on the page: it plays, can be skipped, waits for nobody, and is not there for who wants stillness."""

from __future__ import annotations

import pytest
from bare_page import open_bench, unfolded
from bench_wire import LESSON
from playwright.sync_api import Browser, expect

from engine_sim.bench.words import PAGE


@pytest.fixture
def moving(chromium_browser: Browser, tmp_path):
    context = chromium_browser.new_context(viewport={"width": 1280, "height": 900})
    bench = open_bench(context.new_page(), tmp_path, fault="air_in_filter")
    bench.do("fine_filter", "open_screw")
    bench.choose("lift_pump")
    yield bench
    context.close()
    bench.wire.bench.desk.close()


def start(bench) -> None:
    bench.page.locator(".offer[data-action=lever_60]").click()
    bench.page.wait_for_selector(".fuel-bench[data-filming]")


def test_a_film_plays_and_what_was_noticed_stands_there_after_it(moving):
    start(moving)
    expect(moving.page.locator(".entry")).to_have_count(1)
    moving.page.wait_for_selector(".fuel-bench:not([data-filming])")
    expect(moving.page.locator(".entry")).to_have_count(2)
    expect(moving.page.locator(".film-bar")).to_be_hidden()


def test_a_film_can_be_skipped(moving):
    start(moving)
    moving.page.get_by_role("button", name=PAGE["film_skip"]).click()
    expect(moving.page.locator(".entry")).to_have_count(2)


def test_the_next_press_does_not_wait_for_the_film(moving):
    start(moving)
    moving.page.locator(".offer[data-action=look]").first.click()
    expect(moving.page.locator(".entry")).to_have_count(3)


def test_films_can_be_switched_off_and_stay_off(moving):
    switch = moving.page.get_by_role("button", name=PAGE["film"])
    expect(switch).to_have_attribute("aria-pressed", "true")
    switch.click()
    expect(switch).to_have_attribute("aria-pressed", "false")
    moving.after(moving.page.locator(".offer[data-action=lever_60]").click)
    assert moving.page.locator(".fuel-bench[data-filming]").count() == 0
    expect(moving.page.locator(".entry")).to_have_count(2)


def test_who_wants_stillness_gets_no_film(bare):
    bench = bare(LESSON)
    bench.do("starter", "crank_10")
    sent = bench.page.evaluate("model.sent.at(-1)")
    assert sent["film"] is False


def test_sound_is_off_until_it_is_switched_on_and_makes_no_error(moving):
    errors: list[str] = []
    moving.page.on("pageerror", lambda error: errors.append(str(error)))
    switch = moving.page.get_by_role("button", name=PAGE["sound"])
    expect(switch).to_have_attribute("aria-pressed", "false")
    switch.click()
    moving.choose("starter")
    unfolded(moving.page.locator(".offer[data-action=crank_10]")).click()
    moving.page.wait_for_function("() => document.querySelectorAll('.entry').length === 2")
    assert errors == []


def test_a_pin_is_a_tick_and_a_tick_is_a_pin(bare):
    bench = bare()
    bench.do("shut_off", "look")
    pin = bench.page.locator(".pin").first
    box = bench.page.locator("label.tick input").first
    pin.click()
    expect(pin).to_have_attribute("aria-pressed", "true")
    expect(box).to_be_checked()
    box.uncheck()
    expect(pin).to_have_attribute("aria-pressed", "false")


def test_what_was_noticed_can_be_looked_through_part_by_part(bare):
    bench = bare()
    bench.do("shut_off", "look")
    bench.do("tank", "look")
    bench.page.get_by_label(PAGE["about"]).select_option("tank")
    expect(bench.page.locator(".entry:visible")).to_have_count(1)
    expect(bench.page.locator(".entry:visible")).to_contain_text("tank")
    bench.page.get_by_label(PAGE["about"]).select_option("")
    expect(bench.page.locator(".entry:visible")).to_have_count(2)
