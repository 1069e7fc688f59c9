"""``fuelcourse teach DIR``: the instructor's page for one class in JupyterLab, nbgrader's marking pages beside it."""

from __future__ import annotations

from pathlib import Path

from engine_sim.classroom.lab_server import LabPlan, free_port
from engine_sim.classroom.one_opening import the_only_opening
from engine_sim.classroom.open_course import INSTRUCTOR_PAGE
from engine_sim.classroom.own_folder import fill_own_folder
from engine_sim.classroom.sheets import write_sheets
from engine_sim.classroom.shipped import lab_folder, shipped
from engine_sim.classroom.study import config_path, own_jupyter, serve, sign_our_pages


def open_class(folder: Path, port: int | None, browser: bool) -> None:
    """Lay the course beside the class in ``folder`` and open the instructor's page; returns when it is stopped."""
    free_port(port)
    plan = teach_plan(folder)
    with the_only_opening(plan):
        lay_course_beside(plan.folder)
        serve(plan, port, browser)


def lay_course_beside(folder: Path) -> None:
    """Copy lessons, exercises and reference sheets into the folder of a class; what was changed there stays."""
    course = shipped("course")
    fill_own_folder(course, folder)
    write_sheets(folder)
    sign_our_pages(course, folder)
    sign_our_pages(shipped("instructors"), folder)


def teach_plan(folder: Path) -> LabPlan:
    """Return how JupyterLab is started for the class in ``folder``.

    Jupyter's settings are kept in the class's folder, so that no other nbgrader settings of this person mix in, and a
    mistake in the class's own settings stops the start instead of being passed over.
    """
    own = folder.expanduser().absolute()
    environment = {
        **own_jupyter(own),
        "JUPYTER_CONFIG_PATH": config_path("teacher"),
        "TRAITLETS_APPLICATION_RAISE_CONFIG_FILE_ERROR": "1",
    }
    return LabPlan(
        own,
        "The class is",
        f"doc/tree/{INSTRUCTOR_PAGE}",
        options=(f"--LabServerApp.extra_labextensions_path={lab_folder() / 'extensions'}",),
        environment=environment,
    )
