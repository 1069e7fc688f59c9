"""Sound work on real boats, played through: different orders and each boat's own procedures earn the whole method mark.

A leak, water in the bowl, and an element to be changed are worked on by lever, by electric pump and under a high tank.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pytest
from handmade import BOATS

from engine_sim.attempt import Attempt
from engine_sim.marking.marksheet import Mark
from engine_sim.marking.method import mark_method
from engine_sim.marking.replaying import Recorder
from engine_sim.marking.scheme import default_scheme
from engine_sim.marking.telling import telling_of, with_telling
from engine_sim.marking.track import Track
from engine_sim.scenarios import SetFault, compose_scenario

SCHEME = default_scheme()
QUICK = "high_tank"
SOLID = {"screw_solid", "screw_clears", "screw_weak"}
MOST_BLEEDING_TURNS = 25


class Worker:
    """Hands that know their boat by the kinds of its parts."""

    def __init__(self, layout: str, *faults: SetFault) -> None:
        self.attempt = Attempt(compose_scenario(layout, faults))
        self.recorder = Recorder()
        self.recorder.watch(self.attempt, None)
        self.kinds = {part.id: self.attempt.place.part(part.id).kind for part in self.attempt.parts()}
        self.electric = "electric_pump" in self.kinds.values()
        self.crank = "hand_start.swing_10" if "hand_start" in self.kinds.values() else "starter.crank_10"

    def do(self, *names: str) -> set[str]:
        keys: set[str] = set()
        for name in names:
            step = self.attempt.act(*name.split("."))
            self.recorder.watch(self.attempt, step)
            keys = {one.key for one in step.observations}
        return keys

    def looks(self) -> list[str]:
        """Return what is looked at before anything is opened, tank last."""
        first = {"tank": "dip_paste", "stop_solenoid": "listen"}
        kinds = ("stop_lever", "stop_solenoid", "shut_off_valve", "changeover_valve", "separator", "tank")
        return [f"{part}.{first.get(kind, 'look')}" for wanted in kinds for part, kind in self.kinds.items()
                if kind == wanted]  # fmt: skip

    def bleed_at(self, part: str, screw: str = "screw") -> None:
        """Bleed at a screw until it runs solid, and tighten while it flows."""
        self.do(*("engine.key_on",) * self.electric, f"{part}.open_{screw}")
        for _ in range(MOST_BLEEDING_TURNS):
            if self.do("bench.wait_1min" if self.electric else "lift_pump.lever_60") & SOLID:
                break
        self.do(f"{part}.close_{screw}", *("engine.key_off",) * self.electric)

    def bleed(self) -> None:
        self.bleed_at("fine_filter")
        if any(offer.action == "open_lower_screw" for offer in self.attempt.offers("injection_pump")):
            self.bleed_at("injection_pump", "lower_screw")
        self.bleed_at("injection_pump")

    def start(self) -> None:
        for _ in range(2):
            if self.attempt.outside()["engine"] != "running":
                self.do(self.crank, "engine.look")

    def told(self) -> Track:
        """Return the work so far with what tells in it."""
        scenario, track = self.attempt.scenario, self.recorder.track(self.attempt.scenario)
        return with_telling(scenario, track, telling_of(scenario, track))

    def marked(self) -> Mark:
        """Stop and return the method mark, without the coach."""
        self.do("engine.stop")
        return mark_method(self.told(), None, SCHEME)


def tank_to_pump(looks: Sequence[str]) -> list[str]:
    return list(reversed(looks))


def engine_to_tank(looks: Sequence[str]) -> list[str]:
    return list(looks)


ORDERS: dict[str, Callable[[Sequence[str]], list[str]]] = {
    "tank first": tank_to_pump,
    "stop control first": engine_to_tank,
}


def boats(name: str) -> list[object]:
    """Return every boat, one of them for the quick tests."""
    return [pytest.param(boat, marks=() if boat == QUICK else pytest.mark.slow, id=f"{name}-{boat}") for boat in BOATS]


def lost(mark: Mark) -> list[str]:
    """Return what the mark says was done badly."""
    return [reason.text for reason in mark.reasons if not reason.good]


@pytest.mark.parametrize("order", sorted(ORDERS))
@pytest.mark.parametrize("boat", boats("leak"))
def test_a_leak_found_in_any_sound_order(boat, order):
    worker = Worker(boat, SetFault("slack_joint", "pump_joint"))
    worker.do(worker.crank, *ORDERS[order](worker.looks()))
    if order == "tank first":
        worker.bleed_at("fine_filter")
    worker.do("separator_joint.wipe_and_try", "pump_joint.wipe_and_try", "pump_joint.nip_up", "pump_joint.wipe_and_try")
    worker.bleed()
    worker.start()
    mark = worker.marked()
    assert lost(mark) == []
    assert mark.score == SCHEME.weights.method


@pytest.mark.parametrize("boat", boats("water"))
def test_water_drained_as_this_boat_asks(boat):
    worker = Worker(boat, SetFault("water_in_bowl", "separator"))
    worker.do(worker.crank, *worker.looks())
    above = boat in ("high_tank", "single_cylinder")
    worker.do(*(() if above else ("shut_off.shut", "separator.open_vent")))
    came = worker.do("separator.open_drain")
    for _ in range(MOST_BLEEDING_TURNS):
        if "drain_runs_water" not in came:
            break
        came = worker.do("bench.wait_10s")
    worker.do("separator.close_drain", "separator.read_jar")
    if not above:
        worker.do("separator.fill", "separator.close_vent", "shut_off.open")
    worker.bleed()
    worker.start()
    mark = worker.marked()
    assert lost(mark) == []
    assert mark.score == SCHEME.weights.method


@pytest.mark.parametrize("boat", boats("element"))
def test_an_element_changed_step_by_step(boat):
    worker = Worker(boat, SetFault("loaded_element", "separator"))
    worker.do(worker.crank, *worker.looks(), "tank.crack_cap", "tank.close_cap", *("engine.key_on",) * worker.electric)
    worker.do("fine_filter.open_screw", "bench.wait_10s" if worker.electric else "lift_pump.lever_10")
    worker.do("fine_filter.close_screw", *("engine.key_off",) * worker.electric)
    worker.do("shut_off.shut", "separator.clean_outside", "separator.take_bowl_off", "separator.check_ring")
    if any(offer.action == "check_ball" for offer in worker.attempt.offers("separator")):
        worker.do("separator.check_ball")
    worker.do("separator.wipe_bowl", "separator.fit_wetted", "separator.open_vent", "separator.fill")
    worker.do("separator.close_vent", "shut_off.open")
    worker.bleed()
    worker.start()
    mark = worker.marked()
    assert lost(mark) == []
    assert mark.score == SCHEME.weights.method


@pytest.mark.parametrize("opening", ["take_bowl_off", "change_element"])
def test_a_black_element_seen_when_its_filter_is_opened_counts_as_seen_but_not_as_a_check(opening):
    worker = Worker("tank_below", SetFault("loaded_element", "separator"))
    worker.do("separator.open_drain", "separator.close_drain", "fine_filter.take_off", "fine_filter.fit_dry")
    assert worker.told().opened_at == 0
    assert "element_dark" in worker.do(f"separator.{opening}")
    track = worker.told()
    assert (track.opened_at, any(moment.tells for moment in track.moments)) == (track.moments[-1].number, False)
    assert mark_method(track, None, SCHEME).score < 0.1 * SCHEME.weights.method
