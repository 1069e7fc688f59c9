"""The tests themselves: none is left out, none waits by the clock, none swallows an error, none cannot fail."""

from __future__ import annotations

import ast
import re

import pytest
from house_tree import Module, called_name, functions, listed, modules, package_modules, shown, texts

# Names that leave a test out, run it again, or wait by the clock.
LEAVES_OUT = {"skip", "skipif", "skipTest", "skipUnless", "skipIf", "xfail", "importorskip", "expectedFailure"}
RUNS_AGAIN = {"flaky", "reruns", "rerun", "repeat", "retry"}
WAITS = {"sleep", "wait_for_timeout"}
LEFT_UNDONE = re.compile("|".join(rf"\b{word}\b" for word in ("TO" + "DO", "FIX" + "ME", "X" + "XX", "HA" + "CK")))
CHECKS = re.compile(r"(^|\.)_?(assert|expect|check|require|refuse)\w*$|(^|\.)(raises|warns|fail)$")


# The one place where tests may be left out, and only outside CI: a machine without the browser.
NO_BROWSER_AT_HOME = ("tests/browser/conftest.py", "skip")


def names_used(tree: ast.AST) -> list[tuple[ast.AST, str]]:
    """Return every name, attribute, keyword and imported name in a tree."""
    found: list[tuple[ast.AST, str]] = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Name):
            found.append((node, node.id))
        elif isinstance(node, ast.Attribute):
            found.append((node, node.attr))
        elif isinstance(node, ast.keyword) and node.arg:
            found.append((node.value, node.arg))
        elif isinstance(node, ast.alias):
            found.append((node, node.name.rsplit(".", 1)[-1]))
    return found


def test_no_test_is_left_out_run_again_or_slept_through():
    """A check that does not hold is mended, not excused."""
    offences = [
        f"{module.at(node)} {name}"
        for module in modules("tests")
        for node, name in names_used(module.tree)
        if name in LEAVES_OUT | RUNS_AGAIN | WAITS and (module.at(node).split(":")[0], name) != NO_BROWSER_AT_HOME
    ]
    assert not offences, listed(offences)


def test_the_simulator_does_not_sleep():
    """Simulated time moves through actions, never by waiting."""
    offences = [
        f"{module.at(node)} {name}"
        for module in package_modules()
        for node, name in names_used(module.tree)
        if name in WAITS and module.place != "classroom"
    ]
    assert not offences, listed(offences)


def test_nothing_is_left_undone():
    """No notes to oneself in what is handed over."""
    offences = [
        f"{shown(path)}:{number} {line.strip()[:80]}"
        for path in texts()
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if LEFT_UNDONE.search(line)
    ]
    assert not offences, listed(offences)


def swallowing(module: Module) -> list[str]:
    """Return the handlers of a module that catch everything and keep it, rather than tidy up and let it go on."""
    offences = []
    for node in ast.walk(module.tree):
        if not isinstance(node, ast.ExceptHandler):
            continue
        caught = ast.unparse(node.type) if node.type else "everything"
        lets_go_on = caught == "BaseException" and ast.unparse(node.body[-1]) == "raise"
        if re.search(r"\b(everything|Exception|BaseException)\b", caught) and not lets_go_on:
            offences.append(f"{module.at(node)} catches {caught}")
    return offences


def test_no_handler_catches_everything():
    """An error is caught by its own name; tidying up before any error goes on is not catching it."""
    offences = [
        offence
        for module in [*package_modules(), *modules("tests"), *modules("instructors")]
        for offence in swallowing(module)
    ]
    assert not offences, listed(offences)


def can_fail(node: ast.AST) -> bool:
    """Tell whether a test asserts something that is not plainly true, or calls something that does."""
    for child in ast.walk(node):
        if isinstance(child, ast.Assert) and not isinstance(child.test, ast.Constant):
            return True
        if isinstance(child, ast.Call) and CHECKS.search(called_name(child)):
            return True
    return False


def test_every_test_can_fail():
    """Each holds an assertion, an expected error, or calls a helper that asserts by its name."""
    offences = [
        f"{module.at(node)} {dotted}"
        for module in modules("tests")
        if module.path.name.startswith("test_")
        for dotted, node in functions(module)
        if dotted.rsplit(".", 1)[-1].startswith("test_") and not can_fail(node)
    ]
    assert not offences, listed(offences)


def test_names_of_test_modules_are_unique():
    """Two modules of one name in different folders would hide each other."""
    names = [
        module.path.name for module in modules("tests") if not module.is_package and module.path.name != "conftest.py"
    ]
    assert sorted(names) == sorted(set(names))


@pytest.mark.parametrize("code", ["def test_a():\n assert True", "def test_a():\n print(1)", "def test_a():\n x = 1"])
def test_an_idle_test_is_caught(code):
    """Guards the check above."""
    assert not can_fail(ast.parse(code))
