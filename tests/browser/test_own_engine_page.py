"""The page of an own engine in Chromium: everybody can fill in the form, lose nothing, and get the card as a file."""

from __future__ import annotations

from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from bare_page import BarePage
from bench_wire import Wire
from playwright.sync_api import Browser, expect

from engine_sim.bench import own_practice, own_words
from engine_sim.bench.own_engine import OwnEngine
from engine_sim.wording import OWN_CHOICES, OWN_FIELDS

pytestmark = pytest.mark.browser

SIZES = {"phone": (360, 740), "tablet": (768, 1024), "laptop": (1280, 800)}
LOOKS = [
    ("laptop", "light", "none"),
    pytest.param("tablet", "dark", "none", marks=pytest.mark.slow),
    pytest.param("phone", "light", "none", marks=pytest.mark.slow),
    pytest.param("laptop", "dark", "active", marks=pytest.mark.slow),
]
FORM, LABEL = own_words.FORM, OWN_FIELDS
LEAST_TARGET_PX = 44


@pytest.fixture
def page_of(chromium_browser: Browser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Open the page in a folder; practice is of a shut valve, and set at once."""
    monkeypatch.setattr(own_practice, "shows", lambda scenario: True)
    closing = []

    def opened(size: str = "laptop", theme: str = "light", forced: str = "none") -> BarePage:
        width, height = SIZES[size]
        context = chromium_browser.new_context(
            viewport={"width": width, "height": height},
            color_scheme=theme,
            forced_colors=forced,
            reduced_motion="reduce",
            accept_downloads=True,
        )
        made = OwnEngine(tmp_path, lambda boat: b"%PDF blank" if boat is None else b"%PDF card")
        made.desk.pick = lambda places, weights: ("shut_valve", "shut_off")
        closing.extend((context.close, made.desk.close))
        bare = BarePage(context.new_page(), Wire(made))
        bare.page.set_default_timeout(10_000)
        return bare.open(theme=theme)

    yield opened
    for close in closing:
        close()


def field(own: BarePage, name: str):
    return own.page.get_by_label(LABEL[name], exact=True)


def press(own: BarePage, name: str) -> None:
    own.after(own.page.get_by_role("button", name=FORM[name], exact=True).click)


def filled(own: BarePage) -> BarePage:
    field(own, "name").fill("Saltwind")
    field(own, "tanks").select_option(label=OWN_CHOICES["tanks"]["2"])
    field(own, "call").fill("Yard\nChannel 16")
    return own


def axe_finds(own: BarePage) -> list[object]:
    found = Axe().run(own.page).response["violations"]
    return [(one["id"], [node["target"] for node in one["nodes"]]) for one in found]


@pytest.mark.parametrize(("size", "theme", "forced"), LOOKS)
def test_axe_finds_nothing_at_any_stage(page_of, size, theme, forced):
    own = page_of(size, theme, forced)
    assert axe_finds(own) == []
    press(own, "draw")
    assert axe_finds(own) == [], "with something wrong"
    press(filled(own), "draw")
    assert axe_finds(own) == [], "with the drawing"
    press(own, "practise")
    own.do("starter", "crank_5")
    assert axe_finds(own) == [], "with the bench"


@pytest.mark.parametrize("size", SIZES)
def test_fields_and_buttons_are_large_enough_and_nothing_runs_over_the_edge(page_of, size):
    """WCAG 2.2, success criterion 2.5.5: 44 by 44 CSS pixels."""
    own = page_of(size)
    press(own, "draw")
    small = own.page.evaluate(
        """least => [...document.querySelectorAll('.own :is(input, select, textarea, button, summary)')]
          .filter((node) => node.checkVisibility())
          .map((node) => [node.id || node.textContent, node.getBoundingClientRect()])
          .filter(([, box]) => box.width < least || box.height < least).map(([name]) => name)""",
        LEAST_TARGET_PX,
    )
    assert small == []
    press(filled(own), "draw")
    assert own.page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def test_the_form_is_filled_in_by_keyboard_alone(page_of, tmp_path):
    own = page_of()
    page = own.page
    page.locator("#before").focus()
    met = []
    for name in LABEL:
        page.keyboard.press("Tab")
        here = page.evaluate("document.activeElement.dataset.own")
        met.append(here)
        if here == "name":
            page.keyboard.type("Saltwind")
        elif here == "tank_stands":
            page.keyboard.type("above")
        elif here == "tank_l":
            page.keyboard.press("ControlOrMeta+a")
            page.keyboard.type("80")
        elif name in OWN_CHOICES:
            page.keyboard.press("ArrowDown")
    assert met == list(LABEL)
    page.keyboard.press("Tab")
    own.after(lambda: page.keyboard.press("Enter"))
    expect(page.locator(".drawn svg")).to_be_visible()
    page.keyboard.press("Tab")
    own.after(lambda: page.keyboard.press("Enter"))
    kept = (tmp_path / own_words.ANSWERS_FILE).read_text("utf-8")
    assert 'tank_stands = "above"' in kept and "tank_l = 80.0" in kept and "preheat = false" in kept


def test_enter_in_a_field_draws_the_boat(page_of):
    own = page_of()
    field(own, "name").fill("Saltwind")
    own.after(lambda: field(own, "name").press("Enter"))
    expect(own.page.locator(".drawn svg")).to_be_visible()


def test_wrong_input_stays_and_the_hands_go_to_the_first_field_that_is_wrong(page_of):
    own = page_of()
    field(own, "tank_l").fill("lots")
    field(own, "spares").fill("two elements")
    press(own, "keep")
    expect(field(own, "name")).to_be_focused()
    for name, value in (("name", ""), ("tank_l", "lots"), ("spares", "two elements")):
        expect(field(own, name)).to_have_value(value)
    for name in ("name", "tank_l"):
        expect(field(own, name)).to_have_attribute("aria-invalid", "true")
        told = field(own, name).get_attribute("aria-describedby").split()[0]
        expect(own.page.locator(f"#{told}")).to_contain_text(LABEL[name])
    expect(own.page.locator("[aria-invalid]")).to_have_count(2)
    field(own, "name").fill("Saltwind")
    field(own, "tank_l").fill("60")
    press(own, "keep")
    expect(own.page.locator("[aria-invalid]")).to_have_count(0)
    expect(own.page.get_by_role("status").filter(has_text=own_words.ANSWERS_FILE)).to_be_visible()


def test_the_drawing_has_its_words_and_no_id_twice(page_of):
    own = filled(page_of())
    press(own, "draw")
    expect(own.page.get_by_role("img", name="The fuel path of Saltwind. From the port tank")).to_be_visible()
    own.page.locator(".drawn summary").click()
    expect(own.page.locator(".drawn details p")).to_contain_text("Air is let out at these points, in this order")
    press(own, "practise")
    ids = own.page.evaluate("[...document.querySelectorAll('[id]')].map((node) => node.id)")
    assert len(ids) == len(set(ids))


def test_the_card_and_the_blank_card_come_as_files(page_of, tmp_path):
    own = filled(page_of())
    for name, file, holds in (
        ("card", own_words.CARD_FILE, b"%PDF card"),
        ("blank", own_words.BLANK_FILE, b"%PDF blank"),
    ):
        with own.page.expect_download() as coming:
            press(own, name)
        assert coming.value.suggested_filename == file
        assert Path(coming.value.path()).read_bytes() == holds == (tmp_path / file).read_bytes()


def test_what_was_kept_stands_in_the_form_when_the_page_is_opened_again(page_of):
    press(filled(page_of()), "keep")
    again = page_of("tablet", "dark")
    expect(field(again, "name")).to_have_value("Saltwind")
    expect(field(again, "tanks")).to_have_value("2")
    expect(field(again, "call")).to_have_value("Yard\nChannel 16")
    expect(again.page.locator(".drawn svg")).to_be_visible()


def test_practice_leads_to_the_bench_and_its_truth_is_told_at_a_press(page_of):
    own = filled(page_of())
    press(own, "practise")
    title = own.page.get_by_role("heading", name="Practice on Saltwind")
    expect(title).to_be_focused()
    expect(title).to_be_in_viewport()
    expect(own.page.locator(".truth")).to_be_hidden()
    own.do("shut_off", "look")
    own.page.get_by_role("button", name=FORM["give_up"], exact=True).click()
    press(own, "give_up_yes")
    expect(own.page.locator(".truth")).to_contain_text("What it was: shut-off – shut.")
    expect(own.page.get_by_role("button", name="X-ray", exact=False)).to_have_attribute("aria-pressed", "true")
    press(own, "end_practice")
    expect(own.page.get_by_role("button", name=FORM["practise"], exact=True)).to_be_focused()
    expect(own.page.locator(".work")).to_be_hidden()


def test_what_is_typed_while_an_answer_comes_is_not_overwritten(page_of):
    own = filled(page_of())
    press(own, "draw")
    field(own, "spares").focus()
    own.page.keyboard.type("two elements")
    own.after(
        lambda: own.page.evaluate(
            "model.send({part: 'page', action: 'keep', seq: model.get('turn'), view: 'x', press: 1})"
        )
    )
    expect(field(own, "spares")).to_have_value("two elements")
