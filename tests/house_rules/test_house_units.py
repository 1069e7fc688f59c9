"""The unit stands in the name: every float in a public signature of the core says what it is measured in."""

from __future__ import annotations

import ast
import re

import pytest
from house_tree import Module, functions, is_public, listed, package_modules

# The core but for marking, whose points and picture have no units.
MEASURED = {
    "units",
    "fluids",
    "components",
    "circuit",
    "faults",
    "actions",
    "observations",
    "scenarios",
    "attempt",
}

UNIT = re.compile(r"(?:pa|k|c|m|mm|ml|l|s|h|min|kg|j|w|n|nm|v|a|ah|ohm|rad|rpm|deg|mol)\d?")
# A number without a unit is called by one of these words.
PURE = {
    "coefficient",
    "efficiency",
    "exponent",
    "factor",
    "fraction",
    "heads",
    "high",
    "low",
    "maximum",
    "opening",
    "points",
    "probability",
    "ratio",
    "reynolds",
    "score",
    "seaway",
    "severity",
    "share",
    "shares",
    "step",
    "steps",
    "strokes",
    "tolerance",
    "value",
    "weight",
}
NUMBER = {"float", "float | None", "list[float]", "tuple[float, ...]"}


def has_unit(name: str) -> bool:
    """Tell whether a name ends in a unit (``level_m``, ``flow_m3_per_s``) or in a word for a pure number."""
    words = name.split("_")
    return words[-1] in PURE or (len(words) > 1 and bool(UNIT.fullmatch(words[-1])))


def parameters(module: Module) -> list[tuple[ast.arg, str]]:
    """Return the float parameters of the public functions of a module."""
    found = []
    for dotted, node in functions(module):
        arguments = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
        if is_public(dotted.replace("__init__", "init")):
            found += [(a, dotted) for a in arguments if a.annotation and ast.unparse(a.annotation) in NUMBER]
    return found


def fields(module: Module) -> list[tuple[ast.AnnAssign, str]]:
    """Return the float fields of the public classes of a module."""
    return [
        (item, node.name)
        for node in ast.walk(module.tree)
        if isinstance(node, ast.ClassDef) and is_public(node.name)
        for item in node.body
        if isinstance(item, ast.AnnAssign) and ast.unparse(item.annotation) in NUMBER
    ]


def test_float_parameters_carry_their_unit():
    """``pressure_pa`` at every border of the core."""
    offences = [
        f"{module.at(argument)} {dotted}({argument.arg})"
        for module in package_modules()
        if module.place in MEASURED
        for argument, dotted in parameters(module)
        if not has_unit(argument.arg)
    ]
    assert not offences, listed(offences)


def test_float_fields_carry_their_unit():
    """What a class holds is a border too."""
    offences = [
        f"{module.at(item)} {owner}.{ast.unparse(item.target)}"
        for module in package_modules()
        if module.place in MEASURED
        for item, owner in fields(module)
        if not has_unit(ast.unparse(item.target))
    ]
    assert not offences, listed(offences)


def test_formulas_name_their_units_in_words_too():
    """``[unit]`` in the docstring of every public formula of the fluids that returns a number."""
    offences = [
        f"{module.at(node)} {dotted}"
        for module in package_modules()
        if module.place == "fluids"
        for dotted, node in functions(module)
        if is_public(dotted)
        and node.returns
        and ast.unparse(node.returns) == "float"
        and not re.search(r"\[[^\]]+\]", ast.get_docstring(node) or "")
    ]
    assert not offences, listed(offences)


@pytest.mark.parametrize(
    "name", ["pressure_pa", "flow_m3_per_s", "linear_pa_s_per_m3", "square_pa_s2_per_m6", "cake_per_m", "fuel_share"]
)
def test_names_with_units_pass(name):
    """Guards the checks above."""
    assert has_unit(name)


@pytest.mark.parametrize("name", ["pressure", "flow", "level_in", "volume", "viscosity_20", "speed_knots"])
def test_names_without_units_are_caught(name):
    """Guards the checks above."""
    assert not has_unit(name)
