"""nbgrader settings of a course root; ``fuelcourse teach`` puts this file there.

Every step is named in full instead of being imported, so that a step that cannot be found stops the marking;
nbgrader would otherwise go on with its own steps, which run what learners handed in.
"""

from pathlib import Path

c = get_config()  # noqa: F821
here = Path(__file__).resolve().parent

c.CourseDirectory.root = str(here)
c.CourseDirectory.course_id = "fuelcourse"
# Waits up to a minute for another program that is writing marks.
c.CourseDirectory.db_url = f"sqlite:///{here}/gradebook.db?timeout=60"

# The exchange works between accounts of one machine. When learners have accounts of their own,
# set this to a folder that everybody can reach; the course root itself stays closed to them.
c.Exchange.root = str(here / "exchange")
c.ExchangeFactory.collect = "engine_sim.classroom.intake.SafeCollect"

# What stands in the place where a learner writes.
c.ClearSolutions.text_stub = "*Double-click here and write your answer in place of this line.*"

# The released notebook with the learner's answer takes the place of the handed-in one.
c.Autograde.create_student = False
c.Autograde.exporter_class = "engine_sim.classroom.marking_steps.HandInExporter"
c.Autograde.pre_convert_hook = "engine_sim.classroom.intake.before_marking"
c.Autograde.sanitize_preprocessors = [
    "engine_sim.classroom.marking_steps.ReleasedNotebook",
    "nbgrader.preprocessors.ClearOutput",
    "nbgrader.preprocessors.DeduplicateIds",
    "nbgrader.preprocessors.OverwriteKernelspec",
    "nbgrader.preprocessors.OverwriteCells",
    "nbgrader.preprocessors.CheckCellMetadata",
]
# Marks come from the logbook; nothing handed in is run.
c.Autograde.autograde_preprocessors = [
    "nbconvert.preprocessors.sanitize.SanitizeHTML",
    "engine_sim.classroom.marking_steps.MarkFromLogbook",
    "nbgrader.preprocessors.IgnorePattern",
    "nbconvert.preprocessors.ClearMetadataPreprocessor",
    "nbgrader.preprocessors.LimitOutput",
    "nbgrader.preprocessors.SaveAutoGrades",
    "nbgrader.preprocessors.AssignLatePenalties",
    "nbgrader.preprocessors.CheckCellMetadata",
]
c.SanitizeHTML.enabled = True
c.OverwriteCells.add_missing_cells = True
# A file of this name left in source/ must never take the place of a learner's own.
c.Autograde.exclude_overwriting = {
    place.name: [f"{place.name}.logbook.jsonl"] for place in sorted((here / "source").glob("*"))
}

# The feedback page says for each mark why, in plain words, and shows no code.
c.GenerateFeedback.exporter_class = "engine_sim.classroom.feedback_page.FeedbackExporter"
c.GenerateFeedback.preprocessors = [
    "nbgrader.preprocessors.GetGrades",
    "engine_sim.classroom.feedback_page.ShowPending",
]
