"""The fields of an own exercise besides its faults: what they show, and what was typed into them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.reweighing import CHOOSABLE, reweighed
from engine_sim.classroom.teaching.desk.panel import Asked, Shown, choice, words
from engine_sim.marking import TITLES, MarkingScheme, load_marking_scheme
from engine_sim.marking.scheme import parse_marking_scheme

SEAS = (("0", "calm"), ("0.3", "some sea"), ("0.6", "rough"), ("1", "very rough"))
HELP = (("", "none"), ("nudge", "a nudge"), ("hint", "up to a hint"), ("check", "up to the next check"))
USUAL_MINUTES, USUAL_HELP = 30, "check"


def exercise_fields(opened: Mapping[str, Any]) -> list[Shown]:
    """Return the fields on conditions, help and names; ``opened`` are the choices that an exercise was kept with."""
    sea = f"{opened.get('seaway', 0.0):g}"
    seas = SEAS if sea in dict(SEAS) else (*SEAS, (sea, f"as written: {sea} of 1"))
    return [
        choice("sea", "Sea", sea, seas),
        words(
            "temperature",
            "Temperature in the engine space, °C",
            _figure(opened, "temperature_c"),
            help_="Empty: a summer's day.",
        ),
        words("shore", "Minutes until she is ashore", _figure(opened, "lee_shore_min"), help_="Empty: no lee shore."),
        choice("help", "Help that may be asked for", str(opened.get("help_most", USUAL_HELP)), HELP),
        words("xray", "The inside of the pipes may be looked at", bool(opened.get("permits_xray")), kind="tick"),
        words(
            "name",
            "Short name of the exercise",
            str(opened.get("id", "")),
            help_="Small letters, figures and _ only, such as slack_joint_1.",
        ),
        words("heading", "Its title", str(opened.get("title", ""))),
        words("minutes", "About how many minutes it takes", f"{opened.get('minutes', USUAL_MINUTES)}"),
    ]


def weight_fields(course: CourseRoot, exercise: str) -> list[Shown]:
    """Return the fields with the points of the marks, as an exercise has them now, or as usual where none is named."""
    weights = load_marking_scheme(course.scheme(exercise) if exercise else course.usual_scheme).weights
    return [
        words(
            f"points_{name}",
            f"Points for {title.lower()}",
            f"{weights.of(name):g}",
            help_=f"{CHOOSABLE.words()}. Empty: as usual.",
        )
        for name, title in TITLES.items()
    ]


def points_of(course: CourseRoot, exercise: str) -> str:
    """Return the points of an exercise's marks, in their order, and all of them."""
    weights = load_marking_scheme(course.scheme(exercise)).weights
    points = [weights.of(name) for name in TITLES]
    return f"{' + '.join(f'{one:g}' for one in points)} = {sum(points):g}"


def last_fields(opened: Mapping[str, Any]) -> list[Shown]:
    """Return the story, and whether the exercise takes the place of another."""
    return [
        words(
            "story",
            "What the learner reads first",
            str(opened.get("story", "")),
            help_="What the skipper saw or heard. Empty: only that something is to be found out and cured.",
            kind="long",
            rows=3,
        ),
        words("replaces", "It takes the place of my exercise of the same name", bool(opened), kind="tick"),
    ]


def typed_choices(asked: Asked, opened: Mapping[str, Any]) -> dict[str, Any]:
    """Return what was typed, as the choices that an exercise is kept with; what no field asks for stays as opened."""
    return {
        **opened,
        "id": asked.text("name") or "my_exercise",
        "title": asked.text("heading") or "An engine in trouble",
        "story": asked.text("story") or None,
        "minutes": int(asked.number("minutes", "Minutes") or USUAL_MINUTES),
        "permits_xray": asked.ticked("xray"),
        "help_most": asked.text("help"),
        "seaway": float(asked.text("sea") or 0.0),
        "temperature_c": asked.number("temperature", "Temperature"),
        "lee_shore_min": asked.number("shore", "Minutes until she is ashore"),
    }


def typed_weights(asked: Asked, course: CourseRoot) -> tuple[MarkingScheme, dict[str, float]]:
    """Return the marking scheme with the points that were typed, and those points [points] by the marks' names."""
    usual = load_marking_scheme(course.usual_scheme).weights
    typed = {name: asked.number(f"points_{name}", f"Points for {title.lower()}") for name, title in TITLES.items()}
    weights = {name: usual.of(name) if points is None else points for name, points in typed.items()}
    text = course.usual_scheme.read_text("utf-8")
    return parse_marking_scheme(reweighed(text, asked.text("name") or "own", weights)), weights


def what_counts(choices: Mapping[str, object], weights: Mapping[str, float]) -> dict[str, object]:
    """Return the choices that a try-out hangs on: all but what the exercise is called."""
    return {name: value for name, value in choices.items() if name not in ("id", "title")} | dict(weights)


def _figure(opened: Mapping[str, Any], name: str) -> str:
    return "" if opened.get(name) is None else f"{opened[name]:g}"
