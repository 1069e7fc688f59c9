"""``fuelcourse study`` for real: the course opens, gently set up, ends when told, and errors say what to do."""

from __future__ import annotations

import csv
import json
import os
import signal
import socket
import subprocess
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import psutil
import pytest
from study_process import Study, command, opened, running_study

from engine_sim.classroom.course_plan import all_exercises
from engine_sim.cli import main


def ask(study: Study, path: str) -> str:
    with urllib.request.urlopen(study.reply(path), timeout=30) as answer:
        return str(answer.read().decode())


@pytest.fixture(scope="module")
def study(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Study]:
    with running_study(tmp_path_factory.mktemp("learner") / "fuel-course") as running:
        yield running


def test_it_fills_the_folder_and_serves_the_start_page(study: Study) -> None:
    assert (study.folder / "notebooks/start_here.ipynb").is_file()
    assert study.address == study.page("notebooks/start_here.ipynb")
    with urllib.request.urlopen(study.address, timeout=30) as answer:
        assert answer.status == 200


def test_a_stranger_without_the_key_sees_nothing(study: Study) -> None:
    with pytest.raises(urllib.error.HTTPError, match="403"):
        urllib.request.urlopen(f"http://127.0.0.1:{study.port}/api/contents", timeout=30)


def test_it_listens_on_this_computer_only(study: Study) -> None:
    """Another address of this same computer is refused, so a neighbour's computer is too."""
    with pytest.raises(OSError):
        socket.create_connection(("127.0.0.2", study.port), timeout=5)


def test_jupyterlab_takes_our_settings_and_our_page_opener(study: Study) -> None:
    shell = json.loads(ask(study, "lab/api/settings/@jupyterlab/application-extension:shell"))
    assert shell["schema"]["properties"]["startMode"]["default"] == "single"
    page = ask(study, "lab")
    start = page.index(">", page.index('id="jupyter-config-data"')) + 1
    config = json.loads(page[start : page.index("</script>", start)])
    assert "fuelcourse-open" in [extension["name"] for extension in config["federated_extensions"]]
    assert {"@jupyter/nbgrader", "@jupyterlab/cell-toolbar-extension:plugin"} <= set(config["disabledExtensions"])


def test_it_leaves_the_persons_own_jupyter_alone(study: Study) -> None:
    assert [path.name for path in study.folder.parent.iterdir()] == ["fuel-course"]


def test_a_second_study_on_the_same_folder_says_where_the_first_is(study: Study) -> None:
    before = {path: path.read_bytes() for path in study.folder.rglob("*.ipynb")}
    outcome = subprocess.run(
        command("study", "--folder", str(study.folder), "--no-browser"),
        capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    assert outcome.returncode == 1
    assert f"The course is already open at {study.address}" in outcome.stderr
    assert {path: path.read_bytes() for path in study.folder.rglob("*.ipynb")} == before


@pytest.mark.slow
def test_what_a_killed_study_left_behind_blocks_nothing(tmp_path: Path) -> None:
    with running_study(tmp_path / "own") as first:
        (lab,) = psutil.Process(first.process.pid).children()
        os.kill(first.process.pid, signal.SIGKILL)
        first.process.wait(60)
        lab.kill()
        psutil.wait_procs([lab], timeout=60)
    assert list((tmp_path / "own/.fuelcourse/running").glob("jpserver-*.json"))
    with running_study(tmp_path / "own") as second:
        assert "start_here" in ask(second, "api/contents/notebooks")


def test_ctrl_c_ends_it_and_jupyterlab(tmp_path: Path) -> None:
    with running_study(tmp_path / "own") as running:
        os.kill(running.process.pid, signal.SIGINT)
        said, _ = running.process.communicate(timeout=60)
        assert running.process.returncode == 0
        assert "Everything you did is kept in" in said
        with pytest.raises(ConnectionRefusedError):
            socket.create_connection(("127.0.0.1", running.port), timeout=5)


def test_teach_opens_the_instructors_page_with_nbgraders_marking_pages_beside_it(tmp_path: Path) -> None:
    course = tmp_path / "harbour-class"
    with opened(course, "teach", str(course)) as running:
        assert running.address.startswith(f"http://127.0.0.1:{running.port}/doc/tree/instructor.ipynb?token=")
        with urllib.request.urlopen(running.reply("formgrader"), timeout=60) as answer:
            assert "formgrader" in answer.read().decode()
        listed = {one["name"] for one in json.loads(ask(running, "formgrader/api/assignments"))}
        assert listed == {exercise.id for exercise in all_exercises()}
        learners = {row["id"] for row in json.loads(ask(running, "formgrader/api/students"))}
        with (course / "roster.csv").open(encoding="utf-8", newline="") as roster:
            assert learners == {row["learner_id"] for row in csv.DictReader(roster)}


def test_a_port_in_use_is_named(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        outcome = subprocess.run(
            command("study", "--folder", str(tmp_path / "own"), "--no-browser", "--port", str(port)),
            capture_output=True, text=True, check=False, timeout=60,
        )  # fmt: skip
    assert outcome.returncode == 1
    assert f"Port {port} on this computer is in use" in outcome.stderr
    assert "--port" in outcome.stderr and "Traceback" not in outcome.stderr
    assert not (tmp_path / "own").exists()


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["study", "--port", "80"], "--port was given as '80'; give a whole number from 1024 to 65535"),
        (["study", "--port", "70000"], "--port was given as '70000'; give a whole number from 1024 to 65535"),
        (["study", "--port", "notaport"], "--port was given as 'notaport'; give a whole number from 1024 to 65535"),
        (["study", "--port", "8888.5"], "--port was given as '8888.5'; give a whole number from 1024 to 65535"),
        (["study", "--folder", "taken"], "a file stands where the folder should be"),
    ],
)
def test_bad_input_is_answered_in_a_sentence(
    arguments: list[str], says: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "taken").write_text("x", "utf-8")
    monkeypatch.chdir(tmp_path)
    assert main(arguments) == 1
    assert says in capsys.readouterr().err


@pytest.mark.parametrize("words", [[], ["study"], ["teach"], ["mark"], ["build"]])
def test_help_is_there_for_every_command(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match="0"):
        main([*words, "--help"])
    said = capsys.readouterr().out
    assert "usage: fuelcourse" in said
    assert len(said.splitlines()) > 5


def test_version_is_the_packages_own(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match="0"):
        main(["--version"])
    assert capsys.readouterr().out == "fuelcourse 0.1.0\n"
