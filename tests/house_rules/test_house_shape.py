"""Shape: short functions, modules of one screenful of ideas, every public thing documented, one public face."""

from __future__ import annotations

import ast
import importlib
import statistics

from house_tree import Module, functions, is_public, listed, modules, package_modules

LONGEST_FUNCTION = 60
LONGEST_MODULE = 400
USUAL_MODULE = 300
MEDIAN_BODY = 10


def length(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Return the lines of a function from its ``def`` to its end."""
    return (node.end_lineno or node.lineno) - node.lineno + 1


def body_length(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Return the lines of a function's body, without its docstring."""
    body = node.body[1:] if ast.get_docstring(node) else node.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def ours() -> list[Module]:
    """Return the modules of the simulator and of its tests."""
    return [*package_modules(), *modules("tests"), *modules("instructors"), *modules("course")]


def test_no_function_is_long():
    """None above sixty lines, tests included."""
    offences = [
        f"{module.at(node)} {dotted} has {length(node)} lines"
        for module in ours()
        for dotted, node in functions(module)
        if length(node) > LONGEST_FUNCTION
    ]
    assert not offences, listed(offences)


def test_functions_are_short():
    """Half of them have a body of ten lines or fewer, nine in ten of thirty or fewer."""
    lengths = sorted(body_length(node) for module in package_modules() for _, node in functions(module))
    assert statistics.median(lengths) <= MEDIAN_BODY
    assert lengths[len(lengths) * 9 // 10] <= 3 * MEDIAN_BODY


def test_no_module_is_a_giant():
    """None above four hundred lines; at most one in ten above three hundred."""
    giants = [
        f"{module.at(module.tree)} has {module.lines} lines" for module in ours() if module.lines > LONGEST_MODULE
    ]
    assert not giants, listed(giants)
    big = [f"{module.at(module.tree)} has {module.lines} lines" for module in ours() if module.lines > USUAL_MODULE]
    assert len(big) <= len(ours()) // 10, listed(big)


def undocumented(module: Module) -> list[str]:
    """Return what is public in a module and has no docstring."""
    offences = [] if ast.get_docstring(module.tree) else [f"{module.at(module.tree)} module"]
    for node in ast.walk(module.tree):
        if isinstance(node, ast.ClassDef) and is_public(node.name) and not ast.get_docstring(node):
            offences.append(f"{module.at(node)} {node.name}")
    for dotted, function in functions(module):
        if is_public(dotted) and not ast.get_docstring(function):
            offences.append(f"{module.at(function)} {dotted}")
    return offences


def test_everything_public_is_documented():
    """Module, class and function."""
    offences = [offence for module in package_modules() for offence in undocumented(module)]
    assert not offences, listed(offences)


def test_every_test_module_says_what_it_is():
    """A docstring at the top of each."""
    offences = [module.at(module.tree) for module in modules("tests") if not ast.get_docstring(module.tree)]
    assert not offences, listed(offences)


def public_names(module: Module) -> list[str] | None:
    """Return ``__all__`` as written, or nothing."""
    for node in module.tree.body:
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__":
            names = ast.literal_eval(node.value)
            assert isinstance(names, list | tuple)
            return list(names)
    return None


def face_order(name: str) -> tuple[int, str]:
    """Return where a name sorts: constants, then classes, then functions, each by the alphabet."""
    return (0 if name.isupper() else 1 if name[:1].isupper() else 2, name)


def test_every_package_has_one_sorted_face():
    """``__all__`` sorted in each ``__init__`` (a folder of data alone has none), and each name is there."""
    for module in package_modules():
        if not module.is_package:
            continue
        names = public_names(module)
        if names is None:
            assert len(module.tree.body) == 1, f"{module.at(module.tree)} has no __all__"
            continue
        assert names == sorted(names, key=face_order), f"{module.at(module.tree)} __all__ is not sorted"
        assert len(names) == len(set(names)), f"{module.at(module.tree)} __all__ names something twice"
        face = importlib.import_module(module.name)
        missing = [name for name in names if not hasattr(face, name)]
        assert not missing, f"{module.at(module.tree)} __all__ names {missing}, which are not there"


def test_imports_come_through_the_public_face():
    """A name that begins with an underscore is not imported from another place."""
    offences = [
        f"{module.at(node)} imports {alias.name} from {node.module}"
        for module in package_modules()
        for node in ast.walk(module.tree)
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("engine_sim.")
        for alias in node.names
        if alias.name.startswith("_") and (node.module or "").split(".")[1] != module.place
    ]
    assert not offences, listed(offences)
