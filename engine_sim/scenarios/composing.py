"""Composes a scenario out of a layout, faults and weather, and refuses what cannot be played, with the reason."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from engine_sim.errors import BadScenario, OutOfRange, UnknownName, lies_within
from engine_sim.faults import TEMPERATURE, fault
from engine_sim.scenarios.scenario import HELPS, Scenario, SetFault, Weather, layout_of

_RANGES = {
    "temperature_c": (-20.0, 60.0, "degC"),
    "seaway": (0.0, 1.0, "(0 calm, 1 rough)"),
    "heel_deg": (-45.0, 45.0, "deg"),
    "pitch_deg": (-45.0, 45.0, "deg"),
    "tank_fill_share": (0.0, 0.95, "of a tank"),
    "lee_shore_min": (5.0, 600.0, "min"),
}
"""What the weather may be; a tank keeps a twentieth of its space for the fuel to expand."""


def compose_scenario(
    layout: str = "tank_below",
    faults: Sequence[SetFault] = (),
    *,
    temperature_c: float | None = None,
    seaway: float = 0.0,
    heel_deg: float = 0.0,
    pitch_deg: float = 0.0,
    tank_fill_share: float | None = None,
    permits_xray: bool = False,
    help_most: str = "",
    lee_shore_min: float | None = None,
    title: str = "An engine in trouble",
    story: str = "Find out what is wrong, cure it, and leave everything shut, tight and clean.",
) -> Scenario:
    """Return a scenario of your own, ready to be played.

    ``layout`` is a layout's name or the path of your own layout file (.toml). ``temperature_c`` -20 to 60 degC (a
    summer's 20 if left out), ``seaway`` 0 calm to 1 rough, ``heel_deg`` to starboard and ``pitch_deg`` bow down -45 to
    45, ``tank_fill_share`` 0 to 0.95 of every tank when the trouble began (what the layout says if left out),
    ``lee_shore_min`` 5 to 600 min of drifting until the boat is ashore (no shore if left out).

    >>> faults = [SetFault("slack_joint", "pump_joint"), SetFault("loaded_element", "separator", 3000.0)]
    >>> [item.severity for item in compose_scenario("tank_below", faults, tank_fill_share=0.8).faults]
    [2e-08, 3000.0]

    Raises UnknownName for a layout, fault or place that does not exist, OutOfRange for a severity or a figure that
    cannot be, BadScenario for faults that exclude each other or are no list of SetFault.
    """
    weather = Weather(temperature_c, seaway, heel_deg, pitch_deg)
    chosen = _list_of_faults(title, faults)
    return checked(
        Scenario(
            "own",
            1,
            "",
            title,
            story,
            layout,
            permits_xray,
            chosen,
            weather,
            tank_fill_share,
            help_most,
            lee_shore_min,
        )
    )


def _list_of_faults(title: str, faults: object) -> tuple[SetFault, ...]:
    """Return the faults given, or refuse what is no list of them."""
    given = list(faults) if isinstance(faults, Sequence) and not isinstance(faults, str) else [faults]
    wrong = [item for item in given if not isinstance(item, SetFault)]
    if wrong or not isinstance(faults, Sequence):
        raise BadScenario(
            f"The faults of the scenario {title!r} were given as {wrong[0] if wrong else faults!r}; allowed is a list "
            'of SetFault, as [SetFault("slack_joint", "pump_joint")]. Write each fault so, in square brackets.'
        )
    return tuple(item for item in given if isinstance(item, SetFault))


def checked(scenario: Scenario) -> Scenario:
    """Return a scenario with every severity filled in, or refuse it as :func:`compose_scenario` does."""
    for name, (low, high, unit) in _RANGES.items():
        given = getattr(scenario if name in ("tank_fill_share", "lee_shore_min") else scenario.weather, name)
        if given is not None and not lies_within(given, low, high):
            raise OutOfRange(f"{name} of the scenario {scenario.title!r}", given, low, high, unit)
    if scenario.help_most not in ("", *HELPS):
        raise UnknownName("kind of help", scenario.help_most, HELPS)
    boat = layout_of(scenario.layout).layout
    found = []
    for item in scenario.faults:
        kind = fault(item.fault)
        severity = kind.usual_severity(boat, item.part) if item.severity is None else item.severity
        kind.check_place(boat, item.part)
        kind.check_severity(severity)
        found.append(SetFault(item.fault, item.part, severity))
    refuse_exclusive(scenario.faults, scenario.weather)
    return replace(scenario, faults=tuple(found))


def refuse_exclusive(faults: Sequence[SetFault], weather: Weather) -> None:
    """Raise BadScenario, with the reason, where two faults, or a fault and the weather, settle the same thing."""
    settled = {} if weather.temperature_c is None else {TEMPERATURE: f"a temperature of {weather.temperature_c:g} degC"}
    for item in faults:
        for thing in fault(item.fault).settles(item.part):
            name = f"{item.fault!r} at {item.part!r}"
            if thing in settled:
                raise BadScenario(
                    f"{settled[thing]} and {name} exclude each other: both settle the {thing}. Leave one of them out."
                )
            settled[thing] = name
