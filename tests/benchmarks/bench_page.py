"""Prints how quick the bench is on its page, in one table with versions. Run it by hand: it is no test.

    python tests/benchmarks/bench_page.py

A real JupyterLab with its kernel and a headless Chromium share this machine. A click is timed on the page itself: from
the press to the frame in which the answer is drawn. Films are off, since they are played on purpose.
"""

from __future__ import annotations

import importlib
import itertools
import json
import os
import platform
import shutil
import statistics
import sys
import tempfile
import time
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from engine_sim.attempt import Attempt
from engine_sim.scenarios import draw_scenario, exercises, new_ticket, pool

TESTS = Path(__file__).parents[1]
CLICKS = 50
CLICK = """async (selector) => {
  const root = document.querySelector('.fuel-bench[data-ready=yes]');
  const before = Number(root.dataset.settled), began = performance.now();
  document.querySelector(selector).click();
  await new Promise((done) => {
    const watch = new MutationObserver(() => {
      if (root.dataset.busy || Number(root.dataset.settled) <= before) return;
      watch.disconnect();
      requestAnimationFrame(done);
    });
    watch.observe(root, { attributes: true });
  });
  return performance.now() - began;
}"""


@dataclass(frozen=True)
class Work:
    """The graded exercise on the boat with the most parts, and a look at each of these."""

    exercise: str
    layout: str
    looks: tuple[tuple[str, str], ...]

    @property
    def page(self) -> str:
        """Where its page is."""
        return f"exercises/{self.exercise}/{self.exercise}.ipynb"


def largest() -> Work:
    """Return the exercise to be timed."""
    ticket = new_ticket()
    drawn = [draw_scenario(name, ticket) for name in exercises() if pool(name).needs_ticket]
    attempt = max(map(Attempt, drawn), key=lambda one: len(one.parts()))
    looks = tuple(
        (part.id, offer.action)
        for part in attempt.parts()
        for offer in attempt.offers(part.id)
        if offer.action in ("look", "read_gauge", "volts") and not offer.why_not
    )
    return Work(attempt.scenario.exercise, attempt.scenario.layout, looks)


def main() -> None:
    """Print the table."""
    sys.path[:0] = [str(TESTS / "notebooks"), str(TESTS / "bench")]
    names = ("fuelcourse", "jupyterlab", "ipykernel", "anywidget", "playwright")
    print(
        f"Python {platform.python_version()}, {os.cpu_count()} cores, " + ", ".join(f"{n} {version(n)}" for n in names)
    )
    work = largest()
    print(f"exercise {work.exercise} on the layout {work.layout}")
    process = importlib.import_module("study_process")
    chromium = os.environ.get("CHROMIUM") or shutil.which("chromium") or shutil.which("google-chrome")
    with (
        tempfile.TemporaryDirectory() as home,
        process.running_study(Path(home) / "fuel-course") as study,
        sync_playwright() as playwright,
    ):
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        page = browser.new_context(viewport={"width": 1280, "height": 900}, reduced_motion="reduce").new_page()
        page.set_default_timeout(90_000)
        for name, found, wanted in rows(page, study.page(work.page), work):
            print(f"  {name:<52} {found:<24} {wanted}")
        browser.close()
    told = bytes_told(work)
    print(f"  {'bytes from kernel to page for a click, median':<52} {statistics.median(told):.0f}")


def bytes_told(work: Work) -> list[int]:
    """Return how long the answer to each of the same clicks is [bytes], films left out."""
    wire = importlib.import_module("bench_wire")
    bench = importlib.import_module("engine_sim.bench").Bench
    with tempfile.TemporaryDirectory() as folder:
        line = wire.Wire(bench(work.exercise, folder))
        line.ask("page", "fresh")
        found = []
        for part, action in work.looks:
            found += [len(json.dumps(line.ask(part, name))) for name in ("choose", action)]
        line.bench.desk.close()
    return found


def rows(page: Page, address: str, work: Work) -> list[tuple[str, str, str]]:
    """Open the exercise and click; return the rows of the table."""
    began = time.perf_counter()
    page.goto(address)
    fresh = page.get_by_role("button", name="Practise with a fresh ticket")
    fresh.wait_for()
    opened = time.perf_counter() - began
    fresh.click()
    page.locator(".spot").first.wait_for()
    page.wait_for_function("!document.querySelector('.fuel-bench[data-busy]')")
    took: list[float] = []
    for part, action in itertools.islice(itertools.cycle(work.looks), CLICKS // 2):
        took.append(page.evaluate(CLICK, f".spot[data-part={part}]"))
        took.append(page.evaluate(CLICK, f".offer[data-action={action}]"))
    took.sort()
    return [
        ("opening the page to the first thing to press", f"{opened:.1f} s", ""),
        (f"click to picture, median of {len(took)}", f"{statistics.median(took):.0f} ms", "wanted: under 60"),
        ("  95th percentile", f"{took[int(0.95 * len(took))]:.0f} ms", "wanted: under 120"),
    ]


if __name__ == "__main__":
    main()
