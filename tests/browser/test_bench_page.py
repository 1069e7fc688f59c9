"""The bench on a page of its own, in Chromium, played through the real bench in this process."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from bare_page import BarePage, open_bench
from bench_wire import EXERCISE, LESSON, ticket_for
from playwright.sync_api import Browser, expect

from engine_sim.bench.words import PAGE
from engine_sim.wording import DIAGNOSES, FAULTS

pytestmark = pytest.mark.browser

SIZES = {"phone": (360, 740), "tablet": (768, 1024), "laptop": (1280, 800), "wall": (1920, 1080)}
SHUT_OFF = "svg [id$=shut_off-body]"
NO_ANSWER_MS = 3000
AN_HOUR_MS = 3_600_000


@pytest.fixture
def look_of(chromium_browser: Browser, tmp_path: Path):
    """Open a bench in a context with a size, a colour scheme and perhaps forced colours; some work is done on it."""
    closing = []

    def opened(size: str, theme: str, forced: str = "none", exercise: str = LESSON) -> BarePage:
        width, height = SIZES[size]
        context = chromium_browser.new_context(
            viewport={"width": width, "height": height},
            color_scheme=theme,
            forced_colors=forced,
            reduced_motion="reduce",
        )
        bench = open_bench(context.new_page(), tmp_path, exercise, theme=theme)
        closing.extend((context.close, bench.wire.bench.desk.close))
        if exercise == LESSON:
            bench.after(bench.page.get_by_role("button", name=PAGE["xray"]).click)
        bench.do("bench", "lay_tray")
        bench.do("fine_filter", "open_screw")
        bench.choose("injector_1")
        return bench

    yield opened
    for close in closing:
        close()


# ---- everybody can use it ----


LOOKS_QUICK = {("tablet", "dark", "none"), ("laptop", "light", "none"), ("wall", "dark", "active")}
LOOKS = [
    pytest.param(size, theme, forced, marks=[] if (size, theme, forced) in LOOKS_QUICK else [pytest.mark.slow])
    for size in ("tablet", "laptop", "wall")
    for theme in ("light", "dark")
    for forced in ("none", "active")
]


@pytest.mark.parametrize(("size", "theme", "forced"), LOOKS)
def test_axe_finds_nothing(look_of, size, theme, forced):
    bench = look_of(size, theme, forced)
    found = Axe().run(bench.page).response["violations"]
    assert [(one["id"], [node["target"] for node in one["nodes"]]) for one in found] == []


SMALL_TARGETS = """() => ['button', 'select', 'textarea', 'summary', 'label.tick']
  .flatMap((kind) => [...document.querySelectorAll(`.fuel-bench ${kind}`)])
  .filter((node) => node.checkVisibility())
  .map((node) => [node.className + node.textContent.slice(0, 30), node.getBoundingClientRect()])
  .filter(([name, box]) => Math.min(box.width, box.height) < (name.startsWith('press') ? 48 : 44))
  .map(([name, box]) => `${name} ${box.width} x ${box.height}`)"""
LABELS = """() => [...document.querySelectorAll('.spot .label, .spot .name')]
  .filter((node) => node.checkVisibility()).map((node) => {
  const box = node.getBoundingClientRect(), stage = node.closest('.stage').getBoundingClientRect();
  return {name: node.textContent, left: box.left, top: box.top, right: box.right, bottom: box.bottom,
          inside: box.left >= stage.left && box.right <= stage.right + 1,
          px: parseFloat(getComputedStyle(node).fontSize)};
})"""


@pytest.mark.parametrize("size", SIZES)
def test_it_fits_the_screen(look_of, size):
    """Targets of 44 px and action buttons of 48; nothing runs off the page; labels lie apart, inside, 14 px or more."""
    page = look_of(size, "light").page
    assert page.evaluate(SMALL_TARGETS) == []
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    labels = page.evaluate(LABELS)
    assert len(labels) == page.locator(".spot").count()
    assert [label["name"] for label in labels if not label["inside"] or label["px"] < 14] == []
    assert [(a["name"], b["name"]) for a, b in itertools.combinations(labels, 2) if overlap(a, b)] == []


def overlap(a: dict, b: dict) -> bool:
    across = min(a["right"], b["right"]) > max(a["left"], b["left"])
    return across and min(a["bottom"], b["bottom"]) > max(a["top"], b["top"])


def test_what_is_noticed_is_a_log_with_the_newest_first(bare):
    bench = bare()
    bench.do("tank", "read_gauge")
    bench.do("shut_off", "look")
    log = bench.page.get_by_role("log", name=PAGE["noticed"])
    expect(log.locator(".entry").first).to_contain_text("0:00:15 shut-off – look at the handle")
    expect(log.locator(".entry").first).to_contain_text("The handle lies across the pipe: shut.")
    expect(log.locator(".entry")).to_have_count(2)


def test_the_picture_is_told_in_words(bare):
    bench = bare()
    assert "Shut-off: not looked at yet." in bench.page.locator("svg desc").text_content()
    bench.do("shut_off", "look")
    told = bench.page.locator("svg desc").text_content()
    assert "Shut-off: shut." in told
    assert bench.page.locator(".stage svg").get_attribute("role") == "img"
    bench.page.get_by_text(PAGE["in_words"]).click()
    expect(bench.page.locator(".in-words p")).to_have_text(told)


def test_nothing_moves_for_those_who_ask_for_stillness(chromium_browser, tmp_path):
    context = chromium_browser.new_context(reduced_motion="reduce")
    bench = open_bench(context.new_page(), tmp_path, LESSON)
    bench.do("starter", "crank_10")
    assert bench.page.evaluate("document.getAnimations().length") == 0
    context.close()
    bench.wire.bench.desk.close()


# ---- the state is never in doubt ----


def test_a_press_changes_the_picture(bare):
    bench = bare()
    body = bench.page.locator(SHUT_OFF)
    expect(body).to_have_class("valve unknown")
    bench.do("shut_off", "look")
    expect(body).to_have_class("valve shut")
    bench.do("shut_off", "open")
    expect(body).to_have_class("valve open")


def test_a_double_click_acts_once(bare):
    bench = bare()
    bench.choose("tank")
    bench.after(lambda: bench.page.locator(".offer[data-action=look]").dblclick())
    assert [entry["head"] for entry in bench.wire.noticed()] == ["tank – look at the tank"]


def test_two_views_agree_and_share_no_ids(bare):
    bench = bare(views=2)
    page = bench.page
    bench.do("shut_off", "open")
    for view in page.locator(".fuel-bench").all():
        expect(view.locator(SHUT_OFF)).to_have_class("valve open")
        expect(view.locator(".facts")).to_contain_text("0:00:05")
        expect(view.locator(".entry")).to_have_count(1)
        expect(view.locator(".spot[aria-pressed=true]")).to_have_attribute("data-part", "shut_off")
    ids = page.evaluate("[...document.querySelectorAll('[id]')].map((node) => node.id)")
    assert len(ids) == len(set(ids))


def test_a_view_that_missed_an_answer_asks_for_all(bare):
    bench = bare()
    bench.wire.ask("shut_off", "open")
    bench.wire.ask("tank", "look")
    bench.page.evaluate("bench => model.tell('msg:custom', bench)", {"kind": "answer", "turn": bench.wire.turn})
    expect(bench.page.locator(".entry")).to_have_count(2)
    expect(bench.page.locator(SHUT_OFF)).to_have_class("valve open")


def test_no_answer_in_3_seconds_is_said_and_an_answer_takes_it_back(bare, chromium_page):
    chromium_page.clock.install(time=0)
    bench = bare()
    page = bench.page
    page.clock.pause_at(AN_HOUR_MS)
    page.evaluate("window.benchIsDead = true")
    page.locator(".spot[data-part=tank]").click()
    alarm = page.get_by_role("alert")
    expect(alarm).to_be_hidden()
    page.clock.run_for(NO_ANSWER_MS - 100)
    expect(alarm).to_be_hidden()
    page.clock.run_for(200)
    expect(alarm.locator("p")).to_have_text(PAGE["no_answer"])
    page.evaluate("window.benchIsDead = false")
    bench.choose("tank")
    expect(page.get_by_role("alert")).to_be_hidden()


def test_at_twice_the_size_nothing_runs_off_the_page(look_of):
    """WCAG 2.2, success criteria 1.4.4 and 1.4.10: 200 per cent on a laptop is a page half as wide."""
    bench = look_of("laptop", "light")
    bench.page.set_viewport_size({"width": 640, "height": 400})
    bench.page.wait_for_function("document.querySelector('.stage').dataset.buttons === 'under'")
    assert bench.page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    assert bench.page.evaluate(SMALL_TARGETS) == []


def test_a_view_that_is_taken_off_the_page_lets_go(bare):
    bench = bare()
    bench.page.evaluate("window.leave()")
    bench.wire.ask("tank", "look")
    assert bench.page.locator(".fuel-bench").count() == 0
    assert bench.page.evaluate("[...model.handlers.values()].flat().length") == 1


# ---- tickets, notes, diagnosis, hand-in, logbook ----


def test_a_ticket_is_typed_a_slip_is_told_and_the_right_one_opens(bare):
    bench = bare(fault="")
    page = bench.page
    field = page.get_by_label(PAGE["ticket_label"])
    field.fill("nonsense")
    bench.after(lambda: field.press("Enter"))
    expect(page.get_by_role("status")).to_contain_text("is not a ticket")
    field.fill(ticket_for("shut_valve").lower())
    bench.after(lambda: page.get_by_role("button", name=PAGE["ticket_do"]).click())
    bench.do("shut_off", "look")
    expect(page.locator(SHUT_OFF)).to_have_class("valve shut")


def test_practice_draws_a_fresh_ticket(bare):
    bench = bare(fault="")
    bench.after(lambda: bench.page.get_by_role("button", name=PAGE["ticket_fresh"]).click())
    expect(bench.page.locator(".ticket")).to_contain_text("(practice)")
    expect(bench.page.get_by_role("button", name=PAGE["again_fresh"])).to_be_visible()


def test_words_being_typed_survive_an_action(bare):
    bench = bare()
    page = bench.page
    note = page.get_by_label(PAGE["note_label"])
    note.fill("The bowl looks")
    page.get_by_label(PAGE["which_part"]).select_option("tank")
    bench.do("separator", "look")
    assert note.input_value() == "The bowl looks"
    assert page.get_by_label(PAGE["which_part"]).input_value() == "tank"
    bench.after(lambda: page.get_by_role("button", name=PAGE["note_do"]).click())
    expect(page.locator(".entry.note")).to_contain_text("The bowl looks")
    assert note.input_value() == ""


def test_the_part_decides_what_can_be_said_of_it(bare):
    page = bare().page
    faults = page.get_by_label(PAGE["which_fault"]).locator("option")
    expect(faults).to_have_text([PAGE["part_first"]])
    for part, kind in (("shut_off", "shut_off_valve"), ("fine_filter", "fine_filter"), ("exhaust", "exhaust")):
        page.get_by_label(PAGE["which_part"]).select_option(part)
        expect(faults).to_have_text(
            [PAGE["not_chosen"], *(FAULTS[name] for name, kinds in DIAGNOSES.items() if kind in kinds)]
        )
    page.get_by_label(PAGE["which_part"]).select_option("")
    expect(faults).to_have_text([PAGE["part_first"]])


def test_many_things_to_do_fold_under_headings_and_one_is_open(bare):
    bench = bare()
    page = bench.page
    bench.choose("stop_control")
    expect(page.locator(".fold")).to_have_count(0)
    expect(page.locator(".offer:visible")).to_have_count(3)
    bench.choose("fine_filter")
    folds = page.locator(".fold")
    expect(folds.first).to_have_attribute("aria-expanded", "true")
    first = page.locator(".offer:visible").all_inner_texts()
    folds.nth(1).click()
    expect(folds.nth(1)).to_be_focused()
    assert [fold.get_attribute("aria-expanded") for fold in folds.all()] == ["false", "true", "false", "false"]
    assert set(page.locator(".offer:visible").all_inner_texts()).isdisjoint(first)
    bench.after(page.locator(".offer[data-action=open_screw]").click)
    expect(page.locator(".offer[data-action=open_screw]")).to_be_visible()


def test_headings_and_first_actions_stand_above_the_fold_of_a_tablet(chromium_browser, tmp_path):
    """With the bench scrolled to the top of 1024 x 768: drawing, newest thing noticed, and every heading."""
    context = chromium_browser.new_context(viewport={"width": 1024, "height": 768}, reduced_motion="reduce")
    bench = open_bench(context.new_page(), tmp_path, LESSON)
    bench.do("engine", "look")
    for part in ("tank", "separator", "fine_filter", "engine", "bench", "starter", "exhaust"):
        bench.choose(part)
        bench.page.locator(".fuel-bench").evaluate("node => window.scrollTo(0, node.offsetTop)")
        below = bench.page.evaluate(
            """() => [...document.querySelectorAll('.fold, .entry:first-child, .stage')]
              .filter((node) => node.getBoundingClientRect().bottom > innerHeight).map((node) => node.textContent)"""
        )
        assert below == [], part
    context.close()
    bench.wire.bench.desk.close()


def test_hand_in_asks_once_more_on_the_page_and_can_be_left(bare):
    bench = bare()
    page = bench.page
    start = page.get_by_role("button", name=PAGE["hand_in"], exact=True)
    start.click()
    expect(page.get_by_text(PAGE["hand_in_no_diagnosis"])).to_be_visible()
    page.keyboard.press("Escape")
    expect(start).to_be_focused()
    assert not bench.wire.panel()["handed_in"]
    start.click()
    bench.after(lambda: page.get_by_role("button", name=PAGE["hand_in_yes"]).click())
    assert bench.wire.panel()["handed_in"]
    bench.choose("tank")
    expect(page.locator(".offer")).to_have_count(0)


def test_save_my_logbook_gives_the_file(bare, tmp_path):
    bench = bare()
    bench.do("tank", "look")
    with bench.page.expect_download() as saved:
        bench.page.get_by_role("button", name=PAGE["save"]).click()
    assert saved.value.suggested_filename == f"{EXERCISE}.logbook.jsonl"
    assert Path(saved.value.path()).read_bytes() == (tmp_path / f"{EXERCISE}.logbook.jsonl").read_bytes()


def test_in_use_elsewhere_is_said_with_a_button_to_try_again(bare, monkeypatch):
    bench = bare()
    path = bench.wire.bench.desk.shelf.logbook_path
    path.write_bytes(path.read_bytes() + b"\n")
    bench.choose("tank")
    bench.after(lambda: bench.page.locator(".offer[data-action=look]").click())
    expect(bench.page.get_by_text("open in another window")).to_be_visible()
    bench.after(lambda: bench.page.get_by_role("button", name=PAGE["try_again"]).click())
    expect(bench.page.locator(SHUT_OFF)).to_be_visible()


def test_x_ray_is_a_switch_only_where_it_is_allowed(bare):
    bench = bare(LESSON)
    switch = bench.page.get_by_role("button", name=PAGE["xray"])
    for pressed, visibility in (("false", "hidden"), ("true", "visible"), ("false", "hidden")):
        expect(switch).to_have_attribute("aria-pressed", pressed)
        expect(bench.page.locator("[id$=xray-hoses]")).to_have_attribute("visibility", visibility)
        bench.after(switch.click)


def test_without_permission_there_is_no_switch_and_nothing_inside(bare):
    page = bare().page
    expect(page.get_by_role("button", name=PAGE["xray"])).to_be_hidden()
    assert page.locator("[id*=xray]").count() == 0


def test_the_same_thing_noticed_twice_can_be_ticked_once_and_a_note_stands_under_the_notes(bare):
    bench = bare()
    page = bench.page
    for part, action in (("shut_off", "look"), ("tank", "look"), ("shut_off", "look"), ("shut_off", "open")):
        bench.do(part, action)
    rows = page.locator("label.tick")
    expect(rows.filter(has_text="The handle lies across the pipe")).to_have_count(1)
    expect(rows.first).to_contain_text("shut-off: The handle lies across the pipe")
    expect(rows.filter(has_text="You turn the handle")).to_have_count(0)
    page.get_by_label(PAGE["note_label"]).fill("It was shut.")
    bench.after(lambda: page.get_by_role("button", name=PAGE["note_do"]).click())
    expect(page.locator(".note-list li").first).to_contain_text("It was shut.")


def test_the_script_loaded_twice_on_one_page_gives_no_id_twice(bare):
    """Two benches of one page each load the script; waves named alike would be drawn from the hidden one."""
    page = bare().page
    page.evaluate(
        """async () => { const again = await import('./bench.js?again');
          again.default.render({ model, el: document.querySelector('#two') }); }"""
    )
    expect(page.locator(".fuel-bench")).to_have_count(2)
    ids = page.evaluate("[...document.querySelectorAll('[id]')].map((node) => node.id)")
    assert len(ids) == len(set(ids))
