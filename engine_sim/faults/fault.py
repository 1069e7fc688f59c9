"""What a fault is: where it can sit, how bad it can be in a physical unit, and how it is put into the rig.

A fault only sets physical figures. What it does to the engine, and what a person notices, follows by physics.
``lead_up`` plays what the skipper did before the learner came.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.components import engine_figures as figures
from engine_sim.errors import OutOfRange, UnknownName
from engine_sim.sources import COMMON_PRACTICE, SourcedValue

Apply = Callable[[Rig, str, float], None]
LeadUp = Callable[[Rig], None]

_LONGEST_LAST_RUN_S = SourcedValue(600.0, "s", COMMON_PRACTICE, "the skipper's last run before he gave up").value
_CRANK_S = SourcedValue(10.0, "s", COMMON_PRACTICE, "longest single cranking").value
STAND_S = SourcedValue(
    900.0, "s", COMMON_PRACTICE, "time between the skipper's last try and the learner's first look"
).value


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault that can be set: ``parts`` are the places where it can sit, ``severity`` its one figure."""

    id: str
    parts: tuple[str, ...]
    severity: Parameter
    apply: Apply
    lead_up: LeadUp

    def put_into(self, rig: Rig, part: str, severity: float | None = None) -> None:
        """Set the fault at a part; raise UnknownName or OutOfRange where that makes no sense."""
        if part not in self.parts:
            raise UnknownName(f"place of the fault {self.id!r}", part, self.parts)
        given = self.severity.usual.value if severity is None else severity
        if not self.severity.low <= given <= self.severity.high:
            unit = self.severity.usual.unit
            raise OutOfRange(f"{self.id} {self.severity.name}", given, self.severity.low, self.severity.high, unit)
        self.apply(rig, part, given)


def run_until_it_dies(rig: Rig) -> None:
    """Start the engine if it starts, motor on until it dies or ten minutes are over, and stop it."""
    rig.crank(_CRANK_S)
    rig.run(_LONGEST_LAST_RUN_S, figures.CRUISE_SPEED_RPM, in_gear=True)
    if rig.engine.running:
        rig.stop_engine()
    rig.crank(_CRANK_S)
    if rig.engine.running:
        rig.run(_CRANK_S, figures.IDLE_SPEED_RPM, in_gear=False)
        rig.stop_engine()
