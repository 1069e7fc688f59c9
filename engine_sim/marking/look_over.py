"""How an instructor looks a boat over, by kinds of part: as it was left, with the engine running, and stopped."""

from __future__ import annotations

from collections.abc import Iterator

from engine_sim.actions import Workplace
from engine_sim.actions.parts import INJECTION_PUMPS

Look = tuple[str, str]
"""A part and what is done at it."""

_AS_LEFT = ("stop_lever", "stop_solenoid", "shut_off_valve", "changeover_valve", "exhaust", "battery", "fuel_can")
_RUNNING: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("engine", ("look", "smoke")),
    ("exhaust", ("look",)),
    ("return_line", ("look",)),
    ("injector", ("listen",)),
)
_STANDING: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("tank", ("look", "dip_paste", "crack_cap", "close_cap")),
    ("joint", ("look", "wipe_and_try")),
    ("separator", ("look", "try_vent")),
    ("lift_pump", ("look",)),
    ("electric_pump", ("look",)),
    ("fine_filter", ("look", "try_screw")),
    ("injection_pump", ("look", "try_screw")),
    ("rotary_injection_pump", ("look", "try_screw")),
    ("injector", ("look",)),
    ("return_line", ("look", "blow_through")),
    ("stop_solenoid", ("listen",)),
    ("battery", ("volts",)),
    ("preheat", ("heat_10", "feel_stems")),
    ("exhaust", ("look_elbow", "look_impeller")),
    ("engine", ("look_intake", "look_propeller", "turn_by_hand")),
)


def as_left(place: Workplace) -> Iterator[Look]:
    """Yield the looks at controls, valves and hoses before anything is touched; then all is wiped dry.

    What is wet afterwards leaks.
    """
    for part in place.parts:
        if part.kind in _AS_LEFT:
            yield part.id, "look"
    yield "bench", "wipe_up"


def engine_running(place: Workplace) -> Iterator[Look]:
    """Yield what is looked at while the engine runs."""
    yield from _each(place, _RUNNING)


def engine_stopped(place: Workplace) -> Iterator[Look]:
    """Yield what is looked at and tried once the engine stands; what disturbs most comes last."""
    yield from _each(place, _STANDING)
    yield from _flow_at_the_fine_filter(place)
    for part in place.of_kind("starter"):
        yield part.id, "look"
        yield part.id, "drop_test"
        yield "engine", "stop"
    yield from _sample_from_the_separator(place)


def _each(place: Workplace, looks: tuple[tuple[str, tuple[str, ...]], ...]) -> Iterator[Look]:
    for kind, names in looks:
        for part in place.of_kind(kind):
            for name in names:
                yield part.id, name


def _flow_at_the_fine_filter(place: Workplace) -> Iterator[Look]:
    """Open each screw of filter and injection pump and drive fuel by lever or key."""
    pump, electric = place.first("lift_pump"), place.first("electric_pump")
    for part in place.of_kind("fine_filter", *INJECTION_PUMPS):
        for link in place.screws(part.id)[-1:]:
            name = link.rpartition(".")[2]
            yield part.id, f"open_{name}"
            if electric:
                yield electric, "listen"
                yield "engine", "key_on"
                yield "bench", "wait_10s"
                yield "engine", "key_off"
            else:
                yield pump, "lever_10"
                yield pump, "lever_10"
            yield part.id, f"close_{name}"


def _sample_from_the_separator(place: Workplace) -> Iterator[Look]:
    """Draw a jar from the separator as it should be done: shut-off shut, vent open first."""
    yield "bench", "empty_jar"
    for valve in place.of_kind("shut_off_valve"):
        yield valve.id, "shut"
    for part in place.of_kind("separator"):
        yield part.id, "open_vent"
        yield part.id, "open_drain"
        yield part.id, "close_drain"
        yield part.id, "close_vent"
        yield part.id, "read_jar"
