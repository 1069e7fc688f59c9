"""Which check to make next, among things that may be wrong and checks that tell them apart; plain arithmetic.

A *table* says what each check would show for each thing that may be wrong (a *cause*). One of the causes is there. The
search ends when a check has shown it. What is still to be paid is estimated by the rule of probability over cost:
causes are looked for one after another, the likely and cheap first, each by the cheapest check that shows it. That rule
is the best there is where one thing is wrong and each check finds its own cause for certain (Kadane and Simon 1977,
"Optimal strategies for a class of constrained sequential problems"; arXiv 1304.2362). The next check is the one that is
cheapest together with what is left to pay by that rule after each of its answers.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

SOUND = "sound"
"""The answer by which a check shows nothing."""

Causes = frozenset[int]


@dataclass(frozen=True, slots=True)
class Check:
    """One check: its cost [min] and its answer for each cause, by number; ``SOUND`` where it shows nothing."""

    name: str
    minutes: float
    answers: tuple[str, ...]

    def groups(self, causes: Causes) -> dict[str, Causes]:
        """Return the causes by the answer that each would give."""
        found: dict[str, list[int]] = {}
        for cause in sorted(causes):
            found.setdefault(self.answers[cause], []).append(cause)
        return {answer: frozenset(members) for answer, members in found.items()}


class Search:
    """The causes with their weights, the checks, and what the search among them costs."""

    def __init__(self, weights: Sequence[float], checks: Sequence[Check], unseen_minutes: float) -> None:
        """Set up; ``unseen_minutes`` [min] is what it takes to be sure of a cause that no check tells apart."""
        self.weights = tuple(weights)
        self.checks = tuple(checks)
        self.unseen_minutes = unseen_minutes
        self._left: dict[Causes, float] = {}
        self._dear: dict[tuple[Causes, int], float] = {}

    def weight(self, causes: Causes) -> float:
        """Return how likely some causes are together."""
        return sum(self.weights[cause] for cause in sorted(causes))

    def left_minutes(self, causes: Causes) -> float:
        """Return what looking for the causes one after another is expected to take [min], the best order taken."""
        known = self._left.get(causes)
        if known is None:
            known = self._left[causes] = self._in_order(causes)
        return known

    def _in_order(self, causes: Causes) -> float:
        whole = self.weight(causes)
        if whole <= 0.0:
            return 0.0
        costs = self._proof_minutes(causes)
        order = sorted(causes, key=lambda cause: (costs[cause] / max(self.weights[cause], 1e-12), cause))
        spent = expected = 0.0
        for cause in order:
            spent += costs[cause]
            expected += self.weights[cause] / whole * spent
        return expected

    def _proof_minutes(self, causes: Causes) -> Mapping[int, float]:
        """Return for each cause the cost of the cheapest check that shows it and none of the others."""
        costs = dict.fromkeys(sorted(causes), self.unseen_minutes)
        for check in self.checks:
            for answer, members in check.groups(causes).items():
                if answer != SOUND and len(members) == 1:
                    (only,) = members
                    costs[only] = min(costs[only], check.minutes)
        return costs

    def after(self, check: Check, causes: Causes) -> float:
        """Return what is expected to be left to pay [min] once a check has given its answer."""
        whole = self.weight(causes)
        if whole <= 0.0:
            return 0.0
        return sum(
            self.weight(members) / whole * self._left_after(answer, members)
            for answer, members in check.groups(causes).items()
        )

    def _left_after(self, answer: str, members: Causes) -> float:
        return 0.0 if len(members) == 1 and answer != SOUND else self.left_minutes(members)

    def cost_of(self, check: Check, causes: Causes) -> float:
        """Return the cost of a check and of what is expected to be left after it [min]."""
        return check.minutes + self.after(check, causes)

    def saves(self, check: Check, causes: Causes) -> float:
        """Return by how much a check is expected to shorten what is left to pay [min], its own cost apart."""
        return max(0.0, self.left_minutes(causes) - self.after(check, causes))

    def best(self, causes: Causes, made: Collection[str] = ()) -> Check | None:
        """Return the check to make next, none of those ``made``, or None when no check tells anything more."""
        telling = [check for check in self.checks if check.name not in made and self.tells(check, causes)]
        if not telling:
            return None
        return min(telling, key=lambda check: (self.cost_of(check, causes), check.name))

    def tells(self, check: Check, causes: Causes) -> bool:
        """Tell whether a check can say anything new: its answers differ, or it shows the only cause that is left."""
        groups = check.groups(causes)
        return len(groups) > 1 or (len(causes) == 1 and SOUND not in groups)

    def least_minutes(self, causes: Causes) -> float:
        """Return what the search is expected to cost [min] when the best check is made each time."""
        return sum(
            self.weights[cause] / max(self.weight(causes), 1e-12) * self.way_to(cause, causes)[1]
            for cause in sorted(causes)
        )

    def way_to(self, cause: int, causes: Causes) -> tuple[tuple[Check, ...], float]:
        """Return the checks that the best way makes until it has shown ``cause``, and their cost [min]."""
        way: list[Check] = []
        while True:
            check = self.best(causes)
            if check is None:
                unsure = 0.0 if way and len(causes) == 1 and way[-1].answers[cause] != SOUND else self.unseen_minutes
                return tuple(way), sum(one.minutes for one in way) + unsure
            way.append(check)
            causes = check.groups(causes)[check.answers[cause]]
            if len(causes) == 1 and check.answers[cause] != SOUND:
                return tuple(way), sum(one.minutes for one in way)
