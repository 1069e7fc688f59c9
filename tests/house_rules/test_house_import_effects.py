"""Nothing happens at import: no output, no files, no network, no work beyond making constants."""

from __future__ import annotations

import ast
import re
import subprocess
import sys

from house_tree import ROOT, Module, called_name, listed, package_modules
from test_house_imports import CORE

STATEMENTS = (
    ast.Import,
    ast.ImportFrom,
    ast.FunctionDef,
    ast.AsyncFunctionDef,
    ast.ClassDef,
    ast.Assign,
    ast.AnnAssign,
    ast.TypeAlias if sys.version_info >= (3, 12) else ast.Import,
)
# Calls that only make a constant; a name in capitals-and-small-letters is a class and makes one too,
# and the judges of the marking rules are made from their patterns.
MAKERS = {
    "celsius_to_kelvin",
    "counted",
    "dataclass",
    "dict",
    "dict.fromkeys",
    "element_parameters",
    "enumerate",
    "field",
    "files",
    "float",
    "frozenset",
    "functools.cache",
    "functools.lru_cache",
    "housings.change_element",
    "int",
    "len",
    "lost_there",
    "lru_cache",
    "max",
    "min",
    "only_where",
    "published",
    "range",
    "re.compile",
    "remembered",
    "replace",
    "resources.files",
    "set",
    "sorted",
    "str",
    "str.maketrans",
    "sum",
    "timedelta",
    "traitlets.default",
    "traitlets.observe",
    "traitlets.validate",
    "tuple",
    "usual",
    "yes_or_no",
    "zip",
}
PURE_METHODS = {"tag", "capitalize", "format", "items", "join", "keys", "lower", "split", "strip", "upper", "values"}
LISTEN = """
import sys
quiet = ("open", "socket.", "subprocess.", "os.system", "os.mkdir", "os.remove", "os.rename", "shutil.", "webbrowser.")
heard = []
def ear(event, arguments):
    if not event.startswith(quiet):
        return
    given = str(arguments[0]) if arguments else ""
    python_itself = event == "open" and given.endswith((".py", ".pyc", ".so", ".pyd", "pyvenv.cfg", ".pth", ".zip"))
    python_itself = python_itself or (event == "open" and ("__pycache__" in given or given.isdigit()))
    if not python_itself:
        heard.append(f"{event} {given}")
sys.path.insert(0, sys.argv[1])
sys.addaudithook(ear)
import importlib
for name in sys.argv[2:]:
    importlib.import_module(name)
print("\\n".join(heard), end="")
"""


def is_maker(call: ast.Call) -> bool:
    """Tell whether a call at the top of a module only makes a constant."""
    name = called_name(call)
    last = name.rsplit(".", 1)[-1]
    if name in MAKERS or name.startswith(("math.", "judge.", "judges.")) or last in PURE_METHODS:
        return True
    return bool(re.fullmatch(r"_?[A-Z][A-Za-z0-9]*[a-z][A-Za-z0-9]*", last)) or name.split(".")[0][:1].isupper()


def calls_at_import(node: ast.AST) -> list[ast.Call]:
    """Return the calls that are made when a statement is loaded; the body of a function is not, its defaults are."""
    if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda):
        decorators = [] if isinstance(node, ast.Lambda) else node.decorator_list
        children: list[ast.AST] = [*decorators, node.args]
    else:
        children = list(ast.iter_child_nodes(node))
    found = [node] if isinstance(node, ast.Call) else []
    for child in children:
        found += calls_at_import(child)
    return found


def is_guard(node: ast.stmt) -> bool:
    """Tell whether a statement is ``if TYPE_CHECKING``, ``if __name__`` or ``try: import``."""
    if isinstance(node, ast.If):
        test = ast.unparse(node.test)
        return test in {"TYPE_CHECKING", "typing.TYPE_CHECKING"} or test.startswith("__name__ ==")
    if isinstance(node, ast.Try):
        return all(isinstance(item, ast.Import | ast.ImportFrom) for item in node.body)
    return False


def own_makers(module: Module) -> set[str]:
    """Return the module's own private functions: registers use them to declare their entries.

    What such a function may do when it is called is held by the listening test below.
    """
    return {node.name for node in module.tree.body if isinstance(node, ast.FunctionDef) and node.name.startswith("_")}


def busy_at_import(module: Module) -> list[str]:
    """Return what a module does when it is loaded, beyond making names."""
    offences = []
    for node in module.tree.body:
        docstring = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
        if docstring or is_guard(node):
            continue
        if not isinstance(node, STATEMENTS):
            offences.append(f"{module.at(node)} {ast.unparse(node).splitlines()[0]}")
            continue
        offences += [
            f"{module.at(call)} calls {called_name(call) or ast.unparse(call.func)}"
            for call in calls_at_import(node)
            if not is_maker(call) and called_name(call) not in own_makers(module)
        ]
    return offences


def test_modules_only_make_names_when_loaded():
    """Imports, classes, functions and constants; other work waits until it is asked for."""
    offences = [offence for module in package_modules() for offence in busy_at_import(module)]
    assert not offences, listed(offences)


def test_loading_the_core_touches_nothing():
    """A fresh Python loads every module of the core and listens: no file, no process, no network, no word."""
    names = [module.name for module in package_modules() if module.place in CORE]
    assert len(names) > 10
    done = subprocess.run(
        [sys.executable, "-B", "-c", LISTEN, str(ROOT), *names],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


def test_the_listener_hears(tmp_path):
    """Guards the check above: a module that opens a file when loaded is heard."""
    (tmp_path / "notes.txt").write_text("")
    (tmp_path / "opens_a_file_at_import.py").write_text(f"open({str(tmp_path / 'notes.txt')!r}).close()\n")
    command = [sys.executable, "-B", "-c", LISTEN, str(tmp_path), "opens_a_file_at_import"]
    heard = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True).stdout
    assert heard.startswith("open ") and heard.endswith("notes.txt")
