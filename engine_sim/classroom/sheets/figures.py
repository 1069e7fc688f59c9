"""Every number of the simulator with its source, found where it stands in the simulator's own text.

Most figures are kept as plain numbers once they are known, their source left in the text; so the text is read, and each
piece of it that gives a number its unit and source is worked out again.
"""

from __future__ import annotations

import ast
import importlib
import pkgutil
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from types import ModuleType

import engine_sim
from engine_sim.components import Parameter
from engine_sim.sources import SourcedValue

_CARRIERS = frozenset({"SourcedValue", "Parameter", "usual", "remembered", "counted", "element_parameters"})
"""What gives a number its unit and source, by its name."""
_NO_FIGURES = ("classroom", "cli")


@cache
def figures() -> tuple[SourcedValue, ...]:
    """Return every figure of the simulator, in the order of its modules."""
    return tuple(figure for module in _modules() for figure in _in(module))


def _modules() -> Iterator[ModuleType]:
    for found in pkgutil.walk_packages(engine_sim.__path__, f"{engine_sim.__name__}."):
        if found.name.split(".")[1] not in _NO_FIGURES:
            yield importlib.import_module(found.name)


def _in(module: ModuleType) -> Iterator[SourcedValue]:
    if module.__file__ is not None:
        yield from _below(ast.parse(Path(module.__file__).read_text("utf-8")), module)


def _below(node: ast.AST, module: ModuleType) -> Iterator[SourcedValue]:
    """Yield the figures in a piece of text; what hangs on a function's own arguments is counted where it is called."""
    for child in ast.iter_child_nodes(node):
        name = ast.unparse(child.func).rsplit(".", 1)[-1] if isinstance(child, ast.Call) else ""
        if name in _CARRIERS and isinstance(child, ast.Call):
            try:
                yield from _figures_of(eval(compile(ast.Expression(child), name, "eval"), vars(module)))
            except NameError:
                continue
        else:
            yield from _below(child, module)


def _figures_of(found: object) -> Iterator[SourcedValue]:
    if isinstance(found, SourcedValue):
        yield found
    elif isinstance(found, Parameter):
        yield found.usual
    elif isinstance(found, tuple):
        for one in found:
            yield from _figures_of(one)
