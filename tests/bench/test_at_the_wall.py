"""The page for the wall: a secret stays one until it is shown, a number is a check, a logbook is gone through."""

from __future__ import annotations

import json

import pytest
from bench_wire import Wire, logbook, ticket_for

from engine_sim.bench import Bench
from engine_sim.bench.presenter_desk import PresenterDesk
from engine_sim.bench.presenter_panel import CHOICES
from engine_sim.bench.presenter_words import TELLS
from engine_sim.wording import CAUTIONS, FAULTS


@pytest.fixture
def wall() -> Wire:
    return Wire(Bench(desk=PresenterDesk()))


def begun(wall: Wire, fault: str = "shut_valve", place: str = "shut_off", boat: str = "tank_below") -> Wire:
    wall.ask("page", "boat", which=boat)
    wall.ask("page", "set", fault=fault, place=place)
    assert wall.panel()["present"]["stage"] == "show"
    return wall


def test_every_boat_can_be_chosen_and_offers_its_own_faults(wall):
    boats = [one["id"] for one in wall.panel()["present"]["setting"]["boats"]]
    assert {"tank_below", "two_tanks", "single_cylinder"} <= set(boats)
    for boat in boats:
        wall.ask("page", "boat", which=boat)
        offered = wall.panel()["present"]["setting"]["faults"]
        assert offered and all(one["places"] for one in offered)
        assert ("wrong_setting" in {one["id"] for one in offered}) == (boat == "two_tanks")


def test_what_is_set_stays_hidden_until_it_is_shown(wall):
    begun(wall)
    state = json.dumps({name: value for name, value in wall.bench.get_state().items() if name not in ("words", "_esm")})
    assert f"shut-off – {FAULTS['shut_valve']}" not in state
    present = wall.panel()["present"]
    assert (present["known"], present["was"]) == ([], "")
    wall.ask("page", "xray")
    assert not wall.panel()["xray_on"] and not wall.panel()["xray_allowed"]
    wall.ask("page", "show")
    present = wall.panel()["present"]
    assert present["was"] == TELLS["was"].format(what=f"shut-off – {FAULTS['shut_valve']}")
    assert wall.panel()["xray_on"] and present["known"]


def test_a_fault_that_is_half_chosen_is_told_and_nothing_begins(wall):
    wall.ask("page", "set", fault="shut_valve", place="separator")
    assert wall.panel()["present"]["stage"] == "set" and wall.panel()["notice"] == TELLS["chosen"]


def test_a_drawn_fault_can_be_any_and_is_playable(wall):
    wall.ask("page", "boat", which="high_tank")
    wall.ask("page", "draw")
    assert wall.panel()["present"]["stage"] == "show" and wall.panel()["present"]["choices"]


def test_the_number_of_a_choice_makes_that_check(wall):
    begun(wall)
    choices = wall.panel()["present"]["choices"]
    assert 1 < len(choices) <= CHOICES
    number = next(at for at, one in enumerate(choices) if one["label"].startswith("starter"))
    wall.ask("page", "vote", number=number + 1)
    assert wall.noticed()[-1]["head"].startswith("starter")
    assert wall.panel()["clock"] != "0:00:00"


def test_a_choice_brings_the_cautions_of_all_that_is_done_for_it(wall):
    """Every choice says what the same work says at its parts, opening and closing included."""
    begun(wall)
    attempt = wall.bench.desk.attempt
    shown = wall.panel()["present"]["choices"]
    for one, check in zip(shown, wall.bench.desk.choices(), strict=True):
        said = {
            offer.caution
            for part, _ in check.deeds
            for offer in attempt.offers(part)
            if (part, offer.action) in check.deeds
        }
        assert set(one["cautions"]) == said - {""}
    assert any(CAUTIONS["starting"] in one["cautions"] for one in shown)


@pytest.mark.parametrize("number", [0, CHOICES + 1, "1", None, -1, 2.0])
def test_a_number_that_is_no_choice_is_told_and_does_nothing(wall, number):
    begun(wall)
    told = wall.ask("page", "vote", number=number)
    assert told["notice"] and wall.noticed() == []


def test_the_best_check_is_always_among_the_choices(wall):
    begun(wall, "slack_joint", "separator_joint")
    desk = wall.bench.desk
    for _ in range(4):
        best = desk._coach.best()
        if best is None:
            break
        labels = [one["label"] for one in wall.panel()["present"]["choices"]]
        wall.ask("page", "vote", number=labels.index(best.label) + 1)
    left = int("".join(filter(str.isdigit, wall.panel()["present"]["left"])) or 1)
    assert left < 20


def test_a_part_can_be_worked_at_as_on_any_bench(wall):
    begun(wall)
    wall.ask("shut_off", "open")
    assert "You" in wall.noticed()[-1]["seen"][-1]["text"]
    wall.ask("page", "leave")
    assert wall.panel()["present"]["stage"] == "set"


def test_a_logbook_is_gone_through_forth_and_back(wall, at, tmp_path):
    worked = at(ticket=ticket_for("shut_valve"))
    for part, action in (("starter", "crank_5"), ("shut_off", "look"), ("shut_off", "open")):
        worked.ask(part, action)
    wall.ask("page", "replay", text=logbook(tmp_path).decode())
    present = wall.panel()["present"]
    assert (present["stage"], present["step"], wall.noticed()) == ("replay", TELLS["start"], [])
    shares = []
    for number in (1, 2, 3):
        wall.ask("page", "step", which="next")
        assert len(wall.noticed()) == number
        assert wall.panel()["present"]["step"].startswith(TELLS["step"].format(now=number, of=3))
        shares.append(wall.panel()["present"]["known"])
    assert shares[1][0][0].startswith("shut-off")
    wall.ask("page", "step", which="next")
    assert len(wall.noticed()) == 3
    wall.ask("page", "step", which="previous")
    assert len(wall.noticed()) == 2 and wall.panel()["present"]["known"] == shares[1]
    for which, there in (("last", 3), ("first", 0)):
        wall.ask("page", "step", which=which)
        assert len(wall.noticed()) == there


@pytest.mark.parametrize("text", ["", "no logbook", '{"kind":"opened"}\n', "\x00\xff"])
def test_a_file_that_is_no_logbook_is_told_in_words(wall, text):
    told = wall.ask("page", "replay", text=text)
    assert told["notice"] and wall.panel()["present"]["stage"] == "set"
