"""What lies in the project: notebooks without outputs, no learner's work, no file of a machine, nothing from afar."""

from __future__ import annotations

import json
import re

from house_tree import ROOT, files, listed, shown, texts

WORK_OF_A_LEARNER = re.compile(r"\.logbook\.jsonl$|\.ticket$|^roster\.csv$|\.db$|\.sqlite\d?$|timestamp\.txt$")
WEB_ADDRESS = re.compile(r"(?:https?:)?//(?!www\.w3\.org/)[a-z0-9-]+(?:\.[a-z0-9-]+)+/", re.IGNORECASE)


def notebooks() -> list[tuple[str, dict]]:
    """Return every notebook that is committed, with its name."""
    return [(shown(path), json.loads(path.read_text("utf-8"))) for path in files() if path.suffix == ".ipynb"]


def test_notebooks_are_committed_without_outputs():
    """Neither outputs nor counts; an id of its own for every part."""
    offences = []
    for name, notebook in notebooks():
        code = [part for part in notebook["cells"] if part["cell_type"] == "code"]
        if any(part["outputs"] or part["execution_count"] is not None for part in code):
            offences.append(f"{name} holds outputs or counts")
        ids = [part.get("id") for part in notebook["cells"]]
        if not all(ids) or len(ids) != len(set(ids)):
            offences.append(f"{name} has parts without an id of their own")
    assert not offences, listed(offences)


def test_notebooks_hold_no_trace_of_a_machine():
    """No version of a machine's Python, no saved state of a page."""
    offences = [
        name
        for name, notebook in notebooks()
        if "widgets" in notebook["metadata"] or "version" in notebook["metadata"].get("language_info", {})
    ]
    assert not offences, listed(offences)


def test_no_learners_work_is_committed():
    """Logbooks, tickets, rosters and marks belong to a class; invented ones lie in the tests."""
    offences = [
        shown(path)
        for path in files()
        if WORK_OF_A_LEARNER.search(path.name) and path.relative_to(ROOT).parts[0] != "tests"
    ]
    assert not offences, listed(offences)


def test_no_logbook_lies_beside_the_instructors_exercises():
    """A logbook there would be handed out with the exercise."""
    offences = [shown(path) for path in (ROOT / "instructors").rglob("*.logbook.jsonl")]
    assert not offences, listed(offences)


def test_the_page_fetches_nothing_from_afar():
    """It works at sea: no address of the web in what the browser loads."""
    pages = [path for path in texts() if path.suffix in {".js", ".css", ".html"} and "engine_sim" in path.parts]
    offences = [
        f"{shown(path)}:{number} {line.strip()[:100]}"
        for path in pages
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if WEB_ADDRESS.search(line)
    ]
    assert not offences, listed(offences)


def test_texts_are_clean():
    """UTF-8, line ends of one kind, no tab in Python, one line end at the end."""
    offences = []
    for path in texts():
        data = path.read_bytes()
        if b"\r" in data or (data and not data.endswith(b"\n")):
            offences.append(f"{shown(path)} line ends")
        if path.suffix == ".py" and b"\t" in data:
            offences.append(f"{shown(path)} holds a tab")
    assert not offences, listed(offences)
