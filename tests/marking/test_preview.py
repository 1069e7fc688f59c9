"""An exercise tried out before a class gets it, and on paper: what is said holds when it is played or reckoned anew."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from html import unescape

import pytest
from pypdf import PdfReader

from engine_sim.attempt import Attempt
from engine_sim.circuit import layout_names, load_layout
from engine_sim.classroom.course_root import ClassroomError, at
from engine_sim.classroom.teaching import paper_words
from engine_sim.classroom.teaching.paper import as_pdf, learners_sheet, on_paper, write_paper
from engine_sim.classroom.teaching.preview import every_draw, preview
from engine_sim.classroom.teaching.severity import DEGREES, LESS_IS_WORSE, severities_to_choose, severity_in_words
from engine_sim.classroom.teaching.trying_out import first_signs, look_alikes
from engine_sim.errors import BadScenario, BadTicket, UnknownName
from engine_sim.faults import fault, faults
from engine_sim.learners import KINDS, MODEL
from engine_sim.marking.coach import Coach
from engine_sim.scenarios import (
    SetFault,
    compose_scenario,
    draw_scenario,
    exercises,
    new_ticket,
    pool,
    read_pool,
    write_pool_text,
)
from engine_sim.wording import CAUTIONS, FAULTS, MANUAL_FIRST

PULLED = {"fault": "stop_control_pulled"}
STORY = "A sloop alongside. Nothing comes."


def choices(*draws, **more) -> dict:
    """Return the choices of an exercise with these faults."""
    return {"id": "tried", "title": "Tried out", "story": STORY, "minutes": 20, "draw": list(draws), **more}


# ---- severities in words --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("slack_joint", 2e-8, "open area of the gap: 0.02 mm², clear"),
        ("slack_joint", 2e-9, "open area of the gap: 0.002 mm², slight"),
        ("slack_joint", 5e-7, "open area of the gap: 0.5 mm², severe"),
        ("water_in_bowl", 5e-4, "500 ml, severe"),
        ("water_in_tank", 3e-3, "3000 ml"),
        ("blocked_pick_up", 1.5e6, "15 bar, clear"),
        ("blocked_vent", 2e-5, "0.02 mm, clear"),
        ("flat_battery", 0.02, "2 %, severe"),
        ("flat_battery", 0.45, "45 %, slight"),
        ("waxed_fuel", -12.0, "-12 °C, severe"),
        ("bad_connection", 0.1, "0.1 ohm, clear"),
        ("loaded_element", 6000.0, "6000 times, severe"),
        ("empty_tank", 0.5, "where the gauge's needle is stuck: 50 %"),
        ("stop_control_pulled", 1.0, "out all the way"),
    ],
)
def test_a_severity_reads_in_a_unit_of_people_with_its_degree(name, value, said):
    text = str(severity_in_words(name, value))
    assert said in text
    assert any(degree in text for degree in DEGREES) == any(degree in said for degree in DEGREES) or "3000" in said


@pytest.mark.parametrize("name", sorted(faults()))
def test_the_severities_to_choose_are_all_allowed_and_grow_worse_in_order(name):
    kind = fault(name)
    for boat in map(load_layout, layout_names()):
        for part in kind.places(boat):
            offered = severities_to_choose(name, boat, part)
            values = [one.value for one in offered]
            for value in values:
                kind.check_severity(value)
            assert kind.usual_severity(boat, part) in values
            degrees = [DEGREES.index(one.degree) for one in offered if one.degree]
            assert degrees == sorted(degrees) and degrees in ([], [0, 1, 2])
            worse = sorted(values, reverse=kind.severity.name in LESS_IS_WORSE)
            assert not degrees or values == worse


# ---- tried out ------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def pulled():
    """The quickest exercise tried out: the stop control left pulled; with what was told meanwhile."""
    told = []
    found = preview(choices(PULLED), lambda done, of, what: told.append((done, of, what)))
    return found, told


@pytest.mark.slow
def test_every_step_is_told_once_and_the_last_says_that_all_is_done(pulled):
    _, told = pulled
    assert [done for done, _, _ in told] == list(range(len(KINDS) + 4))
    assert {of for _, of, _ in told} == {len(KINDS) + 3} and told[-1][2] == "Done."


@pytest.mark.slow
def test_what_shows_first_is_what_a_learner_would_read_on_the_bench(pulled):
    (draw,) = pulled[0].draws
    attempt = Attempt(compose_scenario("tank_below", [SetFault("stop_control_pulled", "stop_control")]))
    seen = [
        [one.text for one in attempt.act(part, name).observations]
        for part, name in (("bench", "look_around"), ("engine", "key_on"), ("starter", "crank_5"))
    ]
    assert [list(told.noticed) for told in draw.first] == seen
    assert "No smoke at all" in seen[-1][-1]


def test_an_engine_that_fires_is_let_idle_for_a_minute_and_one_that_does_not_is_not():
    dead = first_signs(compose_scenario("tank_below", [SetFault("isolator_off", "battery")]))
    lively = first_signs(compose_scenario("tank_below", [SetFault("air_in_line", "injector_2")]))
    assert not any("idle" in told.deed for told in dead)
    assert "idle for 1 min" in lively[-1].deed


@pytest.mark.slow
def test_the_best_way_ends_at_the_part_and_its_minutes_are_the_sum_of_its_checks(pulled):
    (draw,) = pulled[0].draws
    assert [step.check.split(":")[0] for step in draw.way] == ["starter", "stop control"]
    assert draw.way_minutes == pytest.approx((10 + 15) / 60)
    assert draw.expected_minutes > draw.way_minutes


@pytest.mark.slow
def test_the_verdict_is_that_of_the_kinds_of_learners(pulled):
    found, _ = pulled
    (draw,) = found.draws
    assert [one.kind for one in draw.kinds] == list(KINDS)
    assert draw.solvable and not draw.solved_by_nothing and not draw.solved_by_bleeding
    assert draw.share_passing == sum(one.passed for one in draw.kinds) / 9
    assert draw.model.kind == MODEL and draw.model.points == draw.model.most_points == 35.0
    assert not any(draw.kind(name).passed for name in ("swaps parts", "lucky guess", "only looks", "does nothing"))
    assert draw.warnings == () and found.warnings == ()
    (hard,) = found.hardness
    assert (hard.minutes, hard.deeds) == (draw.model.minutes, draw.model.deeds)


@pytest.mark.slow
def test_what_an_owner_cannot_mend_and_what_the_test_does_not_feel_is_said():
    found = preview(choices({"fault": "gauge_wrong"}, minutes=240))
    said = " ".join(found.draws[0].warnings)
    assert "nothing to cure" in said and "No owner mends this" in said and FAULTS["gauge_wrong"] in said
    assert any("240 minutes" in text for text in found.warnings)


@pytest.mark.slow
def test_draws_of_unequal_hardness_and_each_draw_of_a_fault_are_said():
    joints = {"fault": "slack_joint", "parts": ["pump_joint"], "severities": [1.2e-8, 2e-8]}
    both = {"fault": "shut_valve", "also": [{"fault": "torn_diaphragm"}, {"fault": "loaded_element"}]}
    assert [len(one) for one in every_draw(read_pool(write_pool_text(choices(PULLED, joints, both))))] == [1, 2, 2]
    found = preview(choices(PULLED, joints))
    assert len(found.draws) == 2 and len(found.hardness) == 3
    assert "0.012 mm²" in found.hardness[1].what and "0.02 mm²" in found.hardness[2].what
    minutes = [one.minutes for one in found.hardness]
    assert any("not equally hard" in text for text in found.warnings) == (max(minutes) > 2.0 * min(minutes))
    joint = found.draws[1]
    assert not joint.solved_by_bleeding and joint.solvable


@pytest.mark.slow
def test_what_looks_the_same_answers_every_look_as_the_truth_does_and_the_rest_does_not():
    scenario = compose_scenario("electric_pump", [SetFault("air_in_filter", "fine_filter")])
    found = look_alikes(scenario)
    assert set(found.after_all) <= set(found.before_opening)
    coach = Coach(scenario)
    (truth,) = (cause for cause in coach.causes if cause.is_truth)
    looks = [check for check in coach.boats.checks if all(name == "look" for _, name in check.deeds)]
    for cause in coach.causes:
        words = f"{cause.part_label}: {cause.fault_label}"
        shown = [
            coach.boats.shows(cause.scenario, one.deeds) == coach.boats.shows(truth.scenario, one.deeds)
            for one in looks
        ]
        assert all(shown) or words not in found.before_opening or cause.said == truth.said
    assert found.before_opening


@pytest.mark.slow
def test_a_fault_that_the_engine_does_not_feel_is_said_to_show_elsewhere():
    """A joint under the head of a high tank weeps and draws no air in; a loaded element stops the engine."""
    leaks = {"fault": "slack_joint", "parts": ["separator_joint"], "severities": [2e-8]}
    (draw,) = preview(choices(leaks, layout="high_tank")).draws
    assert any("comes through its test with this fault" in text and "elsewhere" in text for text in draw.warnings)
    (draw,) = preview(choices(PULLED, layout="high_tank")).draws
    assert not any("comes through its test" in text for text in draw.warnings)


def test_choices_that_cannot_be_played_are_refused_before_anything_is_played():
    with pytest.raises(UnknownName, match="Did you mean 'slack_joint'"):
        preview(choices({"fault": "slak_joint"}))
    with pytest.raises(BadScenario, match="Choose at least one"):
        preview(choices())


# ---- on paper -------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def sheets():
    """An exercise on paper whose shut-off is shut."""
    drawn = compose_scenario("tank_below", [SetFault("shut_valve", "shut_off")], title="Not a drop", story=STORY)
    return drawn, on_paper(replace(drawn, ticket="2222-2222"))


def words_of(page: str) -> str:
    """Return what can be read of a page."""
    return " ".join(unescape(re.sub(r"<style>.*?</style>|<[^>]+>", " ", page, flags=re.DOTALL)).split())


@pytest.mark.slow
def test_the_learners_sheet_has_story_boat_and_lines_and_not_what_is_wrong(sheets):
    _, made = sheets
    text = words_of(made.for_learners)
    assert STORY in text and "Ticket: 2222-2222" in text and "separator inlet joint" in text
    assert made.for_learners.count("<svg") == 5 and "handle" not in text
    assert not any(name in made.for_learners for name in faults()) and "stands across" not in text


@pytest.mark.slow
def test_the_instructors_table_says_word_for_word_what_the_bench_would_say(sheets):
    drawn, made = sheets
    text = words_of(made.for_instructor)
    attempt = Attempt(drawn)
    for part, name in (("shut_off", "look"), ("tank", "dip"), ("separator", "look")):
        for one in attempt.act(part, name).observations:
            assert one.text in text
    assert "shut-off: shut" in text and "2222-2222" in text
    bold = re.findall(r"<strong>(.*?)</strong>", made.for_instructor)
    across = next(one.text for one in Attempt(drawn).act("shut_off", "look").observations)
    assert any(across in unescape(one) for one in bold)
    assert not any("dipstick" in one or "voltmeter shows 12.6 V at the battery" in one for one in bold)
    assert "it fires and runs" in text[text.index("What mends it") :]


@pytest.mark.slow
def test_both_sheets_come_as_pages_and_as_pdf_with_the_same_words(sheets):
    _, made = sheets
    files = made.files("not_a_drop")
    assert sorted(files) == [
        f"not_a_drop.{who}.{form}" for who in ("instructor", "learner") for form in ("html", "pdf")
    ]
    learner = PdfReader(io.BytesIO(files["not_a_drop.learner.pdf"]))
    assert len(learner.pages) == 2 and STORY in " ".join(learner.pages[0].extract_text().split())
    printed = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(files["not_a_drop.instructor.pdf"])).pages)
    assert "shut-off: open" in " ".join(printed.split()) and "For the instructor alone" in printed


@pytest.mark.slow
@pytest.mark.parametrize("name", exercises())
def test_a_learners_sheet_fits_on_the_two_sides_of_one_sheet_and_shows_the_cautions(name):
    pages = PdfReader(io.BytesIO(as_pdf(learners_sheet(draw_scenario(name, new_ticket()))))).pages
    front, back = (" ".join(page.extract_text().split()) for page in pages)
    assert MANUAL_FIRST in front and all(CAUTIONS[key] in front for _, key in paper_words.CAUTIONS)
    assert back.startswith("Your checks, in your order")


@pytest.mark.slow
def test_sheets_are_written_for_a_ticket_of_the_class_into_a_folder_of_their_own(tmp_path):
    course = at(tmp_path)
    written = write_paper(course, "turns_and_stays_silent", "")
    assert {place.parent for place in written} == {tmp_path / "paper" / "turns_and_stays_silent"} and len(written) == 4
    assert pool("turns_and_stays_silent").story in words_of(written[2].read_text("utf-8"))
    with pytest.raises(ClassroomError, match="needs no boat"):
        write_paper(course, "sums")
    with pytest.raises(BadTicket):
        write_paper(course, "turns_and_stays_silent", "ABCD")
    with pytest.raises(UnknownName, match="exercise"):
        write_paper(course, "no_such_one")
