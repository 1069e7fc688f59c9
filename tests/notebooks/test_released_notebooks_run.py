"""nbval runs every released notebook, and the benches in it, as a learner's computer would."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
RELEASED = sorted([*(ROOT / "course/notebooks").glob("*.ipynb"), *(ROOT / "course/exercises").rglob("*.ipynb")])


def run_nbval(page: Path) -> subprocess.CompletedProcess[str]:
    options = ["--nbval-lax", "-p", "no:cacheprovider", "-rA", "-c", os.devnull]
    command = [sys.executable, "-m", "pytest", *options, page.name]
    return subprocess.run(command, cwd=page.parent, capture_output=True, text=True, timeout=300, check=False)


@pytest.mark.parametrize("page", RELEASED, ids=lambda page: page.stem)
def test_nbval_passes_on_a_released_notebook(page: Path, tmp_path: Path) -> None:
    own = tmp_path / page.name
    shutil.copy(page, own)
    outcome = run_nbval(own)
    code = '"cell_type": "code"' in page.read_text("utf-8")
    no_tests = 5
    assert outcome.returncode == (0 if code else no_tests), outcome.stdout[-4000:]
    assert ("passed" in outcome.stdout) is code


def test_nbval_fails_on_a_page_whose_bench_does_not_exist(tmp_path: Path) -> None:
    """The check above can fail: it does on a page that asks for an exercise nobody made."""
    page = tmp_path / "first_look.ipynb"
    text = (ROOT / "course/notebooks/first_look.ipynb").read_text("utf-8")
    page.write_text(text.replace('bench(\\"first_look\\")', 'bench(\\"no_such_exercise\\")'), "utf-8")
    outcome = run_nbval(page)
    assert outcome.returncode == 1
    assert "no_such_exercise" in outcome.stdout
