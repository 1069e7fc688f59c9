"""No bare physical constants: a number that is not plain arithmetic carries its unit and source.

Plain are whole numbers up to twelve, powers of two up to 1024 and of ten, a half and a quarter, 60 and 3600.
A whole number that only counts tries, steps or iterations is the program's own, and its name says so.
Every other number stands inside a call that gives it a unit and a source (or a door that only bounds an input).
"""

from __future__ import annotations

import ast
import math
import re

import pytest
from house_tree import Module, called_name, listed, package_modules

PLACES = {"fluids", "components", "circuit", "faults"}
PLAIN = {*range(13), *(2**n for n in range(11)), 0.5, 0.25, 60, 3600}
# These calls give a number its unit and source, or say what an input may be.
CARRIERS = {"SourcedValue", "Parameter", "usual", "remembered", "element_parameters", "require_in_range"}
COUNT = re.compile(r"_?[A-Z_]*(?:ITERATIONS|STEPS|HALVINGS|TRIES)")


def is_plain(value: float) -> bool:
    """Tell whether a number is arithmetic rather than a figure of the world."""
    if value in PLAIN:
        return True
    power = math.log10(abs(value))
    return math.isclose(power, round(power), abs_tol=1e-12)


def is_count(node: ast.Assign) -> bool:
    """Tell whether a statement gives a whole number to a name that says it is a count."""
    whole = isinstance(node.value, ast.Constant) and isinstance(node.value.value, int)
    return whole and bool(COUNT.fullmatch(ast.unparse(node.targets[0])))


def bare_numbers(tree: ast.Module) -> list[ast.Constant]:
    """Return the numbers of a module that stand outside every carrier and are not plain."""
    carried: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and called_name(node).rsplit(".", 1)[-1] in CARRIERS:
            carried.update(id(child) for child in ast.walk(node))
        if isinstance(node, ast.Assign) and is_count(node):
            carried.add(id(node.value))
    return [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant)
        and isinstance(node.value, int | float)
        and not isinstance(node.value, bool)
        and id(node) not in carried
        and not is_plain(node.value)
    ]


def where(module: Module) -> list[str]:
    """Return the bare numbers of a module as people read them."""
    return [f"{module.at(node)} {node.value!r}" for node in bare_numbers(module.tree)]


def test_physical_numbers_carry_unit_and_source():
    """Everything from the fluids to the faults."""
    offences = [offence for module in package_modules() if module.place in PLACES for offence in where(module)]
    assert not offences, listed(offences)


@pytest.mark.parametrize(
    "code", ["DENSITY = 840.0", "x = 0.62 * a", "def f(k=1.4e9): pass", "G = 9.81", "n = 37", "_STEPS = 0.3"]
)
def test_a_bare_constant_is_caught(code):
    """Guards the check above."""
    assert len(bare_numbers(ast.parse(code))) == 1


@pytest.mark.parametrize(
    "code",
    ["x = a * 0.5", "y = 4.0 * b / 1e3", "V = SourcedValue(840.0, 'kg/m3', S)", "z = 128 * l", "_ITERATIONS = 30"],
)
def test_arithmetic_and_sourced_values_pass(code):
    """Guards the check above."""
    assert bare_numbers(ast.parse(code)) == []
