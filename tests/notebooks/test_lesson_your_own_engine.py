"""What the lesson on the own engine tells its readers they will find is what the form, the card and the bench show."""

from __future__ import annotations

import re
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pypdf
import pytest
from lesson_steps import Lesson, does

from engine_sim.attempt import Attempt
from engine_sim.bench import own_words
from engine_sim.bench.own_engine import OwnEngine
from engine_sim.bench.words import PAGE
from engine_sim.circuit import read_layout
from engine_sim.classroom.own_engine_card import card_pdf
from engine_sim.drawing.path import path_in_words
from engine_sim.scenarios import SetFault, compose_scenario
from engine_sim.scenarios.own_boat import OwnBoat
from engine_sim.scenarios.own_layout import layout_text
from engine_sim.wording import OWN_FIELDS

LESSON = Lesson("your_own_engine").text
PAGE_PART = "page"


@pytest.fixture
def page(tmp_path: Path) -> Iterator[OwnEngine]:
    made = OwnEngine(tmp_path, card_pdf)
    yield made
    made.desk.close()


def asks(page: OwnEngine, action: str, **answers: str) -> dict[str, object]:
    page.desk.handle(PAGE_PART, action, {"answers": answers})
    own = page.desk.panel()["own"]
    assert isinstance(own, dict)
    return own


def on_a_boat(folder: Path, boat: OwnBoat, *faults: SetFault) -> Attempt:
    path = folder / "boat.toml"
    path.write_text(layout_text(boat), encoding="utf-8")
    return Attempt(compose_scenario(str(path), list(faults)))


def test_every_button_and_field_that_the_lesson_names_is_on_the_page() -> None:
    named = set(re.findall(r"(?<!\*)\*([A-Z][^*]+)\*(?!\*)", LESSON))
    named -= {"No.", "Yes.", "Wrong and tempting:"}
    there = {*own_words.FORM.values(), *OWN_FIELDS.values(), PAGE["in_words"]}
    assert named - there <= {"What the skipper must know"}
    assert any(label.startswith("What the skipper must know") for label in OWN_FIELDS.values())
    assert {own_words.FORM[key] for key in ("draw", "keep", "card", "blank", "practise", "give_up")} <= named


def test_a_wrong_figure_is_refused_beside_its_field_and_nothing_typed_is_lost(page: OwnEngine) -> None:
    own = asks(page, "keep", name="Saltwind", tank_l="3", spares="two elements")
    assert "allowed is 5 to 1000" in own["wrong"]["tank_l"]
    assert (own["answers"]["tank_l"], own["answers"]["spares"]) == ("3", "two elements")


def test_keep_writes_two_files_and_the_page_opens_as_it_was_left(page: OwnEngine, tmp_path: Path) -> None:
    asks(page, "keep", name="Saltwind", tank_l="80")
    assert len(list(tmp_path.iterdir())) == 2
    again = OwnEngine(tmp_path, card_pdf).desk.panel()["own"]
    assert isinstance(again, dict) and again["answers"]["tank_l"] == "80"


def test_the_last_sentence_under_the_drawing_names_the_bleed_points_in_the_lessons_order() -> None:
    told = path_in_words(read_layout(layout_text(OwnBoat("Saltwind"))))
    last = told.rsplit(". ", 1)[1]
    places = [last.index(name) for name in ("separator", "bleed screw; fine filter", "outlet screw", "injection pump")]
    assert last.startswith("Air is let out") and places == sorted(places)


@pytest.mark.parametrize(("where", "drips", "air"), [("below", False, True), ("above", True, False)])
def test_a_slack_joint_drips_below_a_high_tank_and_lets_air_in_above_a_low_one(
    where: str, drips: bool, air: bool, tmp_path: Path
) -> None:
    attempt = on_a_boat(tmp_path, OwnBoat("Saltwind", tank_stands=where), SetFault("slack_joint", "pump_joint"))
    looks = does(attempt, "pump_joint", "look")
    assert ("wet with fuel" in looks, "dry and clean" in looks, "mostly air" in looks) == (drips, not drips, air)
    does(attempt, "starter", "crank_10")
    assert ("ran evenly" in does(attempt, "engine", "run_cruise_5min")) != air


def test_the_bench_has_the_boats_own_parts_and_nothing_else(tmp_path: Path) -> None:
    boat = OwnBoat("Saltwind", lift_pump="electric", bowl="metal", stop="solenoid", preheat=False)
    attempt = on_a_boat(tmp_path, boat)
    offered = {part.id: {offer.action for offer in attempt.offers(part.id)} for part in attempt.parts()}
    assert not [action for action in offered["lift_pump"] if action.startswith("lever")]
    assert "preheat" not in offered and "stop_control" not in offered
    assert "shows nothing" in does(attempt, "separator", "look") or "metal" in does(attempt, "separator", "look")
    assert "open_drain" in offered["separator"]
    assert "click" in does(attempt, "engine", "key_on")


def test_the_card_has_all_that_the_lesson_says_it_has() -> None:
    boat = OwnBoat("Saltwind", spares="two elements in the port locker", call="Harbour yard", must_know="Glow 15 s")
    (page,) = pypdf.PdfReader(BytesIO(card_pdf(boat))).pages
    text = " ".join(page.extract_text().split())
    for said in ("two elements in the port locker", "Harbour yard", "Glow 15 s", "Draining the bowl", "Home on a can"):
        assert said in text
    assert "Held against the engine on (date)" in text and "by ____" in text


def test_practice_can_be_given_up_and_goes_on_and_leaves_no_file(page: OwnEngine, tmp_path: Path) -> None:
    page.desk.pick = lambda places, weights: ("shut_valve", "shut_off")
    asks(page, "practise", name="Saltwind")
    before = {path.name for path in tmp_path.iterdir()}
    page.desk.handle(PAGE_PART, "give_up", {})
    panel = page.desk.panel()
    assert panel["xray_on"] and not panel["handed_in"] and not panel["may_mark"]
    page.desk.handle("shut_off", "open", {})
    assert len(page.desk.noticed()) == 1 and {path.name for path in tmp_path.iterdir()} == before
