"""The error tree: every message names the thing, what was given, what is allowed and what to do next."""

from __future__ import annotations

import difflib
from collections.abc import Iterable


class EngineSimError(Exception):
    """Base of every error that this project raises on purpose."""


class UnknownName(EngineSimError):
    """A part, action, fault, layout or exercise was named that does not exist."""

    def __init__(self, kind: str, given: str, allowed: Iterable[str]) -> None:
        self.kind = kind
        self.given = given
        self.allowed = tuple(sorted(allowed))
        near = difflib.get_close_matches(str(given), self.allowed, n=1)
        hint = f" Did you mean {near[0]!r}?" if near else ""
        super().__init__(f"No {kind} is called {given!r}.{hint} Allowed: {', '.join(self.allowed)}.")


class OutOfRange(EngineSimError):
    """A number lies outside what the thing named can be."""

    def __init__(self, name: str, given: object, low: float, high: float, unit: str) -> None:
        self.name = name
        self.given = given
        ending = "" if unit in {"", "1"} else f" {unit}"
        super().__init__(
            f"{name} was given as {given!r}; allowed is {low:g} to {high:g}{ending}. Give a number in that range."
        )


def lies_within(given: object, low: float, high: float) -> bool:
    """Tell whether what was given is a number from low to high, and nothing else."""
    return isinstance(given, int | float) and not isinstance(given, bool) and low <= given <= high


class BadLayout(EngineSimError):
    """A layout file does not describe a circuit that can be built."""


class BadScenario(EngineSimError):
    """A scenario or pool file does not describe something that can be played."""


class BadTicket(EngineSimError):
    """A ticket does not read as one."""


class NotPermitted(EngineSimError):
    """The scenario does not allow what was asked for."""


class SolverFailed(EngineSimError):
    """The circuit could not be solved even with the shortest time step."""


class LogbookError(EngineSimError):
    """Something is wrong with a logbook."""


class LogbookInUse(LogbookError):
    """Another window holds this logbook."""
