"""The learner's work as marking sees it: every action with what stood before it, after it, and what it told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fnmatch import fnmatchcase
from functools import lru_cache

from engine_sim.actions import parts_of
from engine_sim.actions.parts import LIFT_PUMPS, neighbours, shows_its_bowl
from engine_sim.circuit.layout import Layout
from engine_sim.drawing.seen import shows_itself
from engine_sim.faults.places import tank_behind
from engine_sim.observations import Observation

Patterns = tuple[str, ...]

_TANK, _SEPARATOR, _CHANGEOVER = "tank", "separator", "changeover_valve"
_WAYS = ("a", "b")
_KEPT_ANSWERS = 2**16


@dataclass(frozen=True, slots=True)
class Boat:
    """What the rules have to know of a boat: the kind of each part a learner meets, in flow order, and what it has.

    ``tank_above`` says that fuel runs to the separator by itself; ``glass_bowls`` names the separators that show what
    is in them; ``tank_side`` the parts from the tanks up to the lift pump's inlet; ``tank_ways`` says which tank each
    way of a changeover valve leads to, as (valve, way, tank); ``with_ball`` the separators with a ball at their inlet.
    """

    kinds: Mapping[str, str] = field(default_factory=dict)
    tank_above: bool = False
    glass_bowls: tuple[str, ...] = ()
    tank_side: tuple[str, ...] = ()
    tank_ways: tuple[tuple[str, str, str], ...] = ()
    with_ball: tuple[str, ...] = ()

    def has(self, *kinds: str) -> bool:
        """Say whether the boat has a part of one of the kinds."""
        return any(kind in kinds for kind in self.kinds.values())

    def parts_of(self, *kinds: str) -> tuple[str, ...]:
        """Return the parts of the kinds, in flow order."""
        return tuple(part for part, kind in self.kinds.items() if kind in kinds)

    def tanks_in_use(self, seen: Mapping[str, object]) -> tuple[str, ...]:
        """Return the tanks that the changeover valve leads to, by what can be ``seen``; all of them without one."""
        led = [tank for valve, way, tank in self.tank_ways if way in _ways(seen, valve)]
        return tuple(led) or self.parts_of(_TANK)


def _ways(seen: Mapping[str, object], valve: str) -> tuple[str, ...]:
    ways = seen.get(f"{valve}_ways")
    return ways if isinstance(ways, tuple) else ()


def boat_of(layout: Layout) -> Boat:
    """Return what the rules have to know of the boat with this layout."""
    kinds = {part.id: part.kind for part in parts_of(layout)}
    pump = next((index for index, kind in enumerate(kinds.values()) if kind in LIFT_PUMPS), 0)
    bowls = tuple(part for part, kind in kinds.items() if kind == _SEPARATOR and shows_its_bowl(layout, part))
    ways = tuple(
        (valve, way, tank_behind(layout, f"{valve}.{way}")) for valve in layout.parts_of(_CHANGEOVER) for way in _WAYS
    )
    links = [link.id for link in layout.blueprint.links]
    balls = tuple(part for part, kind in kinds.items() if kind == _SEPARATOR and f"{part}.ball" in links)
    return Boat(kinds, _tank_is_above(layout), bowls, tuple(kinds)[:pump], ways, balls)


def _tank_is_above(layout: Layout) -> bool:
    """Say whether every tank's floor lies higher than the inlet of every separator."""
    separators = layout.parts_of(_SEPARATOR)
    inlets_m = [
        layout.figures[name]["end_height_m"]
        for name in layout.parts_of("hose")
        if neighbours(layout, name)[1] in separators
    ]
    floors_m = [layout.figures[name]["floor_m"] for name in layout.parts_of(_TANK)]
    return bool(inlets_m and floors_m) and min(floors_m) > max(inlets_m)


@lru_cache(maxsize=_KEPT_ANSWERS)
def fits(name: str, kind_name: str, patterns: Patterns) -> bool:
    """Say whether an action, named by its part and by its part's kind, fits one of the patterns."""
    return any(fnmatchcase(kind_name, pattern) or fnmatchcase(name, pattern) for pattern in patterns)


@dataclass(frozen=True, slots=True)
class Moment:
    """One action: times [s], what a person standing there saw before and after, and what was noticed.

    ``number`` is that of the logbook's step, ``kind`` the kind of the part (``separator``, ``joint``, ...).
    """

    number: int
    part: str
    kind: str
    action: str
    start_s: float
    end_s: float
    before: Mapping[str, object]
    after: Mapping[str, object]
    observations: tuple[Observation, ...] = ()
    refused: bool = False
    tells: bool = False

    @property
    def name(self) -> str:
        """The action as ``part.action``."""
        return f"{self.part}.{self.action}"

    @property
    def kind_name(self) -> str:
        """The action as ``kind.action``."""
        return f"{self.kind}.{self.action}"

    @property
    def keys(self) -> frozenset[str]:
        """The keys of what was noticed."""
        return frozenset(seen.key for seen in self.observations)

    def among(self, patterns: Patterns) -> bool:
        """Say whether the action fits one of the patterns.

        A pattern is ``kind.action`` or ``part.action``, with ``*`` for anything.
        """
        return not self.refused and fits(self.name, self.kind_name, patterns)


@dataclass(frozen=True, slots=True)
class Help:
    """Help that was asked for: at which step, when [s], and which kind (``nudge``, ``hint``, ``check``)."""

    step: int
    moment_s: float
    kind: str


@dataclass(frozen=True, slots=True)
class Track:
    """All the moments of an attempt, in order, on one boat.

    ``followed`` says that the work led to the part that was at fault, ``opened_at`` is the step at which such a part
    was opened and dirt seen in it (0 for never), ``helps`` the help that was asked for.
    """

    moments: tuple[Moment, ...] = ()
    handed_in: bool = False
    followed: bool = False
    boat: Boat = field(default_factory=Boat)
    opened_at: int = 0
    helps: tuple[Help, ...] = ()

    def among(self, patterns: Patterns) -> list[Moment]:
        """Return the moments whose action fits one of the patterns."""
        return [moment for moment in self.moments if moment.among(patterns)]

    def before(self, moment: Moment) -> list[Moment]:
        """Return the moments earlier than the one given."""
        return [other for other in self.moments if other.number < moment.number]

    def _until(self, moment: Moment, also_then: bool) -> list[Moment]:
        return [m for m in self.moments if m.number < moment.number + also_then and not m.refused]

    def worked_at(self, moment: Moment, also_then: bool) -> frozenset[str]:
        """Return the parts at which something was done before a moment, or in it where ``also_then``."""
        return frozenset(m.part for m in self._until(moment, also_then))

    def looked_at(self, moment: Moment, also_then: bool) -> frozenset[str]:
        """Return the parts that had shown how they stand before a moment, or in it where ``also_then``."""
        looks = [m for m in self._until(moment, also_then) if shows_itself(m.kind, m.action)]
        return frozenset(part for m in looks for part in (m.part, *(seen.part for seen in m.observations)))

    def after(self, moment: Moment) -> list[Moment]:
        """Return the moments later than the one given."""
        return [other for other in self.moments if other.number > moment.number]
