"""The desk behind the instructor's page: what it shows, and what it says when something cannot be done."""

from __future__ import annotations

import errno
import shutil
import tomllib
from pathlib import Path

import pytest
from class_kit import EXERCISE, LOGBOOK, make_class, tickets_with_a_shut_valve, work

from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.roster import example_roster, read_roster, write_roster
from engine_sim.classroom.teaching.desk.desk import InstructorDesk
from engine_sim.classroom.teaching.own_exercises import save_exercise
from engine_sim.marking import load_marking_scheme

TOLD: list[str] = []


@pytest.fixture
def course(tmp_path: Path) -> CourseRoot:
    """A class of one learner who handed in."""
    (ticket,) = tickets_with_a_shut_valve(1)
    course = make_class(tmp_path / "class", {"ada": ticket})
    work(course.submitted("ada", EXERCISE), ticket)
    return course


@pytest.fixture
def desk(course: CourseRoot) -> InstructorDesk:
    """The desk of that class, whose wall remembers what it was given."""
    TOLD.clear()

    def show(data: bytes) -> str:
        TOLD.append(data.decode())
        return ""

    return InstructorDesk(course, show)


def press(desk: InstructorDesk, panel: str, action: str, **values: object) -> str:
    """Press a button and return what is said."""
    desk.handle({"panel": panel, "action": action, "values": values}, (), lambda text: None)
    return desk.notice


def panel_of(desk: InstructorDesk, name: str) -> dict:
    """Return a panel as the page gets it."""
    return next(one for one in desk.shown()["panels"] if one["id"] == name)


def test_the_panels_stand_in_the_order_of_an_evening_and_every_button_does_something(desk: InstructorDesk) -> None:
    shown = desk.shown()["panels"]
    assert [one["title"][0] for one in shown] == list("123456789")
    for panel, drawn in zip(desk.panels, shown, strict=True):
        assert {one["action"] for one in drawn["buttons"]} <= set(panel.actions)
        assert "choose" in panel.actions or not any(field.get("asks") for field in drawn.get("fields", []))


def test_learners_are_added_with_odd_names_and_tickets(desk: InstructorDesk, course: CourseRoot) -> None:
    said = press(desk, "class", "add", more='bo, Bø, O\'Knot\nnoa,נועה,\ncy, =2+2, "Quoted" Name')
    assert said == "Added 3 to the class; each has a ticket now." and not desk.warning
    learners = read_roster(course.roster).learners
    assert [(one.first_name, bool(one.ticket)) for one in learners.values()][1:] == [
        ("Bø", True),
        ("נועה", True),
        ("=2+2", True),
    ]
    rows = [tuple(row) for row in panel_of(desk, "class")["tables"][0]["rows"]]
    assert ("bo", "Bø O'Knot", learners["bo"].ticket) in rows


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ("", "No learners were typed in"),
        ("ADA, Ada, Again", "Already in the class"),
        ("jo smith, Jo, Smith", "line 1: short name 'jo smith' cannot be used"),
        ("bo, Bo, B\njo smith, Jo, Smith", "line 2: short name"),
    ],
)
def test_a_wrong_line_adds_nobody(desk: InstructorDesk, course: CourseRoot, more: str, says: str) -> None:
    before = course.roster.read_bytes()
    assert says in press(desk, "class", "add", more=more) and desk.warning
    assert course.roster.read_bytes() == before


def test_a_roster_that_cannot_be_read_hides_no_other_panel(desk: InstructorDesk, course: CourseRoot) -> None:
    course.roster.write_text("learner_id,first_name\nada,Ada\n", encoding="utf-8")
    shown = {one["id"]: one for one in desk.shown()["panels"]}
    assert "must name the columns" in shown["class"]["lines"][0][1]
    assert shown["hand_out"]["buttons"] and shown["mark"]["buttons"]


def test_what_the_page_never_asks_is_answered_in_words(desk: InstructorDesk) -> None:
    for panel, action in (("class", "no_such"), ("no_such", "add"), (None, None)):
        desk.handle({"panel": panel, "action": action, "values": "nonsense"}, (), lambda text: None)
        assert desk.warning and "Load it again" in desk.notice


def test_a_full_disk_is_said_in_words_and_loses_nothing(
    desk: InstructorDesk, course: CourseRoot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_args: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device", str(course.folder / "slips.pdf"))

    monkeypatch.setattr("engine_sim.classroom.teaching.desk.class_panels.write_slips", full)
    said = press(desk, "class", "slips")
    assert "the disk is full" in said and "Nothing that was here before is lost" in said and desk.warning


def test_a_fault_that_a_boat_cannot_have_is_left_when_the_boat_is_changed(desk: InstructorDesk) -> None:
    press(desk, "fault", "choose", boat="electric_pump", fault="dead_solenoid")
    assert press(desk, "fault", "add", boat="electric_pump", fault="dead_solenoid").startswith("Added")
    press(desk, "fault", "choose", boat="single_cylinder", fault="dead_solenoid")
    fields = {one["id"]: one for one in panel_of(desk, "fault")["fields"]}
    assert fields["fault"]["value"] in [value for value, _ in fields["fault"]["choices"]]
    assert "dead_solenoid" not in [value for value, _ in fields["fault"]["choices"]]
    assert not panel_of(desk, "fault")["tables"], "a draw of another boat does not stay"


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({}, "needs a short name"),
        ({"name": "Bad Name"}, "Bad Name"),
        ({"name": "mine", "minutes": "soon"}, "needs a figure"),
        ({"name": EXERCISE}, "has an exercise called"),
        ({"name": "mine", "points_cure": "0"}, "Cure was given 0 points; a mark may have 1 to 100"),
        ({"name": "mine", "points_cure": "all"}, "“Points for cure” was given as 'all'"),
    ],
)
def test_an_exercise_that_cannot_be_kept_is_refused_in_words(
    desk: InstructorDesk, course: CourseRoot, values: dict[str, str], says: str
) -> None:
    assert says in press(desk, "fault", "keep", boat="single_cylinder", fault="stop_control_pulled", **values)
    assert desk.warning and not list((course.folder / "scenarios").glob("*.toml"))


def test_the_exchange_is_offered_only_where_others_can_reach_it(
    desk: InstructorDesk, course: CourseRoot, tmp_path
) -> None:
    def offered() -> list[str]:
        buttons = [one for name in ("hand_out", "mark") for one in panel_of(desk, name)["buttons"]]
        return [one["action"] for one in buttons if "exchange" in one["label"]]

    assert offered() == []
    settings = course.folder / "nbgrader_config.py"
    settings.write_text(f"{settings.read_text('utf-8')}\nc.Exchange.root = {str(tmp_path / 'shared')!r}\n", "utf-8")
    (tmp_path / "shared").mkdir(mode=0o777)
    assert offered() == ["release", "give_back"]


def test_an_exercise_is_kept_with_the_points_that_were_chosen_for_its_marks(
    desk: InstructorDesk, course: CourseRoot
) -> None:
    chosen = {"boat": "single_cylinder", "fault": "stop_control_pulled", "name": "mine"}
    assert "is ready" in press(desk, "fault", "keep", **chosen, points_method="14,5")
    assert load_marking_scheme(course.scheme("mine")).weights.of("method") == 14.5
    page = course.source("mine").read_text("utf-8")
    assert "safety 5 points, method 14.5, diagnosis 5" in page and "at least 23.7 of these 39.5 points" in page
    assert '"points": 14.5' in page
    assert course.scheme(EXERCISE) == course.usual_scheme


def test_an_own_exercise_is_opened_again_changed_and_taken_out(desk: InstructorDesk, course: CourseRoot) -> None:
    assert "Nothing was done" in press(desk, "fault", "open")
    first = {"boat": "single_cylinder", "fault": "stop_control_pulled", "name": "later_on", "sea": "0.3", "shore": "40"}
    press(desk, "fault", "keep", **first, heading="Second thoughts", points_cure="12", story="She lies alongside.")
    press(desk, "fault", "choose", boat="electric_pump", mine="later_on")
    assert "“Second thoughts” stands in the fields" in press(desk, "fault", "open", mine="later_on")
    panel = panel_of(desk, "fault")
    shown = {one["id"]: one["value"] for one in panel["fields"]}
    expected = {**first, "heading": "Second thoughts", "points_cure": "12", "replaces": True, "minutes": "30"}
    assert {name: shown[name] for name in expected} == expected
    assert panel["tables"][0]["caption"] == "Your own exercises", "one fault alone stands in the fields"
    assert "is ready" in press(desk, "fault", "keep", **shown | {"heading": "Third thoughts"})
    kept = course.folder / "scenarios" / "later_on.toml"
    again = tomllib.loads(kept.read_text("utf-8"))
    assert (again["title"], again["version"], again["seaway"], again["lee_shore_min"]) == ("Third thoughts", 2, 0.3, 40)
    assert load_marking_scheme(course.scheme("later_on")).weights.of("cure") == 12.0
    press(desk, "fault", "choose", mine="")
    assert "Nothing was done" in press(desk, "fault", "take_out", mine="later_on"), "it stood on no exercise"
    press(desk, "fault", "choose", mine="later_on")
    (question,) = (one["confirm"] for one in panel_of(desk, "fault")["buttons"] if one["action"] == "take_out")
    assert "“Third thoughts” (later_on)" in question
    assert "is taken out" in press(desk, "fault", "take_out", mine="later_on")
    assert not kept.exists() and load_marking_scheme(course.scheme("later_on")).weights.of("cure") == 12.0
    assert "later_on" not in str(panel_of(desk, "fault"))


def test_points_changed_after_a_hand_in_are_said_to_ask_for_marking_again(
    desk: InstructorDesk, course: CourseRoot
) -> None:
    chosen = {"boat": "single_cylinder", "fault": "stop_control_pulled", "name": "came_in", "replaces": True}
    press(desk, "fault", "keep", **chosen)
    course.submitted("ada", "came_in").mkdir(parents=True)
    assert "mark again" not in press(desk, "fault", "keep", **chosen)
    assert "1 handed in before the points were changed" in press(desk, "fault", "keep", **chosen, points_cure="12")


def test_a_fault_that_is_not_added_is_said_not_to_count(desk: InstructorDesk) -> None:
    chosen = {"boat": "single_cylinder", "fault": "stop_control_pulled"}
    press(desk, "fault", "add", **chosen)
    assert "among them" not in press(desk, "fault", "keep", **chosen, name="added_one")
    other = chosen | {"fault": "shut_valve", "name": "added_two"}
    assert "Only the 1 added count; the fault in the fields is not among them." in press(desk, "fault", "keep", **other)


def test_the_invented_examples_go_when_own_learners_come(desk: InstructorDesk, course: CourseRoot) -> None:
    write_roster(course.roster, example_roster())
    assert any("invented, as an example" in text for text in panel_of(desk, "class")["about"])
    assert "The three invented examples are gone." in press(desk, "class", "add", more="dee, Dee, Lugsail")
    assert list(read_roster(course.roster).learners) == ["dee"]
    assert "examples" not in press(desk, "class", "add", more="eve, Eve, Spanker")
    assert list(read_roster(course.roster).learners) == ["dee", "eve"]


def test_an_exercise_marked_otherwise_than_usual_is_said_to_be_packed(desk: InstructorDesk, course: CourseRoot) -> None:
    def said() -> list[str]:
        (field,) = (one for one in panel_of(desk, "hand_out")["fields"] if one["id"] == "exercises")
        return [label for _, label in field["choices"] if "pack it" in label]

    assert said() == []
    shutil.copy(course.usual_scheme, course.own_scheme(EXERCISE))
    assert len(said()) == 1 and said()[0].startswith("1  It will not keep running")


def test_a_severity_that_is_none_of_the_degrees_stays_as_it_was_written(
    desk: InstructorDesk, course: CourseRoot
) -> None:
    draw = {"fault": "slack_joint", "parts": ["pump_joint"], "severities": [1.37e-8]}
    save_exercise(course, {"id": "just_so", "layout": "tank_below", "heel_deg": 12.0, "draw": [draw]})
    press(desk, "fault", "choose", mine="just_so")
    press(desk, "fault", "open", mine="just_so")
    shown = {one["id"]: one["value"] for one in panel_of(desk, "fault")["fields"]}
    assert (shown["fault"], shown["part"], shown["bad"]) == ("slack_joint", "pump_joint", "1.37e-08")
    assert "is ready" in press(desk, "fault", "keep", **shown | {"minutes": "35"})
    again = tomllib.loads((course.folder / "scenarios" / "just_so.toml").read_text("utf-8"))
    assert (again["draw"][0]["severities"], again["heel_deg"], again["minutes"]) == ([1.37e-8], 12.0, 35)


def test_a_logbook_goes_to_the_wall_as_it_was_handed_in(desk: InstructorDesk, course: CourseRoot) -> None:
    which = panel_of(desk, "replay")["fields"][0]["choices"]
    assert [value for value, _ in which] == ["", f"ada/{EXERCISE}"]
    assert "foot of this page" in press(desk, "replay", "show", which=f"ada/{EXERCISE}")
    assert [(course.submitted("ada", EXERCISE) / LOGBOOK).read_text("utf-8")] == TOLD
    assert "No logbook was chosen" in press(desk, "replay", "show", which="")


def test_nobody_is_forgotten_by_mistake(desk: InstructorDesk, course: CourseRoot) -> None:
    assert "Nobody was forgotten" in press(desk, "privacy", "forget", learner="")
    assert panel_of(desk, "privacy")["buttons"] == []
    assert "Choose a learner first" in press(desk, "privacy", "forget", learner="ada"), "nobody was asked about ada"
    press(desk, "privacy", "choose", learner="ada")
    assert "Forget Ada Invented (ada)?" in panel_of(desk, "privacy")["buttons"][0]["confirm"]
    assert list(read_roster(course.roster).learners) == ["ada"]
