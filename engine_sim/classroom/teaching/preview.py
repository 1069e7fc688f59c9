"""An exercise tried out before a class gets it: how it begins, how it is solved, how hard and how fair it is.

Simulated learners and the coach play it on this machine; that takes about half a minute for the first fault of a boat
and less for each further one. Nothing is written.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import product

from engine_sim.actions import parts_of
from engine_sim.classroom.course_plan import at_an_engine
from engine_sim.classroom.teaching import preview_words as say
from engine_sim.classroom.teaching.own_exercises import page_of
from engine_sim.classroom.teaching.severity import severity_in_words
from engine_sim.classroom.teaching.trying_out import (
    BLEEDS,
    IDLES,
    KindResult,
    LookAlikes,
    Told,
    WayStep,
    best_way,
    engine_test,
    first_signs,
    look_alikes,
    not_for_owners,
    play_kind,
)
from engine_sim.faults import fault
from engine_sim.learners import KINDS, MODEL
from engine_sim.marking import MarkingScheme, default_scheme
from engine_sim.scenarios import Draw, Pool, Scenario, SetFault, read_pool, write_pool_text
from engine_sim.scenarios.scenario import layout_of
from engine_sim.wording import FAULTS

Progress = Callable[[int, int, str], None]
"""Told how much is done, of how much, and what is done now."""
UNEVEN_RATIO = 2.0
"""How many times the model's minutes on one draw those on another may be; judgement."""
WORDS_A_MINUTE, DEEDS_A_MINUTE = 130.0, 3.0
"""How fast a page is read, and how fast a learner thinks and presses; judgement."""
FAR_OFF_RATIO = 1.5
"""From which ratio on the minutes that an exercise promises are far from those that a learner needs; judgement."""


@dataclass(frozen=True, slots=True)
class Hardness:
    """One thing that can be drawn, in words, and how the model fares on it: minutes on the boat's clock, deeds."""

    what: str
    minutes: float
    deeds: int
    cured: bool
    passed: bool


@dataclass(frozen=True, slots=True)
class DrawPreview:
    """One fault of an exercise, tried out at its first place and severity.

    ``way`` are the checks of the best way on this boat, ``way_minutes`` their time [min], ``expected_minutes`` what the
    best search costs on average over all that may be wrong on such a boat [min].
    """

    what: str
    first: tuple[Told, ...]
    way: tuple[WayStep, ...]
    expected_minutes: float
    kinds: tuple[KindResult, ...]
    alike: LookAlikes
    warnings: tuple[str, ...]

    @property
    def way_minutes(self) -> float:
        """The time of the checks on the best way [min]."""
        return sum(step.minutes for step in self.way)

    @property
    def model(self) -> KindResult:
        """How the model fares."""
        return self.kind(MODEL)

    def kind(self, name: str) -> KindResult:
        """Return how a kind of learner fares."""
        return next(one for one in self.kinds if one.kind == name)

    @property
    def share_passing(self) -> float:
        """Which share of the kinds of learners passes [0..1]."""
        return sum(one.passed for one in self.kinds) / len(self.kinds)

    @property
    def solvable(self) -> bool:
        """Tell whether the model cures it and passes."""
        return self.model.cured and self.model.passed

    @property
    def solved_by_nothing(self) -> bool:
        """Tell whether somebody who does nothing cures it or passes."""
        idle = self.kind(IDLES)
        return idle.cured or idle.passed

    @property
    def solved_by_bleeding(self) -> bool:
        """Tell whether bleeding alone cures it."""
        return self.kind(BLEEDS).cured and self.kind(BLEEDS).bled_only


@dataclass(frozen=True, slots=True)
class Preview:
    """An exercise tried out: each of its faults, how hard each draw is, about how long a learner needs [min]."""

    title: str
    draws: tuple[DrawPreview, ...]
    hardness: tuple[Hardness, ...]
    learner_minutes: float
    warnings: tuple[str, ...]


def preview(
    exercise: Pool | Mapping[str, object], progress: Progress | None = None, scheme: MarkingScheme | None = None
) -> Preview:
    """Try out an exercise, given as a pool or as choices (:func:`engine_sim.scenarios.write_pool_text`).

    Raises BadScenario, OutOfRange or UnknownName for choices that cannot be played.
    """
    pool = exercise if isinstance(exercise, Pool) else read_pool(write_pool_text(exercise))
    rules = default_scheme() if scheme is None else scheme
    every = every_draw(pool)
    firsts = [faults[0] for faults in every]
    steps = _Steps(progress, len(firsts) * (len(KINDS) + 3) + sum(len(one) - 1 for one in every))
    draws = tuple(_try_out(pool, faults, rules, steps) for faults in firsts)
    hardness = []
    for faults, tried in zip(every, draws, strict=True):
        hardness.append(_hardness(tried.what, tried.model))
        hardness += [_model_on(pool, one, rules, steps) for one in faults[1:]]
    steps.end()
    minutes = learner_minutes(pool, max((one.deeds for one in hardness), default=0))
    return Preview(pool.title, draws, tuple(hardness), minutes, _warnings(pool, hardness, minutes))


class _Steps:
    """Counts what is done and tells it."""

    def __init__(self, progress: Progress | None, of: int) -> None:
        self._progress, self._done, self._of = progress, 0, of

    def next(self, what: str) -> None:
        """Say what is done now."""
        if self._progress is not None:
            self._progress(self._done, self._of, what)
        self._done += 1

    def end(self) -> None:
        """Say that all is done."""
        if self._progress is not None:
            self._progress(self._of, self._of, say.DONE)


def every_draw(pool: Pool) -> tuple[tuple[tuple[SetFault, ...], ...], ...]:
    """Return for each fault of a pool all that can be drawn with it: every place and severity, the first ones first."""
    return tuple(_all_of(draw) for draw in pool.draws) or ((((),)),)


def _all_of(draw: Draw) -> tuple[tuple[SetFault, ...], ...]:
    choices = [
        [SetFault(one.fault, part, bad) for part in one.parts for bad in one.possible_severity]
        for one in (draw, *draw.also)
    ]
    return tuple(product(*choices))


def in_words(scenario: Scenario) -> str:
    """Return what is wrong in a scenario, each fault with its part and how bad it is."""
    labels = {part.id: part.label for part in parts_of(layout_of(scenario.layout).layout)}
    return " and ".join(_one_in_words(item, labels) for item in scenario.faults) or say.NOTHING_WRONG


def _one_in_words(item: SetFault, labels: Mapping[str, str]) -> str:
    bad = "" if item.severity is None else f" ({severity_in_words(item.fault, item.severity)})"
    return f"{labels[item.part]}: {FAULTS[fault(item.fault).diagnosis]}{bad}"


def learner_minutes(pool: Pool, deeds: int) -> float:
    """Return about how long a learner needs [min] for the page and so many deeds."""
    cells = json.loads(page_of(at_an_engine(pool)))["cells"]
    words = sum(len("".join(cell["source"]).split()) for cell in cells if cell["cell_type"] == "markdown")
    return words / WORDS_A_MINUTE + deeds / DEEDS_A_MINUTE


def _try_out(pool: Pool, faults: tuple[SetFault, ...], rules: MarkingScheme, steps: _Steps) -> DrawPreview:
    scenario = pool.scenario("", faults)
    what = in_words(scenario)
    steps.next(say.FIRST_SIGNS.format(what=what))
    first = first_signs(scenario)
    steps.next(say.BEST_WAY.format(what=what))
    way, expected = best_way(scenario)
    steps.next(say.LOOK_ALIKES.format(what=what))
    alike = look_alikes(scenario)
    kinds = []
    for kind in KINDS:
        steps.next(say.PLAYS.format(kind=kind, what=what))
        kinds.append(play_kind(kind, scenario, rules))
    found = DrawPreview(what, first, way, expected, tuple(kinds), alike, ())
    tested, apart = engine_test(scenario, rules), not_for_owners(scenario)
    return DrawPreview(
        what, first, way, expected, tuple(kinds), alike, _warnings_of(found, tested, apart, len(faults) > 1)
    )


def _warnings_of(
    found: DrawPreview, tested: tuple[bool, bool], apart: tuple[str, ...], several: bool
) -> tuple[str, ...]:
    """Return what an instructor should know of one fault."""
    model = found.model
    told = (
        (tested == (True, True), say.NOT_FELT),
        (tested == (True, False), say.NOT_BY_THE_ENGINE),
        (bool(apart), say.NOT_FOR_OWNERS.format(faults=", ".join(FAULTS[fault(name).diagnosis] for name in apart))),
        (not model.cured, say.NOT_CURED),
        (model.cured and not model.passed, say.NOT_PASSED.format(points=model.points, most=model.most_points)),
        (found.solved_by_nothing, say.BY_NOTHING),
        (found.solved_by_bleeding, say.BY_BLEEDING),
        (bool(found.alike.after_all), say.SAME_TO_THE_END.format(causes="; ".join(found.alike.after_all))),
        (several, say.SEVERAL),
    )
    idle = (one for one in found.kinds if one.passed and one.kind in say.SHOULD_NOT_PASS)
    return (*(text for holds, text in told if holds), *(say.PASSES.format(kind=one.words) for one in idle))


def _model_on(pool: Pool, faults: tuple[SetFault, ...], rules: MarkingScheme, steps: _Steps) -> Hardness:
    scenario = pool.scenario("", faults)
    what = in_words(scenario)
    steps.next(say.PLAYS.format(kind=MODEL, what=what))
    return _hardness(what, play_kind(MODEL, scenario, rules))


def _hardness(what: str, model: KindResult) -> Hardness:
    return Hardness(what, model.minutes, model.deeds, model.cured, model.passed)


def _warnings(pool: Pool, hardness: list[Hardness], minutes: float) -> tuple[str, ...]:
    """Return what an instructor should know of the exercise as a whole."""
    by_time = sorted(hardness, key=lambda one: one.minutes)
    quick, slow = by_time[0], by_time[-1]
    uneven = slow.minutes > UNEVEN_RATIO * max(quick.minutes, 1.0)
    failed = [one.what for one in hardness if not one.passed]
    ratio = max(minutes, pool.minutes) / max(1.0, min(minutes, pool.minutes))
    told = (
        (
            uneven,
            say.UNEVEN.format(quick=quick.what, low=quick.minutes, slow=slow.what, high=slow.minutes),
        ),
        (0 < len(failed) < len(hardness), say.PASSES_ON_SOME.format(failed="; ".join(failed))),
        (ratio > FAR_OFF_RATIO, say.MINUTES.format(said=pool.minutes, needed=minutes)),
        (bool(pool.permits_xray), say.XRAY),
    )
    return tuple(text for holds, text in told if holds)
