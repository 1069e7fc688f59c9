"""“Mark my attempt” on a page: by keyboard, heard while it works, whole for axe, in light and dark."""

from __future__ import annotations

from functools import partial

import pytest
from axe_playwright_python.sync_playwright import Axe
from bare_page import BarePage
from bench_wire import EXERCISE, Wire, ticket_for
from playwright.sync_api import expect

from engine_sim.attempt import Attempt
from engine_sim.bench import Bench, own_marks
from engine_sim.bench.marking_words import TELLS, WAITING
from engine_sim.bench.shelf import KnownTicket, Shelf
from engine_sim.marking import default_scheme, mark_attempt
from engine_sim.marking.coach.analysis import Advice, Analysis, Insight, Suspect
from engine_sim.scenarios import draw_scenario

pytestmark = pytest.mark.browser

LOOK = Advice("shut_off", "look", "shut-off: look at the handle", 0.2, 4.0, "It rules out most.")
SUSPECTS = tuple(Suspect("shut_valve", part, 0.25, part, "shut") for part in ("tank", "shut_off", "joint", "pump"))
INSIGHTS = tuple(Insight(step, 30.0 * step, SUSPECTS[: 4 - step], 1.0, 1.0, 1.0, LOOK, 2.0) for step in range(3))
ANALYSIS = Analysis(INSIGHTS, 1.0, 2.0, 0, (LOOK,))
WORK = (("starter", "crank_10"), ("fine_filter", "open_screw"), ("shut_off", "open"))
HEARD = """() => {
  window.heard = [];
  const take = (records) => records.forEach((one) => one.addedNodes.forEach((node) => window.heard.push(node.data)));
  new MutationObserver(take).observe(document.querySelector('.progress'), {childList: true});
}"""


@pytest.fixture
def marked_beforehand(monkeypatch):
    """Have the marks ready, so that the page is tried and not the patience: real marks, the coach's part by hand."""
    attempt = Attempt(draw_scenario(EXERCISE, ticket_for("shut_valve")))
    for part, action in WORK:
        attempt.act(part, action)
    attempt.hand_in()
    monkeypatch.setattr("engine_sim.marking.mark.analyse", lambda *given: ANALYSIS)
    sheet = mark_attempt(attempt.scenario, attempt.steps, attempt.diagnosis, default_scheme())
    monkeypatch.setattr(own_marks, "analyse", lambda *given: ANALYSIS)
    monkeypatch.setattr(own_marks, "mark_attempt", lambda *given, **kept: sheet)
    return sheet


@pytest.fixture
def handed_in(chromium_page, tmp_path, marked_beforehand):
    """Open a page with practice that is handed in; the ticket is always the same."""
    made: list[BarePage] = []

    def opened(theme: str = "light", practice: bool = True) -> BarePage:
        Shelf(EXERCISE, tmp_path).remember(KnownTicket(ticket_for("shut_valve"), practice))
        wire = Wire(Bench(EXERCISE, tmp_path))
        for part, action in WORK:
            wire.ask(part, action)
        made.append(BarePage(chromium_page, wire).open(theme=theme))
        made[-1].page.get_by_role("button", name="Hand in").click()
        made[-1].after(lambda: made[-1].page.get_by_role("button", name="Yes, hand in").click())
        return made[-1]

    yield opened
    for one in made:
        one.wire.bench.desk.close()


def test_marks_come_by_keyboard_are_told_as_they_are_made_and_take_the_focus(handed_in, marked_beforehand):
    bench = handed_in()
    expect(bench.page.locator(".notice")).to_contain_text(WAITING)
    bench.page.evaluate(HEARD)
    button = bench.page.get_by_role("button", name="Mark my attempt")
    button.focus()
    bench.after(partial(bench.page.keyboard.press, "Enter"))
    heard = bench.page.evaluate("window.heard.filter(Boolean)")
    assert heard == [TELLS[name] for name in ("thinking", "playing", "writing")]
    assert bench.page.evaluate("document.activeElement.textContent") == "Your marks"
    expect(button).to_be_hidden()
    said = bench.page.locator(".marks").inner_text()
    for mark in marked_beforehand.marks.values():
        assert [reason.text for reason in mark.reasons if reason.text not in said] == []
    assert bench.page.locator(".marks svg[role=img]").count() == 3


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_axe_finds_nothing_in_the_marks_and_nothing_runs_over(handed_in, theme):
    bench = handed_in(theme)
    bench.after(lambda: bench.page.get_by_role("button", name="Mark my attempt").click())
    for words in bench.page.locator(".marks summary").all():
        words.click()
    found = Axe().run(bench.page).response["violations"]
    assert [(one["id"], [node["target"] for node in one["nodes"]]) for one in found] == []
    for width in (360, 768, 1280):
        bench.page.set_viewport_size({"width": width, "height": 800})
        assert bench.page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), width


def test_with_an_instructors_ticket_no_marks_are_offered(handed_in):
    bench = handed_in(practice=False)
    expect(bench.page.get_by_text("Handed in. You can look at everything")).to_be_visible()
    expect(bench.page.locator(".marks")).to_be_hidden()
