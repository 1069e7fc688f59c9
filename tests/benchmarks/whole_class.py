"""Prints what a large class costs: three exercises each, marked, killed half-way, resumed, reported. No test.

    python tests/benchmarks/whole_class.py [--learners 300]

Learners are simulated ones; those whose tickets draw the same boat hand in the same work under their own tickets. The
marking is the command ``fuelcourse mark``, the report ``fuelcourse report``; times are wall times of whole commands on
this machine, memory is the most of a command and its helpers together. A second class with the same hand-ins is killed
half-way and marked again: the two tables of marks are compared.
"""

from __future__ import annotations

import argparse
import csv
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from itertools import cycle
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "marking"))

from boats import all_tickets
from class_of import HURRIED, SOUND, played
from marking import Cost, measure

from engine_sim.attempt import Step
from engine_sim.classroom.course_root import CourseRoot, at
from engine_sim.classroom.hand_in import logbook_name
from engine_sim.classroom.open_course import make_course_root
from engine_sim.classroom.roster import COLUMNS, Roster, write_roster
from engine_sim.learners.forging import logbook_of
from engine_sim.marking.sums import SUMS, SUMS_EXERCISE, answer_line, figures_of
from engine_sim.scenarios import draw_scenario

ENGINES = ("no_start_harbour", "after_the_winter")
KINDS = (SOUND, HURRIED, "bleeds only", "swaps parts")


def command(*words: str) -> list[str]:
    """Return a fuelcourse command."""
    return [sys.executable, "-m", "engine_sim.cli", *words]


def hand_ins(tickets: Sequence[str]) -> dict[tuple[str, str], bytes]:
    """Return the logbook of every ticket in every exercise."""
    known: dict[tuple[str, object, str], tuple[Step, ...]] = {}
    found: dict[tuple[str, str], bytes] = {}
    for ticket, kind in zip(tickets, cycle(KINDS), strict=False):
        for name in ENGINES:
            scenario = draw_scenario(name, ticket)
            key = (name, scenario.faults, kind)
            known[key] = known.get(key) or played(scenario, kind)
            found[ticket, name] = logbook_of(scenario, known[key])
        right = {one.id: f"{one.right(figures_of(one, ticket)):.4g}" for one in SUMS}
        found[ticket, SUMS_EXERCISE] = answer_line(ticket, right)
    return found


def a_class(folder: Path, tickets: Sequence[str], work: dict[tuple[str, str], bytes]) -> CourseRoot:
    """Make a class in which everybody has handed in."""
    rows = [(f"learner{number:03d}", "Invented", f"No. {number}", ticket) for number, ticket in enumerate(tickets)]
    write_roster(at(folder).roster, Roster(COLUMNS, tuple(dict(zip(COLUMNS, row, strict=True)) for row in rows)))
    course = make_course_root(folder).course
    for learner, _, _, ticket in rows:
        for name in (*ENGINES, SUMS_EXERCISE):
            place = course.submitted(learner, name)
            place.mkdir(parents=True)
            (place / f"{name}.ipynb").write_bytes(course.source(name).read_bytes())
            (place / logbook_name(name)).write_bytes(work[ticket, name])
    return course


def killed_half_way(course: CourseRoot, half: int) -> int:
    """Mark, and kill the command once half of the first exercise is done; return how many were done by then."""
    done = 0
    with subprocess.Popen(
        command("mark", str(course.folder)), stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    ) as running:
        assert running.stdout is not None
        for line in running.stdout:
            done += line.startswith("marking ")
            if done >= half:
                break
        running.kill()
    return done


def marks_in(course: CourseRoot) -> list[dict[str, str]]:
    """Return the table of all marks, but for when each hand-in was taken in."""
    subprocess.run(command("export", str(course.folder)), check=True, stdout=subprocess.DEVNULL)
    with (course.folder / "marks.csv").open(encoding="utf-8-sig", newline="") as file:
        return [{name: value for name, value in row.items() if "taken in" not in name} for row in csv.DictReader(file)]


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--learners", type=int, default=300)
    count = parser.parse_args().learners
    tickets = [ticket for ticket, _ in zip(all_tickets(), range(count), strict=False)]
    work = hand_ins(tickets)
    print(f"{count} learners x {len(ENGINES) + 1} exercises", flush=True)
    with tempfile.TemporaryDirectory(prefix="whole-class-") as folder:
        through, killed = (a_class(Path(folder) / name, tickets, work) for name in ("through", "killed"))
        for what, words in (("marked", "mark"), ("reported (page and PDF)", "report"), ("exported", "export")):
            row(what, measure(command(words, str(through.folder)), through.folder))
        done = killed_half_way(killed, count // 2)
        row(f"killed after {done}, then marked on", measure(command("mark", str(killed.folder)), killed.folder))
        first, second = marks_in(through), marks_in(killed)
        other = sorted({name for a, b in zip(first, second, strict=True) for name in a if a[name] != b[name]})
        print(f"  marks after being killed and resumed          {f'differ in {other}' if other else 'the same'}")


def row(what: str, cost: Cost) -> None:
    """Print a line."""
    print(f"  {what:44}  {cost.wall_s:7.1f} s ({cost.cpu_s:.0f} s of processor)  {cost.memory_mb:.0f} MB", flush=True)


if __name__ == "__main__":
    main()
