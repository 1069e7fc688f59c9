"""What may be wrong on a boat: every fault at every place where it can sit, with its weight."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from engine_sim.actions import parts_of
from engine_sim.circuit.layout import Layout
from engine_sim.errors import BadScenario, OutOfRange
from engine_sim.faults import fault, faults
from engine_sim.marking.coach.likelihood import WEIGHTS, weight_at
from engine_sim.scenarios import Scenario, SetFault
from engine_sim.scenarios.composing import checked
from engine_sim.scenarios.scenario import layout_of
from engine_sim.wording import FAULTS

_WHOLE = sum(WEIGHTS.values())
_LEAST = 0.1
"""Weight of what is set though it does not stop an engine by itself, such as a gauge that lies; judgement."""


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing, or several at once, that may be wrong; ``part`` and ``fault`` are the first one's."""

    scenario: Scenario
    weight: float
    is_truth: bool
    part_label: str
    fault_label: str

    @property
    def faults(self) -> tuple[SetFault, ...]:
        """The faults that it means."""
        return self.scenario.faults

    @property
    def said(self) -> tuple[tuple[str, str], ...]:
        """How a diagnosis would name it: fault and part of each."""
        return tuple((fault(item.fault).diagnosis, item.part) for item in self.faults)


def causes_of(scenario: Scenario) -> tuple[Cause, ...]:
    """Return all that may be wrong on a scenario's boat in its weather, the truth (one fault or several) among it.

    Faults have their usual severity, those of the scenario their own. What its weather excludes is left out.
    """
    layout = layout_of(scenario.layout).layout
    labels = {part.id: part.label for part in parts_of(layout)}
    own = {(item.fault, item.part) for item in scenario.faults} if len(scenario.faults) == 1 else set()
    found: list[Cause] = []
    for name in faults():
        for part in fault(name).places(layout):
            weight = weight_at(layout, name, part)
            if weight > 0.0 and (name, part) not in own:
                found += _cause(scenario, (SetFault(name, part),), weight, False, labels)
    if scenario.faults:
        found += _cause(scenario, scenario.faults, _weight_of(layout, scenario.faults), True, labels)
    return tuple(found)


def sound_boat(scenario: Scenario) -> Scenario:
    """Return the same boat in the same weather with nothing wrong."""
    return replace(
        scenario, exercise="", ticket="", title="", story="", version=0, permits_xray=False, help_most="", faults=()
    )


def _cause(
    scenario: Scenario, items: tuple[SetFault, ...], weight: float, is_truth: bool, labels: dict[str, str]
) -> Iterable[Cause]:
    try:
        boat = checked(replace(sound_boat(scenario), faults=items))
    except (BadScenario, OutOfRange):
        return []
    parts = " and ".join(dict.fromkeys(labels[item.part] for item in items))
    words = " and ".join(dict.fromkeys(FAULTS[fault(item.fault).diagnosis] for item in items))
    return [Cause(boat, weight, is_truth, parts, words)]


def _weight_of(layout: Layout, items: tuple[SetFault, ...]) -> float:
    """Return the weight of faults that are there at once: as rare as their shares multiplied."""
    weight = _WHOLE
    for item in items:
        weight *= max(_LEAST, weight_at(layout, item.fault, item.part)) / _WHOLE
    return weight
