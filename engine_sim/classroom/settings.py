"""nbgrader with the class's own settings; refused where a step that keeps marking safe is not set."""

from __future__ import annotations

import logging

from nbgrader.apps import NbGraderAPI
from traitlets.config import Config
from traitlets.config.loader import PyFileConfigLoader

from engine_sim.classroom.course_root import ClassroomError, CourseRoot

NEEDED_STEPS = {
    ("Autograde", "exporter_class"): "engine_sim.classroom.marking_steps.HandInExporter",
    ("Autograde", "pre_convert_hook"): "engine_sim.classroom.intake.before_marking",
    ("Autograde", "sanitize_preprocessors"): [
        "engine_sim.classroom.marking_steps.ReleasedNotebook",
        "nbgrader.preprocessors.ClearOutput",
        "nbgrader.preprocessors.DeduplicateIds",
        "nbgrader.preprocessors.OverwriteKernelspec",
        "nbgrader.preprocessors.OverwriteCells",
        "nbgrader.preprocessors.CheckCellMetadata",
    ],
    ("Autograde", "autograde_preprocessors"): [
        "nbconvert.preprocessors.sanitize.SanitizeHTML",
        "engine_sim.classroom.marking_steps.MarkFromLogbook",
        "nbgrader.preprocessors.IgnorePattern",
        "nbconvert.preprocessors.ClearMetadataPreprocessor",
        "nbgrader.preprocessors.LimitOutput",
        "nbgrader.preprocessors.SaveAutoGrades",
        "nbgrader.preprocessors.AssignLatePenalties",
        "nbgrader.preprocessors.CheckCellMetadata",
    ],
    ("SanitizeHTML", "enabled"): True,
    ("ExchangeFactory", "collect"): "engine_sim.classroom.intake.SafeCollect",
}


def load_settings(course: CourseRoot) -> Config:
    """Read the course root's nbgrader settings; refuse to mark when a step that keeps marking safe is not set."""
    try:
        settings = PyFileConfigLoader(course.config.name, path=str(course.folder)).load_config()
    except (SyntaxError, NameError, ImportError, AttributeError) as error:
        raise ClassroomError(
            f"{course.config} cannot be read: {error}. Mend it, or move it away and run teach again."
        ) from error
    for (section, name), needed in NEEDED_STEPS.items():
        given = settings[section].get(name) if section in settings else None
        if given != needed:
            raise ClassroomError(
                f"{course.config}: c.{section}.{name} was given as {given!r}; marking is safe only with {needed!r}. "
                f"Move the file away and run: fuelcourse teach {course.folder}"
            )
    return settings


def open_nbgrader(course: CourseRoot) -> NbGraderAPI:
    """Return nbgrader, set up as the course root says and silent on the screen."""
    settings = load_settings(course)
    log = logging.getLogger("fuelcourse.nbgrader")
    log.propagate = False
    if not log.handlers:
        log.addHandler(logging.NullHandler())
    return NbGraderAPI(config=settings, log=log)
