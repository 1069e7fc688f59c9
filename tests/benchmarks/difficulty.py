"""Prints how hard each draw of each graded exercise is, so that a pool's draws can be held to one another. No test.

    python tests/benchmarks/difficulty.py [--exercises NAME ...]

For every fault, place and severity that an exercise can draw: the minutes on the boat's clock that the sound worker
(tank to pump) needs from the first look to handing in, its deeds, and the points of 35 that four kinds of simulated
learners earn there, with a star where they pass. Equal difficulty means: the sound worker's minutes lie within a factor
of two of each other in a pool, and the hurried and the poor fare alike.
"""

from __future__ import annotations

import argparse
import sys
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from itertools import product
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "marking"))


from engine_sim.learners import KINDS, played_and_marked
from engine_sim.marking import default_scheme
from engine_sim.scenarios import Scenario, SetFault, graded_exercises, pool
from engine_sim.units import MINUTE_S

SHOWN = ("tank to pump", "hurried", "swaps parts", "bleeds only")


@dataclass(frozen=True)
class Found:
    """What one draw came to: the sound worker's minutes and deeds, and each kind's points and whether it passes."""

    minutes: float
    deeds: int
    points: tuple[tuple[float, bool], ...]


def every_draw(exercise: str) -> list[tuple[SetFault, ...]]:
    """Return every set of faults that an exercise can draw."""
    found: list[tuple[SetFault, ...]] = []
    for draw in pool(exercise).draws:
        items = (draw, *draw.also)
        choices = [
            [SetFault(one.fault, part, bad) for part in one.parts for bad in one.possible_severity] for one in items
        ]
        found += list(product(*choices))
    return found


def played(exercise: str, faults: tuple[SetFault, ...]) -> Found:
    """Let the kinds of learners play one draw."""
    scenario: Scenario = pool(exercise).scenario("AAAA-AAAA", faults)
    results = {kind: played_and_marked(KINDS[kind], scenario, default_scheme()) for kind in SHOWN}
    steps = results[SHOWN[0]][0]
    points = tuple((sum(m.score for m in sheet.marks.values()), sheet.passed) for _, sheet in results.values())
    return Found(steps[-1].clock_s / MINUTE_S, len(steps), points)


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--exercises", nargs="*", default=graded_exercises())
    chosen = sorted(parser.parse_args().exercises, key=lambda name: pool(name).number)
    asked = [(name, faults) for name in chosen for faults in every_draw(name)]
    print(f"{'':58} minutes deeds " + " ".join(f"{kind:>12}" for kind in SHOWN))
    with ProcessPoolExecutor() as workers:
        last = ""
        for (name, faults), one in zip(asked, workers.map(played, *zip(*asked, strict=True)), strict=True):
            if name != last:
                print(f"{pool(name).number} {name} ({pool(name).layout})")
                last = name
            what = " + ".join(f"{fault.fault}@{fault.part} {fault.severity:g}" for fault in faults)
            marks = " ".join(f"{points:11.1f}{'*' if passed else ' '}" for points, passed in one.points)
            print(f"  {what:56} {one.minutes:7.0f} {one.deeds:5d} {marks}", flush=True)


if __name__ == "__main__":
    main()
