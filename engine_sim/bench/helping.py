"""Help by steps: a push in the right direction, then the part, then the very check that the coach would make next."""

from __future__ import annotations

from engine_sim.actions.parts import INJECTION_PUMPS
from engine_sim.attempt import Attempt, Step
from engine_sim.marking import default_scheme
from engine_sim.marking.coach import Coach, advice_for
from engine_sim.marking.coach.analysis import suspects_of
from engine_sim.marking.coach.keeping import lay_down, own_cache_folder, take_up
from engine_sim.marking.judges_bleeding import LETS_AIR_IN
from engine_sim.marking.track import fits
from engine_sim.scenarios import HELPS

TELLS = {
    "nudge": "A nudge",
    "hint": "A hint",
    "check": "What to do next",
    "costs": "costs {points:g}",
    "nothing_more": "You have seen what there is to see. Act on it: cure what you found, and try the engine.",
    "air_nudge": "There is still air in the fuel's way. It has to come out before the engine can run.",
    "air": "Let the air out: lever at the fine filter's screw until fuel comes without bubbles, tighten while it "
    "flows, then the same at the injection pump. If it never clears, air is still getting in somewhere.",
    "water_nudge": "Water has gone past the separator. It has to come out before the engine can run.",
    "water": "Let the water out: lever at the fine filter's screws, the outlet screw last, until what comes no longer "
    "runs in beads; if it never clears, a new element there. Then the same at the injection pump.",
    "clear_up": "The engine runs. Leave everything shut, tight and clean, say what it was, and hand in.",
    "cure": "Only one thing is left: {part}, {fault}. Cure that, let the air out where you opened, and try the engine.",
    "tank_side": "Nothing beyond it can work if the tank side is not right. Go on there, between tank and lift pump.",
    "pump_side": "Look at the fuel's way between lift pump and injection pump.",
    "engine_side": "Leave the fuel for a moment. Think of what turns the engine, stops it or lets it breathe.",
    "first": "Begin with what costs nothing: hear the engine turn, and look at what can be seen without a tool.",
    "part": "Go to this part: {part}.",
    "do": "Next: {check}. {why}",
    "thinking": "Thinking through all that can be wrong on this boat. The first time it can take half a minute.",
}
_OPENED = "opened by hand"
_AIR = frozenset({_OPENED} | {"screw_air", "screw_froth", "lever_air", "lever_spongy", "bowl_air", "nut_froth"})
_CLEAR = frozenset({"screw_solid", "screw_shut_flowing", "nut_pulses"})
_WATER = frozenset({"screw_water", "screw_shut_watery"})
_TRIED = frozenset({"fires", "fires_not", "dies", "dies_meanwhile", "ran_well", "ran_unevenly"})
_RAN = frozenset({"ran_well"})
"""What was noticed: air on its way, clear fuel at a screw, tries to start, a run that was good."""
_TANK_SIDE = ("tank", "shut_off_valve", "changeover_valve", "joint", "separator")
FEW_LEFT = 4
"""With so many things left the nudge goes by the likeliest of them, not by the next check; judgement."""
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
        if best is None or self._coach.is_known:
            return self._to_be_done(kind)
        part = best.first[0]
        if kind == "nudge":
            left = suspects_of(self._coach)
            return self._nudge(left[0].part if len(left) <= FEW_LEFT else part)
        if kind == "hint":
            return TELLS["part"].format(part=self._attempt.place.label(part))
        advice = advice_for(self._coach, best)
        return TELLS["do"].format(check=advice.label, why=advice.why)

    def _to_be_done(self, kind: str) -> str:
        """Return the help where the search is over: air still to be let out, the engine to be tried, or the cure."""
        keys = [key for step in self._attempt.steps for key in self._keys_of(step)]
        last_try = max((index for index, key in enumerate(keys) if key in _TRIED), default=-1)
        last_air = max((index for index, key in enumerate(keys) if key in _AIR), default=-1)
        if any(key in _RAN for key in keys[last_try : last_try + 1]):
            return TELLS["clear_up"]
        last_water = max((index for index, key in enumerate(keys) if key in _WATER), default=-1)
        if last_water > max((index for index, key in enumerate(keys) if key in _CLEAR), default=-1):
            return TELLS["water_nudge"] if kind == "nudge" else TELLS["water"]
        if last_air >= 0 and not any(key in _CLEAR for key in keys[last_air:]):
            return TELLS["air_nudge"] if kind == "nudge" else TELLS["air"]
        cause = self._coach.causes[min(self._coach.alive)]
        if kind == "nudge" or not self._coach.is_known:
            return TELLS["nothing_more"]
        if kind == "hint":
            return TELLS["part"].format(part=cause.part_label)
        return TELLS["cure"].format(part=cause.part_label, fault=cause.fault_label)

    def _keys_of(self, step: Step) -> list[str]:
        """Return what was noticed in a step; opening the fuel's way counts as air of one's own."""
        keys = [seen.key for seen in step.observations]
        if step.kind != "action":
            return keys
        kind_name = f"{self._coach.boats.kind_of(step.part)}.{step.action}"
        opened = fits(f"{step.part}.{step.action}", kind_name, LETS_AIR_IN)
        return [_OPENED, *keys] if opened else keys

    def _nudge(self, part: str) -> str:
        kind = self._coach.boats.kind_of(part)
        if not any(step.kind == "action" for step in self._attempt.steps):
            return TELLS["first"]
        side = "tank_side" if kind in _TANK_SIDE else "pump_side" if kind in _PUMP_SIDE else "engine_side"
        return TELLS[side]
