"""Boats for the tests of what hands can do: every layout of the course, with nothing wrong unless said."""

from __future__ import annotations

from engine_sim.attempt import Attempt, Step
from engine_sim.circuit import layout_names
from engine_sim.scenarios import SetFault, compose_scenario

LAYOUTS = layout_names()


def boat(layout: str = "tank_below", *faults: SetFault, **more) -> Attempt:
    """Return an attempt on a boat of this layout."""
    return Attempt(compose_scenario(layout, list(faults), **more))


def keys(step: Step) -> list[str]:
    """Return the keys of what was noticed."""
    return [seen.key for seen in step.observations]


def do(attempt: Attempt, *names: str) -> list[str]:
    """Do each ``part.action``; return the keys noticed at the last."""
    step = None
    for name in names:
        step = attempt.act(*name.split("."))
    return keys(step) if step is not None else []


def every_action(attempt: Attempt) -> list[tuple[str, str]]:
    """Return everything that can be done anywhere on a boat."""
    return [(part.id, offer.action) for part in attempt.parts() for offer in attempt.offers(part.id)]
