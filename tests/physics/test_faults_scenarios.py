"""Scenarios of an instructor's own: any layout, faults, weather and filling; and what is refused, with the reason."""

from __future__ import annotations

from importlib import resources

import pytest
from rigs import found_rig, runs_for

from engine_sim.errors import BadLayout, BadScenario, OutOfRange, UnknownName
from engine_sim.faults import faults
from engine_sim.scenarios import SetFault, compose_scenario, draw_scenario, exercises, new_ticket, pool, read_pool

HEAD = """
id = "own"
version = 1
title = "Own"
story = "A story."
layout = "two_tanks"
permits_xray = false
needs_ticket = true
"""


def test_weather_and_filling_reach_the_boat():
    rig = found_rig("tank_below", temperature_c=5.0, seaway=0.5, heel_deg=10.0, pitch_deg=-5.0, tank_fill_share=0.8)
    assert rig.circuit.fluids.temperature_k == pytest.approx(278.15)
    assert rig.circuit.seaway == 0.5
    assert rig.circuit.heel_rad == pytest.approx(0.1745, abs=1e-4)
    assert rig.circuit.pitch_rad == pytest.approx(-0.0873, abs=1e-4)
    assert rig.shares("tank")[0] == pytest.approx(0.8, abs=0.02)


def test_two_boats_prepared_from_one_plan_are_apart():
    plan = compose_scenario("tank_below", [SetFault("shut_valve", "shut_off")])
    one, other = plan.prepare(), plan.prepare()
    one.set_open("shut_off", 1.0)
    assert other.circuit.opening != one.circuit.opening


def test_another_filling_or_weather_is_another_boat():
    shares = [compose_scenario("tank_below", tank_fill_share=share).prepare().shares("tank")[0] for share in (0.3, 0.9)]
    assert shares[1] > shares[0] + 0.5


def test_a_layout_of_ones_own_is_read_anew_when_it_changes(tmp_path):
    text = resources.files("engine_sim.layouts").joinpath("tank_below.toml").read_text(encoding="utf-8")
    mine = tmp_path / "mine.toml"
    volumes = []
    for volume in ("0.060", "0.090"):
        mine.write_text(text.replace("volume_m3 = 0.060", f"volume_m3 = {volume}"), encoding="utf-8")
        rig = compose_scenario(str(mine), [SetFault("shut_valve", "shut_off")]).prepare()
        volumes.append(rig.topology.volumes[rig.topology.volume_number("tank")].volume_m3)
    assert volumes == [0.060, 0.090]
    assert runs_for(rig, 300.0) < 120.0


@pytest.mark.parametrize(
    ("settings", "error", "says"),
    [
        ({"layout": "tank_bellow"}, UnknownName, "tank_below"),
        ({"layout": "nowhere.toml"}, BadLayout, "cannot be opened"),
        ({"faults": [SetFault("shut_valv", "shut_off")]}, UnknownName, "shut_valve"),
        ({"faults": [SetFault("shut_valve", "tank")]}, UnknownName, "shut_off"),
        ({"faults": [SetFault("slack_joint", "pump_joint", 2.0)]}, OutOfRange, "1e-09 to 1e-06 m2"),
        ({"temperature_c": -60.0}, OutOfRange, "-20 to 60 degC"),
        ({"temperature_c": float("nan")}, OutOfRange, "temperature_c"),
        ({"seaway": 2.0}, OutOfRange, "seaway"),
        ({"heel_deg": float("inf")}, OutOfRange, "heel_deg"),
        ({"tank_fill_share": 1.0}, OutOfRange, "0 to 0.95"),
        ({"faults": [SetFault("waxed_fuel", "tank")], "temperature_c": 10.0}, BadScenario, "temperature of the boat"),
    ],
)
def test_what_cannot_be_played_is_refused(settings, error, says):
    with pytest.raises(error, match=says):
        compose_scenario(**settings)


SLACK = SetFault("slack_joint", "pump_joint")


@pytest.mark.parametrize(
    ("settings", "error", "says"),
    [
        ({"faults": [SetFault("slack_joint", "pump_joint", "big")]}, OutOfRange, "given as 'big'; allowed is 1e-09 to"),
        ({"faults": [SetFault("slack_joint", "pump_joint", True)]}, OutOfRange, "given as True; allowed"),
        ({"temperature_c": "warm"}, OutOfRange, "temperature_c .* given as 'warm'; allowed is -20 to 60 degC"),
        ({"seaway": [1]}, OutOfRange, r"seaway .* given as \[1\]; allowed"),
        ({"tank_fill_share": "full"}, OutOfRange, "given as 'full'; allowed is 0 to 0.95 of a tank"),
        ({"faults": SLACK}, BadScenario, r"given as SetFault\(.*allowed is a list of SetFault.*square brackets"),
        ({"faults": [("slack_joint", "pump_joint")]}, BadScenario, r"given as \('slack_joint', .*list of SetFault"),
        ({"faults": "slack_joint"}, BadScenario, "given as 'slack_joint'; allowed is a list of SetFault"),
        ({"faults": [SLACK, None]}, BadScenario, "given as None; allowed is a list of SetFault"),
        ({"faults": {"slack_joint": "pump_joint"}}, BadScenario, "allowed is a list of SetFault"),
        ({"faults": [SetFault(["slack_joint"], "pump_joint")]}, UnknownName, "No fault is called"),
        ({"faults": [SetFault("slack_joint", 3)]}, UnknownName, "place of the fault 'slack_joint'"),
        ({"layout": 7}, UnknownName, "No layout is called"),
    ],
)
def test_what_is_not_even_of_the_right_sort_is_refused_as_clearly(settings, error, says):
    with pytest.raises(error, match=says):
        compose_scenario(**settings)


def test_a_bare_number_is_asked_for_without_a_unit():
    share = next(item for item in faults().values() if item.severity.usual.unit == "1" and item.severity.high > 1e-9)
    with pytest.raises(OutOfRange) as refused:
        share.check_severity(-5.0)
    assert " 1. Give" not in str(refused.value) and "Give a number in that range." in str(refused.value)


def test_a_pool_can_set_weather_and_draw_pairs():
    plan = read_pool(
        HEAD
        + """
temperature_c = 12.0
seaway = 0.3
tank_fill_share = 0.7

[[draw]]
fault = "slack_joint"

[[draw.also]]
fault = "loaded_element"
parts = ["separator", "fine_filter"]
severities = [2.0e3]
"""
    )
    (draw,) = plan.draws
    assert draw.parts == ("separator_joint", "pump_joint") and len(draw.also) == 1
    assert (plan.weather.temperature_c, plan.weather.seaway, plan.tank_fill_share) == (12.0, 0.3, 0.7)


@pytest.mark.parametrize(
    ("more", "error", "says"),
    [
        ("temperature = 3.0", UnknownName, "temperature_c"),
        ('seaway = "rough"', BadScenario, "must be a number"),
        ("seaway = 7.0", OutOfRange, "seaway"),
        ('[[draw]]\nfault = "slack_joint"\nseverities = [1.0]', BadScenario, "1e-09 to 1e-06 m2"),
        ('[[draw]]\nfault = "slack_joint"\nseverities = []', BadScenario, "no severities"),
        ('[[draw]]\nfault = "slack_joint"\nparts = []', BadScenario, "no parts"),
        ('[[draw]]\nfault = "slack_joint"\nparts = ["tank"]', UnknownName, "pump_joint"),
        ('[[draw]]\nfault = "slack_joint"\nplace = "tank"', UnknownName, "parts"),
        ('[[draw]]\nfault = "empty_tank"\n[[draw.also]]\nfault = "water_in_tank"', BadScenario, "exclude each other"),
        ("[[draw]]\nfault = slack", BadScenario, "cannot be read"),
    ],
)
def test_a_wrong_pool_is_refused_with_what_is_allowed(more, error, says):
    with pytest.raises(error, match=says):
        read_pool(HEAD + more)


@pytest.mark.parametrize("exercise", exercises())
def test_every_pool_of_the_course_can_be_drawn(exercise):
    plan = pool(exercise)
    ticket = new_ticket() if plan.needs_ticket else ""
    assert draw_scenario(exercise, ticket).faults == draw_scenario(exercise, ticket.lower()).faults
    for draw in plan.draws:
        for part in draw.parts:
            assert plan.scenario("", (SetFault(draw.fault, part, draw.possible_severity[0]),)).faults[0].part == part
