"""Words: one thing has one name, sailors read no coder's words, and no text points outside the project."""

from __future__ import annotations

import ast
import csv
import functools
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from house_tree import ROOT, docstrings, listed, package_modules, shown, texts

GLOSSARY = ROOT / "engine_sim" / "wording" / "glossary.csv"
# The one page that says what things are called elsewhere; tests/notebooks/test_sheets.py reads the rest of it.
OTHER_NAMES = ROOT / "course" / "reference" / "glossary.ipynb"
# Words of the coder's trade that a sailor has no use for; "run" and "cell" stay where engines and batteries are meant.
CODERS = (
    r"kernels?",
    r"traceback",
    r"stack trace",
    r"execut(?:e|es|ed|ing|ion)",
    r"(?:code|notebook|this|the next|next) cells?",
    r"run (?:this|the|all|each) cells?",
    r"python",
    r"widgets?",
    r"json",
    r"exceptions?",
    r"function call",
)
# Places of a machine, and papers that are not part of the project. Written so that this file does not match itself.
OUTSIDE = re.compile(
    r"(?<![\w.:/])/(?:work|tmp|root|home|mnt|opt|Users)/\w|[A-Z]:\\\\?Users"
    r"|trade[-]reference|house[.]md|platform[.]md|physics[.]md|contract[.]md|[.][.]/shared|[.]library"
    r"|issue #[0-9]|issues? tracker"
    r"|\bpy[p]i\b|conda[-]forge|npm[j]s|un[p]kg[.]com|js[d]elivr",
    re.IGNORECASE,
)
IDENTIFIER = re.compile(r"[a-z0-9]+(?:[-_.][a-z0-9{}]+)+")
LEARNER_PLACES = {
    "wording",
    "observations",
    "actions",
    "scenarios",
    "faults",
    "attempt",
    "bench",
    "marking",
    "components",
}


def glossary() -> list[tuple[str, str]]:
    """Return every forbidden word with the name to use for it."""
    with GLOSSARY.open(encoding="utf-8", newline="") as lines:
        rows = list(csv.DictReader(lines))
    return [(word, row["name"]) for row in rows for word in row["not to be called"].split("|") if word]


def word_pattern(words: list[str]) -> re.Pattern[str]:
    """Return a pattern for any of the words, whole, singular or plural, hyphen or space alike."""
    each = [re.escape(word).replace(r"\-", "[- ]").replace(r"\ ", "[- ]") + "s?" for word in words]
    return re.compile(rf"(?<![\w-])(?:{'|'.join(each)})(?![\w-])", re.IGNORECASE)


def string_literals() -> Iterator[tuple[str, str]]:
    """Yield the texts in the simulator's own code: literals that are neither docstrings nor identifiers."""
    for module in package_modules():
        if module.place not in LEARNER_PLACES:
            continue
        documented = docstrings(module.tree)
        for node in ast.walk(module.tree):
            text = node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""
            if text and id(node) not in documented and not IDENTIFIER.fullmatch(text):
                yield module.at(node), text


def is_citation(text: str) -> bool:
    """Tell whether a literal names a publication, whose words are its own."""
    return bool(re.search(r"\b(?:ISO|EN|ASTM|SAE|US Army|NAVEDTRA|IMO|TM \d|OD1616|MARPOL|CFR)\b", text))


def markdown_of(path: Path) -> str:
    """Return what a learner reads of a text or a notebook."""
    text = path.read_text("utf-8")
    if path.suffix != ".ipynb":
        return text
    parts = json.loads(text)["cells"]
    return "\n".join("".join(part["source"]) for part in parts if part["cell_type"] == "markdown")


def course_texts() -> list[Path]:
    """Return the texts of the course, for learners and instructors, and the front page."""
    tops = ("course", "instructors")
    return [
        path
        for path in texts()
        if path.suffix in {".md", ".ipynb", ".toml"}
        and (path.relative_to(ROOT).parts[0] in tops or path == ROOT / "README.md" or "layouts" in path.parts)
    ]


def drawn_texts() -> list[Path]:
    """Return the page's own files, whose texts are labels on the screen."""
    return [path for path in texts() if path.suffix in {".js", ".html", ".css"} and "engine_sim" in path.parts]


def without_code(text: str) -> str:
    """Return a text without its heading data and its code spans, which name files and commands."""
    text = re.sub(r"\A---\n.*?\n---\n", "", text, flags=re.DOTALL)
    return re.sub(r"```.*?```|`[^`\n]*`", " ", text, flags=re.DOTALL)


@functools.cache
def forbidden() -> tuple[re.Pattern[str], tuple[tuple[re.Pattern[str], str], ...]]:
    """Return one pattern for every forbidden word, and each word's own with the name to use."""
    return word_pattern([word for word, _ in glossary()]), tuple((word_pattern([w]), name) for w, name in glossary())


def misnamed(where: str, text: str) -> list[str]:
    """Return the forbidden words in a text, each with the name to use."""
    any_word, each_word = forbidden()
    if not any_word.search(text):
        return []
    return [
        f"{where} says {found.group(0)!r}: call it {name!r}"
        for pattern, name in each_word
        for found in pattern.finditer(text)
    ]


def test_the_glossary_is_sound():
    """No word is both a name and forbidden, none is forbidden twice."""
    words = [word for word, _ in glossary()]
    names = {name for _, name in glossary()}
    assert len(words) == len(set(words)) and len(names) >= 20
    assert not names & set(words)


def test_one_thing_has_one_name_in_the_simulator():
    """Labels, observations, stories, feedback."""
    offences = [o for where, text in string_literals() if not is_citation(text) for o in misnamed(where, text)]
    assert not offences, listed(offences)


def test_one_thing_has_one_name_in_the_course():
    """Lessons, exercises, running sheets, layouts, the front page."""
    pages = [path for path in course_texts() if path != OTHER_NAMES]
    offences = [o for path in pages for o in misnamed(shown(path), without_code(markdown_of(path)))]
    assert not offences, listed(offences)


def test_one_thing_has_one_name_on_the_page():
    """What the page itself writes."""
    offences = [o for path in drawn_texts() for o in misnamed(shown(path), path.read_text("utf-8"))]
    assert not offences, listed(offences)


def coders_words(where: str, text: str) -> list[str]:
    """Return the coder's words in a text."""
    return [
        f"{where} says {found.group(0)!r}" for found in re.finditer(rf"\b(?:{'|'.join(CODERS)})\b", text, re.IGNORECASE)
    ]


def test_sailors_read_no_coders_words_in_the_simulator():
    """Sentences only: a literal with a space and a small letter in it."""
    sentences = [(where, text) for where, text in string_literals() if re.search(r"[a-z] [a-z]", text)]
    sentences = [(where, text) for where, text in sentences if not re.search(r"[{};=<>]\s*\n|function\s*\(", text)]
    offences = [offence for where, text in sentences for offence in coders_words(where, text)]
    assert not offences, listed(offences)


def test_sailors_read_no_coders_words_in_the_course():
    """Lessons and exercises."""
    learners = [path for path in course_texts() if path.relative_to(ROOT).parts[0] == "course"]
    offences = [o for path in learners for o in coders_words(shown(path), without_code(markdown_of(path)))]
    assert not offences, listed(offences)


def test_no_text_points_outside_the_project():
    """No path of a machine, no paper that is not here, no registry."""
    offences = [
        f"{shown(path)}:{number} {line.strip()[:100]}"
        for path in texts()
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if OUTSIDE.search(line)
    ]
    assert not offences, listed(offences)


@pytest.mark.parametrize(
    "text", ["Open the stopcock.", "two feed pumps", "the Pre-filter", "a sight-glass", "the tank valve"]
)
def test_a_second_name_is_caught(text):
    """Guards the checks above."""
    assert len(misnamed("here", text)) == 1


@pytest.mark.parametrize(
    "text", ["Open the shut-off.", "the lift pump", "proceed", "a seeded berth", "the starter motor"]
)
def test_the_one_name_passes(text):
    """Guards the checks above."""
    assert misnamed("here", text) == []


@pytest.mark.parametrize("text", ["restart the kernel", "Execute it", "run the cell", "a Python traceback"])
def test_a_coders_word_is_caught(text):
    """Guards the checks above."""
    assert coders_words("here", text)


@pytest.mark.parametrize("text", ["run the engine for five minutes", "each cell of the battery", "a running engine"])
def test_an_engines_words_pass(text):
    """Guards the checks above."""
    assert coders_words("here", text) == []


@pytest.mark.parametrize("text", ["see /wo" + "rk/main", "in '/tm" + "p/x'", "house" + ".md", "from Py" + "PI"])
def test_a_pointer_outside_is_caught(text):
    """Guards the check above."""
    assert OUTSIDE.search(text)


@pytest.mark.parametrize(
    "text", ["/usr/bin/env", "https://jupyter.org/work/x", "tmp_path / 'work'", "course/README.md"]
)
def test_an_honest_path_passes(text):
    """Guards the check above."""
    assert not OUTSIDE.search(text)
