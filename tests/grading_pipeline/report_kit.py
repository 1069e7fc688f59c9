"""A small class made by hand for the report: facts as an instructor could write them down, and odd names."""

from __future__ import annotations

import json
import shutil
from dataclasses import asdict
from pathlib import Path

from pypdf import PdfReader

from engine_sim.classroom.course_root import CourseRoot, at
from engine_sim.classroom.page_tree import read_page
from engine_sim.classroom.roster import COLUMNS, Roster, write_roster
from engine_sim.classroom.worked_out import MarkedPlace, WorkedOut
from engine_sim.marking import TITLES, usual_scheme_file
from engine_sim.marking.facts import (
    BROKEN,
    KEPT,
    CheckFact,
    DiagnosisFact,
    Facts,
    FailFact,
    FaultFact,
    MarkFact,
    RuleFact,
    SignFact,
)

EXERCISE, OTHER = "no_start_harbour", "dead_at_the_key"
A4_PT = (595.28, 841.89)
WEIGHTS = (5.0, 10.0, 5.0, 10.0, 5.0)
NAMES = {
    "ann": ("Ánn", "O'Brían d’Écluse"),
    "ben": ("=1+1", "<script>alert('x')</script>"),
    "cleo": ("שרה", "עמר الفارس"),
    "dirk": ("D" * 200, "Łąkowa"),
    "eve": ("Evelina", "Absent & Away"),
}
TICKETS = {"ann": "2222-2222", "ben": "3333-333P", "cleo": "4444-444C", "dirk": "5555-555Z", "eve": "6666-666N"}
SHUT = FaultFact("shut_off", "shut_valve", "shut-off", "shut")
AIR = FaultFact("fine_filter", "air_in_filter", "fine filter", "full of air")
SIGN = SignFact("separator", "separator", "bowl_clear", "The bowl is full of clear fuel.", False)
VERSIONS = {"scenario_version": 3, "simulator_version": 7, "scheme_version": 2}


def rule(name: str, state: str, step: int = 2) -> RuleFact:
    sentences = {
        "does_it_crank": "Find out whether the engine turns over.",
        "fuel_there_and_open": "Dip the tank and look at the valves.",
        "tray_laid": "Lay the tray before anything wet is opened.",
    }
    return RuleFact(name, sentences[name], "precedence", state, 1.0, step, 60.0 * step)


def check(words: str) -> CheckFact:
    return CheckFact(words.replace(" ", "."), words, 1, 20.0)


def worked(points: tuple[float, ...], minutes: float, **more: object) -> Facts:
    """Return the facts of some work: its points in the order of the marks, and how long it took [min]."""
    marks = tuple(MarkFact(name, got, most) for name, got, most in zip(TITLES, points, WEIGHTS, strict=True))
    return Facts(
        **{
            "exercise": EXERCISE,
            "layout": "tank_below",
            "versions": VERSIONS,
            "handed_in": True,
            "worked": True,
            "truths": (SHUT,),
            "clock_s": minutes * 60.0,
            "cranked_s": minutes / 2.0,
            "checks": 3,
            "marks": marks,
            **more,
        }
    )


def class_facts() -> dict[str, Facts]:
    """Return four hand-ins of one exercise: 35, 21, 14 and 0 of 35 points, in 10, 20, 30 and 40 minutes."""
    wrong = DiagnosisFact("fine_filter", "loaded_element", "fine filter", "element choked with dirt", False, (SIGN,))
    right = DiagnosisFact("shut_off", "shut_valve", "shut-off", "shut", True)
    broke = (rule("does_it_crank", KEPT), rule("fuel_there_and_open", BROKEN, 3))
    both = (rule("does_it_crank", BROKEN), rule("fuel_there_and_open", BROKEN, 3))
    fail = FailFact("flooded", "The engine was flooded.", 900.0)
    dip, look = check("tank: dip it"), check("look around")
    return {
        "ann": worked(
            (5.0, 10.0, 5.0, 10.0, 5.0), 10.0, diagnoses=(right,), first_check=dip, cured=True, passed=True,
            rules=(rule("does_it_crank", KEPT), rule("fuel_there_and_open", KEPT)),
            cautions=(rule("tray_laid", KEPT),),
        ),
        "ben": worked(
            (3.0, 5.0, 3.0, 6.0, 4.0), 20.0, diagnoses=(wrong,), first_check=look, rules=broke, first_broken=broke[1],
            cautions=(rule("tray_laid", BROKEN),), told_nothing=(look, dip), by_coach=True, helps={"hint": 2},
        ),
        "cleo": worked(
            (2.0, 2.0, 2.0, 6.0, 2.0), 30.0, diagnoses=(wrong,), first_check=look, rules=both, first_broken=both[0],
            cautions=(rule("tray_laid", BROKEN),), told_nothing=(look,), by_coach=True, truths=(AIR,),
        ),
        "dirk": worked((0.0,) * 5, 40.0, hard_fails=(fail,), rules=broke, first_broken=broke[1]),
    }  # fmt: skip


def make_course(folder: Path, facts: dict[str, dict[str, Facts]] | None = None) -> CourseRoot:
    """Make the folder of a class of five with what was worked out, by exercise and learner; Evelina has nothing."""
    course = at(folder)
    rows = tuple(
        dict(zip(COLUMNS, (name, *NAMES[name], TICKETS[name]), strict=True)) for name in NAMES
    )  # fmt: skip
    write_roster(course.roster, Roster(COLUMNS, rows))
    course.usual_scheme.parent.mkdir(parents=True, exist_ok=True)
    shutil.copy(usual_scheme_file(), course.usual_scheme)
    for exercise, by_learner in (facts or {EXERCISE: class_facts()}).items():
        for learner, fact in by_learner.items():
            keep(course, exercise, learner, fact)
    return course


def keep(course: CourseRoot, exercise: str, learner: str, facts: Facts | None) -> None:
    """Keep facts as marking keeps them."""
    place = course.worked_out(exercise, learner)
    place.parent.mkdir(parents=True, exist_ok=True)
    result = WorkedOut("digest", {"safety": MarkedPlace(0.0, 5.0, "<p>A page.</p>")}, facts=facts)
    place.write_text(json.dumps(asdict(result), ensure_ascii=False), encoding="utf-8")


def text_of(page: str) -> str:
    """Return what a reader sees of a page."""
    return read_page(page).text()


def pdf_text(place: Path) -> str:
    """Return all the text of a PDF."""
    return "\n".join(page.extract_text() for page in PdfReader(place).pages)
