"""One learner and one instructor go the whole way with the real commands, by clicks, as the README tells them to.

The learner opens the course, types a ticket that draws a slack joint, works it to a running engine, loses the process
behind the page in the middle, goes on, writes the answer and hands in. The instructor marks; the feedback page is read.
"""

from __future__ import annotations

import csv
import json
import os
import shutil
import signal
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import psutil
import pytest
from bare_page import unfolded
from playwright.sync_api import Browser, Locator, Page, expect
from study_process import Study, command, opened, running_study

from engine_sim.attempt import read_logbook
from engine_sim.classroom.course_root import at
from engine_sim.marking import MARK_NAMES, MarkSheet, load_marking_scheme, mark_logbook
from engine_sim.marking.coach.keeping import own_cache_folder
from engine_sim.scenarios import draw_scenario, new_ticket

pytestmark = pytest.mark.slow
EXERCISE = "no_start_harbour"
PAGE = f"exercises/{EXERCISE}/{EXERCISE}.ipynb"
LEARNER = "learner-of-the-journey"
PATIENCE_MS = 60_000
ANSWER = "Renew the sealing ring of the joint, because a nut that came slack once will do so again."

LOOKS = [
    ("bench", "look_around"), ("bench", "ventilate"), ("bench", "extinguisher"), ("bench", "put_on_goggles"),
    ("bench", "lay_tray"), ("stop_control", "look"), ("tank", "dip"), ("shut_off", "look"), ("separator", "look"),
    ("starter", "crank_5"), ("separator_joint", "look"), ("separator_joint", "wipe_and_try"),
]  # fmt: skip
CURE = [("separator_joint", "nip_up"), ("fine_filter", "open_screw")]
FINISH = [
    ("engine", "run_cruise_5min"), ("engine", "stop"), ("bench", "wipe_up"), ("bench", "empty_jar"),
    ("bench", "waste_ashore"), ("bench", "look_around"),
]  # fmt: skip


class BenchOnPage:
    """The bench as hands meet it: choose a part on the drawing, press what it offers, read what is noticed."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.root = page.locator(".fuel-bench[data-ready=yes]")

    def after(self, press: Locator) -> None:
        """Click, and wait until the bench has answered and stands still."""
        before = int(self.root.get_attribute("data-settled") or 0)
        press.click(timeout=PATIENCE_MS)
        self.page.wait_for_function(
            """before => { const root = document.querySelector(".fuel-bench[data-ready=yes]");
                           return root && !root.dataset.busy && Number(root.dataset.settled) > before; }""",
            arg=before,
            timeout=PATIENCE_MS,
        )

    def press(self, part: str, action: str) -> str:
        """Do one thing at one part; return what stands at the top of what is noticed."""
        spot = self.root.locator(f"button.spot[data-part={part}]")
        if spot.get_attribute("aria-pressed") != "true":
            self.after(spot)
        self.after(unfolded(self.root.locator(f"button.offer[data-action={action}]")))
        return self.newest()

    def newest(self) -> str:
        return self.root.locator(".noticed .entry").first.inner_text()

    def entries(self) -> list[str]:
        return self.root.locator(".noticed .entry").all_inner_texts()

    def bleed_at(self, part: str) -> None:
        """Lever until the fuel runs without bubbles at a screw that is open, and tighten it."""
        seen = self.press("lift_pump", "lever_60")
        for _ in range(20):
            if "uel without bubbles" in seen:
                break
            seen = self.press("lift_pump", "lever_60")
        assert "uel without bubbles" in seen
        self.press(part, "close_screw")

    def button(self, name: str) -> Locator:
        return self.root.get_by_role("button", name=name, exact=True)


@dataclass
class Journey:
    """What the journey left behind."""

    study: Study
    course: Path
    ticket: str
    before_the_kill: list[str]
    after_the_kill: list[str]
    seen_running: str
    marking_said: str
    sheet: MarkSheet

    @property
    def feedback(self) -> Path:
        return self.course / "feedback" / LEARNER / EXERCISE / f"{EXERCISE}.html"


def fuelcourse(home: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "HOME": str(home)}
    return subprocess.run(
        command(*arguments), capture_output=True, text=True, env=environment, check=False, timeout=300
    )


def ticket_with_a_slack_joint() -> str:
    """Draw tickets until one has the slack joint at the separator: one in fourteen does."""
    while True:
        ticket = new_ticket()
        if [(one.fault, one.part) for one in draw_scenario(EXERCISE, ticket).faults] == [
            ("slack_joint", "separator_joint")
        ]:
            return ticket


def make_class(home: Path, ticket: str) -> Path:
    """``fuelcourse teach``, the learner into the roster, and ``fuelcourse teach`` again."""
    course = home / "harbour-class"
    assert fuelcourse(home, "teach", str(course), "--make-only").returncode == 0
    with (course / "roster.csv").open("r+", encoding="utf-8", newline="") as roster:
        columns = next(csv.reader(roster))
        row = {"learner_id": LEARNER, "first_name": "Wim", "last_name": "Invented", "ticket": ticket}
        roster.seek(0, os.SEEK_END)
        csv.writer(roster).writerow([row.get(column, "") for column in columns])
    assert fuelcourse(home, "teach", str(course), "--make-only").returncode == 0
    return course


def open_exercise_page(page: Page, study: Study) -> BenchOnPage:
    page.goto(study.page(PAGE))
    page.locator("[data-fuelcourse-opened='1']").wait_for(timeout=PATIENCE_MS)
    bench = BenchOnPage(page)
    bench.root.wait_for(timeout=PATIENCE_MS)
    return bench


def kill_what_runs_the_page(study: Study) -> None:
    """Kill the Python process behind the page, as a crash would."""
    running = psutil.Process(study.process.pid).children(recursive=True)
    (behind,) = [process for process in running if "ipykernel_launcher" in " ".join(process.cmdline())]
    os.kill(behind.pid, signal.SIGKILL)


def diagnose_and_hand_in(bench: BenchOnPage) -> None:
    form = bench.root.locator(".card.wide")
    form.get_by_label("Which part?").select_option("separator_joint")
    form.get_by_label("What is wrong with it?").select_option("slack_joint")
    form.locator("label.tick", has_text="the nut turns under your fingers").locator("input").check()
    bench.after(bench.button("Keep this diagnosis"))
    bench.button("Hand in").click()
    bench.after(bench.button("Yes, hand in"))
    expect(bench.root.get_by_text("Handed in. You can look at everything").first).to_be_visible()


def write_the_answer(page: Page) -> None:
    page.locator(".jp-MarkdownOutput", has_text="write your answer in place of this line").dblclick()
    page.locator(".jp-MarkdownCell .cm-content:focus").wait_for()
    page.keyboard.press("Control+a")
    page.keyboard.insert_text(ANSWER)
    page.keyboard.press("Shift+Enter")
    page.locator(".jp-NotebookPanel-toolbar").get_by_text("Save", exact=True).click()
    expect(page.locator(".fuelcourse-saved")).to_have_text("Saved", timeout=PATIENCE_MS)


def give_in(study: Study, course: Path) -> None:
    """The learner's two files go to where the README says."""
    place = course / "submitted" / LEARNER / EXERCISE
    place.mkdir(parents=True)
    for name in (f"{EXERCISE}.ipynb", f"{EXERCISE}.logbook.jsonl"):
        shutil.copy(study.folder / "exercises" / EXERCISE / name, place)


@pytest.fixture(scope="module")
def journey(chromium_browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Journey]:
    home = tmp_path_factory.mktemp("home")
    ticket = ticket_with_a_slack_joint()
    course = make_class(home, ticket)
    page = chromium_browser.new_context(viewport={"width": 1280, "height": 900}, reduced_motion="reduce").new_page()
    page.set_default_timeout(PATIENCE_MS)
    with running_study(home / "fuel-course") as study:
        bench = open_exercise_page(page, study)
        bench.root.get_by_label("Type the ticket your instructor gave you").fill(ticket)
        bench.after(bench.button("Open with this ticket"))
        for part, action in LOOKS:
            bench.press(part, action)
        before = bench.entries()
        kill_what_runs_the_page(study)
        page.locator("[data-fuelcourse-opened='2']").wait_for(timeout=PATIENCE_MS)
        bench.root.wait_for(timeout=PATIENCE_MS)
        after = bench.entries()
        for part, action in CURE:
            bench.press(part, action)
        bench.bleed_at("fine_filter")
        bench.press("injection_pump", "open_screw")
        bench.bleed_at("injection_pump")
        bench.press("starter", "crank_10")
        running = bench.root.locator(".facts").inner_text()
        for part, action in FINISH:
            bench.press(part, action)
        diagnose_and_hand_in(bench)
        write_the_answer(page)
        give_in(study, course)
        said = fuelcourse(home, "mark", str(course))
        data = (study.folder / "exercises" / EXERCISE / f"{EXERCISE}.logbook.jsonl").read_bytes()
        scheme = load_marking_scheme(at(course).scheme(EXERCISE))
        sheet = mark_logbook(data, EXERCISE, ticket, scheme, own_cache_folder())
        yield Journey(study, course, ticket, before, after, running, said.stdout + said.stderr, sheet)
    page.context.close()


@pytest.mark.browser
def test_nothing_is_lost_when_the_process_behind_the_page_is_killed(journey: Journey) -> None:
    assert len(journey.before_the_kill) == len(LOOKS)
    assert journey.after_the_kill == journey.before_the_kill


@pytest.mark.browser
def test_the_engine_runs_when_the_leak_is_cured_and_the_air_is_out(journey: Journey) -> None:
    assert "Engine running" in journey.seen_running


@pytest.mark.browser
def test_the_logbook_holds_every_click_and_the_hand_in(journey: Journey) -> None:
    data = (journey.study.folder / "exercises" / EXERCISE / f"{EXERCISE}.logbook.jsonl").read_bytes()
    reading = read_logbook(data)
    assert reading.findings == ()
    done = [(record["part"], record["action"]) for record in reading.records if record["kind"] == "action"]
    assert done[: len(LOOKS)] == LOOKS
    assert done[-len(FINISH) :] == FINISH
    assert [record["kind"] for record in reading.records][-2:] == ["diagnosis", "hand_in"]


@pytest.mark.browser
def test_the_marks_are_those_of_good_work_and_the_table_shows_them(journey: Journey) -> None:
    marks = {name: mark.score for name, mark in journey.sheet.marks.items()}
    assert marks["diagnosis"] == 5
    assert marks["method"] >= 8
    assert marks["cure"] >= 7
    line = next(line for line in journey.marking_said.splitlines() if line.startswith(LEARNER))
    assert line.split()[1:6] == [f"{marks[name]:g}" for name in MARK_NAMES]
    assert "1 written answer(s) wait for you to mark" in journey.marking_said


@pytest.mark.browser
def test_the_feedback_page_says_why_with_pictures_and_needs_no_network(journey: Journey, chromium_page: Page) -> None:
    asked: list[str] = []
    chromium_page.on("request", lambda request: asked.append(request.url))
    chromium_page.goto(journey.feedback.as_uri())
    said = chromium_page.locator("body").inner_text()
    reasons = [reason.text for mark in journey.sheet.marks.values() for reason in mark.reasons]
    assert [text for text in reasons if text not in said] == []
    assert ANSWER in said
    assert chromium_page.locator("svg:has(title):has(desc)").count() == chromium_page.locator("svg").count() > 0
    assert (journey.feedback.with_suffix(".pdf")).read_bytes().startswith(b"%PDF-")
    assert "Traceback" not in said and "engine_sim" not in said
    assert [url for url in asked if not url.startswith(("file:", "data:"))] == []


@pytest.mark.browser
def test_nbgraders_own_commands_give_the_same_marks(journey: Journey) -> None:
    """Marked once more by ``nbgrader autograde``, and exported by ``nbgrader export``: nothing changes."""
    own = {"HOME": str(journey.course.parent), "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"}
    for words in (["autograde", EXERCISE, "--force"], ["export", "--to", "grades.csv"]):
        done = subprocess.run(
            [sys.executable, "-m", "nbgrader", *words], cwd=journey.course, env={**os.environ, **own},
            capture_output=True, text=True, check=False, timeout=300,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
    with (journey.course / "grades.csv").open(encoding="utf-8", newline="") as file:
        (row,) = [row for row in csv.DictReader(file) if row["student_id"] == LEARNER]
    assert float(row["raw_score"]) == pytest.approx(sum(mark.score for mark in journey.sheet.marks.values()))


@pytest.mark.browser
def test_the_saved_page_keeps_the_answer_and_shows_no_code(journey: Journey) -> None:
    page = json.loads((journey.study.folder / PAGE).read_bytes())
    answers = [cell for cell in page["cells"] if cell["metadata"].get("nbgrader", {}).get("grade_id") == "ashore"]
    assert ["".join(cell["source"]) for cell in answers] == [ANSWER]
    assert all(cell["metadata"]["jupyter"]["source_hidden"] for cell in page["cells"] if cell["cell_type"] == "code")


@pytest.mark.browser
def test_the_answer_marked_by_hand_reaches_the_feedback_page(journey: Journey, chromium_page: Page) -> None:
    """As the README says, on nbgrader's marking pages: give the points, then generate the feedback."""
    course = str(journey.course)
    with opened(journey.course, "teach", course) as pages:
        (page,) = ask(pages, f"formgrader/api/submitted_notebooks/{EXERCISE}/{EXERCISE}")
        (grade,) = [one for one in ask(pages, "formgrader/api/grades", page["id"]) if one["name"] == "ashore"]
        send(pages, f"formgrader/api/grade/{grade['id']}", "PUT", {"manual_score": 4, "extra_credit": 0})
        assert send(pages, f"formgrader/api/assignment/{EXERCISE}/generate_feedback", "POST", {})["success"]
    chromium_page.goto(journey.feedback.as_uri())
    expect(chromium_page.get_by_text("4 of 5").first).to_be_visible()


def ask(pages: Study, path: str, submission: str = "") -> list[dict[str, Any]]:
    address = pages.reply(path) + (f"&submission_id={submission}" if submission else "")
    with urllib.request.urlopen(address, timeout=60) as answer:
        return list(json.loads(answer.read()))


def send(pages: Study, path: str, how: str, what: dict[str, object]) -> dict[str, Any]:
    headers = {"Authorization": f"token {pages.token}", "Content-Type": "application/json"}
    request = urllib.request.Request(pages.reply(path), json.dumps(what).encode(), headers, method=how)
    with urllib.request.urlopen(request, timeout=60) as answer:
        return dict(json.loads(answer.read()))
