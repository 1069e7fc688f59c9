"""The sums on a page: boxes by keyboard, marks beside them, nothing that axe finds, what was typed stays."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from bare_page import ADDRESS, MODEL
from playwright.sync_api import Page, Route, expect

from engine_sim.bench.sums_page import SumsPage
from engine_sim.marking.sums import SUMS, figures_of
from engine_sim.marking.sums.marking import rounded

pytestmark = pytest.mark.browser

HTML = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Sums</title>
<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="stylesheet" href="bench.css">
<style>body{margin:8px;background:BACK}</style></head>
<body data-jp-theme-light="LIGHT"><main><h1 style="font-size:20px;color:INK">Sums</h1>
<h2 style="font-size:18px;color:INK">The sums</h2><div id="one"></div></main>
<script type="module">
import page from "./sums.js";
MODEL
window.model = new Model(await (await fetch("state.json")).json());
page.render({ model, el: document.querySelector("#one") });
</script></body></html>"""


class Sums:
    """The sums on a page of their own; what is sent goes to the real ones in this process."""

    def __init__(self, page: Page, folder: Path, light: bool = True) -> None:
        self.page, self.widget = page, SumsPage(folder)
        page.expose_function("toBench", self._carry)
        html = HTML.replace("MODEL", MODEL).replace("LIGHT", str(light).lower())
        html = html.replace("BACK", "#fff" if light else "#111").replace("INK", "#111" if light else "#f5f5f5")
        files = {"": ("text/html", html), "sums.js": ("text/javascript", self.widget._esm)}
        files["bench.css"] = ("text/css", self.widget._css)

        def serve(route: Route) -> None:
            name = route.request.url.removeprefix(ADDRESS)
            state = {"words": self.widget.words, "shown": self.widget.shown}
            kind, body = ("application/json", json.dumps(state)) if name == "state.json" else files.get(name, ("", ""))
            route.fulfill(content_type=kind, body=body)

        page.route(f"{ADDRESS}**", serve)
        page.goto(ADDRESS)
        page.wait_for_selector(".fuel-bench[data-ready=yes]")

    def _carry(self, message: dict[str, Any]) -> list[dict[str, Any]]:
        self.widget._hear(None, message, None)
        return [{"method": "update", "state": {"shown": self.widget.shown}}]


def test_sums_are_answered_and_checked_by_keyboard_alone(chromium_page: Page, tmp_path: Path) -> None:
    sums = Sums(chromium_page, tmp_path)
    chromium_page.get_by_role("button", name="Practise with a fresh ticket").focus()
    chromium_page.keyboard.press("Enter")
    boxes = chromium_page.get_by_role("textbox", name="Your answer")
    expect(boxes).to_have_count(len(SUMS))
    ticket = sums.widget.desk.ticket.text
    boxes.first.focus()
    for item in SUMS:
        chromium_page.keyboard.type(rounded(item.right(figures_of(item, ticket))))
        chromium_page.keyboard.press("Tab")
    expect(chromium_page.get_by_role("button", name="Check my answers")).to_be_focused()
    chromium_page.keyboard.press("Enter")
    expect(chromium_page.get_by_text("18 of 18 points")).to_be_visible()
    expect(chromium_page.get_by_text("Right: ", exact=False).first).to_be_visible()


def test_a_wrong_answer_is_told_what_tempted_and_what_was_typed_stays(chromium_page: Page, tmp_path: Path) -> None:
    sums = Sums(chromium_page, tmp_path)
    chromium_page.get_by_role("button", name="Practise with a fresh ticket").click()
    item = SUMS[0]
    wrong = f"{item.slips[0].wrong(figures_of(item, sums.widget.desk.ticket.text)):.3g}"
    box = chromium_page.get_by_role("textbox", name="Your answer").first
    box.fill(wrong)
    chromium_page.get_by_role("button", name="Check my answers").click()
    expect(chromium_page.get_by_text(item.slips[0].why)).to_be_visible()
    assert box.input_value() == wrong


def test_a_mistyped_ticket_is_said_on_the_page(chromium_page: Page, tmp_path: Path) -> None:
    Sums(chromium_page, tmp_path)
    chromium_page.get_by_label("Type the ticket your instructor gave you").fill("ABC")
    chromium_page.get_by_role("button", name="Open with this ticket").click()
    expect(chromium_page.get_by_role("status").first).to_contain_text("is not a ticket")


@pytest.mark.parametrize(
    ("light", "wide"),
    [
        (True, 768),
        pytest.param(False, 1280, marks=pytest.mark.slow),
        pytest.param(False, 768, marks=pytest.mark.slow),
        pytest.param(True, 1280, marks=pytest.mark.slow),
    ],
)
def test_axe_finds_nothing_and_targets_are_large(chromium_page: Page, tmp_path: Path, light: bool, wide: int) -> None:
    chromium_page.set_viewport_size({"width": wide, "height": 900})
    Sums(chromium_page, tmp_path, light)
    assert Axe().run(chromium_page).response["violations"] == []
    chromium_page.get_by_role("button", name="Practise with a fresh ticket").click()
    chromium_page.get_by_role("button", name="Check my answers").click()
    expect(chromium_page.get_by_text("0 of 18 points")).to_be_visible()
    assert Axe().run(chromium_page).response["violations"] == []
    boxes = chromium_page.evaluate(
        "[...document.querySelectorAll('button, input')].map((one) => one.getBoundingClientRect().height)"
    )
    assert min(boxes) >= 44
