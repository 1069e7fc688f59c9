"""A learner's own boat: whatever the form allows is read, drawn clear of itself, and runs when nothing is wrong."""

from __future__ import annotations

import itertools
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from own_boats import NAME, a_few, boat_with, every, layouts, named

from engine_sim.actions import parts_of
from engine_sim.attempt import Attempt
from engine_sim.circuit import read_layout
from engine_sim.drawing import Drawing
from engine_sim.drawing.geometry import walls
from engine_sim.drawing.labels import room_of
from engine_sim.drawing.path import bleed_points, path_in_words, still_picture
from engine_sim.errors import EngineSimError
from engine_sim.scenarios import compose_scenario
from engine_sim.scenarios.own_boat import (
    LONGEST_TEXT,
    TEXTS,
    BadOwnBoat,
    OwnBoat,
    answers_of,
    answers_text,
    boat_from,
    read_answers,
)
from engine_sim.scenarios.own_layout import layout_text
from engine_sim.wording import OWN_CHOICES, OWN_FIELDS, OWN_HINTS, OWN_LONG, OWN_PARTS_OF_FORM

HALF_WALL = 9.5
RAN_WELL = "It ran evenly for 5 min at about 2000 rpm."
QUICK = 3


def some_quick() -> list[object]:
    """Return the few boats as test cases, all but the first of them slow ones."""
    return [pytest.param(boat, marks=[] if n < QUICK else [pytest.mark.slow]) for n, boat in enumerate(a_few())]


# ---- layouts --------------------------------------------------------------------------------------------------------


def test_every_combination_gives_a_layout_that_is_read_and_is_a_boat():
    assert len(every()) == 3 * 2 * 3 * 2 * 4 * 2 * 2 * 2
    for text in layouts():
        layout = read_layout(text)
        layout.require_boat()
        assert layout.title == NAME


def test_the_few_boats_hold_every_two_answers_together():
    assert 12 <= len(a_few()) < 30
    for one, other in itertools.combinations(OWN_CHOICES, 2):
        met = {(answers[one], answers[other]) for answers in a_few()}
        assert met == set(itertools.product(OWN_CHOICES[one], OWN_CHOICES[other]))


@pytest.mark.parametrize("answers", a_few(), ids=named)
def test_the_layout_says_what_the_form_says(answers):
    layout = read_layout(layout_text(boat_with(**answers, tank_l="73")))
    figures, kinds = layout.figures, set(layout.kinds.values())
    tanks = layout.parts_of("tank")
    assert len(tanks) == int(answers["tanks"]) == 1 + len(layout.parts_of("changeover_valve"))
    assert [figures[tank]["volume_m3"] for tank in tanks] == [0.073] * len(tanks)
    assert figures["engine"]["cylinders"] == int(answers["cylinders"])
    assert sum(part.kind == "injector" for part in parts_of(layout)) == int(answers["cylinders"])
    assert bool(figures["separator"]["bowl_glass"]) == (answers["bowl"] == "glass")
    assert ("electric_pump" in kinds, "lift_pump" in kinds) == (
        answers["lift_pump"] == "electric",
        answers["lift_pump"] == "lever",
    )
    assert ("rotary_injection_pump" in kinds) == (answers["injection_pump"] == "rotary")
    assert ("preheat" in kinds) == (answers["preheat"] == "yes")
    assert ("stop_solenoid" in kinds, "stop_lever" in kinds) == (
        answers["stop"] == "solenoid",
        answers["stop"] == "pull",
    )
    assert {"battery", "starter", "fuel_can"} <= kinds and "hand_start" not in kinds


@pytest.mark.parametrize("answers", a_few(), ids=named)
def test_the_tank_stands_where_the_form_says(answers):
    """Above: all of it over the injection pump. Below: all of it under the lift pump. Beside: level with the pumps."""
    layout = read_layout(layout_text(boat_with(**answers)))
    figures = layout.figures
    lift_m, injection_m = figures["lift_pump"]["bottom_m"], figures["injection_pump"]["bottom_m"]
    for tank in layout.parts_of("tank"):
        floor_m, top_m = figures[tank]["floor_m"], figures[tank]["floor_m"] + figures[tank]["height_m"]
        where = answers["tank_stands"]
        assert (floor_m > injection_m) == (where == "above")
        assert (top_m < lift_m) == (where == "below")
        assert (floor_m < lift_m < top_m) == (where == "beside")


@pytest.mark.parametrize("answers", some_quick(), ids=named)
def test_a_sound_own_boat_starts_and_runs_and_after_a_night_again(answers, tmp_path):
    path = tmp_path / "boat.toml"
    path.write_text(layout_text(boat_with(**answers)), encoding="utf-8")
    attempt, by_key = Attempt(compose_scenario(str(path), [])), answers["stop"] == "solenoid"
    for _ in range(2):
        assert "fires and runs" in said(attempt, "starter", "crank_5")
        assert RAN_WELL in said(attempt, "engine", "run_cruise_5min")
        stopped = said(attempt, "engine", "stop")
        assert ("key off" in stopped, "stop control" in stopped) == (by_key, not by_key)
        said(attempt, "bench", "wait_night")
    assert attempt.outside()["weeping"] == () and attempt.outside()["spilled_ml"] == 0


def said(attempt: Attempt, part: str, action: str) -> str:
    return " ".join(seen.text for seen in attempt.act(part, action).observations)


@pytest.mark.slow
@pytest.mark.parametrize("litres", ["5", "1000"])
@pytest.mark.parametrize("where", OWN_CHOICES["tank_stands"])
def test_the_smallest_and_the_largest_tank_feed_an_engine(litres, where, tmp_path):
    path = tmp_path / "boat.toml"
    path.write_text(layout_text(boat_with(tank_stands=where, tank_l=litres, tanks="2")), encoding="utf-8")
    attempt = Attempt(compose_scenario(str(path), []))
    assert "fires and runs" in said(attempt, "starter", "crank_5")
    assert RAN_WELL in said(attempt, "engine", "run_cruise_5min")


# ---- drawings -------------------------------------------------------------------------------------------------------


def overlapping(drawing: Drawing) -> list[tuple[str, str]]:
    """Return what lies on each other in a drawing: names on lines, symbols and names, and symbols on symbols."""
    flat = ("bench", "return_line")
    places = drawing.plan.places.values()
    lines = list(walls(drawing.routes.all_lines, HALF_WALL))
    boxes = {part: label.box for part, label in drawing.labels.items()}
    rooms = {place.id: room_of(place) for place in places if place.kind not in flat}
    symbols = [place for place in places if place.kind != "return_line"]
    return [
        *((part, "a line") for part, box in boxes.items() if any(box.overlaps(wall) for wall in lines)),
        *((part, other) for part, box in boxes.items() for other, room in rooms.items() if box.overlaps(room)),
        *((a, b) for a, b in itertools.combinations(boxes, 2) if boxes[a].overlaps(boxes[b])),
        *((a.id, b.id) for a, b in itertools.combinations(symbols, 2) if a.box.overlaps(b.box)),
    ]


@pytest.mark.parametrize("answers", a_few(), ids=named)
def test_an_own_boat_is_drawn_with_every_name_clear(answers):
    drawing = Drawing(read_layout(layout_text(boat_with(**answers))))
    assert set(drawing.labels) == {part.id for part in parts_of(drawing.layout)}
    assert overlapping(drawing) == []
    picture, words = still_picture(drawing, "A boat")
    assert all(part.label.split()[0] in picture for part in parts_of(drawing.layout) if part.kind != "injector")
    assert words == path_in_words(drawing.layout)


@pytest.mark.slow
def test_every_own_boat_is_drawn_with_every_name_clear():
    bad = {named(answers): found for text, answers in layouts().items() if (found := _amiss(text))}
    assert bad == {}


def _amiss(text: str) -> list[tuple[str, str]]:
    return overlapping(Drawing(read_layout(text)))


def test_bleed_points_go_from_the_tank_outwards():
    """Separator, fine filter inlet before outlet, injection pump lower before upper: common practice, no source."""
    layout = read_layout(layout_text(boat_with(tank_stands="above")))
    assert [str(point) for point in bleed_points(layout)] == [
        "separator, top vent",
        "fine filter, bleed screw",
        "fine filter, outlet screw",
        "injection pump, lower bleed screw",
        "injection pump, bleed screw",
    ]


def test_the_path_is_told_for_those_who_do_not_see_it():
    told = path_in_words(read_layout(layout_text(boat_with(tanks="2", lift_pump="electric", cylinders="1"))))
    order = ["port tank", "starboard tank", "changeover valve", "shut-off", "separator", "electric lift pump"]
    order += ["fine filter", "injection pump", "one injector", "return line"]
    places = [told.index(word) for word in order]
    assert places == sorted(places)


# ---- what cannot be -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("field", "given", "says"),
    [
        ("name", "", "Boat's name is empty. Write a name of 1 to 300 letters."),
        ("name", "  \n ", "Boat's name is empty"),
        ("name", 7, "given as 7; allowed is a text of up to 300 letters"),
        ("tank_l", 4.9, "Litres in a full tank was given as 4.9; allowed is 5 to 1000. Write a number in that range."),
        ("tank_l", 1000.5, "allowed is 5 to 1000"),
        ("tank_l", float("nan"), "allowed is 5 to 1000"),
        ("tank_l", "lots", "given as 'lots'"),
        ("spares", "x" * 301, "has 301 letters; up to 300 are allowed. Take out 1."),
        ("call", "a\x07b", r"holds the sign '\x07', which cannot be kept"),
        ("call", "\ud800", "which cannot be kept"),
        ("cylinders", 5, "Cylinders was given as 5; allowed is one of: one, two, three, four. Choose one of them."),
        ("cylinders", True, "allowed is one of"),
        ("tanks", 3, "allowed is one of: one tank, two tanks"),
        ("preheat", "maybe", "allowed is one of: yes, no"),
        ("bowl", "brass", "allowed is one of: glass, metal, no view of it"),
        ("tank_stands", None, "allowed is one of: below the engine"),
    ],
)
def test_what_cannot_be_is_refused_with_what_was_given_and_what_to_do(field, given, says):
    with pytest.raises(EngineSimError) as refused:
        OwnBoat(**{"name": NAME, field: given})
    assert says in str(refused.value)
    assert isinstance(refused.value, BadOwnBoat) and list(refused.value.wrong) == [field]


def test_all_that_is_wrong_is_said_at_once():
    with pytest.raises(BadOwnBoat) as refused:
        boat_from({"name": " ", "tank_l": "many", "bowl": "tin", "spares": "x" * 400})
    assert set(refused.value.wrong) == {"name", "tank_l", "bowl", "spares"}


@pytest.mark.parametrize(("typed", "litres"), [("60", 60.0), (" 60,5 ", 60.5), ("1e2", 100.0), ("5", 5.0)])
def test_litres_are_understood_as_people_write_them(typed, litres):
    assert boat_with(tank_l=typed).tank_l == litres


def test_exactly_three_hundred_letters_are_kept():
    assert len(OwnBoat(NAME, spares="x" * LONGEST_TEXT).spares) == LONGEST_TEXT


# ---- the file of answers --------------------------------------------------------------------------------------------

SIGNS = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"]))


@given(text=SIGNS.filter(lambda text: text.strip() and len(text) < 200 and " ".join(text.split()).isprintable()))
def test_any_text_comes_back_from_the_file_as_it_was_kept(text):
    boat = boat_with(name=text, must_know=f'{text}\n"""\\ {text[:40]} = [1]')
    assert boat_from(read_answers(answers_text(boat))) == boat


@pytest.mark.parametrize("answers", a_few(), ids=named)
def test_every_answer_comes_back_from_the_file(answers):
    boat = boat_with(**answers, tank_l="72.5", call="Yard\nChannel 16")
    again = read_answers(answers_text(boat))
    assert again == answers_of(boat) and boat_from(again) == boat
    assert set(tomllib.loads(answers_text(boat))) == set(OWN_FIELDS)


def test_a_file_that_is_no_toml_is_told_with_its_line():
    with pytest.raises(BadOwnBoat, match=r"cannot be read: .*line 2.*Mend that line"):
        read_answers('name = "Saltwind"\ntank_l = = 3\n')


def test_what_a_file_does_not_say_or_says_too_much_is_passed_over():
    assert read_answers('name = "Saltwind"\ncolour = "red"\n') == {"name": "Saltwind"}


# ---- the form's own words -------------------------------------------------------------------------------------------


def test_every_field_of_the_form_is_one_of_the_boat_and_stands_in_it_once():
    fields = list(OwnBoat.__dataclass_fields__)
    assert sorted(fields) == sorted(OWN_FIELDS) == sorted(OWN_HINTS)
    assert sorted(name for _, names in OWN_PARTS_OF_FORM for name in names) == sorted(fields)
    assert set(OWN_LONG) <= set(TEXTS) and set(OWN_CHOICES) | set(TEXTS) | {"tank_l"} == set(fields)


def test_a_layout_of_an_own_boat_can_be_given_to_the_course_as_a_file(tmp_path: Path):
    path = tmp_path / "boat.toml"
    path.write_text(layout_text(boat_with(name='The "Old" \\ Boat')), encoding="utf-8")
    assert compose_scenario(str(path), []).layout == str(path)
