"""What a procedure card is: steps that are actions of the bench, the rules that it keeps, and where it is proved."""

from __future__ import annotations

from dataclasses import dataclass

from engine_sim.actions import Action, action_of_kind

Names = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """One step: an action at a kind of part, or another ``card``; ``note`` says how, or where only.

    It is gone on with ``until`` some things are noticed, by the keys of their sentences; ``rests`` says that the
    starter rests between. ``played`` tells whether the proof does it: its boat may lack the part, or need it not.
    """

    kind: str = ""
    name: str = ""
    note: str = ""
    until: Names = ()
    rests: bool = False
    card: str = ""
    played: bool = True

    @property
    def action(self) -> Action:
        """The action of the bench."""
        return action_of_kind(self.kind, self.name)


@dataclass(frozen=True, slots=True)
class Procedure:
    """One card: its title, when it is wanted, its steps, the rules that it keeps, and those to ``mind`` besides.

    It is proved on ``layout`` with ``faults`` (fault and part), after the looks that come before any such work.
    ``ends`` are sentences that close it; ``says_where_to_stop`` that it lists what is an engineer's work.
    """

    id: str
    title: str
    when: str
    steps: tuple[Step, ...]
    rules: Names = ()
    mind: Names = ()
    layout: str = "tank_below"
    faults: tuple[tuple[str, str], ...] = ()
    ends: Names = ()
    says_where_to_stop: bool = False
