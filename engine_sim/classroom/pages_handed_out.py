"""Pages that an instructor handed out, in a learner's folder: which of them may open their bench by themselves.

Such a page is no page of the course, so that it cannot be told by its content alone. It may where it does nothing but
what a page of an exercise does, for the exercise that its folder is named after, and shows nothing yet.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from engine_sim.errors import EngineSimError
from engine_sim.scenarios import graded_exercises
from engine_sim.scenarios.pool_text import check_own_name
from engine_sim.scenarios.sealed import SEALED_SUFFIX

_NOT_PLAIN = ("<", "javascript:", "data:")
"""What stands in no text of such a page: it could do something of its own."""


def pages_handed_out(course: Path, own: Path) -> Iterator[Path]:
    """Yield the pages of instructors' own exercises in a learner's folder that do only what such pages do.

    ``course`` is where the course's own pages are, ``own`` the learner's folder.
    """
    for sealed in sorted((own / "exercises").glob(f"*/*{SEALED_SUFFIX}")):
        page = sealed.with_suffix(".ipynb")
        if page.is_file() and sealed.stem == sealed.parent.name and _is_plain(page, course):
            yield page


def _is_plain(page: Path, course: Path) -> bool:
    """Tell whether a page of an own exercise does only what the course's own page of an exercise does."""
    model = graded_exercises()[0]
    known = {
        text.replace(f'bench("{model}")', f'bench("{page.stem}")')
        for text in _code_in(json.loads((course / "exercises" / model / f"{model}.ipynb").read_text("utf-8")))
    }
    try:
        check_own_name(page.stem)
        data = json.loads(page.read_text("utf-8"))
        texts = ["".join(one["source"]).lower() for one in data["cells"] if one["cell_type"] != "code"]
        shown = any(one.get("outputs") or one.get("attachments") for one in data["cells"])
        plain = not any(bad in text for text in texts for bad in _NOT_PLAIN)
        sound = data["nbformat"] == 4 and isinstance(data["nbformat_minor"], int) and isinstance(data["metadata"], dict)
        return sound and plain and not shown and set(_code_in(data)) <= known
    except (OSError, ValueError, LookupError, TypeError, AttributeError, EngineSimError):
        return False


def _code_in(data: dict[str, Any]) -> Iterator[str]:
    for one in data["cells"]:
        if one["cell_type"] == "code":
            yield "".join(one["source"])
