"""Course pages in the real JupyterLab: they open ready to work, show no code, and cannot be broken by a stray key."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Locator, Page, Route, expect
from study_process import Study, running_study

from engine_sim.classroom.progress import progress_in
from engine_sim.classroom.shipped import shipped

START = "notebooks/start_here.ipynb"
LESSON = "notebooks/first_look.ipynb"
EXERCISE = "exercises/no_start_harbour/no_start_harbour.ipynb"
START_TITLE = "Start here"
PATIENCE_MS = 60_000
FORGED = "exercises/forged.ipynb"

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture(scope="module")
def study(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Study]:
    """The course, and in the learner's folder a page from somewhere else that would write a file."""
    folder = tmp_path_factory.mktemp("home") / "fuel-course"
    forged = folder / FORGED
    forged.parent.mkdir(parents=True)
    shutil.copy(shipped("course") / LESSON, forged)
    code = r"from engine_sim.bench import bench; bench(\"first_look\")"
    forged.write_text(forged.read_text("utf-8").replace(code, "open('trace', 'w').close()"), "utf-8")
    with running_study(folder) as running:
        yield running


def opened(page: Page, study: Study, name: str) -> Page:
    page.set_default_timeout(PATIENCE_MS)
    page.goto(study.page(name))
    page.locator("[data-fuelcourse-opened]").wait_for()
    return page


def test_the_start_page_leads_to_lesson_and_exercise_and_back(study: Study, chromium_page: Page) -> None:
    page = opened(chromium_page, study, START)
    page.locator("a:visible", has_text="the path from tank to injector").click()
    expect(page.locator("h1:visible", has_text="The path from tank to injector")).to_be_in_viewport(timeout=PATIENCE_MS)
    expect(page.locator(".fuel-bench[data-ready=yes]:visible").first).to_be_visible(timeout=PATIENCE_MS)
    page.locator(".jp-NotebookPanel[data-fuelcourse-opened]:visible").wait_for()
    page.locator(".jp-NotebookPanel-toolbar:visible").get_by_text("All pages").click()
    front = page.locator(f".jp-NotebookPanel:visible:has(h1:text-is('{START_TITLE}'))")
    front.locator("a:visible", has_text="it will not keep running").click()
    expect(page.locator("h1:visible", has_text="It will not keep running")).to_be_in_viewport(timeout=PATIENCE_MS)


def test_the_start_page_says_where_to_go_on_and_leads_there(study: Study, chromium_page: Page) -> None:
    page = opened(chromium_page, study, START)
    overview = page.locator(".progress-page[data-ready=yes]")
    expect(overview.get_by_role("status")).to_contain_text("about", timeout=PATIENCE_MS)
    overview.get_by_text("All pages, and how far you are").click()
    expect(overview.get_by_role("row")).to_have_count(1 + len(progress_in(study.folder).pages))
    violations = Axe().run(page, context=".progress-page").response["violations"]
    assert violations == []
    overview.get_by_role("link", name="Water, and the tank below").click()
    expect(page.locator("h1:visible", has_text="Water, and the tank below")).to_be_visible(timeout=PATIENCE_MS)


@pytest.mark.parametrize(("name", "benches"), [(LESSON, 4), (EXERCISE, 1)])
def test_a_page_opens_at_its_top_with_every_bench_and_no_code(
    study: Study, chromium_page: Page, name: str, benches: int
) -> None:
    page = opened(chromium_page, study, name)
    expect(page.locator(".fuel-bench[data-ready=yes]")).to_have_count(benches, timeout=PATIENCE_MS)
    expect(page.locator("h1").first).to_be_in_viewport()
    said = page.locator("body").inner_text()
    assert [word for word in ("import", "engine_sim", "Kernel", "Python", "In [", "Code") if word in said] == []
    assert page.locator(".jp-CodeCell .cm-content:visible").count() == 0
    assert page.locator("#jp-menu-panel:visible, .jp-SideBar:visible, .jp-StatusBar:visible").count() == 0


def test_a_sheet_of_the_reference_shows_its_tables_and_pictures(study: Study, chromium_page: Page) -> None:
    """JupyterLab strips what it does not trust from a text: tables, lists in them and pictures must come through."""
    page = opened(chromium_page, study, "reference/fault_finder.ipynb")
    assert page.locator(".jp-MarkdownOutput table td ol li").count() > 100
    widths = page.evaluate(
        "() => [...document.querySelectorAll('table')].map(one => one.getBoundingClientRect().right)"
    )
    assert max(widths) <= page.viewport_size["width"], "nothing is cut at the right"
    page = opened(page, study, "reference/symbols.ipynb")
    pictures = page.locator(".jp-MarkdownOutput img")
    drawn = "(all) => all.map(one => one.complete && one.naturalWidth > 0 && one.width > 600 && one.alt.length > 100)"
    assert pictures.count() >= 7
    assert pictures.evaluate_all(drawn) == [True] * pictures.count()


def test_a_bench_is_there_again_after_the_page_is_loaded_again(study: Study, chromium_page: Page) -> None:
    page = opened(chromium_page, study, LESSON)
    first = page.locator(".fuel-bench[data-ready=yes]").first
    first.locator("button.spot[data-part=tank]").click()
    first.locator("button.offer[data-action=read_gauge]").click()
    expect(first.locator(".noticed .entry").first).to_contain_text("gauge", timeout=PATIENCE_MS)
    page.reload()
    again = page.locator(".fuel-bench[data-ready=yes] .noticed .entry").first
    expect(again).to_contain_text("gauge", timeout=PATIENCE_MS)


def test_the_drawing_stays_in_view_beside_a_long_list(study: Study, chromium_page: Page) -> None:
    """Nothing between the bench and what moves the page can be moved by itself: a held drawing would go with it."""
    page = opened(chromium_page, study, EXERCISE)
    page.locator(".fuel-bench[data-ready=yes]").wait_for()
    movable = page.evaluate(
        """() => {
          const found = [], bench = document.querySelector('.fuel-bench');
          for (let node = bench; !node.matches('.jp-WindowedPanel-outer'); node = node.parentElement)
            if (getComputedStyle(node).overflow !== 'visible') found.push(node.className);
          return found;
        }"""
    )
    assert movable == []


def test_stray_keys_change_nothing_on_a_page(study: Study, chromium_page: Page) -> None:
    """In JupyterLab's command mode these keys add, cut, delete and turn cells, stop and restart what runs them."""
    page = opened(chromium_page, study, LESSON)
    cells = page.locator(".jp-Notebook .jp-Cell")
    before = [cells.nth(n).get_attribute("class") for n in range(cells.count())]
    page.locator("h2", has_text="Key points").click()
    for key in ("a", "b", "x", "c", "v", "d", "d", "y", "r", "z", "1", "Shift+M", "i", "i", "0", "0", "Escape"):
        page.keyboard.press(key)
    kinds = [cells.nth(n).get_attribute("class") for n in range(cells.count())]
    assert len(kinds) == len(before)
    assert ["jp-CodeCell" in str(kind) for kind in kinds] == ["jp-CodeCell" in str(kind) for kind in before]
    assert page.locator(".jp-Dialog").count() == 0


def test_a_double_click_lets_the_learner_write_the_answer_at_once(study: Study, chromium_page: Page) -> None:
    page = opened(chromium_page, study, EXERCISE)
    expect(page.locator(".fuel-bench[data-ready=yes]")).to_have_count(1, timeout=PATIENCE_MS)
    page.locator(".jp-MarkdownOutput", has_text="write your answer in place of this line").dblclick()
    page.locator(".cm-content:focus").wait_for()
    page.keyboard.insert_text("More than this. ")
    expect(page.locator(".jp-MarkdownCell .cm-content:focus")).to_contain_text("More than this.")


def save_button(page: Page) -> Locator:
    return page.locator(".jp-NotebookPanel-toolbar:visible").get_by_role("button", name="Save", exact=True)


def write_under_ashore(page: Page, words: str) -> None:
    answer = page.locator(".jp-MarkdownCell:has-text('write your answer'), .jp-MarkdownCell:has-text('Answer: ')").last
    answer.locator(".jp-MarkdownOutput").dblclick()
    page.locator(".jp-MarkdownCell .cm-content:focus").wait_for()
    page.keyboard.press("Control+a")
    page.keyboard.insert_text(words)


def answer_on_disk(study: Study) -> str:
    cells = json.loads((study.folder / EXERCISE).read_bytes())["cells"]
    (answer,) = ["".join(c["source"]) for c in cells if c["metadata"].get("nbgrader", {}).get("grade_id") == "ashore"]
    return answer


@pytest.mark.parametrize("leave", ["press Save", "leave the answer", "go on writing"])
def test_what_was_written_is_on_disk_once_the_page_says_saved(study: Study, chromium_page: Page, leave: str) -> None:
    page = opened(chromium_page, study, EXERCISE)
    expect(page.locator(".fuel-bench[data-ready=yes]")).to_have_count(1, timeout=PATIENCE_MS)
    words = f"Answer: a new sealing ring, and {leave}."
    expect(save_button(page)).to_be_enabled()
    write_under_ashore(page, words)
    expect(page.locator(".fuelcourse-saved")).to_have_text("Not saved yet")
    if leave != "go on writing":
        page.keyboard.press("Shift+Enter")
    if leave == "press Save":
        expect(save_button(page)).to_be_enabled()
        save_button(page).click()
    expect(page.locator(".fuelcourse-saved")).to_have_text("Saved", timeout=PATIENCE_MS)
    assert answer_on_disk(study) == words
    expect(save_button(page)).to_be_enabled()


def test_what_is_written_while_a_save_is_under_way_is_saved_too(study: Study, chromium_page: Page) -> None:
    """The first save is held back until more has been written; both reach the disk without a press on Save."""
    page = opened(chromium_page, study, EXERCISE)
    held: list[Route] = []

    def hold_the_first(route: Route) -> None:
        if not held and "Answer: first" in (route.request.post_data or ""):
            held.append(route)
        else:
            route.continue_()

    page.route(f"**/api/contents/{EXERCISE}*", hold_the_first)
    with page.expect_request(lambda request: "Answer: first" in (request.post_data or "")):
        write_under_ashore(page, "Answer: first")
    page.keyboard.insert_text(" and more")
    held[0].continue_()
    expect(page.locator(".fuelcourse-saved")).to_have_text("Saved", timeout=PATIENCE_MS)
    assert answer_on_disk(study) == "Answer: first and more"


def test_a_page_that_is_not_the_courses_own_does_nothing_by_itself(study: Study, chromium_page: Page) -> None:
    page = opened(chromium_page, study, FORGED)
    expect(page.locator("h1").first).to_be_visible()
    assert page.locator(".jp-OutputArea-output:visible").count() == 0
    assert not list(study.folder.rglob("trace"))


def test_nothing_goes_wrong_behind_the_page(study: Study, chromium_page: Page) -> None:
    """No plugin of JupyterLab misses another that our settings took away."""
    troubles: list[str] = []
    chromium_page.on("console", lambda said: troubles.append(said.text) if "failed to activate" in said.text else None)
    chromium_page.on("pageerror", lambda error: troubles.append(str(error)))
    opened(chromium_page, study, LESSON)
    assert troubles == []


def test_pages_need_no_other_computer(study: Study, chromium_page: Page) -> None:
    asked: list[str] = []
    chromium_page.on("request", lambda request: asked.append(request.url))
    page = opened(chromium_page, study, LESSON)
    page.locator(".fuel-bench[data-ready=yes]").first.wait_for()
    own = (f"http://127.0.0.1:{study.port}/", "data:", "blob:")
    assert [url for url in asked if not url.startswith(own)] == []
    assert len(asked) > 20


def test_the_folder_holds_the_logbook_of_what_was_done(study: Study) -> None:
    assert (Path(study.folder) / "notebooks" / "first_look.logbook.jsonl").is_file()
