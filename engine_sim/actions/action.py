"""What an action is: something that a hand can do at a part, the time it takes, and what is noticed by doing it.

The times that hands take are common practice, no source: what a careful owner needs in a small engine space.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed

Do = Callable[[Workplace, str], list[Noticed]]
"""Does something at a part and returns what is noticed."""

Ready = Callable[[Workplace, str], str]
"""Says why something cannot be done now, as the rest of a sentence; an empty text says that it can."""

Only = Callable[[Workplace, str], bool]
"""Tells whether a part of this boat has what the action is about."""

Names = Callable[[Workplace, str], Mapping[str, str]]
"""Returns what the names in an action's label stand for at a part of this boat."""


def at_any_time(_place: Workplace, _part: str) -> str:
    """Say that nothing stands in the way."""
    return ""


def everywhere(_place: Workplace, _part: str) -> bool:
    """Tell that every part of the kind has it."""
    return True


@dataclass(frozen=True, slots=True)
class Action:
    """One action: ``takes_s`` is the hand's own time [s], ``plays_s`` what ``do`` plays beyond (cranking, running).

    ``needs`` names the tools, ``uses`` what is used up from the stores; ``caution`` names an entry of the cautions, or
    is empty. ``ready`` says why it cannot be done now, ``only`` on which boats it is offered at all, ``names`` what
    stands for the names in braces in the label.
    """

    id: str
    label: str
    takes_s: float
    do: Do
    needs: str = ""
    caution: str = ""
    plays_s: float = 0.0
    uses: tuple[str, ...] = ()
    ready: Ready = at_any_time
    only: Only = everywhere
    names: Names | None = None


@dataclass(frozen=True, slots=True)
class Family:
    """Actions that can be done at every part of the kinds named."""

    kinds: tuple[str, ...]
    actions: tuple[Action, ...]
