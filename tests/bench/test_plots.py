"""The two plots: figures as in the rig, limit lines as published, axes with units, and words beside them."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET

import pytest
from bench_wire import LESSON, ticket_for

from engine_sim.attempt import Attempt
from engine_sim.bench import plot_words, plots
from engine_sim.bench.panel import labels
from engine_sim.bench.way import along_the_way
from engine_sim.circuit import load_layout
from engine_sim.scenarios import SetFault, compose_scenario
from engine_sim.units import STANDARD_ATMOSPHERE_PA

INCH_OF_MERCURY_PA = 3386.389
"""The conventional inch of mercury (NIST Special Publication 811, appendix B.8; from memory)."""


def way_of(attempt: Attempt, unused=()):
    return along_the_way(load_layout(attempt.scenario.layout), attempt.xray().volumes, unused)


def test_the_limit_lines_are_6_and_12_inches_of_mercury():
    """US Army TM 5-3895-346-14: 6 inHg with clean elements, change at 12 inHg."""
    assert pytest.approx(6 * INCH_OF_MERCURY_PA, rel=0.005) == plots.CLEAN_PA
    assert pytest.approx(12 * INCH_OF_MERCURY_PA, rel=0.005) == plots.CHANGE_PA


def test_the_way_carries_the_rigs_pressures_in_flow_order():
    attempt = Attempt(compose_scenario("tank_below", [], permits_xray=True))
    way, volumes = way_of(attempt), attempt.xray().volumes
    assert [one.at_m for one in way] == sorted(one.at_m for one in way)
    parts = list(dict.fromkeys(one.part for one in way))
    assert parts == ["tank", "pick_up", "shut_off", "suction_hose", "separator", "pump_hose", "lift_pump",
                     "feed_hose", "fine_filter", "gallery_hose", "injection_pump"]  # fmt: skip
    gallery = (volumes["injection_pump.gallery"].pressure_pa - STANDARD_ATMOSPHERE_PA) / 1000.0
    assert way[-1].kpa == pytest.approx(gallery)


def test_a_shut_valve_shows_as_the_step_in_the_curve():
    attempt = Attempt(compose_scenario("tank_below", [], permits_xray=True))
    attempt.act("starter", "crank_10")
    attempt.act("shut_off", "shut")
    attempt.act("engine", "run_idle_1min")
    way = way_of(attempt)
    before = [one.kpa for one in way if one.part == "pick_up"][-1]
    behind = next(one.kpa for one in way if one.part == "suction_hose")
    assert before - behind > 10.0
    steps = [abs(a.kpa - b.kpa) for a, b in itertools.pairwise(way)]
    assert max(steps) == pytest.approx(before - behind, abs=2.0)


def test_a_head_stands_above_the_air_around():
    """Hydrostatics, dp = rho g h: fuel in the feed from a tank above stands at the head of its level."""
    attempt = Attempt(compose_scenario("high_tank", [], permits_xray=True))
    attempt.act("bench", "wait_5min")
    assert max(one.kpa for one in way_of(attempt)) > 2.0


def test_the_tank_that_is_not_in_use_is_left_out():
    attempt = Attempt(compose_scenario("two_tanks", [], permits_xray=True))
    parts = {one.part for one in way_of(attempt, ("starboard_tank", "starboard_pick_up"))}
    assert "tank" in parts and not {"starboard_tank", "starboard_pick_up", "can", "return_line"} & parts


def drawn(svg: str) -> ET.Element:
    return ET.fromstring(svg)


def test_the_pressure_plot_has_axes_with_units_and_words():
    attempt = Attempt(compose_scenario("tank_below", [], permits_xray=True))
    root = drawn(plots.pressure_plot(load_layout("tank_below"), way_of(attempt), labels(attempt)))
    texts = [node.text for node in root.iter() if node.text]
    assert root.get("role") == "img"
    assert {plot_words.PLOT["kpa"], plot_words.PLOT["way_m"], plot_words.PLOT["change"], "shut-off"} <= set(texts)
    told = next(node.text for node in root if node.tag.endswith("desc"))
    assert re.search(r"lowest in .*, \d+ kPa below the air around", told)


def test_a_curve_runs_where_its_figures_are():
    axes = plots.Axes((0.0, 10.0), (0.0, 100.0))
    assert axes.x(0.0) == plots.LEFT and axes.x(10.0) == plots.WIDTH - plots.RIGHT
    assert axes.y(0.0) == plots.HEIGHT - plots.LOW and axes.y(100.0) == plots.TOP
    assert axes.y(50.0) == pytest.approx((plots.TOP + plots.HEIGHT - plots.LOW) / 2)


def test_a_trend_shows_what_was_read_and_nothing_else():
    attempt = Attempt(compose_scenario("tank_below", [SetFault("loaded_element", "separator")]))
    attempt.act("tank", "dip")
    attempt.act("lift_pump", "fit_gauge")
    attempt.act("starter", "crank_10")
    attempt.act("lift_pump", "read_vacuum")
    found = plots.readings(attempt.observations)
    assert set(found) == {"dip", "vacuum"}
    for gauge, points in found.items():
        texts = " ".join(seen.text for seen in attempt.observations)
        assert all(f"{figure:g}" in texts for _, figure in points), gauge
        root = drawn(plots.trend_plot(gauge, points))
        assert len([node for node in root.iter() if node.get("class") == "dot"]) == len(points)
        assert plot_words.GAUGE_NAMES[gauge][1] in "".join(root.itertext())


def test_round_steps():
    assert [plots._nice(step) for step in (0.9, 1.0, 1.1, 3.0, 7.0, 40.0)] == [1.0, 1.0, 2.0, 5.0, 10.0, 50.0]


def test_the_bench_offers_the_pressure_only_with_x_ray(at):
    wire = at(LESSON)
    wire.ask("page", "plot", which="pressure")
    assert wire.panel()["plot"].startswith("<svg") and wire.panel()["plot_of"] == "pressure"
    wire.ask("page", "plot", which="pressure")
    assert wire.panel()["plot"] == ""


def test_without_permission_there_is_no_plot_of_the_inside(at):
    wire = at(ticket=ticket_for("shut_valve"))
    wire.ask("page", "plot", which="pressure")
    assert wire.panel()["plot"] == "" and wire.panel()["plots"] == []
    wire.ask("tank", "dip")
    assert wire.panel()["plots"] == [["dip", "Dipstick"]]


def test_a_stop_is_drawn_as_a_stop_and_no_line_joins_it_to_what_ran():
    runs = plots._without_a_stop([(1.0, 850.0), (2.0, 2000.0), (3.0, 0.0), (9.0, 0.0), (12.0, 850.0)])
    assert runs == [[(1.0, 850.0), (2.0, 2000.0)], [(3.0, 0.0), (9.0, 0.0)], [(12.0, 850.0)]]
    attempt = Attempt(compose_scenario("tank_below", [SetFault("shut_valve", "shut_off")]))
    for part, action in (("starter", "crank_5"), ("engine", "run_idle_5min"), ("engine", "run_idle_1min")):
        attempt.act(part, action)
    turns = plots.readings(attempt.observations).get("rpm", [])
    assert not turns or turns[-1][1] == 0.0
