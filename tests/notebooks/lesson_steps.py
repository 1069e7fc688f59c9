"""A lesson's own steps, read from its text and played: ``1. *shut-off*: look at the handle; shut the shut-off.``

What a learner is asked to press is what a test plays, so the two cannot part.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from engine_sim.attempt import Attempt
from engine_sim.scenarios import draw_scenario

ROOT = Path(__file__).resolve().parents[2]
_STEP = re.compile(r"^\d+\. \*([^*]+)\*: (.+?)\.?$")
_TIMES = re.compile(r" \((\w+) times\)$")
_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do: part and action by the labels that the bench gives them, and how often."""

    part: str
    action: str
    times: int = 1


class Lesson:
    """A lesson's text and, section by section, the steps that it asks for."""

    def __init__(self, name: str) -> None:
        self.text = (ROOT / f"course/lessons/{name}.md").read_text("utf-8")

    def section(self, number: int) -> str:
        """Return a section's text, from its heading to the next."""
        return re.split(r"^## ", self.text, flags=re.MULTILINE)[number]

    def lists(self, number: int) -> list[list[Step]]:
        """Return a section's lists of steps in their order; a list begins anew at 1."""
        found: list[list[Step]] = []
        for line in self.section(number).splitlines():
            asked = _STEP.match(line)
            if asked is None:
                continue
            if line.startswith("1. "):
                found.append([])
            found[-1] += [_step(asked[1], words) for words in asked[2].split("; ")]
        return found

    def words(self) -> int:
        """Return how many words a learner reads."""
        text = re.sub(r"\A---\n.*?\n---\n|```.*?```|<[^>]+>", " ", self.text, flags=re.DOTALL)
        return len(re.findall(r"\w+(?:['’.,-]\w+)*", text))

    def actions(self) -> int:
        """Return how many actions a learner is asked for."""
        numbers = range(1, self.text.count("\n## ") + 1)
        return sum(step.times for number in numbers for steps in self.lists(number) for step in steps)

    def minutes(self) -> int:
        """Return the minutes that the lesson says it takes."""
        found = re.search(r"^  minutes: (\d+)$", self.text, flags=re.MULTILINE)
        return int(found[1]) if found else 0

    def options(self) -> list[list[str]]:
        """Return for each question its options' answers."""
        asked = self.text.split("**Question.**")[1:]
        return [
            re.findall(r"<details><summary>[A-D] .+?</summary>\n\n(.+?)\n\n</details>", q, re.DOTALL) for q in asked
        ]


def _step(part: str, words: str) -> Step:
    """Read one step; what stands after a dash is said to the learner, not done."""
    label = words.partition(" – ")[0]
    often = _TIMES.search(label)
    return Step(part, label[: often.start()] if often else label, _NUMBERS[often[1]] if often else 1)


def opened(exercise: str) -> Attempt:
    """Return a bench as its lesson opens it."""
    return Attempt(draw_scenario(exercise, ""))


def does(attempt: Attempt, part: str, *actions: str) -> str:
    """Do actions by their ids and return all that is noticed."""
    return " ".join(seen.text for action in actions for seen in attempt.act(part, action).observations)


def plays(attempt: Attempt, steps: list[Step]) -> list[str]:
    """Do steps by their labels, as the lesson asks, and return what is noticed at each."""
    noticed = []
    parts = {part.label: part.id for part in attempt.parts()}
    for step in steps:
        part = parts[step.part]
        offered = {offer.label: offer.action for offer in attempt.offers(part)}
        noticed += [does(attempt, part, offered[step.action]) for _ in range(step.times)]
    return noticed


def at(steps: list[Step], noticed: list[str], action: str) -> str:
    """Return what was noticed at the first of the steps that has this action."""
    each = [step.action for step in steps for _ in range(step.times)]
    return noticed[each.index(action)]


def takes(lesson: Lesson) -> float:
    """Return the minutes that a lesson takes: 130 words a minute, ten seconds of the learner's own for each action."""
    return lesson.words() / 130.0 + lesson.actions() / 6.0


def check_form(lesson: Lesson) -> None:
    """Assert what every lesson keeps: its time, three questions or more, one right answer each, its last sentence."""
    assert abs(takes(lesson) - lesson.minutes()) <= 1.0, f"{takes(lesson):.1f} minutes"
    assert 15 <= lesson.minutes() <= 35
    assert len(lesson.options()) >= 3
    for answers in lesson.options():
        assert len(answers) in (3, 4)
        assert [answer.startswith("*Yes.*") for answer in answers].count(True) == 1
        wrong = [answer for answer in answers if not answer.startswith("*Yes.*")]
        assert all(answer.startswith("*No.*") and "tempt" in answer for answer in wrong)
    assert lesson.text.rstrip().endswith("come before anything on this page.")
