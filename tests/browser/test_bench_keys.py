"""The bench by keyboard alone, on a page of its own in Chromium."""

from __future__ import annotations

import pytest
from bare_page import BarePage
from playwright.sync_api import Page, expect

from engine_sim.bench.words import PAGE

pytestmark = pytest.mark.browser


def test_tab_reaches_everything_and_is_trapped_nowhere(bare):
    bench = bare()
    bench.choose("injector_1")
    page = bench.page
    page.locator("#before").focus()
    wanted = page.evaluate(
        """() => { let n = 0; const all = ':is(button, select, textarea, summary, input, [tabindex="0"])';
          return [...document.querySelectorAll(`.fuel-bench ${all}`)]
          .filter((node) => node.checkVisibility({ visibilityProperty: true }) && node.tabIndex >= 0 && !node.disabled)
          .map((node) => (node.dataset.walk = String(++n))) }"""
    )
    forth, back = walk(page, "Tab", "after", len(wanted)), walk(page, "Shift+Tab", "before", len(wanted))
    assert sorted(forth, key=int) == wanted
    assert forth == back[::-1]


def walk(page: Page, key: str, until: str, most: int) -> list[str]:
    """Press a key until the element with an id has the focus; return what had it on the way."""
    met: list[str] = []
    for _ in range(most + 1):
        page.keyboard.press(key)
        here, step = page.evaluate("[document.activeElement.id, document.activeElement.dataset.walk ?? '']")
        if here == until:
            return met
        met.append(step)
    raise AssertionError(f"{key} did not come to {until}: {met}")


def press(bench: BarePage, key: str) -> None:
    bench.after(lambda: bench.page.keyboard.press(key))


def by_keys_to(bench: BarePage, part: str) -> None:
    """Go to a part with the arrow keys, from the first part on."""
    page = bench.page
    page.keyboard.press("Home")
    for _ in range(20):
        if page.evaluate("document.activeElement.dataset.part") == part:
            return
        page.keyboard.press("ArrowRight")
    raise AssertionError(f"the arrow keys did not come to {part}")


def do_by_keys(bench: BarePage, part: str, action: str) -> None:
    page = bench.page
    by_keys_to(bench, part)
    press(bench, "Enter")
    for _ in range(20):
        here, folded = page.evaluate(
            "[document.activeElement.dataset.action, document.activeElement.getAttribute('aria-expanded') === 'false']"
        )
        if here == action:
            break
        if folded and not page.locator(f".offer[data-action={action}]").is_visible():
            page.keyboard.press("Enter")
        page.keyboard.press("Tab")
    assert here == action
    press(bench, "Enter")
    page.keyboard.press("Escape")
    assert page.evaluate("document.activeElement.dataset.part") == part


def tab_to(page: Page, text: str) -> None:
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent") == text:
            return
    raise AssertionError(f"Tab did not come to {text!r}")


def test_a_whole_exercise_by_keyboard_alone(bare):
    bench = bare(fault="stop_control_pulled")
    page = bench.page
    page.locator("#before").focus()
    page.keyboard.press("Tab")
    do_by_keys(bench, "stop_control", "look")
    do_by_keys(bench, "stop_control", "push_home")
    do_by_keys(bench, "starter", "crank_10")
    expect(page.locator(".facts")).to_contain_text("Engine running")
    page.get_by_label(PAGE["which_part"]).focus()
    page.keyboard.type("stop control")
    page.keyboard.press("Tab")
    page.keyboard.type("left")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    tab_to(page, PAGE["diagnosis_do"])
    press(bench, "Enter")
    expect(page.locator(".kept").first).to_contain_text("stop control – left pulled out, with 1 thing you noticed")
    tab_to(page, PAGE["hand_in"])
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.textContent") == PAGE["hand_in_yes"]
    press(bench, "Enter")
    expect(page.locator(".fuel-bench").get_by_text(PAGE["handed_in"])).to_be_visible()
    assert bench.wire.panel()["handed_in"]


def test_arrows_home_and_end_move_along_the_fuel(bare):
    page = bare().page
    page.locator(".spot[tabindex='0']").focus()
    met = []
    for key in ("ArrowRight", "ArrowDown", "ArrowLeft", "End", "ArrowRight", "ArrowUp", "Home"):
        page.keyboard.press(key)
        met.append(page.evaluate("document.activeElement.dataset.part"))
    assert met == ["shut_off", "separator_joint", "shut_off", "bench", "tank", "bench", "tank"]
    assert page.locator(".spot[tabindex='0']").count() == 1


def test_plain_keys_stay_in_the_bench_and_shortcuts_pass(bare):
    page = bare().page
    page.evaluate("window.heard = []; document.addEventListener('keydown', (event) => window.heard.push(event.key))")
    page.locator(".spot").first.focus()
    for key in ("d", "d", "ArrowDown", "Escape", "Shift+Enter", "Control+s"):
        page.keyboard.press(key)
    assert [key for key in page.evaluate("window.heard") if key not in ("Control", "Shift")] == ["s"]
