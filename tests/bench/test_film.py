"""The film of a timed action: the same work and the same logbook with it as without, and nothing shown too early."""

from __future__ import annotations

import pytest
from bench_wire import ticket_for, tickets

from engine_sim.attempt import Attempt
from engine_sim.bench import scene
from engine_sim.bench.film import MOST_MS, frames_of
from engine_sim.bench.sounds import _HEARD, sounds_of
from engine_sim.scenarios import SetFault, compose_scenario
from engine_sim.wording import SENTENCES

WORK = (
    ("starter", "crank_10"),
    ("fine_filter", "open_screw"),
    ("lift_pump", "lever_60"),
    ("fine_filter", "close_screw"),
    ("separator", "open_vent"),
    ("separator", "open_drain"),
    ("bench", "wait_1min"),
)
FIRST = next(tickets())


@pytest.mark.parametrize("fault", ["shut_valve", "air_in_filter"])
def test_watching_changes_nothing(fault):
    """The same work with a watcher and without notices the same, to the letter and to the second."""
    part = {"shut_valve": "shut_off", "air_in_filter": "fine_filter"}[fault]
    scenario = compose_scenario("tank_below", [SetFault(fault, part)])
    plain, watched = Attempt(scenario), Attempt(scenario)
    for at_part, action in WORK:
        step, (again, glimpses) = plain.act(at_part, action), watched.act_watched(at_part, action)
        assert step == again
        times = [one.clock_s for one in glimpses]
        assert times == sorted(times) and all(t <= again.clock_s + 1e-6 for t in times)
    assert plain.outside() == watched.outside()


def test_frames_follow_each_other_and_are_quickly_over(at):
    wire = at(ticket=ticket_for("air_in_filter"))
    wire.ask("fine_filter", "open_screw")
    film = wire.ask("lift_pump", "lever_60", film=True)["film"]
    times = [frame[0] for frame in film]
    assert times == sorted(times) and 0 < times[-1] <= MOST_MS
    clocks = [frame[2] for frame in film]
    assert clocks == sorted(clocks) and clocks[-1] <= wire.panel()["clock"]
    changes = [changes for _, changes, _ in film]
    assert any("lift_pump-lever" in one for one in changes)
    froth = {one["fine_filter-screw-comes"]["class"] for one in changes if "fine_filter-screw-comes" in one}
    assert froth & {"comes froth", "comes air"}


def test_after_the_film_all_stands_as_without_it(at):
    """The last frame and what follows it end in the scene that the answer carries."""
    wire = at(ticket=ticket_for("air_in_filter"))
    wire.ask("fine_filter", "open_screw")
    before = wire.scene()
    told = wire.ask("lift_pump", "lever_10", film=True)
    shown = {name: dict(attributes) for name, attributes in before.items()}
    for changes in (*(frame[1] for frame in told["film"]), wire.scene()):
        for name, attributes in changes.items():
            shown.setdefault(name, {}).update(attributes)
    assert shown == wire.scene()


def test_a_film_shows_nothing_that_only_a_look_shows(at):
    wire = at(ticket=ticket_for("shut_valve"))
    film = wire.ask("starter", "crank_10", film=True).get("film", [])
    assert film
    hidden = {"shut_off-body", "shut_off-lever", "separator-bowl", "tank-gauge", "stop_control-knob"}
    assert {name for _, changes, _ in film for name in changes}.isdisjoint(hidden)


def test_nothing_that_stands_still_is_filmed(at):
    wire = at(ticket=FIRST)
    assert "film" not in wire.ask("tank", "look", film=True)
    assert "film" not in wire.ask("tank", "choose", film=True)
    assert frames_of([], 0.0, {}, lambda seen, glimpse: {}) == []


def test_a_page_that_asks_for_no_film_gets_none(at):
    wire = at(ticket=FIRST)
    assert "film" not in wire.ask("starter", "crank_10")
    assert "film" not in wire.ask("starter", "crank_10", film="yes")


def test_what_is_heard_can_be_let_hear():
    assert set(_HEARD) <= set(SENTENCES)
    attempt = Attempt(compose_scenario("tank_below", []))
    sounds = sounds_of(attempt.act("starter", "crank_10").observations)
    assert [sound[0] for sound in sounds] == ["turn", "run"]
    assert sounds_of(attempt.act("tank", "look").observations) == []


def test_a_slow_starter_sounds_slower_than_a_brisk_one():
    beats = [_HEARD[key][1] for key in ("cranks_barely", "cranks_slowly", "cranks_briskly")]
    assert beats == sorted(set(beats))


def test_ten_strokes_of_the_lever_move_it_up_and_down():
    attempt = Attempt(compose_scenario("tank_below", [SetFault("shut_valve", "shut_off")]))
    _, frames = scene.filmed(attempt, "lift_pump", "lever_10", False)
    moved = [frame for frame in frames if "lift_pump-lever" in frame[1]]
    assert len(moved) >= 4
