"""The whole project is clean by ruff and, in strict mode, by mypy."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize(
    "tool",
    [["ruff", "check", "--no-cache", "."], ["mypy", "--no-error-summary"]],
    ids=["ruff", "mypy"],
)
def test_a_checker_finds_nothing(tool: list[str]) -> None:
    outcome = subprocess.run([sys.executable, "-m", *tool], cwd=ROOT, capture_output=True, text=True, check=False)
    assert outcome.returncode == 0, outcome.stdout + outcome.stderr
