"""The desk behind the wall: a fault set in secret and found by show of hands, or a logbook gone through step by step.

Nothing that is done here is kept in a file: it is for a room, not for a mark.
"""

from __future__ import annotations

import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from engine_sim.attempt import Attempt, Record, Step, play_record, read_logbook, replay
from engine_sim.bench import words
from engine_sim.bench.desk_work import DeskWork, text_of
from engine_sim.bench.presenter_panel import (
    beside,
    choice,
    choices_of,
    known_lines,
    left_line,
    setting,
    step_line,
    was_line,
)
from engine_sim.bench.presenter_words import TELLS
from engine_sim.circuit import layout_names
from engine_sim.errors import EngineSimError
from engine_sim.faults import fault, faults
from engine_sim.marking.coach import Analysis, Coach, Suspect, analyse, suspects_of
from engine_sim.marking.coach.checks import BoatCheck
from engine_sim.marking.coach.keeping import own_cache_folder, take_up
from engine_sim.marking.coach.likelihood import weight_at
from engine_sim.scenarios import Scenario, SetFault, compose_scenario, draw_scenario
from engine_sim.scenarios.scenario import layout_of
from engine_sim.wording import FAULTS


@dataclass(frozen=True, slots=True)
class Told:
    """A logbook that is gone through: its records as far as they are sound, and what could be known after each."""

    scenario: Scenario
    records: Sequence[Record]
    analysis: Analysis


class PresenterDesk(DeskWork):
    """What the page for the wall asks; ``stage`` is ``set``, ``show`` or ``replay``."""

    def __init__(self) -> None:
        super().__init__()
        self.stage = "set"
        self.boat = layout_names()[0]
        self.revealed = False
        self._live: Attempt | None = None
        self._coach: Coach | None = None
        self._told: Told | None = None
        self._at = 0
        self._page_actions |= {
            "boat": self._choose_boat,
            "set": self._set,
            "draw": self._draw,
            "vote": self._vote,
            "show": self._show,
            "leave": self._leave,
            "replay": self._replay,
            "step": self._step,
            "xray": self._xray,
        }

    @property
    def attempt(self) -> Attempt | None:
        """The attempt that is shown, if one is."""
        return self._live

    def close(self) -> None:
        """Nothing is held open here."""

    def handle(self, part: str, action: str, message: Mapping[str, object]) -> None:
        """Do one thing that the page asks; what goes wrong is told in words."""
        try:
            super().handle(part, action, message)
        except EngineSimError as error:
            self._warn(str(error))

    # ---- setting a fault ----------------------------------------------------------------------------------------

    def _choose_boat(self, message: Mapping[str, object]) -> None:
        which = text_of(message, "which")
        self.boat = which if which in layout_names() else self.boat

    def _set(self, message: Mapping[str, object]) -> None:
        name, place = text_of(message, "fault"), text_of(message, "place")
        if not any(name == known and place in places for known, _, places in self._faults()):
            self._warn(TELLS["chosen"])
            return
        self._begin(SetFault(name, place))

    def _draw(self, message: Mapping[str, object]) -> None:
        """Draw a fault as likely as it is on a boat; nobody is told which."""
        layout = layout_of(self.boat).layout
        pairs = [(name, part, weight_at(layout, name, part)) for name, _, places in self._faults() for part in places]
        (drawn,) = secrets.SystemRandom().choices(pairs, [weight for _, _, weight in pairs])
        self._begin(SetFault(drawn[0], drawn[1]))

    def _faults(self) -> list[tuple[str, str, tuple[str, ...]]]:
        """Return every fault that this boat can have and that stops an engine: name, words, places."""
        layout = layout_of(self.boat).layout
        found = []
        for name in faults():
            places = tuple(part for part in fault(name).places(layout) if weight_at(layout, name, part) > 0.0)
            if places:
                found.append((name, FAULTS[fault(name).diagnosis], places))
        return found

    def _begin(self, what: SetFault) -> None:
        scenario = compose_scenario(self.boat, [what], permits_xray=True, title=TELLS["title"], story=TELLS["story"])
        self.progress(TELLS["thinking"])
        self._live, self._coach = Attempt(scenario), Coach(scenario)
        if not self._coach.boats.worked_out()[0]:
            take_up(self._coach.boats, own_cache_folder())
        self.stage, self.revealed, self.xray_on, self.chosen, self._told = "show", False, False, "", None

    # ---- the class's choice -------------------------------------------------------------------------------------

    def choices(self) -> list[BoatCheck]:
        """Return what is put to the vote now."""
        if self._coach is None or self._live is None or self.stage != "show" or self.revealed:
            return []
        return choices_of(self._coach, [step for step in self._live.steps if step.kind == "action"])

    def _vote(self, message: Mapping[str, object]) -> None:
        choices, number = self.choices(), message.get("number")
        if not isinstance(number, int) or not 1 <= number <= len(choices) or self._live is None:
            self._warn(words.NOT_UNDERSTOOD)
            return
        for part, action in choices[number - 1].deeds:
            self._at_part(self._live, part, action)

    def _at_part(self, attempt: Attempt, part: str, action: str) -> None:
        """Work at a part; in a logbook that is gone through, only choose it."""
        super()._at_part(attempt, part, action if self.stage == "show" else "choose")

    def _see(self, step: Step) -> None:
        super()._see(step)
        if self._coach is not None:
            self._coach.see(step)

    def _xray(self, message: Mapping[str, object]) -> None:
        """The inside is the answer: it is there to be looked at once that is shown."""
        if self.revealed:
            self.xray_on = not self.xray_on

    def _show(self, message: Mapping[str, object]) -> None:
        self.revealed = self.xray_on = True

    def _leave(self, message: Mapping[str, object]) -> None:
        self.stage, self._live, self._coach, self._told, self.chosen = "set", None, None, None, ""
        self.xray_on = self.revealed = False

    # ---- going through a logbook --------------------------------------------------------------------------------

    def _replay(self, message: Mapping[str, object]) -> None:
        reading = read_logbook(text_of(message, "text").encode())
        if reading.header is None:
            self._warn(TELLS["not_a_logbook"].format(why=" ".join(reading.findings)))
            return
        header = reading.header
        drawn = draw_scenario(str(header.get("exercise")), str(header.get("ticket")))
        scenario = replace(drawn, permits_xray=True)
        self.progress(TELLS["thinking"])
        played = replay(reading, scenario)
        steps = played.attempt.steps
        self._told = Told(scenario, reading.records[: len(steps)], analyse(scenario, steps, own_cache_folder()))
        self.stage, self.revealed, self.xray_on = "replay", True, False
        self.notice, self.chosen, self._live = " ".join(played.findings), "", None
        self._go_to(0)

    def _step(self, message: Mapping[str, object]) -> None:
        if self._told is None:
            return
        last = len(self._told.records)
        to = {"next": self._at + 1, "previous": self._at - 1, "first": 0, "last": last}
        self._go_to(min(max(to.get(text_of(message, "which"), self._at), 0), last))

    def _go_to(self, number: int) -> None:
        """Stand where the logbook stands after so many steps: a step on is played on, a step back from the start."""
        if self._told is None:
            return
        if self._live is None or len(self._live.steps) > number:
            self._live = Attempt(self._told.scenario)
        for record in self._told.records[len(self._live.steps) : number]:
            step = play_record(self._live, record)
            if step is not None and step.kind == "action":
                self.chosen = step.part
        self._at = number

    # ---- what the page shows ------------------------------------------------------------------------------------

    def panel(self) -> dict[str, object]:
        """Return what stands beside the drawing."""
        shown = self._said("work" if self._live is not None else "set") | {"title": TELLS["title"]}
        if self._live is not None:
            shown |= beside(self._live, self.chosen, self.xray_on) | {"xray_allowed": self.revealed}
        return shown | {"present": self._present()}

    def _present(self) -> dict[str, object]:
        suspects = self._suspects()
        told = self._told
        return {
            "stage": self.stage,
            "setting": setting(self.boat, self._faults()) if self.stage == "set" else None,
            "choices": [choice(self._live, check) for check in self.choices()] if self._live is not None else [],
            "left": left_line(suspects) if suspects else "",
            "known": known_lines(suspects) if self.revealed else [],
            "was": was_line(self._live) if self._is_over and self._live is not None else "",
            "revealed": self.revealed,
            "step": step_line(self._live, self._at, len(told.records)) if told and self._live else "",
        }

    @property
    def _is_over(self) -> bool:
        """Tell whether what it was may be said: once it is shown, or at the end of a logbook."""
        if self._told is not None:
            return self._at == len(self._told.records)
        return self.revealed

    def _suspects(self) -> Sequence[Suspect]:
        """Return what is still possible as things stand."""
        if self.stage == "show" and self._coach is not None:
            return suspects_of(self._coach)
        if self._told is None:
            return ()
        actions = sum(1 for record in self._told.records[: self._at] if record["kind"] == "action")
        return self._told.analysis.insights[actions].suspects
