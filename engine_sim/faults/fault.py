"""What a fault is: where it can sit, how bad it can be in a physical unit, and how it is put into the rig.

A fault only sets physical figures. What it does to the engine, and what a person notices, follows by physics.
``lead_ups`` play what the skipper did before the learner came.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from engine_sim.circuit.layout import Layout
from engine_sim.circuit.rig import Rig
from engine_sim.components import Parameter
from engine_sim.errors import OutOfRange, UnknownName, lies_within
from engine_sim.faults.places import places_of
from engine_sim.faults.skipper import LeadUp
from engine_sim.sources import COMMON_PRACTICE, SourcedValue

Apply = Callable[[Rig, str, float], None]
Fits = Callable[[Layout, str], bool]
Usual = Callable[[Layout, str], float]


def yes_or_no(name: str, meaning: str) -> Parameter:
    """Return the severity of a fault that is there or is not, with nothing between."""
    return Parameter(name, SourcedValue(1.0, "1", COMMON_PRACTICE), 1.0, 1.0, meaning)


def _fits_anywhere(_layout: Layout, _part: str) -> bool:
    return True


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault that can be set.

    ``kinds`` are the kinds of part where it can sit (``joint``, ``injector`` and ``return_line`` besides those of
    components), ``fits`` leaves out a part that has not what the fault needs. ``severity`` is its one figure, with
    unit and range; ``usual_here`` works out its usual value where that hangs on the part. ``holds`` names what it
    settles: ``"contents of {part}"``; two faults that settle the same exclude each other. ``said`` is the id by which a
    diagnosis names it where that is another's: water in the tank is said as water in the bowl is. ``at_last`` marks
    what the last turn of the engine left, so that it is set after the lead-ups.
    """

    id: str
    kinds: tuple[str, ...]
    severity: Parameter
    apply: Apply
    lead_ups: tuple[LeadUp, ...]
    holds: tuple[str, ...] = ()
    usual_here: Usual | None = None
    fits: Fits = _fits_anywhere
    said: str = ""
    at_last: bool = False

    @property
    def diagnosis(self) -> str:
        """The id by which a diagnosis names this fault."""
        return self.said or self.id

    def places(self, layout: Layout) -> tuple[str, ...]:
        """Return the parts of a layout where this fault can sit, in the order of its file."""
        return tuple(part for part, kind in places_of(layout) if kind in self.kinds and self.fits(layout, part))

    def usual_severity(self, layout: Layout, part: str) -> float:
        """Return the usual severity at a part, in the fault's own unit; raise UnknownName where it cannot sit."""
        self.check_place(layout, part)
        return self.severity.usual.value if self.usual_here is None else self.usual_here(layout, part)

    def settles(self, part: str) -> tuple[str, ...]:
        """Return in words what this fault settles when it sits at a part."""
        return (f"{self.id} at {part}", *(text.format(part=part) for text in self.holds))

    def put_into(self, rig: Rig, part: str, severity: float | None = None) -> None:
        """Set the fault at a part; raise UnknownName or OutOfRange where that makes no sense."""
        given = self.usual_severity(rig.layout, part) if severity is None else severity
        self.check_place(rig.layout, part)
        self.check_severity(given)
        self.apply(rig, part, given)

    def check_place(self, layout: Layout, part: str) -> None:
        """Raise UnknownName where the fault cannot sit."""
        places = self.places(layout)
        if part not in places:
            raise UnknownName(f"place of the fault {self.id!r} in the layout {layout.id!r}", part, places)

    def check_severity(self, severity: float) -> None:
        """Raise OutOfRange for a severity outside the range."""
        if not lies_within(severity, self.severity.low, self.severity.high):
            unit = self.severity.usual.unit
            raise OutOfRange(f"{self.id} {self.severity.name}", severity, self.severity.low, self.severity.high, unit)
