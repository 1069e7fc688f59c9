"""The whole evening by clicks on the instructor's page: prepare, hand out, four hand in, mark, look, report, forget.

Learners are played by simulated learners in folders of their own, with nothing but what was packed for them.
"""

from __future__ import annotations

import csv
import json
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Locator, Page, expect
from study_process import Study, opened

from engine_sim.attempt import open_exercise
from engine_sim.learners import KINDS
from engine_sim.scenarios import also_sealed_in

pytestmark = [pytest.mark.slow, pytest.mark.browser]
PATIENCE_MS = 240_000
WORKERS = {"ada": "tank to pump", "bo": "hurried", "cy": "does nothing", "dee": "cranks flat"}
NAMES = {"ada": "Ada, Ruddy-Shelduck", "bo": "Bø, O'Knot", "cy": "Çy, Wherry", "dee": "Dee, =Lugsail"}
OWN = "lever_pulled_1"


@dataclass
class Evening:
    """The instructor's page, open on a class, and where learners work."""

    study: Study
    page: Page
    folder: Path
    learners: Path

    def panel(self, name: str) -> Locator:
        """Return a panel, opened."""
        panel = self.page.locator(f"[data-panel={name}]")
        if panel.get_attribute("open") is None:
            panel.locator("summary").first.click()
        return panel

    def press(self, panel: str, label: str, says: str) -> Locator:
        """Press a button and wait for what is said then."""
        self.panel(panel).get_by_role("button", name=label, exact=True).click()
        expect(self.panel(panel).locator(".said .notice").first).to_contain_text(says, timeout=PATIENCE_MS)
        return self.panel(panel)

    def choose(self, panel: str, label: str, value: str) -> None:
        """Choose in a field on which others hang, and wait until the panel stands again."""
        settled = int(self.page.locator(".panels").get_attribute("data-settled") or 0)
        self.panel(panel).get_by_label(label, exact=True).select_option(value)
        expect(self.page.locator(".panels")).not_to_have_attribute("data-settled", str(settled), timeout=PATIENCE_MS)


@pytest.fixture(scope="module")
def evening(tmp_path_factory: pytest.TempPathFactory, chromium_browser: Browser) -> Iterator[Evening]:
    root = tmp_path_factory.mktemp("evening")
    folder, learners = root / "harbour-class", root / "learners"
    with opened(folder, "teach", str(folder)) as study:
        page = chromium_browser.new_context(viewport={"width": 1280, "height": 900}).new_page()
        page.goto(study.address)
        page.locator(".panels[data-ready=yes]").wait_for(timeout=PATIENCE_MS)
        yield Evening(study, page, folder, learners)


def test_1_learners_are_added_and_get_tickets_on_slips(evening: Evening) -> None:
    panel = evening.panel("class")
    panel.get_by_label("Learners to add").fill("\n".join(f"{one}, {name}" for one, name in NAMES.items()))
    evening.press("class", "Add them to the class", "Added 4")
    expect(panel.get_by_role("row", name="Ruddy-Shelduck")).to_be_visible()
    evening.press("class", "Make slips with the tickets, to print and cut", "slips are ready")
    assert (evening.folder / "slips.pdf").read_bytes().startswith(b"%PDF")


def test_2_a_doubled_name_is_refused_in_words_and_what_was_typed_stays(evening: Evening) -> None:
    panel = evening.panel("class")
    panel.get_by_label("Learners to add").fill("ada, Ada, Again")
    evening.press("class", "Add them to the class", "Already in the class: ada")
    expect(panel.get_by_label("Learners to add")).to_have_value("ada, Ada, Again")
    expect(evening.panel("class").locator(".notice.warn").first).to_be_visible()


def test_3_a_fault_is_set_tried_out_and_kept_as_an_exercise(evening: Evening) -> None:
    evening.choose("fault", "Boat", "single_cylinder")
    evening.choose("fault", "Fault", "stop_control_pulled")
    panel = evening.press("fault", "Try it out", "Tried out")
    expect(panel.get_by_text("Sound work finds and cures it.")).to_be_visible()
    expect(panel.get_by_role("row", name="tank to pump")).to_contain_text("yes")
    expect(panel.get_by_role("row", name="does nothing")).to_contain_text("no")
    panel.get_by_label("Short name of the exercise").fill(OWN)
    panel.get_by_label("Its title").fill("It turns and never fires")
    panel.get_by_label("Points for method").fill("12.5")
    evening.press("fault", "Keep it as an exercise", "is ready")
    panel.get_by_label("Its title").fill("Something else")
    evening.choose("fault", "One of your own exercises", OWN)
    evening.press("fault", "Open your own exercise again", "stands in the fields")
    expect(panel.get_by_label("Its title")).to_have_value("It turns and never fires")
    expect(panel.get_by_label("Points for method")).to_have_value("12.5")
    panel.get_by_label("Short name of the exercise").fill("one_more")
    evening.press("fault", "Keep it as an exercise", "is ready")
    evening.choose("fault", "One of your own exercises", "one_more")
    panel.get_by_role("button", name="Take your own exercise out").click()
    expect(panel.get_by_text("(one_more) out of the class?")).to_be_visible()
    evening.press("fault", "Yes, do it", "one_more is taken out")
    expect(panel.get_by_label("One of your own exercises")).to_have_value("")
    expect(panel.get_by_role("button", name="Take your own exercise out")).to_have_count(0)
    page = (evening.folder / "source" / OWN / f"{OWN}.ipynb").read_text("utf-8")
    assert "method 12.5, diagnosis 5" in page
    assert 'fault = "stop_control_pulled"' in (evening.folder / "scenarios" / f"{OWN}.toml").read_text("utf-8")


def test_4_the_exercise_is_packed_and_holds_no_fault_in_clear(evening: Evening) -> None:
    panel = evening.panel("hand_out")
    panel.get_by_label("It turns and never fires").check()
    evening.press("hand_out", "Pack what is ticked", "Packed 1")
    with zipfile.ZipFile(evening.folder / "hand_out" / f"{OWN}.zip") as packed:
        packed.extractall(evening.learners)
        inside = b"".join(packed.read(name) for name in packed.namelist())
    assert b"stop_control" not in inside and b"pulled out" not in inside


def test_5_four_learners_work_it_and_their_files_are_taken_in_by_ticket(evening: Evening) -> None:
    with (evening.folder / "roster.csv").open(encoding="utf-8", newline="") as file:
        tickets = {row["learner_id"]: row["ticket"] for row in csv.DictReader(file)}
    packed = evening.learners / OWN
    also_sealed_in(packed)
    for number, (learner, kind) in enumerate(WORKERS.items()):
        own = evening.learners / f"copy of the stick {number}"
        own.mkdir()
        (own / f"{OWN}.ipynb").write_bytes((packed / f"{OWN}.ipynb").read_bytes())
        with open_exercise(OWN, tickets[learner], own) as attempt:
            KINDS[kind](attempt.attempt)
    evening.panel("collect").get_by_label("Or a folder on this computer").fill(str(evening.learners))
    panel = evening.press("collect", "Take in what lies in the folder", "Taken: 4")
    expect(panel.get_by_role("row", name="Ada Ruddy-Shelduck").first).to_contain_text("It turns and never fires")
    handed_in = {place.parent.name for place in (evening.folder / "submitted").glob(f"*/{OWN}")}
    assert handed_in == set(WORKERS)


def test_6_everything_is_marked_with_progress_and_the_order_is_right(evening: Evening) -> None:
    panel = evening.press("mark", "Mark all that came in", "Marked: 4 hand-ins of 1 exercises")
    row = {one: panel.get_by_role("row", name=one, exact=False).first.inner_text().split() for one in WORKERS}
    assert "yes" in row["ada"] and "no" in row["cy"]
    assert (evening.folder / "feedback" / "ada" / OWN / f"{OWN}.html").is_file()
    evening.press("mark", "Write all marks as a table for a spreadsheet", "table is written")
    table = (evening.folder / "marks.csv").read_text("utf-8-sig")
    assert "'=Lugsail" in table, "a name cannot act as a formula"


def test_7_nbgraders_marking_pages_show_the_same_marks(evening: Evening) -> None:
    page = evening.page.context.new_page()
    page.goto(evening.study.reply("formgrader"))
    expect(page.get_by_text(OWN).first).to_be_visible(timeout=PATIENCE_MS)
    page.close()


def test_8_a_mark_is_changed_with_its_reason_only(evening: Evening) -> None:
    evening.choose("change", "Learner", "bo")
    evening.choose("change", "Exercise", OWN)
    panel = evening.panel("change")
    panel.get_by_label("Mark", exact=True).select_option("housekeeping")
    panel.get_by_label("Points").fill("4")
    panel.get_by_label("Your name").fill("Invented Examiner")
    evening.press("change", "Change the mark", "No reason was given")
    panel.get_by_label("Reason").fill("The tray stood there; the page did not show it.")
    evening.press("change", "Change the mark", "to 4 of 5")
    kept = [json.loads(line) for line in (evening.folder / "second_marks.jsonl").read_text("utf-8").splitlines()]
    assert [one["reason"] for one in kept] == ["The tray stood there; the page did not show it."]


def test_9_report_and_records_are_written_and_without_names_there_are_none(evening: Evening) -> None:
    panel = evening.panel("report")
    evening.press("report", "Write the report", "report is written")
    panel.get_by_label("Without names").check()
    evening.press("report", "Write the report", "report is written")
    evening.press("report", "Write the records", "4 records")
    reports = sorted((evening.folder / "report").glob("*.html"))
    assert len(reports) == 2
    assert sum("Ruddy-Shelduck" in place.read_text("utf-8") for place in reports) == 1
    with evening.page.context.expect_page() as opening:
        panel.get_by_role("link", name="class report (HTML)", exact=True).click()
    expect(opening.value.get_by_text("Ruddy-Shelduck").first).to_be_visible(timeout=PATIENCE_MS)
    opening.value.close()


def test_a_logbook_is_shown_at_the_wall_and_gone_through(evening: Evening) -> None:
    evening.panel("replay").get_by_label("Logbook").select_option(f"bo/{OWN}")
    evening.press("replay", "Show it at the wall", "at the wall")
    wall = evening.page.locator(".fuel-bench[data-wall=replay]")
    expect(wall).to_be_visible(timeout=PATIENCE_MS)


def test_axe_finds_nothing_with_every_panel_open(evening: Evening) -> None:
    for panel in evening.page.locator("[data-panel]").all():
        if panel.get_attribute("open") is None:
            panel.locator("summary").first.click()
    found = Axe().run(evening.page, context={"include": [[".panels"]]})
    assert [one["id"] for one in found.response["violations"]] == []


def test_z_a_learner_is_forgotten_after_a_second_question(evening: Evening) -> None:
    evening.choose("privacy", "Learner", "cy")
    evening.panel("privacy").get_by_role("button", name="Forget this learner").click()
    evening.press("privacy", "Yes, do it", "cy is forgotten")
    files = [place for place in evening.folder.rglob("*") if place.is_file()]
    assert [place for place in files if "Wherry" in place.read_text("utf-8", "replace")] == []
