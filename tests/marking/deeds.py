"""Work done by hand on boats of every layout, for the tests of single marks: what was done, said and noted."""

from __future__ import annotations

from functools import cache

from engine_sim.attempt import Attempt, Diagnosis
from engine_sim.marking import MarkSheet, default_scheme, mark_attempt
from engine_sim.scenarios import Scenario, SetFault, compose_scenario

LAYOUTS = ("tank_below", "high_tank", "electric_pump", "two_tanks", "single_cylinder", "metal_bowl")
SCHEME = default_scheme()
READY = ("bench.ventilate", "bench.extinguisher", "bench.put_on_goggles", "bench.lay_tray")
NOTE = "Found and put right; what was done stands above."


@cache
def boat(layout: str, *faults: tuple[str, str]) -> Scenario:
    """Return a boat with faults, each a pair of fault and part."""
    return compose_scenario(layout, [SetFault(fault, part) for fault, part in faults])


def turn(layout: str) -> str:
    """Return how the engine of a layout is turned."""
    return "hand_start.swing_10" if layout == "single_cylinder" else "starter.crank_10"


def pumped(layout: str) -> tuple[str, ...]:
    """Return how fuel is driven through an open screw in a layout, for about twenty seconds."""
    if layout == "electric_pump":
        return ("engine.key_on", "bench.wait_10s", "bench.wait_10s", "engine.key_off")
    return ("lift_pump.lever_10", "lift_pump.lever_10")


def played(scenario: Scenario, *work: str, said: tuple[tuple[str, str, tuple[str, ...]], ...] = ()) -> Attempt:
    """Do ``part.action`` one after the other; ``note`` writes a note; then say what is wrong, with keys as evidence."""
    attempt = Attempt(scenario)
    for name in work:
        if name == "note":
            attempt.note(NOTE)
        else:
            attempt.act(*name.split("."))
    for part, fault, keys in said:
        shown = tuple(seen.number for seen in attempt.observations if seen.key in keys)
        attempt.diagnose(Diagnosis(part, fault, shown))
    return attempt


def marked(attempt: Attempt, scheme=SCHEME) -> MarkSheet:
    """Hand in and mark by the rules alone."""
    attempt.hand_in()
    return mark_attempt(attempt.scenario, attempt.steps, attempt.diagnosis, scheme, with_coach=False)


def worked(scenario: Scenario, *work: str, **said) -> MarkSheet:
    """Do some work, hand in, and mark it."""
    return marked(played(scenario, *work, **said))


def costly(sheet: MarkSheet, name: str) -> str:
    """Return everything that cost points in one mark, in one text."""
    return " | ".join(reason.text for reason in sheet.marks[name].reasons if not reason.good)
