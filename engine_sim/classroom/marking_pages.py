"""``fuelcourse teach DIR --open``: nbgrader's own marking pages for one class, to mark the written answers by hand."""

from __future__ import annotations

from pathlib import Path

from engine_sim.classroom.lab_server import LabPlan
from engine_sim.classroom.one_opening import the_only_opening
from engine_sim.classroom.study import own_jupyter, serve


def open_marking_pages(folder: Path, port: int | None, browser: bool) -> None:
    """Open nbgrader's marking pages on the class in ``folder``; returns when the instructor stops them."""
    plan = marking_pages_plan(folder)
    with the_only_opening(plan):
        serve(plan, port, browser)


def marking_pages_plan(folder: Path) -> LabPlan:
    """Return how JupyterLab is started for the class in ``folder``.

    Jupyter's settings are kept in the class's folder, so that no other nbgrader settings of this person mix in, and a
    mistake in the class's own settings stops the start instead of being passed over.
    """
    own = folder.expanduser().absolute()
    environment = {**own_jupyter(own), "TRAITLETS_APPLICATION_RAISE_CONFIG_FILE_ERROR": "1"}
    return LabPlan(own, "The marking pages are", "formgrader", environment=environment)
