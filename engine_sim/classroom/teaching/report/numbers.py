"""The numbers of a class: who can do what, where the order broke, which checks were made, what they led to."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from statistics import median, quantiles

from engine_sim.classroom.course_plan import Exercise, Lesson, PlanTrouble, lessons_in, sentence_of
from engine_sim.classroom.course_root import CourseRoot
from engine_sim.classroom.shipped import shipped
from engine_sim.classroom.teaching.report.hand_ins import ClassWork, HandIn, read_class
from engine_sim.marking.facts import BROKEN, NOT_AT_STAKE, DiagnosisFact, Facts, RuleFact
from engine_sim.units import MINUTE_S

YES_SHARE, PARTLY_SHARE = 0.75, 0.5
"""From which share of the points [0..1] somebody can do a thing, and can do it in part; judgement."""
YES, PARTLY, NOT_YET, NOT_SHOWN = "yes", "partly", "not yet", "not shown"
STATES = (YES, PARTLY, NOT_YET, NOT_SHOWN)


@dataclass(frozen=True, slots=True)
class Spread:
    """How figures lie: how many, the least, a quarter, the middle, three quarters and the most of them."""

    count: int
    least: float
    quarter: float
    middle: float
    three_quarters: float
    most: float


@dataclass(frozen=True, slots=True)
class Count:
    """How often something came, in words."""

    words: str
    count: int


@dataclass(frozen=True, slots=True)
class RuleCount:
    """A rule or caution over the class: hand-ins in which it was at stake, was broken, was the first to be broken.

    ``learners`` are those who broke it at least once.
    """

    id: str
    sentence: str
    at_stake: int
    broken: int
    first: int
    learners: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WrongCount:
    """A wrong diagnosis over the class: what was said, how often, what was really wrong, and what misled."""

    said: str
    count: int
    really: tuple[Count, ...]
    misled: tuple[Count, ...]
    without_evidence: int


@dataclass(frozen=True, slots=True)
class CanDo:
    """What somebody earned where an objective is exercised [points], of what there was to earn."""

    points: float = 0.0
    maximum: float = 0.0

    @property
    def share(self) -> float | None:
        """The share earned [0..1], None where nothing was handed in."""
        return self.points / self.maximum if self.maximum > 0.0 else None

    @property
    def state(self) -> str:
        """Whether it can be done: one of :data:`STATES`."""
        share = self.share
        if share is None:
            return NOT_SHOWN
        return YES if share >= YES_SHARE else PARTLY if share >= PARTLY_SHARE else NOT_YET


@dataclass(frozen=True, slots=True)
class Objective:
    """An objective that the exercises of a report exercise: its name, its sentence, its lesson, and by which."""

    id: str
    sentence: str
    lesson: str
    exercises: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ExerciseNumbers:
    """One exercise: its hand-ins, who passed, points [0..1], time on the boat's clock [min], cranking [s], versions."""

    exercise: Exercise
    hand_ins: int
    passed: int
    waiting: int
    share: Spread | None
    minutes: Spread | None
    cranked_s: Spread | None
    cured: int
    versions: tuple[str, ...]


@dataclass(frozen=True)
class ClassNumbers:
    """All the numbers of a report."""

    work: ClassWork
    lessons: tuple[Lesson, ...]
    objectives: tuple[Objective, ...]
    can_do: Mapping[str, Mapping[str, CanDo]]
    exercises: tuple[ExerciseNumbers, ...]
    rules: tuple[RuleCount, ...]
    cautions: tuple[RuleCount, ...]
    first_checks: tuple[Count, ...]
    no_check: int
    told_nothing: tuple[Count, ...]
    checks: int
    asked_coach: int
    wrong: tuple[WrongCount, ...]
    diagnoses: int
    none_given: int
    hard_fails: tuple[tuple[str, str, str], ...]
    helps: tuple[Count, ...]
    slips: tuple[Count, ...]

    @property
    def at_engines(self) -> int:
        """How many hand-ins are of work at an engine."""
        return sum(not one.facts.sums for one in self.work.hand_ins)


def class_numbers(course: CourseRoot, exercises: Sequence[str] | None = None) -> ClassNumbers:
    """Return the numbers of a class, of all that was marked or of some exercises only; no logbook is played.

    Raises RosterError for a roster, BadMarkingScheme for a scheme that cannot be used.
    """
    return numbers_of(read_class(course, exercises), lessons_in(shipped("course") / "notebooks"))


def numbers_of(work: ClassWork, lessons: tuple[Lesson, ...]) -> ClassNumbers:
    """Return the numbers of what a class handed in."""
    engines = [one for one in work.hand_ins if not one.facts.sums]
    objectives = objectives_of(work.exercises, lessons)
    firsts = [one.facts.first_check for one in engines]
    silent = [{check.words for check in one.facts.told_nothing} for one in engines]
    return ClassNumbers(
        work=work,
        lessons=lessons,
        objectives=objectives,
        can_do={name: can_do_of(name, work, objectives) for name in work.learners},
        exercises=tuple(exercise_numbers(one, work.of(one.id)) for one in work.exercises),
        rules=rule_counts(engines, "rules"),
        cautions=rule_counts(engines, "cautions"),
        first_checks=counted(check.words for check in firsts if check is not None),
        no_check=sum(check is None for check in firsts),
        told_nothing=counted(words for said in silent for words in said),
        checks=sum(one.facts.checks for one in engines),
        asked_coach=sum(one.facts.by_coach for one in engines),
        wrong=wrong_counts([one.facts for one in engines]),
        diagnoses=sum(len(one.facts.diagnoses) for one in engines),
        none_given=sum(not one.facts.diagnoses for one in engines),
        hard_fails=tuple((one.learner, one.exercise, fail.text) for one in engines for fail in one.facts.hard_fails),
        helps=helps_of(engines),
        slips=slips_of(work.hand_ins),
    )


def spread(figures: Sequence[float]) -> Spread | None:
    """Return how figures lie, None for none; quartiles are taken between the figures next to them."""
    if not figures:
        return None
    low, _, high = quantiles(figures, n=4, method="inclusive") if len(figures) > 1 else (figures[0],) * 3
    return Spread(len(figures), min(figures), low, median(figures), high, max(figures))


def counted(words: Iterable[str]) -> tuple[Count, ...]:
    """Return how often each came, the commonest first, those alike by the alphabet."""
    counts = Counter(words)
    return tuple(Count(name, counts[name]) for name in sorted(counts, key=lambda name: (-counts[name], name)))


def objectives_of(exercises: Sequence[Exercise], lessons: tuple[Lesson, ...]) -> tuple[Objective, ...]:
    """Return the objectives that exercises exercise, in the order of the course."""
    order = [f"{lesson.id}.{name}" for lesson in lessons for name in lesson.objectives]
    asked = {name for one in exercises for name in one.objectives}
    found = []
    for name in [*(known for known in order if known in asked), *sorted(asked - set(order))]:
        where = tuple(one.id for one in exercises if name in one.objectives)
        found.append(Objective(name, plain_sentence(name, lessons), name.partition(".")[0], where))
    return tuple(found)


def plain_sentence(objective: str, lessons: tuple[Lesson, ...]) -> str:
    """Return an objective's sentence without the signs for bold type; its name where no lesson has it."""
    try:
        return sentence_of(objective, lessons).replace("**", "")
    except PlanTrouble:
        return objective


def can_do_of(learner: str, work: ClassWork, objectives: Sequence[Objective]) -> dict[str, CanDo]:
    """Return for each objective what a learner earned in the exercises that exercise it."""
    own = {one.exercise: one for one in work.hand_ins if one.learner == learner}
    found = {}
    for objective in objectives:
        pairs = [points_for(own[name], objective.id) for name in objective.exercises if name in own]
        found[objective.id] = CanDo(sum(got for got, _ in pairs), sum(most for _, most in pairs))
    return found


def points_for(one: HandIn, objective: str) -> tuple[float, float]:
    """Return points and maximum of a hand-in for an objective: of sums, only those that are about it."""
    names = {item.id for item in one.facts.sums if item.objective == objective} if one.facts.sums else set(one.marks)
    marks = [mark for name, mark in one.marks.items() if name in names]
    return sum(mark.score for mark in marks), sum(mark.maximum for mark in marks)


def exercise_numbers(exercise: Exercise, hand_ins: Sequence[HandIn]) -> ExerciseNumbers:
    """Return the numbers of one exercise; times are of those who did anything."""
    worked = [one.facts for one in hand_ins if one.facts.worked and not one.facts.sums]
    return ExerciseNumbers(
        exercise=exercise,
        hand_ins=len(hand_ins),
        passed=sum(one.passed for one in hand_ins),
        waiting=sum(one.waiting > 0 for one in hand_ins),
        share=spread([one.share for one in hand_ins]),
        minutes=spread([one.clock_s / MINUTE_S for one in worked]),
        cranked_s=spread([one.cranked_s for one in worked]),
        cured=sum(one.facts.cured for one in hand_ins),
        versions=tuple(dict.fromkeys(versions_in_words(one.facts) for one in hand_ins)),
    )


def versions_in_words(facts: Facts) -> str:
    """Return the versions that a hand-in was marked with, in words."""
    names = {"scenario_version": "exercise", "simulator_version": "simulator", "scheme_version": "marking scheme"}
    return ", ".join(f"{said} version {facts.versions[name]}" for name, said in names.items() if name in facts.versions)


def rule_counts(hand_ins: Sequence[HandIn], which: str) -> tuple[RuleCount, ...]:
    """Return each rule (``which`` is ``rules`` or ``cautions``) that was at stake, the most often broken first."""
    facts: dict[str, list[tuple[HandIn, RuleFact]]] = defaultdict(list)
    for one in hand_ins:
        own: Sequence[RuleFact] = getattr(one.facts, which)
        for rule in own:
            if rule.state != NOT_AT_STAKE:
                facts[rule.id].append((one, rule))
    firsts = Counter(one.facts.first_broken.id for one in hand_ins if one.facts.first_broken is not None)
    found = []
    for name, pairs in facts.items():
        broke = [one for one, rule in pairs if rule.state == BROKEN]
        who = tuple(dict.fromkeys(one.learner for one in broke))
        first = firsts[name] if which == "rules" else 0
        found.append(RuleCount(name, pairs[0][1].sentence, len(pairs), len(broke), first, who))
    return tuple(sorted(found, key=lambda one: -one.broken))


def wrong_counts(facts: Sequence[Facts]) -> tuple[WrongCount, ...]:
    """Return the wrong diagnoses, the commonest first, with what was really wrong and what misled."""
    said: dict[tuple[str, str], list[tuple[Facts, DiagnosisFact]]] = defaultdict(list)
    for one in facts:
        for given in one.diagnoses:
            if not given.right:
                said[given.part_label, given.fault_label].append((one, given))
    found = []
    for (part, fault), pairs in said.items():
        really = counted(f"{truth.part_label}: {truth.fault_label}" for one, _ in pairs for truth in one.truths)
        misled = counted(f"{sign.part_label}: {sign.text}" for _, given in pairs for sign in given.misled_by)
        bare = sum(not given.named for _, given in pairs)
        found.append(WrongCount(f"{part}: {fault}", len(pairs), really, misled, bare))
    return tuple(sorted(found, key=lambda one: (-one.count, one.said)))


def helps_of(hand_ins: Sequence[HandIn]) -> tuple[Count, ...]:
    """Return how often each kind of help was asked for."""
    return counted(kind for one in hand_ins for kind, times in one.facts.helps.items() for _ in range(times))


def slips_of(hand_ins: Sequence[HandIn]) -> tuple[Count, ...]:
    """Return the sums that went wrong, with the slip behind the answer where one is known."""
    words = {True: "another slip", False: "no answer"}
    wrong = [item for one in hand_ins for item in one.facts.sums if not item.right]
    return counted(f"{item.title}: {item.slip_text or words[item.answered]}" for item in wrong)
