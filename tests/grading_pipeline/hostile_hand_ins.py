"""Hand-ins that go wrong, by mistake or on purpose. Each name says what is handed in and what must follow:

``__marked_from_logbook``: the marks are those of the untouched logbook, no more and no less;
``__nothing_marked``: noughts and a finding;
``__marked_up_to_there``: the marks are those of the sound lines alone, and a finding.
"""

from __future__ import annotations

import copy
import json
import os
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from class_kit import LOGBOOK, NOTEBOOK, box

from engine_sim.attempt.logbook import header_record, line_of
from engine_sim.classroom.course_root import CourseRoot
from engine_sim.scenarios import draw_scenario

HandIn = dict[str, bytes]
POINTS = (("safety", "5.0"), ("method", "10.0"), ("diagnosis", "5.0"), ("cure", "10.0"), ("housekeeping", "5.0"))
LONG = 50_000_000


@dataclass
class Desk:
    """What one learner has: the released notebook with an answer, and the own logbook; ``aside`` is any other place."""

    notebook: dict
    logbook: bytes
    course: CourseRoot
    traces: Path
    links: dict[str, Path] = field(default_factory=dict)

    def with_notebook(self, notebook: object) -> HandIn:
        """Return a hand-in with another notebook and the honest logbook."""
        data = notebook if isinstance(notebook, bytes) else json.dumps(notebook).encode()
        return {NOTEBOOK: data, LOGBOOK: self.logbook}

    def with_logbook(self, logbook: bytes) -> HandIn:
        """Return a hand-in with the honest notebook and another logbook."""
        return {NOTEBOOK: json.dumps(self.notebook).encode(), LOGBOOK: logbook}

    def with_source(self, source: str) -> HandIn:
        """Return a hand-in in which every code part holds ``source``, and one more does."""
        notebook = copy.deepcopy(self.notebook)
        for cell in notebook["cells"]:
            if cell["cell_type"] == "code":
                cell["source"] = source
        notebook["cells"].insert(0, code_part(source))
        return self.with_notebook(notebook)


Maker = Callable[[Desk], HandIn]
HOSTILE: dict[str, Maker] = {}


def hostile(maker: Maker) -> Maker:
    """Enter a hand-in under its name."""
    HOSTILE[maker.__name__] = maker
    return maker


def code_part(source: str, outputs: list[object] | None = None, **metadata: object) -> dict:
    """Return a code part of a notebook."""
    return {
        "cell_type": "code",
        "id": os.urandom(4).hex(),
        "metadata": metadata,
        "source": source,
        "outputs": outputs or [],
        "execution_count": None,
    }


def full_marks(notebook: dict) -> dict:
    """Return the notebook with full marks written as results into the marked places."""
    for name, points in POINTS:
        cell = box(notebook, name)
        cell["source"] = points
        cell["outputs"] = [
            {"output_type": "execute_result", "data": {"text/plain": points}, "metadata": {}, "execution_count": 1}
        ]
    return notebook


# What is done to the notebook.


@hostile
def marked_places_edited__marked_from_logbook(desk: Desk) -> HandIn:
    return desk.with_notebook(full_marks(copy.deepcopy(desk.notebook)))


@hostile
def marked_places_deleted__marked_from_logbook(desk: Desk) -> HandIn:
    kept = [cell for cell in desk.notebook["cells"] if not cell["metadata"].get("nbgrader")]
    return desk.with_notebook({**desk.notebook, "cells": kept})


@hostile
def marked_place_pasted_twice__marked_from_logbook(desk: Desk) -> HandIn:
    notebook = full_marks(copy.deepcopy(desk.notebook))
    extra = copy.deepcopy(box(notebook, "method"))
    extra["id"] = "pasted-twice"
    return desk.with_notebook({**notebook, "cells": [*notebook["cells"], extra]})


@hostile
def points_raised__marked_from_logbook(desk: Desk) -> HandIn:
    notebook = copy.deepcopy(desk.notebook)
    box(notebook, "method")["metadata"]["nbgrader"]["points"] = 1000
    return desk.with_notebook(notebook)


@hostile
def empty_and_foreign_marking_pasted__marked_from_logbook(desk: Desk) -> HandIn:
    strange = [
        code_part("1", nbgrader={}),
        code_part(
            "1",
            nbgrader={
                "grade": True,
                "grade_id": "bonus",
                "points": 99,
                "locked": True,
                "solution": False,
                "schema_version": 3,
            },
        ),
        code_part("1", nbgrader={"grade": True, "grade_id": ["method"], "points": None, "schema_version": 99}),
        code_part("1", nbgrader="method"),
    ]
    return desk.with_notebook({**desk.notebook, "cells": [*strange, *desk.notebook["cells"]]})


@hostile
def set_up_part_deleted__marked_from_logbook(desk: Desk) -> HandIn:
    kept = [cell for cell in desk.notebook["cells"] if "bench(" not in "".join(cell["source"])]
    return desk.with_notebook({**desk.notebook, "cells": kept})


@hostile
def notebook_is_not_json__marked_from_logbook(desk: Desk) -> HandIn:
    return desk.with_notebook(b"%PDF-1.7 this is no notebook \xff\xfe")


@hostile
def notebook_nested_without_end__marked_from_logbook(desk: Desk) -> HandIn:
    return desk.with_notebook(b"[" * 200_000)


@hostile
def notebook_of_a_later_form__marked_from_logbook(desk: Desk) -> HandIn:
    return desk.with_notebook({"nbformat": 9, "nbformat_minor": 0, "pages": desk.notebook["cells"]})


@hostile
def no_notebook__marked_from_logbook(desk: Desk) -> HandIn:
    return {LOGBOOK: desk.logbook}


@hostile
def fifty_megabytes_on_one_line__marked_from_logbook(desk: Desk) -> HandIn:
    flood = [{"output_type": "stream", "name": "stdout", "text": "a" * LONG}]
    return desk.with_notebook(
        {**desk.notebook, "cells": [*desk.notebook["cells"], code_part("print('a' * 50_000_000)", flood)]}
    )


@hostile
def script_in_output_and_answer__marked_from_logbook(desk: Desk) -> HandIn:
    script = "<script>document.title='taken'</script><img src=x onerror=alert(1)>"
    notebook = full_marks(copy.deepcopy(desk.notebook))
    for cell in notebook["cells"]:
        if cell["cell_type"] == "code":
            cell["outputs"] = [{"output_type": "display_data", "data": {"text/html": script}, "metadata": {}}]
    box(notebook, "ashore")["source"] = (
        f"{script}\n[press](javascript:alert(1)) $\\href{{javascript:alert(1)}}{{x}}$\n\n[a]: javascript:alert(1)"
    )
    return desk.with_notebook(notebook)


# What would happen if anything in a notebook were run.


@hostile
def endless_loop__marked_from_logbook(desk: Desk) -> HandIn:
    return desk.with_source(f"open({str(desk.traces / 'loop')!r}, 'w').close()\nwhile True: pass")


@hostile
def ends_the_process__marked_from_logbook(desk: Desk) -> HandIn:
    return desk.with_source("import os; os._exit(0)")


@hostile
def kills_the_process__marked_from_logbook(desk: Desk) -> HandIn:
    return desk.with_source("import os, signal; os.kill(os.getpid(), signal.SIGKILL)")


@hostile
def raises__marked_from_logbook(desk: Desk) -> HandIn:
    return desk.with_source("raise RuntimeError('no')")


@hostile
def asks_for_input__marked_from_logbook(desk: Desk) -> HandIn:
    return desk.with_source("input('marks? ')")


@hostile
def writes_to_stderr__marked_from_logbook(desk: Desk) -> HandIn:
    return desk.with_source("import sys; print('x', file=sys.stderr); 10.0")


@hostile
def reads_the_source__marked_from_logbook(desk: Desk) -> HandIn:
    taken = desk.traces / "source"
    return desk.with_source(f"import shutil; shutil.copytree({str(desk.course.folder / 'source')!r}, {str(taken)!r})")


@hostile
def writes_the_gradebook__marked_from_logbook(desk: Desk) -> HandIn:
    order = "UPDATE grade SET auto_score = 10, manual_score = 10"
    return desk.with_source(
        f"import sqlite3; b = sqlite3.connect({str(desk.course.gradebook)!r}); b.execute({order!r}); b.commit()\n"
        f"open({str(desk.traces / 'gradebook')!r}, 'w').close()"
    )


@hostile
def starts_another_process__marked_from_logbook(desk: Desk) -> HandIn:
    return desk.with_source(f"import os; os.system('touch {desk.traces / 'process'} ~/touched')")


@hostile
def rewrites_what_follows__marked_from_logbook(desk: Desk) -> HandIn:
    return desk.with_source("get_ipython().input_transformers_cleanup.append(lambda lines: ['10.0\\n'])")


# What is done to the logbook.


@hostile
def logbook_deleted__nothing_marked(desk: Desk) -> HandIn:
    return {NOTEBOOK: json.dumps(desk.notebook).encode()}


@hostile
def logbook_empty__nothing_marked(desk: Desk) -> HandIn:
    return desk.with_logbook(b"")


@hostile
def logbook_binary__nothing_marked(desk: Desk) -> HandIn:
    return desk.with_logbook(bytes(range(256)) * 40)


@hostile
def logbook_of_fifty_megabytes__nothing_marked(desk: Desk) -> HandIn:
    return desk.with_logbook(desk.logbook + b" " * LONG)


@hostile
def logbook_nested_without_end__nothing_marked(desk: Desk) -> HandIn:
    return desk.with_logbook(b"[" * 100_000 + b"\n")


@hostile
def logbook_is_a_link__nothing_marked(desk: Desk) -> HandIn:
    desk.links[LOGBOOK] = desk.course.submitted("control", "no_start_harbour") / LOGBOOK
    return {NOTEBOOK: json.dumps(desk.notebook).encode()}


@hostile
def logbook_of_another_learner__nothing_marked(desk: Desk) -> HandIn:
    control = desk.course.submitted("control", "no_start_harbour") / LOGBOOK
    return desk.with_logbook(control.read_bytes())


@hostile
def logbook_forged_from_nothing__nothing_marked(desk: Desk) -> HandIn:
    return desk.with_logbook(b'{"kind":"opened","method":10,"diagnosis":5,"outcome":10}\n{"n":1,"kind":"hand_in"}\n')


@hostile
def logbook_cut_in_its_first_line__nothing_marked(desk: Desk) -> HandIn:
    return desk.with_logbook(desk.logbook[:50])


@hostile
def logbook_of_not_a_number__nothing_marked(desk: Desk) -> HandIn:
    return desk.with_logbook(b'{"n":NaN,"kind":"opened","clock_s":Infinity}\n' * 1000)


@hostile
def logbook_of_a_later_form__nothing_marked(desk: Desk) -> HandIn:
    return desk.with_logbook(desk.logbook.replace(b'"logbook_version":1', b'"logbook_version":7', 1))


@hostile
def logbook_of_another_exercise__nothing_marked(desk: Desk) -> HandIn:
    return desk.with_logbook(line_of(header_record(draw_scenario("first_look", ""))))


@hostile
def logbook_cut_in_a_line__marked_up_to_there(desk: Desk) -> HandIn:
    lines = desk.logbook.splitlines(keepends=True)
    return desk.with_logbook(b"".join(lines[:5]) + lines[5][:20])


@hostile
def logbook_line_edited__marked_up_to_there(desk: Desk) -> HandIn:
    lines = desk.logbook.splitlines(keepends=True)
    lines[4] = lines[4].replace(b'"look"', b'"nip_up"').replace(b'"dip"', b'"read_gauge"')
    return desk.with_logbook(b"".join(lines))


@hostile
def logbook_lines_taken_out__marked_up_to_there(desk: Desk) -> HandIn:
    lines = desk.logbook.splitlines(keepends=True)
    return desk.with_logbook(b"".join(lines[:2] + lines[4:]))


@hostile
def logbook_lines_reordered__marked_up_to_there(desk: Desk) -> HandIn:
    lines = desk.logbook.splitlines(keepends=True)
    return desk.with_logbook(b"".join([*lines[:2], lines[3], lines[2], *lines[4:]]))


@hostile
def logbook_line_not_a_number__marked_up_to_there(desk: Desk) -> HandIn:
    lines = desk.logbook.splitlines(keepends=True)
    lines[4] = re.sub(rb'"clock_s":[0-9.]+', b'"clock_s":NaN', lines[4])
    return desk.with_logbook(b"".join(lines))


@hostile
def logbook_line_nested_without_end__marked_up_to_there(desk: Desk) -> HandIn:
    lines = desk.logbook.splitlines(keepends=True)
    lines[4] = b'{"n":4,"kind":"action","part":' + b"[" * 9_000 + b"]" * 9_000 + b"}\n"
    return desk.with_logbook(b"".join(lines))


@hostile
def logbook_goes_on_in_binary__marked_up_to_there(desk: Desk) -> HandIn:
    lines = desk.logbook.splitlines(keepends=True)
    return desk.with_logbook(b"".join(lines[:4]) + bytes(range(256)) * 40)
