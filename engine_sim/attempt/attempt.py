"""One play of one scenario. Time moves only through :meth:`Attempt.act`; everything done is a :class:`Step`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from copy import copy

from engine_sim.actions import Workplace, action, actions_of, perform, why_not
from engine_sim.attempt.film import Film, Glimpse
from engine_sim.attempt.records import Diagnosis, Offer, PartInfo, Step, XRay
from engine_sim.attempt.views import outside, xray
from engine_sim.errors import BadScenario, NotPermitted, SolverFailed, UnknownName
from engine_sim.observations import Noticed, Observation, told
from engine_sim.scenarios import HELPS, Scenario
from engine_sim.units import LITRE_M3, MINUTE_S
from engine_sim.wording import CAUTIONS, DIAGNOSES, FAULTS, SPILLED, STANDS, WET

LONGEST_NOTE = 2000
"""Characters of a note that are kept."""

_FAILED_TRIES = frozenset({"fires_not", "dies", "dies_meanwhile"})
_TRIES = _FAILED_TRIES | {"fires", "ran_well", "ran_unevenly", "engine_idles"}
Keep = Callable[[Step], None]
"""Called with each step before it is returned; if it raises, open the exercise again: the rig is a step ahead."""


class Attempt:
    """A learner at the engine: list the parts, list what can be done, do it, read what is noticed.

    >>> from engine_sim.scenarios import draw_scenario
    >>> attempt = Attempt(draw_scenario("first_look", ""))
    >>> [part.id for part in attempt.parts()][:2]
    ['tank', 'shut_off']
    >>> [offer.label for offer in attempt.offers("shut_off")]
    ['look at the handle', 'open the shut-off', 'shut the shut-off']
    >>> step = attempt.act("shut_off", "look")
    >>> step.observations[0].text
    'The handle lies along the pipe: open.'
    >>> attempt.clock_s
    10.0
    >>> [(seen.number, seen.part, seen.sense, seen.key) for seen in attempt.observations]
    [(1, 'shut_off', 'see', 'handle_along')]
    """

    def __init__(self, scenario: Scenario, keep: Keep | None = None) -> None:
        """Start a scenario; ``keep`` is called with each step before the step is returned."""
        self.scenario = scenario
        self._place = Workplace(scenario.prepare())
        self._place.shore_s = None if scenario.lee_shore_min is None else scenario.lee_shore_min * MINUTE_S
        self._steps: list[Step] = []
        self._observations: list[Observation] = []
        self._keep = keep
        self._given: Diagnosis | None = None
        self._handed_in = False

    @property
    def clock_s(self) -> float:
        """Time since the start [s]."""
        return self._place.rig.clock_s

    @property
    def handed_in(self) -> bool:
        """Tell whether the learner has handed in."""
        return self._handed_in

    @property
    def diagnosis(self) -> Diagnosis | None:
        """The diagnosis given last, if any."""
        return self._given

    @property
    def steps(self) -> tuple[Step, ...]:
        """Everything done so far, oldest first."""
        return tuple(self._steps)

    @property
    def observations(self) -> tuple[Observation, ...]:
        """Everything noticed so far, oldest first."""
        return tuple(self._observations)

    @property
    def place(self) -> Workplace:
        """The truth, for marking and for tests; no screen of a learner reads it."""
        return self._place

    def parts(self) -> tuple[PartInfo, ...]:
        """Return the parts of this boat in flow order.

        >>> from engine_sim.scenarios import draw_scenario
        >>> attempt = Attempt(draw_scenario("first_look", ""))
        >>> [part.label for part in attempt.parts()][:4]
        ['tank', 'shut-off', 'separator inlet joint', 'separator']
        """
        return tuple(PartInfo(part.id, part.label, part.purpose) for part in self._place.parts)

    def offers(self, part: str) -> tuple[Offer, ...]:
        """Return what a hand can do at a part; raise UnknownName if there is no such part.

        >>> from engine_sim.scenarios import draw_scenario
        >>> attempt = Attempt(draw_scenario("first_look", ""))
        >>> [offer.action for offer in attempt.offers("shut_off")]
        ['look', 'open', 'shut']
        >>> attempt.offers("shutoff")  # doctest: +ELLIPSIS
        Traceback (most recent call last):
        engine_sim.errors.UnknownName: No part is called 'shutoff'. Did you mean 'shut_off'? ...
        """
        return tuple(
            Offer(
                item.id,
                item.label,
                item.takes_s + item.plays_s,
                item.needs,
                CAUTIONS.get(item.caution, ""),
                why_not(self._place, part, item),
            )
            for item in actions_of(self._place, part)
        )

    def possible_now(self) -> tuple[tuple[str, str], ...]:
        """Return everything that can be done now as pairs of part and action; nothing after handing in.

        >>> from engine_sim.scenarios import draw_scenario
        >>> attempt = Attempt(draw_scenario("first_look", ""))
        >>> ("tank", "dip") in attempt.possible_now(), ("separator", "fill") in attempt.possible_now()
        (True, False)
        """
        if self._handed_in:
            return ()
        return tuple(
            (part.id, offer.action) for part in self._place.parts for offer in self.offers(part.id) if not offer.why_not
        )

    def fault_choices(self) -> tuple[tuple[str, str, tuple[str, ...]], ...]:
        """Return what can be said to be wrong on this boat: id, label, and the parts that it can be said of."""
        found = []
        for name, kinds in DIAGNOSES.items():
            parts = tuple(part.id for part in self._place.of_kind(*kinds))
            if parts:
                found.append((name, FAULTS[name], parts))
        return tuple(found)

    def act(self, part: str, name: str) -> Step:
        """Do something at a part and return what was noticed; raise UnknownName for what does not exist.

        What cannot be done now is an observation that says why, and takes no time:

        >>> from engine_sim.scenarios import draw_scenario
        >>> attempt = Attempt(draw_scenario("first_look", ""))
        >>> attempt.act("separator", "fill").observations[0].text
        'That cannot be done now: the top vent is tight, nothing goes in.'
        >>> attempt.clock_s
        0.0
        """
        item = action(self._place, part, name)
        if self._handed_in:
            return self._refused(part, name)
        try:
            noticed: list[Noticed] = perform(self._place, part, item)
        except SolverFailed:
            self._place.hands_off()
            noticed = [told(part, "not_worked_out")]
        return self._add("action", part, name, noticed)

    def act_watched(self, part: str, name: str) -> tuple[Step, tuple[Glimpse, ...]]:
        """Do something as :meth:`act` does, and return glimpses of how it went on beside the step."""
        item = action(self._place, part, name)
        film = Film(self._place, item.takes_s + item.plays_s, self.scenario.permits_xray)
        self._place.rig.watch = film.look
        try:
            return self.act(part, name), tuple(film.glimpses)
        finally:
            self._place.rig.watch = None

    def label_of(self, part: str, name: str) -> str:
        """Return in words what an action does; raise UnknownName for what does not exist."""
        return action(self._place, part, name).label

    def note(self, text: str) -> Step:
        """Write a note; it is kept, with at most 2000 characters."""
        if self._handed_in:
            return self._refused("bench", "note")
        return self._add("note", "", "", [], text=str(text)[:LONGEST_NOTE])

    def ask_help(self, kind: str, text: str) -> Step:
        """Keep that help was asked for and what was said; raise NotPermitted unless the scenario allows that kind."""
        most = self.scenario.help_most
        if kind not in HELPS or not most or HELPS.index(kind) > HELPS.index(most):
            raise NotPermitted(f"{self.scenario.title!r} gives no help of the kind {kind!r}.")
        if self._handed_in:
            return self._refused("bench", "help")
        return self._add("help", "", kind, [], text=str(text)[:LONGEST_NOTE])

    def left_undone(self) -> tuple[str, ...]:
        """Return in words what stands open, loose or wet; raise NotPermitted unless the scenario allows help."""
        if not self.scenario.help_most:
            raise NotPermitted(f"{self.scenario.title!r} gives no help. Look around before you hand in.")
        place = self._place
        wet = tuple(f"{place.label(part)}: {WET}" for part in place.wet_parts())
        spilled = (SPILLED.format(ml=place.spilled_ml()),) if place.spilled_ml() > 0 else ()
        tries = [seen.key for seen in self._observations if seen.key in _TRIES]
        still = (STANDS,) if tries and tries[-1] in _FAILED_TRIES and not place.rig.engine.running else ()
        return (*still, *place.openings_in_words(), *wet, *spilled)

    def diagnose(self, diagnosis: Diagnosis) -> Step:
        """Say what is wrong; the last one said before handing in counts. Raise UnknownName for what cannot be said."""
        choices = {name: (label, parts) for name, label, parts in self.fault_choices()}
        if diagnosis.fault not in choices:
            raise UnknownName("fault", diagnosis.fault, choices)
        label, parts = choices[diagnosis.fault]
        if diagnosis.part not in parts:
            raise UnknownName(f"part that can be {label!r}", diagnosis.part, parts)
        for number in diagnosis.evidence:
            if not 1 <= number <= len(self._observations):
                raise BadScenario(f"There is no observation {number}; there are {len(self._observations)}.")
        if self._handed_in:
            return self._refused(diagnosis.part, "diagnose")
        self._given = diagnosis
        return self._add("diagnosis", diagnosis.part, diagnosis.fault, [], diagnosis=diagnosis)

    def hand_in(self) -> Step:
        """Hand in; nothing more can be done after that."""
        if self._handed_in:
            return self._refused("bench", "hand_in")
        self._handed_in = True
        return self._add("hand_in", "", "", [])

    def outside(self) -> dict[str, object]:
        """Return what a person standing there sees now."""
        return outside(self._place)

    def aboard(self) -> dict[str, float]:
        """Return what is on board to work with: spares by number, and clean fuel [L]."""
        stores = self._place.stores
        return {"clean fuel": round(stores.clean_fuel_m3 / LITRE_M3, 1), **stores.left}

    def xray(self) -> XRay:
        """Return what is inside; raise NotPermitted unless the scenario allows it."""
        if not self.scenario.permits_xray:
            raise NotPermitted(f"{self.scenario.title!r} does not show the inside. Find out by what you notice.")
        return xray(self._place)

    def _refused(self, part: str, name: str) -> Step:
        """Return a step that is not kept: nothing can be done any more."""
        number = len(self._observations) + 1
        said = told(part, "handed_in")
        only = Observation(number, self.clock_s, part, said.sense, said.key, said.text())
        return Step(len(self._steps) + 1, "refused", part, name, self.clock_s, (only,))

    def _add(
        self,
        kind: str,
        part: str,
        name: str,
        noticed: Sequence[Noticed],
        text: str = "",
        diagnosis: Diagnosis | None = None,
    ) -> Step:
        first = len(self._observations) + 1
        seen = tuple(
            Observation(first + index, self.clock_s, item.part, item.sense, item.key, item.text())
            for index, item in enumerate(noticed)
        )
        step = Step(len(self._steps) + 1, kind, part, name, self.clock_s, seen, text, diagnosis)
        if self._keep is not None:
            self._keep(step)
        self._steps.append(step)
        self._observations.extend(seen)
        return step

    def reopened(self) -> Attempt:
        """Return the same engine as it was left, open again for marking; what is done there goes into no logbook.

        Both stand at one engine: nothing more should be done on this attempt afterwards.
        """
        again = copy(self)
        again._steps, again._observations = list(self._steps), list(self._observations)
        again._keep, again._handed_in = None, False
        return again

    def keep_with(self, keep: Keep | None) -> None:
        """Set what is called with each step from now on."""
        self._keep = keep
