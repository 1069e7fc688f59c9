"""The sections of a class report on what learners did, each as HTML from the numbers."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence

from engine_sim.bench.helping import TELLS
from engine_sim.classroom.teaching.report.advice import HOW, NOBODY, weakest_objective, what_next
from engine_sim.classroom.teaching.report.markup import bullets, figure, heading, paragraph, percent, table
from engine_sim.classroom.teaching.report.numbers import (
    PARTLY_SHARE,
    STATES,
    YES_SHARE,
    ClassNumbers,
    Count,
    Objective,
    RuleCount,
    Spread,
)
from engine_sim.classroom.teaching.report.pictures import (
    MOST_BARS,
    count_bars,
    spread_boxes,
    spread_in_words,
    state_bars,
)

Called = Mapping[str, str]
"""What each learner is called in a report, by id, in the order in which they are listed."""
MOST_LINES, MOST_COLUMNS = 10, 6
IN_A_PICTURE = "The numbers of the picture stand in the table."


def at_a_glance(numbers: ClassNumbers, called: Called, with_names: bool) -> str:
    """Return the table of the exercises, who was absent, and the versions."""
    work = numbers.work
    columns = [("Exercise", 34), ("Handed in", 11), ("Absent", 11), ("Not marked yet", 13), ("Passed", 11)]
    rows = [
        (
            one.exercise.title,
            one.hand_ins + len(work.unmarked[one.exercise.id]),
            len(work.absent[one.exercise.id]),
            len(work.unmarked[one.exercise.id]),
            one.passed,
            "-"
            if one.share is None
            else f"{percent(one.share.middle)} ({percent(one.share.least)} to {percent(one.share.most)})",
        )
        for one in numbers.exercises
    ]
    found = heading(2, "At a glance", "glance")
    found += paragraph(f"{len(called)} learners are on the roster; {len(work.hand_ins)} hand-ins are counted here.")
    found += table("glance", [*columns, ("Points, median (range)", 20)], rows)
    waiting = sum(one.waiting for one in numbers.exercises)
    if waiting:
        found += paragraph(f"{waiting} hand-ins hold a written answer that is not marked yet; it is left out.")
    for words, by_exercise in (("Absent", work.absent), ("Handed in, not marked yet", work.unmarked)):
        found += who_is_missing(words, numbers, by_exercise, called) if with_names else ""
    found += heading(3, "What it was marked with")
    return found + bullets(f"{one.exercise.title}: {'; '.join(one.versions) or 'nothing'}" for one in numbers.exercises)


def who_is_missing(words: str, numbers: ClassNumbers, who: Mapping[str, tuple[str, ...]], called: Called) -> str:
    """Return who is missing from which exercise, by name."""
    lines = [
        f"{one.exercise.title}: {', '.join(called[name] for name in who[one.exercise.id])}"
        for one in numbers.exercises
        if who[one.exercise.id]
    ]
    return heading(3, words) + bullets(lines) if lines else ""


def teach_next(numbers: ClassNumbers) -> str:
    """Return what to teach next, and by which rule that was found."""
    found = heading(2, "What to teach next", "next")
    suggestions = what_next(numbers)
    rows = [
        (one.sentence, one.learners, one.points, one.weight, f"{one.lesson} ({one.objective})") for one in suggestions
    ]
    columns = [("Rule or caution", 34), ("Learners", 11), ("Points", 9), ("Weight", 11), ("Lesson", 35)]
    found += table("next", columns, rows) if rows else paragraph(NOBODY)
    found += paragraph(HOW)
    weakest = weakest_objective(numbers)
    if weakest is not None:
        sentence, short, shown = weakest
        found += paragraph(
            f"Weakest objective: {sentence} ({short} of {shown} who showed it cannot do it yet, or partly)."
        )
    return found


def who_can_do_what(numbers: ClassNumbers, called: Called) -> str:
    """Return who can do what: the class by objective, then every learner."""
    found = heading(2, "Who can do what")
    found += paragraph(
        "An objective is shown by the points earned, of all that could be earned, in the exercises that ask for it; of "
        f"the sums only those that are about it. From {percent(YES_SHARE)} on it reads yes, from "
        f"{percent(PARTLY_SHARE)} on partly, below that not yet; without a hand-in, not shown."
    )
    if not numbers.objectives:
        return found + paragraph("These exercises name no objective.")
    rows = [(f"{place}. {one.sentence}", states_of(one, numbers)) for place, one in enumerate(numbers.objectives, 1)]
    for part, some in parted(rows, MOST_BARS):
        found += figure(
            state_bars(
                f"can{part}",
                f"Who can do what, objectives {some[0][0].split('.')[0]} to {some[-1][0].split('.')[0]}",
                some,
            ),
            IN_A_PICTURE,
        )
    found += heading(3, "The class, by objective", "objectives")
    columns = [("Objective", 48), *((state.capitalize(), 13) for state in STATES)]
    found += table("objectives", columns, [(words, *counts.values()) for words, counts in rows])
    for part, some_objectives in parted(list(enumerate(numbers.objectives, 1)), MOST_COLUMNS):
        found += every_learner(part, some_objectives, numbers, called)
    return found


def states_of(objective: Objective, numbers: ClassNumbers) -> dict[str, int]:
    """Return how many learners stand where with an objective."""
    states = [own[objective.id].state for own in numbers.can_do.values()]
    return {state: states.count(state) for state in STATES}


def every_learner(part: int, some: Sequence[tuple[int, Objective]], numbers: ClassNumbers, called: Called) -> str:
    """Return the table of every learner by some objectives, which are named by their numbers."""
    first, last = some[0][0], some[-1][0]
    said = f"Every learner, objectives {first} to {last}" if last > first else f"Every learner, objective {first}"
    wide = 66 // len(some)
    columns = [("Learner", 100 - wide * len(some)), *((str(place), wide) for place, _ in some)]
    rows = []
    for learner, name in called.items():
        own = [numbers.can_do[learner][one.id] for _, one in some]
        told = [one.state if one.share is None else f"{one.state} ({percent(one.share)})" for one in own]
        rows.append((name, *told))
    return heading(3, said, f"every{part}") + table(f"every{part}", columns, rows)


def parted(items: Sequence, most: int) -> list[tuple[int, Sequence]]:  # type: ignore[type-arg]
    """Return items in parts of at most so many, as even as can be, numbered from 1."""
    parts = -(-len(items) // most)
    ends = [round(place * len(items) / parts) for place in range(parts + 1)] if parts else []
    return [(number, items[begin:end]) for number, (begin, end) in enumerate(itertools.pairwise(ends), 1)]


def order_and_checks(numbers: ClassNumbers) -> str:
    """Return where the order broke, what was looked at first, and which checks told nothing."""
    broken = [one for one in numbers.rules if one.broken]
    found = heading(2, "Where the order broke", "order")
    found += paragraph(
        f"Of {numbers.at_engines} hand-ins at an engine. At stake: the work came to where the rule asks something. "
        "First: it was the first rule of order that broke in that work."
    )
    found += pictured("order", "How often each rule of order was broken", broken)
    found += rule_table("order", broken, True)
    found += heading(2, "The first check chosen", "first")
    found += paragraph(f"In {numbers.no_check} hand-ins no check was made at all.") if numbers.no_check else ""
    found += count_table("first", "Check", numbers.first_checks)
    found += heading(2, "Checks that told nothing", "nothing")
    found += paragraph(
        f"Made while the fault was still looked for, and all that had been possible stayed possible, as the coach "
        f"reckons; counted once a hand-in. It was asked in {numbers.asked_coach} of {numbers.at_engines} hand-ins. A "
        "check that tells nothing is no fault of its own; one that many make too late or too often is."
    )
    return found + count_table("nothing", "Check", numbers.told_nothing)


def time_used(numbers: ClassNumbers) -> str:
    """Return the time used on the boat's clock and the cranking."""
    found = heading(2, "Time and cranking", "time")
    found += paragraph("On the boat's clock, of those who did anything; not by the clock on the wall.")
    columns = [("Exercise", 34), ("Learners", 12), ("Time", 27), ("Cranking", 27)]
    rows = [
        (one.exercise.title, one.minutes.count, in_words(one.minutes, "min"), in_words(one.cranked_s, "s"))
        for one in numbers.exercises
        if one.minutes is not None
    ]
    boxes = [(one.exercise.title, one.minutes) for one in numbers.exercises if one.minutes is not None]
    for part, some in parted(boxes, MOST_BARS):
        found += figure(spread_boxes(f"time{part}", "Time used on the boat's clock", some, "minutes"), BOXES)
    return found + table("time", columns, rows)


BOXES = "The box holds the middle half, the line in it is the median, the ends are the least and the most."


def in_words(one: Spread | None, unit: str) -> str:
    """Return how figures lie as a phrase, or a dash."""
    return "-" if one is None else spread_in_words(one, unit)


def diagnoses(numbers: ClassNumbers) -> str:
    """Return the wrong diagnoses with what misled."""
    found = heading(2, "Wrong diagnoses", "wrong")
    found += paragraph(
        f"{sum(one.count for one in numbers.wrong)} of {numbers.diagnoses} diagnoses were wrong; "
        f"{numbers.none_given} hand-ins hold none. What misled is what was named as evidence although its check showed "
        "nothing of what was wrong."
    )
    columns = [("Said", 27), ("Times", 9), ("Really wrong", 29), ("What misled", 35)]
    rows = [
        (one.said, one.count, in_turn(one.really), misled(one.misled, one.without_evidence)) for one in numbers.wrong
    ]
    return found + table("wrong", columns, rows[:MOST_LINES])


def in_turn(counts: Sequence[Count]) -> str:
    """Return what came and how often as one phrase."""
    return "; ".join(f"{one.words} ({one.count})" for one in counts[:3])


def misled(counts: Sequence[Count], without: int) -> str:
    """Return what misled, and how often nothing was named at all."""
    bare = [f"no evidence named ({without})"] if without else []
    return "; ".join(filter(None, (in_turn(counts), *bare))) or "nothing that shows nothing was named"


def safety(numbers: ClassNumbers, called: Called) -> str:
    """Return the cautions broken and what failed by itself."""
    broken = [one for one in numbers.cautions if one.broken]
    found = heading(2, "Safety", "safety")
    found += pictured("safety", "How often each caution was broken", broken)
    found += rule_table("safety", broken, False)
    found += heading(3, "What failed by itself", "fails")
    titles = {one.exercise.id: one.exercise.title for one in numbers.exercises}
    rows = [(called[learner], titles[exercise], text) for learner, exercise, text in numbers.hard_fails]
    return found + table("fails", [("Learner", 25), ("Exercise", 30), ("What happened", 45)], rows)


def help_and_slips(numbers: ClassNumbers) -> str:
    """Return the help that was asked for, and the slips in the sums."""
    helps = [Count(TELLS[one.words], one.count) for one in numbers.helps]
    found = heading(2, "Help asked for", "help") + count_table("help", "Kind of help", helps)
    if any(one.facts.sums for one in numbers.work.hand_ins):
        found += heading(2, "Slips in the sums", "slips") + count_table("slips", "Sum and slip", numbers.slips)
    return found


def pictured(name: str, title: str, rules: Sequence[RuleCount]) -> str:
    """Return a picture of the rules that were broken most often, or nothing where none was."""
    counts = [Count(one.sentence, one.broken) for one in rules[:MOST_LINES]]
    return figure(count_bars(name, title, counts, "hand-ins"), IN_A_PICTURE) if counts else ""


def rule_table(name: str, rules: Iterable[RuleCount], with_first: bool) -> str:
    """Return the table of broken rules."""
    columns = [("Rule" if with_first else "Caution", 55), ("At stake", 15), ("Broken", 15), ("Learners", 15)]
    rows: list[tuple[str | int, ...]] = []
    for one in rules:
        rows.append((one.sentence, one.at_stake, one.broken, len(one.learners), *((one.first,) if with_first else ())))
    if with_first:
        columns = [("Rule", 52), *((said, 12) for said in ("At stake", "Broken", "Learners", "First"))]
    return table(name, columns, rows)


def count_table(name: str, what: str, counts: Sequence[Count], most: int = MOST_LINES) -> str:
    """Return the table of what came most often, and how much more there is."""
    rest = len(counts) - most
    more = paragraph(f"And {rest} more, each as often as the last or less.") if rest > 0 else ""
    return table(name, [(what, 80), ("Times", 20)], [(one.words, one.count) for one in counts[:most]]) + more
