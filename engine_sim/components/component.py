"""What a kind of component is: declared as data (parameters, ports) and one function that builds it."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from engine_sim.components.blueprint import Blueprint
from engine_sim.errors import BadLayout, UnknownName
from engine_sim.sources import SourcedValue


@dataclass(frozen=True, slots=True)
class Parameter:
    """One figure of a component: its usual value with unit and source, and the range that makes sense."""

    name: str
    usual: SourcedValue
    low: float
    high: float
    meaning: str


Numbers = Mapping[str, float]
Build = Callable[[Blueprint, str, Numbers], None]


@dataclass(frozen=True, slots=True)
class ComponentKind:
    """A kind of part: what it is for, its figures, its ports and how it is built."""

    name: str
    purpose: str
    parameters: tuple[Parameter, ...]
    ports: tuple[str, ...]
    build: Build
    passes_through: bool = False

    def numbers(self, part: str, given: Mapping[str, object]) -> dict[str, float]:
        """Return the figures of one part: the given ones checked, the rest at their usual values."""
        known = {parameter.name: parameter for parameter in self.parameters}
        for name in given:
            if name not in known:
                raise UnknownName(f"parameter of {part} ({self.name})", name, known)
        return {name: _checked(part, known[name], given.get(name)) for name in known}


def _checked(part: str, parameter: Parameter, given: object) -> float:
    """Return the figure given, or the usual one; refuse what is no number or out of range."""
    if given is None:
        return parameter.usual.value
    unit = parameter.usual.unit
    sound = isinstance(given, int | float) and not isinstance(given, bool) and math.isfinite(given)
    if not sound or not parameter.low <= float(given) <= parameter.high:  # type: ignore[arg-type]
        raise BadLayout(
            f"Part {part!r}: {parameter.name} was given as {given!r}; "
            f"allowed is {parameter.low:g} to {parameter.high:g} {unit}. Change it in the layout file."
        )
    return float(given)  # type: ignore[arg-type]
