"""Who may import whom: downward only, and the core from the standard library only."""

from __future__ import annotations

import ast
import sys

import pytest
from house_tree import PACKAGE, ROOT, Module, dotted_name, listed, modules, package_modules

# Lowest first; those in one group stand side by side.
ORDER: tuple[tuple[str, ...], ...] = (
    ("errors", "sources", "units", "version"),
    ("fluids",),
    ("components", "layouts"),
    ("circuit",),
    ("faults",),
    ("actions", "observations", "wording"),
    ("drawing",),
    ("scenarios",),
    ("attempt",),
    ("marking",),
    ("learners",),
    ("bench",),
    ("classroom",),
    ("cli_teaching",),
    ("cli",),
)
RANK = {place: rank for rank, group in enumerate(ORDER) for place in group}
MAY_SEE_EACH_OTHER = (ORDER[0], ORDER[5])
CORE = {place for group in ORDER[: ORDER.index(("learners",)) + 1] for place in group} | {""}

OUTSIDE = {
    "bench": {"anywidget", "ipywidgets", "traitlets", "IPython", "matplotlib"},
    "classroom": {
        "font_source_sans_pro",
        "fpdf",
        "nbgrader",
        "nbformat",
        "nbconvert",
        "jupytext",
        "traitlets",
        "jupyter_core",
        "jupyter_server",
        "jupyterlab",
        "tomlkit",
        "sqlalchemy",
        "matplotlib",
    },
}
ONLY_WHEN_USED = {"matplotlib"}
NEVER_NEAR_A_LEARNER = {
    "asyncio",
    "concurrent",
    "ctypes",
    "multiprocessing",
    "numpy",
    "pandas",
    "scipy",
    "socket",
    "subprocess",
    "threading",
}
WALL_CLOCK = {"datetime", "sched", "time"}
# Standard modules that a browser's Python lacks (Pyodide manual, "Python compatibility"): only where they are used.
NOT_IN_A_BROWSER = {"fcntl", "grp", "msvcrt", "pwd", "resource", "termios", "tkinter", "winreg"}


def imported(module: Module, node: ast.Import | ast.ImportFrom) -> list[str]:
    """Return the full names that an import statement brings in."""
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    base = node.module or ""
    if node.level:
        package = module.name.split(".") if module.is_package else module.name.split(".")[:-1]
        base = ".".join([*package[: len(package) - node.level + 1], *([base] if base else [])])
    return [f"{base}.{alias.name}" for alias in node.names]


def imports(module: Module) -> list[tuple[ast.AST, str]]:
    """Return every import of a module, wherever it stands."""
    return [
        (node, name)
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Import | ast.ImportFrom)
        for name in imported(module, node)
        if not name.startswith("__future__")
    ]


def imports_when_loaded(module: Module) -> set[int]:
    """Return the ids of the import statements that stand outside every function."""
    inside: set[int] = set()
    for node in ast.walk(module.tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            inside.update(id(child) for child in ast.walk(node))
    return {
        id(node)
        for node in ast.walk(module.tree)
        if isinstance(node, ast.Import | ast.ImportFrom) and id(node) not in inside
    }


def may_import(place: str, other: str) -> bool:
    """Tell whether a module in one place may import from another."""
    if place == other or RANK[other] < RANK[place]:
        return True
    return any(place in group and other in group for group in MAY_SEE_EACH_OTHER)


def upward(module: Module) -> list[str]:
    """Return the imports of a module that go up or sideways."""
    offences = []
    for node, name in imports(module):
        parts = name.split(".")
        if parts[0] != PACKAGE or parts == [PACKAGE] or module.place == "":
            continue
        other = parts[1] if len(parts) > 1 else ""
        if other not in RANK or not may_import(module.place, other):
            offences.append(f"{module.at(node)} imports {name}")
    return offences


def test_every_module_has_its_place():
    """A new place is written into ORDER above before it is used."""
    strangers = sorted({module.place for module in package_modules()} - set(RANK) - {""})
    assert not strangers, f"not in the order of imports: {strangers}"


def test_imports_go_downward():
    """`units, errors, sources` lowest, `cli` highest."""
    offences = [offence for module in package_modules() if module.place in RANK for offence in upward(module)]
    assert not offences, listed(offences)


def test_modules_do_not_import_in_circles():
    """Within a place too, one module comes first."""
    known = {module.name for module in package_modules()}
    edges = {module.name: _loaded_first(module, known) for module in package_modules()}
    done: set[str] = set()

    def follow(name: str, trail: tuple[str, ...]) -> None:
        assert name not in trail, f"in a circle: {' -> '.join((*trail, name))}"
        if name not in done:
            for other in sorted(edges[name]):
                follow(other, (*trail, name))
            done.add(name)

    for name in edges:
        follow(name, ())


def _loaded_first(module: Module, known: set[str]) -> set[str]:
    """Return the modules of ours that must be loaded before this one; a package's face is not counted for its own."""
    loaded = imports_when_loaded(module)
    found = set()
    for node, name in imports(module):
        if id(node) not in loaded:
            continue
        target = name if name in known else name.rsplit(".", 1)[0]
        if target in known and target != module.name and not module.name.startswith(f"{target}."):
            found.add(target)
    return found


def strangers_in(module: Module) -> list[str]:
    """Return the imports of a module that are neither ours, nor standard, nor allowed where it stands."""
    allowed = OUTSIDE.get(module.place, set())
    return [
        f"{module.at(node)} imports {name}"
        for node, name in imports(module)
        if name.split(".")[0] not in {PACKAGE, *sys.stdlib_module_names, *allowed}
    ]


def test_libraries_only_where_they_belong():
    """Core: standard library only; widgets only in the bench; the grader's libraries only in the classroom."""
    offences = [offence for module in package_modules() for offence in strangers_in(module)]
    assert not offences, listed(offences)


def test_drawing_libraries_are_loaded_when_used():
    """matplotlib takes seconds to load: never at the top of a module."""
    offences = [
        f"{module.at(node)} imports {name}"
        for module in package_modules()
        for node, name in imports(module)
        if name.split(".")[0] in ONLY_WHEN_USED and id(node) in imports_when_loaded(module)
    ]
    assert not offences, listed(offences)


def test_nothing_a_learner_touches_uses_threads_processes_or_numpy():
    """It must run unchanged inside a browser's Python."""
    offences = [
        f"{module.at(node)} imports {name}"
        for module in package_modules()
        if module.place in CORE | {"bench"}
        for node, name in imports(module)
        if name.split(".")[0] in NEVER_NEAR_A_LEARNER
    ]
    assert not offences, listed(offences)


def test_the_core_loads_in_a_browser():
    """What a browser's Python lacks is imported inside a function, or inside ``try`` with another way out."""
    offences = []
    for module in package_modules():
        tried = {id(child) for node in ast.walk(module.tree) if isinstance(node, ast.Try) for child in ast.walk(node)}
        offences += [
            f"{module.at(node)} imports {name}"
            for node, name in imports(module)
            if module.place in CORE | {"bench"} and name.split(".")[0] in NOT_IN_A_BROWSER
            if id(node) in imports_when_loaded(module) and id(node) not in tried
        ]
    assert not offences, listed(offences)


def test_time_moves_only_through_actions():
    """Neither the wall clock nor unseeded chance in the core: the same steps give the same logbook."""
    offences = []
    for module in package_modules():
        if module.place not in CORE:
            continue
        offences += [
            f"{module.at(n)} imports {name}" for n, name in imports(module) if name.split(".")[0] in WALL_CLOCK
        ]
        offences += [
            f"{module.at(node)} uses {dotted_name(node)}"
            for node in ast.walk(module.tree)
            if isinstance(node, ast.Attribute)
            and dotted_name(node).startswith("random.")
            and dotted_name(node) not in {"random.Random", "random.SystemRandom"}
        ]
    assert not offences, listed(offences)


def test_the_simulator_knows_neither_course_nor_instructors_nor_tests():
    """Text and answers lie outside the package; it reads them as data, if at all."""
    offences = [
        f"{module.at(node)} imports {name}"
        for module in package_modules()
        for node, name in imports(module)
        if name.split(".")[0] in {"course", "instructors", "tests"}
    ]
    assert not offences, listed(offences)


@pytest.mark.parametrize("top", ["course", "instructors"])
def test_course_and_instructors_import_no_tests(top):
    """Nothing that is shipped leans on the tests."""
    offences = [
        f"{module.at(node)} imports {name}"
        for module in modules(top)
        for node, name in imports(module)
        if name.split(".")[0] == "tests"
    ]
    assert not offences, listed(offences)


def invented(name: str, code: str) -> Module:
    """Return a module that is not there, to try the rules on."""
    return Module(ROOT / f"{name.replace('.', '/')}.py", name, ast.parse(code), 1)


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("engine_sim.fluids.x", "from engine_sim.circuit import state"),
        ("engine_sim.fluids.x", "from ..components import tank"),
        ("engine_sim.bench.x", "def f():\n import engine_sim.classroom.roster"),
        ("engine_sim.attempt.x", "from engine_sim import marking"),
        ("engine_sim.units", "from engine_sim import something_new"),
    ],
)
def test_an_upward_import_is_caught(name, code):
    """Guards the checks above."""
    assert len(upward(invented(name, code))) == 1


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("engine_sim.attempt.x", "import yaml"),
        ("engine_sim.circuit.x", "import anywidget"),
        ("engine_sim.cli", "import nbgrader"),
    ],
)
def test_a_library_in_the_wrong_place_is_caught(name, code):
    """Guards the checks above."""
    assert len(strangers_in(invented(name, code))) == 1


def test_a_downward_import_passes():
    """Guards the checks above."""
    module = invented("engine_sim.circuit.x", "import math\nfrom engine_sim.fluids import air\nfrom . import state")
    assert upward(module) == strangers_in(module) == []
