"""nbval runs every released notebook, and the benches in it, as a learner's computer would."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
RELEASED = sorted([*(ROOT / "course/notebooks").glob("*.ipynb"), *(ROOT / "course/exercises").rglob("*.ipynb")])
pytestmark = pytest.mark.slow
BROKEN = "page_whose_bench_does_not_exist.ipynb"


@pytest.fixture(scope="module")
def said(tmp_path_factory: pytest.TempPathFactory) -> str:
    """What nbval says about all released pages, and about one that asks for an exercise nobody made."""
    folder = tmp_path_factory.mktemp("pages")
    for page in RELEASED:
        shutil.copy(page, folder / page.name)
    text = (ROOT / "course/notebooks/first_look.ipynb").read_text("utf-8")
    (folder / BROKEN).write_text(text.replace('bench(\\"first_look\\")', 'bench(\\"no_such_exercise\\")'), "utf-8")
    options = ["--nbval-lax", "-p", "no:cacheprovider", "-rA", "-c", os.devnull]
    command = [sys.executable, "-m", "pytest", *options, *sorted(page.name for page in folder.glob("*.ipynb"))]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 1, "only the broken page fails:\n" + done.stdout[-4000:]
    return done.stdout


def cells(said: str, outcome: str, page: str) -> list[str]:
    """Return the lines about a page's cells with one outcome."""
    return re.findall(rf"^{outcome} (?:\S*/)?{re.escape(page)}::.*$", said, flags=re.MULTILINE)


@pytest.mark.parametrize("page", RELEASED, ids=lambda page: page.stem)
def test_nbval_passes_on_a_released_notebook(page: Path, said: str) -> None:
    assert cells(said, "FAILED", page.name) == cells(said, "ERROR", page.name) == []
    code = '"cell_type": "code"' in page.read_text("utf-8")
    assert bool(cells(said, "PASSED", page.name)) is code


def test_nbval_fails_on_a_page_whose_bench_does_not_exist(said: str) -> None:
    """The check above can fail: it does on a page that asks for an exercise nobody made."""
    assert cells(said, "FAILED", BROKEN)
    assert "no_such_exercise" in said
