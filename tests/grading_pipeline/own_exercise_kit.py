"""One invented exercise of an instructor's own, as the tests choose it, and a class's folder to keep it in."""

from __future__ import annotations

import shutil
from pathlib import Path

from engine_sim.classroom.course_root import CourseRoot, at
from engine_sim.marking import usual_scheme_file
from engine_sim.scenarios import own_pools

NAME = "quiet_morning"
SHUT = {"fault": "shut_valve", "parts": ["shut_off"], "severities": [0.0]}
AIR = {"fault": "slack_joint", "parts": ["pump_joint", "separator_joint"], "severities": [1.2e-8, 2e-8]}
BOTH = {"fault": "loaded_element", "parts": ["separator"], "also": [{"fault": "stop_control_pulled"}]}
CHOICES = {
    "id": NAME,
    "title": "A quiet morning",
    "story": "A sloop alongside.\nNobody is in a hurry: “she was fine” \\ yesterday.",
    "layout": "tank_below",
    "minutes": 25,
    "objectives": ["air.find_joint"],
    "seaway": 0.2,
    "tank_fill_share": 0.6,
    "draw": [SHUT, AIR, BOTH],
}


def small_course(folder: Path) -> CourseRoot:
    """Return a class's folder with nothing in it but the marking scheme."""
    root = at(folder)
    root.usual_scheme.parent.mkdir(parents=True)
    shutil.copy(usual_scheme_file(), root.usual_scheme)
    return root


def forget_what_was_announced() -> None:
    """Stand as a new program does, which has heard of no own exercise."""
    own_pools._announced.clear()
