"""What a kind of component is: declared as data (figures, ports) and one function that builds it."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from engine_sim.components.blueprint import Blueprint
from engine_sim.errors import BadLayout, UnknownName
from engine_sim.sources import SourcedValue


@dataclass(frozen=True, slots=True)
class Parameter:
    """One figure of a component: its usual value with unit and source, and the range that makes sense.

    ``whole`` figures count something, or say no (0) or yes (1).
    """

    name: str
    usual: SourcedValue
    low: float
    high: float
    meaning: str
    whole: bool = False


Numbers = Mapping[str, float]
Build = Callable[[Blueprint, str, Numbers], None]


@dataclass(frozen=True, slots=True)
class ComponentKind:
    """A kind of part: what it is for, its figures, its ports and how it is built.

    ``ports`` must be joined, ``optional_ports`` may be. ``passes_through`` marks a part without a space of its own
    that a join names in its ``through``; ``pumps`` one that moves fuel; ``vessel`` one with a surface, for which a
    level table may be given; ``branches`` one where two ways meet; ``jointed`` one whose end is a joint to be named.
    """

    name: str
    purpose: str
    parameters: tuple[Parameter, ...]
    ports: tuple[str, ...]
    build: Build
    passes_through: bool = False
    optional_ports: tuple[str, ...] = ()
    pumps: bool = False
    vessel: bool = False
    branches: bool = False
    jointed: bool = False

    @property
    def drives(self) -> bool:
        """Whether it can keep fuel moving round a ring that it is part of."""
        return self.pumps or self.vessel

    def numbers(self, part: str, given: Mapping[str, object]) -> dict[str, float]:
        """Return the figures of one part: the given ones checked, the rest at their usual values.

        Raises UnknownName for a figure that the kind does not have, BadLayout for one without its unit, no number or
        out of range.
        """
        figures = {parameter.name: parameter.usual.value for parameter in self.parameters}
        for name, value in given.items():
            figures[name] = self.number(part, name, value)
        return figures

    def number(self, part: str, name: str, given: object) -> float:
        """Return one figure of a part as a number, or refuse it as :meth:`numbers` does."""
        known = {parameter.name: parameter for parameter in self.parameters}
        if name not in known:
            self._refuse_without_unit(part, name)
            raise UnknownName(f"figure of {part} ({self.name})", name, known)
        return _checked(part, known[name], given)

    def _refuse_without_unit(self, part: str, name: str) -> None:
        for parameter in self.parameters:
            ending = parameter.name.removeprefix(f"{name}_")
            if ending != parameter.name and parameter.usual.unit != "1":
                raise BadLayout(
                    f"Part {part!r}: the figure {name!r} lacks its unit. Call it {parameter.name!r}, "
                    f"in {parameter.usual.unit}."
                )


def _checked(part: str, parameter: Parameter, given: object) -> float:
    """Return the figure given; refuse what is no number or out of range."""
    unit = "" if parameter.usual.unit == "1" else f" {parameter.usual.unit}"
    sound = isinstance(given, int | float) and not isinstance(given, bool) and math.isfinite(given)
    sound = sound and not (parameter.whole and float(given) % 1.0)  # type: ignore[arg-type]
    if not sound or not parameter.low <= float(given) <= parameter.high:  # type: ignore[arg-type]
        wish = "a whole number" if parameter.whole else "a number"
        raise BadLayout(
            f"Part {part!r}: {parameter.name} was given as {given!r}; allowed is {wish} from {parameter.low:g} to "
            f"{parameter.high:g}{unit}. Change it in the layout file."
        )
    return float(given)  # type: ignore[arg-type]
