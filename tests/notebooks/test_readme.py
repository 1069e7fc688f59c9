"""The README keeps its word: its two commands, its example, its file names, and its commands exist."""

from __future__ import annotations

import doctest
import re
import subprocess
from pathlib import Path

import pytest

from engine_sim.classroom.hand_in import logbook_name
from engine_sim.cli import main

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text("utf-8")


def shell_blocks() -> list[str]:
    return [block.strip() for block in re.findall(r"```sh\n(.*?)```", README, flags=re.DOTALL)]


def test_the_readme_opens_with_one_paragraph_and_then_exactly_two_commands() -> None:
    first = README.split("\n\n")[1]
    assert first.startswith("The job: ") and "will not start" in first
    assert README.index("## Two commands") < README.index("## Three uses") < README.index("## Cautions")
    assert len(shell_blocks()) == 2
    assert all("\n" not in block for block in shell_blocks())
    assert shell_blocks()[0].endswith("fuelcourse study")
    assert shell_blocks()[1].endswith("-m pytest")


def test_ci_runs_the_second_command_word_for_word() -> None:
    """``.ci/run --show`` prints the command that it takes from the README and would run."""
    outcome = subprocess.run(["bash", ROOT / ".ci/run", "--show"], capture_output=True, text=True, check=True)
    assert outcome.stdout.strip() == shell_blocks()[1]


def test_the_example_in_the_readme_works() -> None:
    outcome = doctest.testfile(str(ROOT / "README.md"), module_relative=False)
    assert outcome.attempted >= 4
    assert outcome.failed == 0


def test_every_command_that_the_readme_names_exists(capsys: pytest.CaptureFixture[str]) -> None:
    named = set(re.findall(r"`fuelcourse (\w+)", README))
    assert named >= {"study", "teach", "mark"}
    for command in named:
        with pytest.raises(SystemExit, match="0"):
            main([command, "--help"])
        for option in re.findall(rf"`fuelcourse {command}[^`]*(--[\w-]+)", README):
            assert option in capsys.readouterr().out


def test_every_file_that_a_learner_hands_in_is_named() -> None:
    assert "fuel-course/exercises/NAME" in README
    assert "`NAME.ipynb`" in README and f"`{logbook_name('NAME')}`" in README


def test_the_cautions_defer_to_manual_rules_and_engineer() -> None:
    cautions = README.split("## Cautions")[1].split("## ")[0]
    for word in ("engine's own manual", "local rules", "qualified marine engineer", "first", "MARPOL Annex I"):
        assert word in cautions
