"""The project's own files as the house rules see them: Python parsed, texts read, nothing built or borrowed."""

from __future__ import annotations

import ast
import functools
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGE = "engine_sim"
BUILT = {
    "__pycache__",
    "_shipped",
    "build",
    "dist",
    "node_modules",
    "release",
    "submitted",
    "autograded",
    "feedback",
    "pictures",
}
TEXT_KINDS = {
    ".py",
    ".md",
    ".toml",
    ".ipynb",
    ".js",
    ".css",
    ".html",
    ".csv",
    ".json",
    ".jsonl",
    ".cfg",
    ".txt",
    ".svg",
    ".sh",
}


@functools.cache
def files() -> tuple[Path, ...]:
    """Return every file of the project, but for what is built or hidden (the automation folder is ours)."""
    return tuple(sorted(_walk(ROOT)))


def _walk(folder: Path) -> Iterator[Path]:
    for path in folder.iterdir():
        hidden = path.name.startswith(".") and path.name not in {".ci", ".gitignore"}
        if hidden or path.name in BUILT or path.name.endswith(".egg-info"):
            continue
        if path.is_dir():
            yield from _walk(path)
        else:
            yield path


def shown(path: Path) -> str:
    """Return a path as people read it, from the project's root."""
    return path.relative_to(ROOT).as_posix()


def texts() -> list[Path]:
    """Return every file that holds text."""
    return [path for path in files() if path.suffix in TEXT_KINDS or path.parent.name == ".ci"]


@dataclass(frozen=True)
class Module:
    """One Python file: where it lies, what it is called, its syntax tree."""

    path: Path
    name: str
    tree: ast.Module
    lines: int

    @property
    def is_package(self) -> bool:
        """Tell whether this is the face of a package."""
        return self.path.name == "__init__.py"

    @property
    def place(self) -> str:
        """Return the first name below the package: the place in the order of imports."""
        parts = self.name.split(".")
        return parts[1] if len(parts) > 1 else ""

    def at(self, node: ast.AST) -> str:
        """Return ``file:line`` of a node."""
        return f"{shown(self.path)}:{getattr(node, 'lineno', 1)}"


def _module(path: Path) -> Module:
    parts = list(path.relative_to(ROOT).with_suffix("").parts)
    if parts[-1] == "__init__":
        parts.pop()
    text = path.read_text("utf-8")
    return Module(path, ".".join(parts), ast.parse(text, str(path)), text.count("\n"))


@functools.cache
def modules(top: str) -> tuple[Module, ...]:
    """Return every Python module below a top folder."""
    return tuple(_module(path) for path in files() if path.suffix == ".py" and path.relative_to(ROOT).parts[0] == top)


def package_modules() -> tuple[Module, ...]:
    """Return the modules of the simulator."""
    return modules(PACKAGE)


def functions(module: Module) -> Iterator[tuple[str, ast.FunctionDef | ast.AsyncFunctionDef]]:
    """Yield every function of a module with its dotted name; one inside another counts as private."""
    yield from _functions(module.tree, "")


def _functions(node: ast.AST, prefix: str) -> Iterator[tuple[str, ast.FunctionDef | ast.AsyncFunctionDef]]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef):
            yield prefix + child.name, child
        inner = prefix
        if isinstance(child, ast.ClassDef):
            inner = f"{prefix}{child.name}."
        elif isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef):
            inner = f"{prefix}_inside_{child.name}."
        yield from _functions(child, inner)


def is_public(dotted: str) -> bool:
    """Tell whether no part of a dotted name is private."""
    return not any(part.startswith("_") for part in dotted.split("."))


def docstrings(tree: ast.Module) -> set[int]:
    """Return the ids of the constants that are docstrings."""
    found = set()
    for node in ast.walk(tree):
        body = getattr(node, "body", None)
        for statement in body if isinstance(body, list) else []:
            if isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant):
                found.add(id(statement.value))
    return found


def called_name(call: ast.Call) -> str:
    """Return the dotted name of what is called, or an empty text for anything less plain."""
    return dotted_name(call.func)


def dotted_name(node: ast.AST) -> str:
    """Return ``a.b.c`` of a name or attribute, or an empty text."""
    if isinstance(node, ast.Name):
        return node.id
    if isinstance(node, ast.Attribute):
        base = dotted_name(node.value)
        return f"{base}.{node.attr}" if base else node.attr
    return ""


def listed(offences: list[str]) -> str:
    """Return offences one a line, for the message of an assertion."""
    return "\n  ".join(["", *offences])
