"""One Chromium for all browser tests, and a bare page that carries the bench without a notebook."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

sys.path.insert(0, str(Path(__file__).parent.parent / "bench"))

CHROMIUM_FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
CHROMIUM_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
WHAT_TO_INSTALL = (
    "The browser tests need Chromium and none was found. On Debian or Ubuntu: apt-get install chromium. "
    "Elsewhere install Chromium or Chrome. Or set CHROMIUM to the full path of its program. "
    "To leave the browser tests out: pytest -m 'not browser'."
)


def find_chromium() -> str:
    """Return where Chromium is; a missing one is a failure in CI and said plainly at home."""
    named = os.environ.get("CHROMIUM")
    found = named if named and Path(named).is_file() else next(filter(None, map(shutil.which, CHROMIUM_NAMES)), None)
    if found:
        return found
    if os.environ.get("CI"):
        pytest.fail(WHAT_TO_INSTALL)
    pytest.skip(WHAT_TO_INSTALL)


@pytest.fixture(scope="session")
def chromium_browser() -> Iterator[Browser]:
    """A running headless Chromium with a new, empty profile."""
    program = find_chromium()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=list(CHROMIUM_FLAGS))
        yield browser
        browser.close()


@pytest.fixture
def chromium_page(chromium_browser: Browser) -> Iterator[Page]:
    """A fresh page in a context of its own."""
    context = chromium_browser.new_context(
        viewport={"width": 1280, "height": 800}, accept_downloads=True, reduced_motion="reduce"
    )
    page = context.new_page()
    page.set_default_timeout(10_000)
    yield page
    context.close()


@pytest.fixture
def bare(chromium_page: Page, tmp_path: Path):
    """Open benches on the fresh page; they let go of their logbooks at the end."""
    from bare_page import BarePage, open_bench

    made: list[BarePage] = []

    def opened(*arguments, **how) -> BarePage:
        made.append(open_bench(chromium_page, tmp_path, *arguments, **how))
        return made[-1]

    yield opened
    for one in made:
        one.wire.bench.desk.close()
