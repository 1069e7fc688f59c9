"""The page of an own engine without a browser: the form and its files, the cards given, and practice on the boat."""

from __future__ import annotations

import base64
import json
import re
from importlib.resources import files
from pathlib import Path

import pytest
from bench_wire import Wire
from kinds import APART
from own_boats import NAME
from test_cure import LAYOUTS, WITHOUT_EFFECT
from test_words_and_colours import CODERS_WORDS, readability_grade

from engine_sim.bench import own_practice, own_words, words
from engine_sim.bench.own_engine import OWN_SCRIPTS, OWN_STYLES, OwnEngine
from engine_sim.circuit import load_layout
from engine_sim.scenarios import SetFault, compose_scenario
from engine_sim.scenarios.own_boat import BadOwnBoat, OwnBoat, blank_answers, boat_from, read_answers
from engine_sim.wording import CARD_WORDS, OWN_CHOICES, OWN_FIELDS, OWN_HINTS, OWN_PARTS_OF_FORM

GOOD = {"name": NAME, "tank_l": "90,5", "tanks": "2", "lift_pump": "electric", "call": "Yard\nChannel 16"}
SHUT = ("shut_valve", "shut_off")
TELLS = own_words.TELLS


def card_maker(boat: OwnBoat | None) -> bytes:
    """Stand in for the maker of cards."""
    if boat is not None and boat.spares == "unprintable":
        raise BadOwnBoat({"spares": "no letter for that"})
    return b"%PDF " + (b"blank" if boat is None else boat.name.encode())


@pytest.fixture
def opened(tmp_path):
    """Open the page in a folder, as often as asked; practice is always of one fault, which is known to show."""
    made: list[OwnEngine] = []

    def open_page(fault: tuple[str, str] = SHUT) -> Wire:
        page = OwnEngine(tmp_path, card_maker)
        page.desk.pick = lambda places, weights: fault
        made.append(page)
        return Wire(page)

    yield open_page
    for one in made:
        one.desk.close()


@pytest.fixture
def page(opened) -> Wire:
    return opened()


@pytest.fixture
def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Set a fault without trying it first: that takes a second or two."""
    monkeypatch.setattr(own_practice, "shows", lambda scenario: True)


def names_in(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def form(page: Wire) -> dict[str, object]:
    return page.panel()["own"]


# ---- the form -------------------------------------------------------------------------------------------------------


def test_a_page_that_is_new_has_an_empty_form_and_no_bench(page, tmp_path):
    assert page.panel()["mode"] == "form"
    assert form(page)["answers"] == blank_answers()
    assert (form(page)["wrong"], form(page)["drawn"], page.bench.get_state()["skeleton"]) == ({}, None, "")
    assert names_in(tmp_path) == set()


def test_what_is_wrong_is_said_beside_its_field_and_what_was_typed_stays(page, tmp_path):
    for action in ("draw", "keep", "card", "practise"):
        told = page.ask("page", action, answers={"name": " ", "tank_l": "lots", "spares": "two elements"})
        assert told["notice"] == TELLS["wrong"] and page.panel()["warning"]
        assert set(form(page)["wrong"]) == {"name", "tank_l"}
        assert "given as 'lots'; allowed is 5 to 1000" in form(page)["wrong"]["tank_l"]
        answers = form(page)["answers"]
        assert (answers["name"], answers["tank_l"], answers["spares"]) == (" ", "lots", "two elements")
    assert names_in(tmp_path) == set()
    page.ask("page", "draw", answers=GOOD)
    assert form(page)["wrong"] == {} and form(page)["drawn"]


def test_the_drawing_comes_with_its_words_and_writes_nothing(page, tmp_path):
    page.ask("page", "draw", answers=GOOD)
    drawn = form(page)["drawn"]
    assert drawn["title"] == f"The fuel path of {NAME}"
    assert drawn["picture"].startswith("<svg") and "starboard" in drawn["picture"]
    assert "electric lift pump" in drawn["words"] and "in this order" in drawn["words"]
    assert names_in(tmp_path) == set()


def test_keep_writes_answers_and_a_boat_that_plays(page, tmp_path):
    told = page.ask("page", "keep", answers=GOOD)
    assert told["notice"] == TELLS["kept"]
    assert names_in(tmp_path) == {own_words.ANSWERS_FILE, own_words.LAYOUT_FILE}
    kept = boat_from(read_answers((tmp_path / own_words.ANSWERS_FILE).read_text("utf-8")))
    assert kept == boat_from(blank_answers() | GOOD)
    assert compose_scenario(str(tmp_path / own_words.LAYOUT_FILE), [SetFault("wrong_setting", "changeover")])


def test_reopening_the_page_brings_the_answers_back_and_draws_them(opened):
    opened().ask("page", "keep", answers=GOOD)
    again = form(opened())
    assert again["answers"] == blank_answers() | GOOD | {"tank_l": "90.5"}
    assert again["drawn"]["title"].endswith(NAME) and again["wrong"] == {}


def test_a_file_that_cannot_be_read_is_told_and_put_by_when_the_form_is_kept(opened, tmp_path):
    (tmp_path / own_words.ANSWERS_FILE).write_text("name = = 3", encoding="utf-8")
    page = opened()
    assert "Mend that line" in page.panel()["notice"] and page.panel()["warning"]
    assert form(page)["answers"] == blank_answers()
    told = page.ask("page", "keep", answers=GOOD)
    assert TELLS["put_by"] in told["notice"]
    assert (tmp_path / own_words.UNREAD_FILE).read_text("utf-8") == "name = = 3"
    assert form(opened())["answers"]["name"] == NAME


def test_what_a_file_says_wrong_stands_in_the_form_with_what_is_wrong(opened, tmp_path):
    (tmp_path / own_words.ANSWERS_FILE).write_text('name = "Saltwind"\ntank_l = 3\n', encoding="utf-8")
    found = form(opened())
    assert found["answers"]["tank_l"] == "3" and set(found["wrong"]) == {"tank_l"} and found["drawn"] is None


def test_a_file_that_cannot_be_written_is_told_and_nothing_typed_is_lost(page, tmp_path):
    (tmp_path / own_words.ANSWERS_FILE).mkdir()
    told = page.ask("page", "keep", answers=GOOD)
    assert "could not be written" in told["notice"] and own_words.ANSWERS_FILE in told["notice"]
    assert form(page)["answers"]["name"] == NAME


@pytest.mark.parametrize("answers", [None, 3, [], {"name": 7}, {"colour": "red"}, {"name": None, "tank_l": ["x"]}])
def test_answers_of_a_strange_kind_change_nothing(page, answers):
    page.ask("page", "draw", answers=answers)
    assert form(page)["answers"] == blank_answers() and set(form(page)["wrong"]) == {"name"}


@pytest.mark.parametrize("action", ["ticket", "marks", "help", "save", "nonsense", "again", "replay"])
def test_what_this_page_does_not_do_is_told(page, action):
    assert page.ask("page", action)["notice"] == words.NOT_UNDERSTOOD


# ---- cards ----------------------------------------------------------------------------------------------------------


def test_the_card_is_written_given_and_the_answers_are_kept(page, tmp_path):
    told = page.ask("page", "card", answers=GOOD)
    assert told["notice"] == TELLS["card_made"]
    assert (told["file"]["name"], told["file"]["kind"]) == (own_words.CARD_FILE, "application/pdf")
    given = base64.b64decode(told["file"]["base64"])
    assert given == b"%PDF Saltwind" == (tmp_path / own_words.CARD_FILE).read_bytes()
    assert own_words.ANSWERS_FILE in names_in(tmp_path)


def test_the_blank_card_needs_no_answers(page, tmp_path):
    told = page.ask("page", "blank", answers={"name": ""})
    assert told["file"]["name"] == own_words.BLANK_FILE and form(page)["wrong"] == {}
    assert (tmp_path / own_words.BLANK_FILE).read_bytes() == b"%PDF blank"
    assert names_in(tmp_path) == {own_words.BLANK_FILE}


def test_letters_that_cannot_be_printed_are_told_beside_their_field(page, tmp_path):
    told = page.ask("page", "card", answers=GOOD | {"spares": "unprintable"})
    assert "file" not in told and form(page)["wrong"] == {"spares": "no letter for that"}
    assert names_in(tmp_path) == set()


def test_a_card_is_given_even_where_it_cannot_be_written(page, tmp_path):
    (tmp_path / own_words.CARD_FILE).mkdir()
    told = page.ask("page", "card", answers=GOOD)
    assert told["file"]["name"] == own_words.CARD_FILE and "could not be written" in told["notice"]


# ---- practice -------------------------------------------------------------------------------------------------------


@pytest.mark.usefixtures("at_once")
def test_practice_hides_what_it_is_until_it_is_told(page):
    told = page.ask("page", "practise", answers=GOOD)
    assert TELLS["begun"] in told["notice"] and page.panel()["mode"] == "work"
    assert page.panel()["title"] == f"Practice on {NAME}"
    page.ask("page", "xray")
    page.ask("page", "plot", which="pressure")
    shown = page.panel()
    assert (shown["truth"], shown["xray_on"], shown["xray_allowed"], shown["plots"]) == ([], False, False, [])
    state = {key: value for key, value in page.bench.get_state().items() if key not in ("words", "_esm")}
    assert "What it was" not in json.dumps(state)
    page.ask("page", "give_up")
    shown = page.panel()
    assert shown["truth"][0] == "What it was: shut-off – shut." and shown["xray_on"] and shown["xray_allowed"]
    assert not any("Mark my attempt" in line for line in shown["truth"])


@pytest.mark.usefixtures("at_once")
def test_after_it_is_told_the_work_goes_on_and_handing_in_ends_it(page):
    page.ask("page", "practise", answers=GOOD)
    page.ask("page", "give_up")
    page.ask("shut_off", "open")
    assert "You" in page.noticed()[-1]["seen"][-1]["text"]
    page.ask("page", "diagnose", which="shut_off", fault="shut_valve", evidence=[])
    page.ask("page", "hand_in")
    assert page.panel()["handed_in"]
    assert "What you said: shut-off – shut." in page.panel()["truth"]
    page.ask("page", "end")
    assert page.panel()["mode"] == "form" and page.bench.get_state()["skeleton"] == ""


@pytest.mark.usefixtures("at_once")
def test_a_boat_that_is_changed_in_the_form_stays_as_it_was_under_the_hands(page):
    page.ask("page", "practise", answers=GOOD)
    before = page.bench.get_state()["skeleton"]
    page.ask("page", "keep", answers=GOOD | {"tanks": "1", "cylinders": "1"})
    page.ask("changeover", "look")
    assert page.noticed() and page.bench.get_state()["skeleton"] == before
    page.ask("page", "practise", answers=GOOD | {"tanks": "1"})
    assert page.noticed() == [] and "starboard" not in page.bench.get_state()["skeleton"]


@pytest.mark.usefixtures("at_once")
def test_nothing_of_a_practice_is_kept_in_a_file(page, tmp_path):
    page.ask("page", "practise", answers=GOOD)
    page.ask("starter", "crank_5")
    page.ask("page", "note", text="looked at the shut-off")
    assert names_in(tmp_path) == {own_words.ANSWERS_FILE, own_words.LAYOUT_FILE}
    assert page.panel()["story"] == TELLS["story"] and "kept in a file" in TELLS["story"]


def test_to_give_up_without_a_practice_is_told(page):
    assert page.ask("page", "give_up")["notice"] == TELLS["no_practice"]


def test_no_practice_is_of_what_no_owner_cures_or_what_no_boat_feels():
    """What graded exercises leave out is left out here too."""
    apart = {text.split("@")[0] for texts in APART.values() for text in texts.split()}
    assert set(own_practice.NOT_FOR_OWNERS) == apart
    without_effect = {name for name, boats in WITHOUT_EFFECT.items() if set(boats) == set(LAYOUTS)}
    left_out = {*own_practice.NOT_FOR_OWNERS, *own_practice.CLEARS_ITSELF}
    assert left_out == apart | without_effect
    found = own_practice.faults_for(load_layout("two_tanks"))
    assert not {name for name, _ in found} & left_out
    assert {part for _, part in found} >= {"tank", "changeover", "separator"}
    assert "starboard_tank" not in {part for _, part in found}, "the tank that is not in use stops no engine"


def test_a_fault_that_does_not_show_is_drawn_anew(tmp_path):
    """A fine filter that chokes a larger engine lets a single cylinder's trickle through: nobody would notice."""
    page = OwnEngine(tmp_path, card_maker)
    wanted = [("loaded_element", "fine_filter"), SHUT]
    asked: list[int] = []

    def pick(places, weights):
        asked.append(len(places))
        return wanted[len(asked) - 1]

    page.desk.pick = pick
    wire = Wire(page)
    wire.ask("page", "practise", answers={"name": NAME, "cylinders": "1"})
    assert asked == [asked[0], asked[0] - 1]
    wire.ask("page", "give_up")
    assert wire.panel()["truth"][0] == "What it was: shut-off – shut."
    page.desk.close()


def test_a_practice_is_drawn_by_lot_as_likely_as_on_board():
    weights = own_practice.faults_for(load_layout("tank_below"))
    drawn = {own_practice.by_lot(list(weights), list(weights.values())) for _ in range(60)}
    assert len(drawn) > 5 and drawn <= set(weights)


# ---- words ----------------------------------------------------------------------------------------------------------


def all_words() -> list[str]:
    choices = [label for some in OWN_CHOICES.values() for label in some.values()]
    said = [*own_words.FORM.values(), *TELLS.values(), *OWN_FIELDS.values(), *OWN_HINTS.values(), *CARD_WORDS.values()]
    return [*said, *choices, *(title for title, _ in OWN_PARTS_OF_FORM), own_words.FROM_THE_FORM]


def test_no_coders_words_and_the_reading_level_of_age_14():
    assert [text for text in all_words() if CODERS_WORDS.search(text)] == []
    assert readability_grade([text for text in all_words() if len(text.split()) >= 4]) <= 9


def test_the_form_and_its_words_know_the_same_names():
    script = files("engine_sim.bench").joinpath(OWN_SCRIPTS[-1]).read_text("utf-8")
    used = set(re.findall(r"\bsaid\.([a-z_]+)\b", script)) | set(re.findall(r'"(keep|practise|card|blank)"', script))
    assert used == set(own_words.FORM)
    assert re.findall(r'"[A-Z][a-z]+ [a-z ]+[^"]*"', script) == []


def test_every_rule_of_the_style_is_for_the_bench_alone():
    for name in OWN_STYLES:
        text = files("engine_sim.bench").joinpath(name).read_text("utf-8")
        for brackets in (r"@[^{]+\{", r"\([^()]*\)", r"\([^()]*\)"):
            text = re.sub(brackets, "", text)
        selectors = [one for group in re.findall(r"([^{}]+)\{[^{}]*\}", text) for one in group.split(",")]
        assert selectors and [one for one in selectors if not one.strip().startswith(".fuel-bench")] == []
