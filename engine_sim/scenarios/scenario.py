"""A scenario: the plan of one exercise, as drawn for one ticket. A learner never sees it whole."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import dataclass, field
from functools import cache, cached_property, lru_cache
from pathlib import Path

from engine_sim.circuit.layout import Layout, layout_names, load_layout, load_layout_file, read_layout
from engine_sim.circuit.rig import Rig
from engine_sim.components import engine_figures
from engine_sim.drawing import Drawing
from engine_sim.errors import BadLayout, UnknownName
from engine_sim.faults import STAND_S, fault, play_lead_ups
from engine_sim.sources import COMMON_PRACTICE, SourcedValue

SUMMER_C = SourcedValue(20.0, "degC", COMMON_PRACTICE, "a summer's engine space").value
_YESTERDAY_S = SourcedValue(120.0, "s", COMMON_PRACTICE, "the last run while all was well").value
_CRANK_S = SourcedValue(10.0, "s", COMMON_PRACTICE, "longest single cranking").value
_KEPT_BOATS = 160


@dataclass(frozen=True, slots=True)
class SetFault:
    """A fault with its place and severity in the fault's own unit, or None for its usual severity."""

    fault: str
    part: str
    severity: float | None = None


@dataclass(frozen=True, slots=True)
class Weather:
    """How the boat lies: temperature [degC], sea 0 calm to 1 rough, heel to starboard and pitch bow down [deg].

    Without a temperature it is that of a summer's day, or what a fault makes it.
    """

    temperature_c: float | None = None
    seaway: float = 0.0
    heel_deg: float = 0.0
    pitch_deg: float = 0.0


HELPS = ("nudge", "hint", "check")
"""Kinds of help, from a push in a direction to the very check to make next; who may have one may have those before."""


@dataclass(frozen=True, slots=True)
class Scenario:
    """What is played: layout, story, faults, weather, and what the learner is allowed to see.

    ``layout`` is the name of a layout of the course or the path of an instructor's own layout file; ``tank_fill_share``
    the share of every tank that was full when the trouble began, or None for what the layout says. ``help_most`` is the
    most help that may be asked for, one of :data:`HELPS`, or empty for none. ``lee_shore_min`` is how long the boat may
    drift before she is ashore [min], None where no shore lies to leeward.
    """

    exercise: str
    version: int
    ticket: str
    title: str
    story: str
    layout: str
    permits_xray: bool
    faults: tuple[SetFault, ...]
    weather: Weather = field(default_factory=Weather)
    tank_fill_share: float | None = None
    help_most: str = ""
    lee_shore_min: float | None = None

    def prepare(self) -> Rig:
        """Return the rig as the learner finds it: run while all was well, the fault set, the last tries played."""
        return deepcopy(_prepared(layout_of(self.layout), self.faults, self.weather, self.tank_fill_share))


class KeptLayout:
    """A layout that is read once and stands for itself: the same object for the same text."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout

    @cached_property
    def drawing(self) -> Drawing:
        """The boat's drawing."""
        return Drawing(self.layout)


def layout_of(name: str) -> KeptLayout:
    """Return a layout of the course by name, or the layout in a file whose path ends in .toml, as it reads now.

    Raises UnknownName or, with the file's name, BadLayout.
    """
    if not isinstance(name, str):
        raise UnknownName("layout", str(name), layout_names())
    if not name.endswith(".toml"):
        return _course_layout(name)
    try:
        return _own_layout(Path(name).read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, BadLayout):
        load_layout_file(name)
        raise


@cache
def _course_layout(name: str) -> KeptLayout:
    return KeptLayout(load_layout(name))


@lru_cache(maxsize=8)
def _own_layout(text: str) -> KeptLayout:
    layout = read_layout(text)
    layout.require_boat()
    return KeptLayout(layout)


@lru_cache(maxsize=8)
def _while_all_was_well(kept: KeptLayout, weather: Weather, tank_fill_share: float | None) -> Rig:
    """Return the rig after a run with nothing wrong, as the boat lies and with the tanks as they are."""
    rig = Rig(kept.layout)
    rig.crank(_CRANK_S)
    rig.run(_YESTERDAY_S, engine_figures.CRUISE_SPEED_RPM, in_gear=True)
    rig.stop_engine()
    if tank_fill_share is not None:
        for tank in rig.layout.parts_of("tank"):
            rig.circuit.fill(tank, tank_fill_share)
    if weather.temperature_c is not None:
        rig.set_temperature(weather.temperature_c)
    rig.set_sea(weather.seaway, weather.heel_deg, weather.pitch_deg)
    return rig


@lru_cache(maxsize=_KEPT_BOATS)
def _prepared(kept: KeptLayout, faults: tuple[SetFault, ...], weather: Weather, tank_fill_share: float | None) -> Rig:
    """Return the rig prepared once; every attempt gets its own copy."""
    rig = deepcopy(_while_all_was_well(kept, weather, tank_fill_share))
    _go_wrong(rig, faults)
    rig.play(STAND_S)
    rig.start_afresh()
    return rig


def _go_wrong(rig: Rig, faults: tuple[SetFault, ...]) -> None:
    """Set the faults and play what the skipper did."""
    chosen = [(fault(item.fault), item) for item in faults]
    for kind, item in chosen:
        if not kind.at_last:
            kind.put_into(rig, item.part, item.severity)
    play_lead_ups(rig, (lead_up for kind, _ in chosen for lead_up in kind.lead_ups))
    for kind, item in chosen:
        if kind.at_last:
            kind.put_into(rig, item.part, item.severity)
