"""A fault for practice on an own boat: drawn as likely as it is on board, of those that an owner can find and cure."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Sequence

from engine_sim.attempt import Attempt
from engine_sim.bench import words
from engine_sim.bench.own_words import TELLS
from engine_sim.bench.panel import labels
from engine_sim.circuit.layout import Layout
from engine_sim.faults import fault, faults
from engine_sim.marking import default_scheme
from engine_sim.marking.coach.likelihood import weight_at
from engine_sim.marking.cure import try_out
from engine_sim.scenarios import Scenario, SetFault, compose_scenario
from engine_sim.scenarios.scenario import layout_of
from engine_sim.wording import FAULTS

NOT_FOR_OWNERS = ("gauge_wrong", "gauge_shifted", "cam_on_lobe", "waxed_fuel", "low_compression")
"""What nobody cures on board for good, or what needs no cure: a gauge that lies, a cam on its lobe, wax, wear."""
CLEARS_ITSELF = ("air_in_line",)
_TANK = "tank"
Place = tuple[str, str]
Pick = Callable[[Sequence[Place], Sequence[float]], Place]
"""Chooses one of several places of faults, each as likely as its weight says."""


def by_lot(places: Sequence[Place], weights: Sequence[float]) -> Place:
    """Choose by lot; nobody can know beforehand."""
    (chosen,) = secrets.SystemRandom().choices(places, weights)
    return chosen


def faults_for(layout: Layout) -> dict[Place, float]:
    """Return the faults that a practice may have, with where they sit, and how likely each is."""
    unused = layout.parts_of(_TANK)[1:]
    return {
        (name, part): weight_at(layout, name, part)
        for name in faults()
        if name not in (*NOT_FOR_OWNERS, *CLEARS_ITSELF)
        for part in fault(name).places(layout)
        if part not in unused and weight_at(layout, name, part) > 0.0
    }


def begin(boat: str, name: str, pick: Pick) -> Attempt | None:
    """Return an attempt on the boat in a layout file, with a fault that shows; None where every one stays hidden."""
    left = faults_for(layout_of(boat).layout)
    while left:
        place = pick(list(left), list(left.values()))
        scenario = _scenario(boat, name, place)
        if shows(scenario):
            return Attempt(scenario)
        del left[place]
    return None


def shows(scenario: Scenario) -> bool:
    """Tell whether a boat left alone fails its engine's test, or is found with something amiss in it."""
    one = try_out(Attempt(scenario), scenario, default_scheme().engine_test)
    return not (one.through and one.gone)


def _scenario(boat: str, name: str, place: Place) -> Scenario:
    title = TELLS["practice"].format(name=name)
    return compose_scenario(boat, [SetFault(*place)], permits_xray=True, title=title, story=TELLS["story"])


def truth(attempt: Attempt) -> list[str]:
    """Return what it was, what was said, and how the engine stands, in words."""
    names = labels(attempt)
    was = [(names[item.part], FAULTS[fault(item.fault).diagnosis]) for item in attempt.scenario.faults]
    kept = attempt.diagnosis
    said = (names[kept.part], FAULTS[kept.fault]) if kept is not None else None
    return words.truth_lines(was, said, attempt.outside()["engine"] == "running", marked=False)
