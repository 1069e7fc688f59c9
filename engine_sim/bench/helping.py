"""Help by steps: a push in the right direction, then the part, then the very check that the coach would make next."""

from __future__ import annotations

from engine_sim.actions.parts import INJECTION_PUMPS
from engine_sim.attempt import Attempt
from engine_sim.marking import default_scheme
from engine_sim.marking.coach import Coach, advice_for
from engine_sim.marking.coach.keeping import lay_down, own_cache_folder, take_up
from engine_sim.scenarios import HELPS

TELLS = {
    "nudge": "A nudge",
    "hint": "A hint",
    "check": "What to do next",
    "costs": "costs {points:g}",
    "nothing_more": "You have seen what there is to see. Act on it: cure what you found, and try the engine.",
    "tank_side": "Nothing beyond it can work if the tank side is not right. Go on there, between tank and lift pump.",
    "pump_side": "Look at the fuel's way between lift pump and injection pump.",
    "engine_side": "Leave the fuel for a moment. Think of what turns the engine, stops it or lets it breathe.",
    "first": "Begin with what costs nothing: hear the engine turn, and look at what can be seen without a tool.",
    "part": "Go to this part: {part}.",
    "do": "Next: {check}. {why}",
    "thinking": "Thinking through all that can be wrong on this boat. The first time it can take half a minute.",
}
_TANK_SIDE = ("tank", "shut_off_valve", "changeover_valve", "joint", "separator")
_PUMP_SIDE = ("lift_pump", "electric_pump", "fine_filter", *INJECTION_PUMPS, "return_line", "injector")


def kinds_allowed(attempt: Attempt) -> tuple[str, ...]:
    """Return the kinds of help that this exercise gives, the lightest first."""
    most = attempt.scenario.help_most
    return HELPS[: HELPS.index(most) + 1] if most and attempt.scenario.faults else ()


def offers(attempt: Attempt) -> list[list[str]]:
    """Return each kind of help that can be had now, with its label and what it costs by the usual scheme."""
    method = default_scheme().method
    costs = {"nudge": method.nudge_costs, "hint": method.hint_costs, "check": method.check_costs}
    if attempt.handed_in:
        return []
    return [[kind, f"{TELLS[kind]} ({TELLS['costs'].format(points=costs[kind])})"] for kind in kinds_allowed(attempt)]


def said(attempt: Attempt) -> list[str]:
    """Return what help has said so far, the newest first."""
    return [step.text for step in reversed(attempt.steps) if step.kind == "help"]


class Helper:
    """Thinks along with one attempt, and says what the coach would do next."""

    def __init__(self, attempt: Attempt) -> None:
        self._attempt = attempt
        self._coach = Coach(attempt.scenario)
        self._taken_in = 0
        if not self._coach.boats.worked_out()[0]:
            take_up(self._coach.boats, own_cache_folder())

    def text(self, kind: str) -> str:
        """Return the help of a kind as things stand now."""
        for step in self._attempt.steps[self._taken_in :]:
            self._coach.see(step)
        self._taken_in = len(self._attempt.steps)
        best = self._coach.best()
        lay_down(self._coach.boats, own_cache_folder())
        if best is None:
            return TELLS["nothing_more"]
        part = best.first[0]
        if kind == "nudge":
            return self._nudge(part)
        if kind == "hint":
            return TELLS["part"].format(part=self._attempt.place.label(part))
        advice = advice_for(self._coach, best)
        return TELLS["do"].format(check=advice.label, why=advice.why)

    def _nudge(self, part: str) -> str:
        kind = self._coach.boats.kind_of(part)
        if not any(step.kind == "action" for step in self._attempt.steps):
            return TELLS["first"]
        side = "tank_side" if kind in _TANK_SIDE else "pump_side" if kind in _PUMP_SIDE else "engine_side"
        return TELLS[side]
