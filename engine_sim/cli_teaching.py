"""The instructor's commands: each step of the instructor's page, typed."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path

Commands = argparse._SubParsersAction
Do = Callable[[argparse.Namespace], int]


def add_teaching(commands: Commands[argparse.ArgumentParser]) -> None:
    """Add the commands that an instructor types after ``teach``."""
    _add_demo(commands)
    _add(commands, "slips", "make slips with the tickets, to print and cut", _slips)
    out = _add(commands, "hand-out", "pack exercises for learners, to be sent or put on a stick", _hand_out)
    out.add_argument("exercises", nargs="+", metavar="NAME", help="exercises to pack")
    collect = _add(commands, "collect", "take in hand-ins from a folder, a file or a packed file (zip)", _collect)
    collect.add_argument("source", type=Path, metavar="FROM", help="where what came lies")
    _add(commands, "give-back", "release the learners' pages through nbgrader's exchange", _give_back)
    _add(commands, "export", "write all marks as a table for a spreadsheet (marks.csv)", _export)
    _add_change(commands)
    report = _add(commands, "report", "write the report on the class, as a page and as a PDF", _report)
    report.add_argument("--anonymous", action="store_true", help="without names, ids and tickets")
    records = _add(commands, "records", "write a record of assessment for each learner, to print and sign", _records)
    records.add_argument("exercise", metavar="NAME", help="the exercise that was assessed")
    records.add_argument("--school", default="", metavar="TEXT", help="the school's name, as it heads the records")
    exercise = _add(commands, "exercise", "try out an exercise of your own, and make its page", _exercise)
    exercise.add_argument("file", type=Path, metavar="FILE", help="the exercise as written (TOML)")
    exercise.add_argument("--replace", action="store_true", help="it takes the place of your one of the same name")
    exercise.add_argument("--try-only", action="store_true", help="try it out, and make nothing")
    out = _add(commands, "take-out", "take an exercise of your own out; as it was written it is kept", _take_out)
    out.add_argument("exercise", metavar="NAME", help="the exercise's short name")
    _add_weigh(commands)
    paper = _add(commands, "paper", "print an exercise on paper: sheets for the class and for you", _paper)
    paper.add_argument("exercise", metavar="NAME", help="the exercise to print")
    paper.add_argument("--ticket", default="", metavar="TICKET", help="whose fault it shows (default: a fresh ticket)")
    forget = _add(commands, "forget", "take one learner out everywhere; it cannot be taken back", _forget)
    forget.add_argument("learner", metavar="LEARNER", help="the learner_id on the roster")


def _add(commands: Commands[argparse.ArgumentParser], name: str, what: str, do: Do) -> argparse.ArgumentParser:
    added = commands.add_parser(name, help=what, description=f"{what[0].upper()}{what[1:]}.")
    added.add_argument(
        "folder", type=Path, metavar="DIR", help="the folder of the class, as made by 'fuelcourse teach DIR'"
    )
    added.set_defaults(do=do)
    return added


def _add_demo(commands: Commands[argparse.ArgumentParser]) -> None:
    demo = commands.add_parser(
        "demo",
        help="make an invented class with hand-ins, marks and a report, to look at",
        description="Makes an invented school with fifteen invented learners, lets simulated learners do their work, "
        "marks it and writes the report. Then look at it with 'fuelcourse teach DIR'.",
    )
    demo.add_argument("folder", type=Path, metavar="DIR", help="a new folder for the invented class")
    demo.set_defaults(do=_demo)


def _add_change(commands: Commands[argparse.ArgumentParser]) -> None:
    change = _add(commands, "change-mark", "change a mark, with the reason, or keep a second marker's", _change)
    for name, what in (
        ("learner", "the learner_id on the roster"),
        ("exercise", "the exercise"),
        ("mark", "which mark: safety, method, diagnosis, cure, housekeeping or ashore"),
    ):
        change.add_argument(name, metavar=name.upper(), help=what)
    change.add_argument("points", type=float, metavar="POINTS", help="the points that it gets")
    change.add_argument("--reason", default="", metavar="TEXT", help="why")
    change.add_argument("--who", default="", metavar="NAME", help="who gives it")
    change.add_argument("--second", action="store_true", help="a second marker's mark: kept beside, changes nothing")


def _add_weigh(commands: Commands[argparse.ArgumentParser]) -> None:
    weigh = _add(commands, "weigh", "give the marks of an exercise other points; its page states them", _weigh)
    weigh.add_argument("exercise", metavar="NAME", help="the exercise")
    for name in ("safety", "method", "diagnosis", "cure", "housekeeping"):
        weigh.add_argument(f"--{name}", type=points, metavar="POINTS", help=f"the most that {name} can be")


def points(text: str) -> float:
    """Return points as people write them, with a point or a comma; raises ValueError for what is no figure."""
    return float(text.replace(",", "."))


def tell(at: int, of: int, what: str) -> None:
    """Show how far long work is."""
    print(f"{min(at + 1, of)} of {of}: {what}", file=sys.stderr, flush=True)


def _demo(options: argparse.Namespace) -> int:
    from engine_sim.classroom.own_programs import let_own_programs_be_found
    from engine_sim.classroom.teaching.demo import make_demo

    let_own_programs_be_found()
    print(make_demo(options.folder, lambda text: print(text, flush=True)))
    return 0


def _slips(options: argparse.Namespace) -> int:
    from engine_sim.classroom.course_root import find_course_root
    from engine_sim.classroom.teaching.slips import write_slips

    print(write_slips(find_course_root(options.folder)))
    return 0


def _hand_out(options: argparse.Namespace) -> int:
    from engine_sim.classroom.course_root import find_course_root
    from engine_sim.classroom.own_programs import let_own_programs_be_found
    from engine_sim.classroom.teaching.hand_out import hand_out

    let_own_programs_be_found()
    for place in hand_out(find_course_root(options.folder), options.exercises, tell).files:
        print(place)
    return 0


def _collect(options: argparse.Namespace) -> int:
    from engine_sim.classroom.course_root import find_course_root
    from engine_sim.classroom.teaching.arrivals import take_in

    receipt = take_in(find_course_root(options.folder), options.source, tell)
    print(receipt)
    return 1 if receipt.set_aside else 0


def _give_back(options: argparse.Namespace) -> int:
    from engine_sim.classroom.course_root import find_course_root
    from engine_sim.classroom.own_programs import let_own_programs_be_found
    from engine_sim.classroom.teaching.give_back import give_back

    let_own_programs_be_found()
    print(give_back(find_course_root(options.folder)))
    return 0


def _export(options: argparse.Namespace) -> int:
    from engine_sim.classroom.course_root import find_course_root
    from engine_sim.classroom.teaching.marks_export import export_marks

    print(export_marks(find_course_root(options.folder)))
    return 0


def _change(options: argparse.Namespace) -> int:
    from engine_sim.classroom.course_root import find_course_root
    from engine_sim.classroom.second_marks import change_mark, second_mark

    course, whose = find_course_root(options.folder), (options.learner, options.exercise)
    if options.second:
        second_mark(course, *whose, {options.mark: options.points}, options.who, options.reason)
        print("Kept beside the first mark.")
        return 0
    line = change_mark(course, *whose, options.mark, options.points, options.reason, options.who)
    print(f"Changed to {line.points:g} of {line.maximum:g}. 'fuelcourse mark' writes the page for the learner anew.")
    return 0


def _report(options: argparse.Namespace) -> int:
    from engine_sim.classroom.course_root import find_course_root
    from engine_sim.classroom.teaching.report.report_page import write_report

    print(write_report(find_course_root(options.folder), options.anonymous))
    return 0


def _records(options: argparse.Namespace) -> int:
    from engine_sim.classroom.course_root import find_course_root
    from engine_sim.classroom.teaching.report.record import write_records

    for place in write_records(find_course_root(options.folder), options.exercise, options.school):
        print(place)
    return 0


def _exercise(options: argparse.Namespace) -> int:
    from engine_sim.classroom.course_root import find_course_root
    from engine_sim.classroom.own_programs import let_own_programs_be_found
    from engine_sim.classroom.teaching.desk.preview_lines import lines_of
    from engine_sim.classroom.teaching.own_exercises import make_exercise, save_exercise
    from engine_sim.classroom.teaching.preview import preview
    from engine_sim.scenarios.own_pools import read_own
    from engine_sim.scenarios.pool_text import choices_of
    from engine_sim.scenarios.reader import read_pool

    course, pool = find_course_root(options.folder), read_pool(read_own(options.file))
    for _, text in lines_of(preview(pool, tell)):
        print(text)
    if not options.try_only:
        let_own_programs_be_found()
        save_exercise(course, choices_of(pool), replaces=options.replace)
        print(make_exercise(course, pool.id))
    return 0


def _take_out(options: argparse.Namespace) -> int:
    from engine_sim.classroom.course_root import find_course_root
    from engine_sim.classroom.teaching.own_exercises import take_out

    kept = take_out(find_course_root(options.folder), options.exercise)
    print(f"{options.exercise} is taken out. It is kept as written, and its points in its marking scheme:\n{kept}")
    return 0


def _weigh(options: argparse.Namespace) -> int:
    from engine_sim.classroom.course_root import find_course_root
    from engine_sim.classroom.weights import choose_weights
    from engine_sim.marking import MARK_NAMES

    given = {name: getattr(options, name) for name in MARK_NAMES}
    weights = {name: points for name, points in given.items() if points is not None}
    print(choose_weights(find_course_root(options.folder), options.exercise, weights))
    return 0


def _paper(options: argparse.Namespace) -> int:
    from engine_sim.classroom.course_root import find_course_root
    from engine_sim.classroom.teaching.paper import write_paper

    for place in write_paper(find_course_root(options.folder), options.exercise, options.ticket):
        print(place)
    return 0


def _forget(options: argparse.Namespace) -> int:
    from engine_sim.classroom.course_root import find_course_root
    from engine_sim.classroom.teaching.forget import forget

    gone = forget(find_course_root(options.folder), options.learner)
    print(gone)
    return 1 if gone.still_named_in else 0
