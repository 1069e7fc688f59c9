"""What an action is: something that a hand can do at a part, the time it takes, and what is noticed by doing it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed

Do = Callable[[Workplace, str], list[Noticed]]


@dataclass(frozen=True, slots=True)
class Action:
    """One action: ``takes_s`` is the hand's own time [s], ``plays_s`` what ``do`` plays beyond (cranking, running).

    ``caution`` names an entry of the cautions, or is empty.
    """

    id: str
    label: str
    takes_s: float
    do: Do
    needs: str = ""
    caution: str = ""
    plays_s: float = 0.0
