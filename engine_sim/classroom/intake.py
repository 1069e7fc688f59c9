"""Collecting hand-ins from the exchange: only ordinary files of the expected kind, only from learners on the roster.

nbgrader's own collecting takes the newest folder in a learner's name, follows links in it and copies whatever it finds.
Here the newest hand-in that carries the learner's own ticket is taken, so a forged folder displaces nothing.
"""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from nbgrader.exchange.default import ExchangeCollect

from engine_sim.classroom.course_root import CourseRoot, at, make_folder, write_file
from engine_sim.classroom.hand_in import (
    LOGBOOK_LIMIT_BYTES,
    logbook_name,
    logbook_ticket,
    read_plain_file,
)
from engine_sim.classroom.moments import parse_timestamp
from engine_sim.classroom.roster import Learner, read_roster, same_ticket_form
from engine_sim.classroom.tidying import (
    SECRET,
    TIMESTAMP,
    TIMESTAMP_FORM,
    add_reason,
    forget_reasons,
    limit_of,
    tidy,
)

BACK_DATED = timedelta(minutes=15)


@dataclass(frozen=True, slots=True)
class Arrival:
    """One folder in the exchange: in whose name, when by its own word [UTC], when by the file system [UTC]."""

    folder: Path
    learner_id: str
    moment: datetime
    arrived: datetime
    owner: str
    ticket: str


@dataclass(frozen=True, slots=True)
class Noticed:
    """A finding about one learner's hand-in."""

    learner_id: str
    text: str


class SafeCollect(ExchangeCollect):  # type: ignore[misc]
    """nbgrader's collecting, with care."""

    def init_src(self) -> None:
        """Choose one hand-in for each learner on the roster."""
        self.course = at(self.coursedir.root)
        self.inbound_path = os.path.join(self.root, self.coursedir.course_id, "inbound")
        if not os.path.isdir(self.inbound_path):
            self.fail(f"Nothing has been handed out yet: {self.inbound_path} is missing. Release the exercise first.")
        exercise, wanted = self.coursedir.assignment_id, self.coursedir.student_id
        roster = read_roster(self.course.roster).learners
        arrivals, noticed = list_arrivals(Path(self.inbound_path), exercise)
        own, strange = without_strangers(arrivals, roster)
        noticed += strange
        self.chosen: list[Arrival] = []
        for learner_id in sorted({arrival.learner_id for arrival in own}):
            mine = [arrival for arrival in own if arrival.learner_id == learner_id]
            arrival, findings = choose(mine, roster[learner_id])
            noticed += findings
            if wanted in ("*", "", learner_id):
                self.chosen.append(arrival)
        write_noticed(self.course, exercise, noticed)

    def copy_files(self) -> None:
        """Copy each chosen hand-in into the course root, whole or not at all."""
        exercise = self.coursedir.assignment_id
        roster = read_roster(self.course.roster).learners
        for arrival in self.chosen:
            here = self.course.submitted(arrival.learner_id, exercise)
            if os.path.lexists(here) and not is_better(arrival, here, exercise, roster[arrival.learner_id]):
                self.log.info("Already here: %s %s", arrival.learner_id, exercise)
                continue
            self.log.info("Collecting: %s %s", arrival.learner_id, exercise)
            copy_hand_in(self.course, arrival, exercise)


def list_arrivals(inbound: Path, exercise: str) -> tuple[list[Arrival], list[Noticed]]:
    """Return the hand-ins of an exercise that lie in the exchange, and findings on those that cannot be told."""
    arrivals, noticed = [], []
    for folder in sorted(inbound.iterdir()):
        parts = folder.name.split("+")
        if len(parts) < 3 or parts[1] != exercise:
            continue
        moment = parse_timestamp(parts[2])
        if moment is None or folder.is_symlink() or not folder.is_dir():
            noticed.append(Noticed(parts[0], f"{folder.name!r} in the exchange is no sound hand-in; it was left there"))
            continue
        data = read_plain_file(folder / logbook_name(exercise), LOGBOOK_LIMIT_BYTES)
        arrived = datetime.fromtimestamp(folder.stat().st_ctime, UTC).replace(tzinfo=None)
        arrivals.append(Arrival(folder, parts[0], moment, arrived, owner_of(folder), logbook_ticket(data)))
    return arrivals, noticed


def owner_of(folder: Path) -> str:
    """Return the account name that owns a folder, or an empty text where there are none."""
    try:
        return folder.owner()
    except (KeyError, NotImplementedError):
        return ""


def without_strangers(arrivals: Iterable[Arrival], roster: dict[str, Learner]) -> tuple[list[Arrival], list[Noticed]]:
    """Return the hand-ins of learners on the roster that no other learner's account put there, and other findings."""
    own, noticed = [], []
    for arrival in arrivals:
        name = arrival.learner_id
        if name not in roster:
            noticed.append(Noticed(name, f"{name} is not on the roster; the hand-in was left in the exchange"))
        elif arrival.owner != name and arrival.owner in roster:
            noticed.append(
                Noticed(name, f"a hand-in in this name was put there by {arrival.owner}; it was left in the exchange")
            )
        else:
            own.append(arrival)
    return own, noticed


def choose(arrivals: Sequence[Arrival], learner: Learner) -> tuple[Arrival, list[Noticed]]:
    """Return the newest hand-in with the learner's ticket, or else the newest, with findings on the others."""
    newest_first = sorted(arrivals, key=lambda arrival: (arrival.moment, arrival.folder.name), reverse=True)
    sound = [arrival for arrival in newest_first if has_ticket_of(arrival.ticket, learner)]
    best = (sound or newest_first)[0]
    noticed = []
    passed_over = newest_first[: newest_first.index(best)]
    if passed_over:
        text = f"{len(passed_over)} newer hand-in(s) without this learner's ticket were passed over"
        noticed.append(Noticed(learner.learner_id, text))
    if len(sound) > 1:
        noticed.append(Noticed(learner.learner_id, f"handed in {len(sound)} times; the newest was taken"))
    if best.arrived - best.moment > BACK_DATED:
        noticed.append(Noticed(learner.learner_id, "the hand-in is dated earlier than it arrived; see when it came"))
    return best, noticed


def has_ticket_of(ticket: str, learner: Learner) -> bool:
    """Say whether a logbook's ticket is the one that the roster gives the learner."""
    plain = same_ticket_form(ticket)
    return plain is not None and plain == same_ticket_form(learner.ticket)


def is_better(arrival: Arrival, here: Path, exercise: str, learner: Learner) -> bool:
    """Say whether a hand-in should replace the one collected before."""
    stamp = read_plain_file(here / TIMESTAMP, 200)
    before = None if isinstance(stamp, str) else parse_timestamp(stamp.decode("utf-8", "replace"))
    sound_before = has_ticket_of(
        logbook_ticket(read_plain_file(here / logbook_name(exercise), LOGBOOK_LIMIT_BYTES)), learner
    )
    sound_now = has_ticket_of(arrival.ticket, learner)
    if sound_now != sound_before:
        return sound_now
    return before is None or arrival.moment > before


def copy_hand_in(course: CourseRoot, arrival: Arrival, exercise: str) -> None:
    """Copy the expected files of a hand-in, dated with its moment; links and the oversized stay in the exchange."""
    here = course.submitted(arrival.learner_id, exercise)
    aside = course.set_aside(exercise, arrival.learner_id)
    make_folder(here.parent)
    new, old = here.with_name(f".{here.name}.new"), here.with_name(f".{here.name}.old")
    for left_over in (new, old):
        shutil.rmtree(left_over, ignore_errors=True)
    make_folder(new)
    forget_reasons(aside)
    for name in (f"{exercise}.ipynb", logbook_name(exercise), SECRET):
        data = read_plain_file(arrival.folder / name, limit_of(name, exercise))
        if isinstance(data, bytes):
            write_file(new / name, data)
        elif name != SECRET:
            add_reason(aside, f"{name} {data}, as it lies in the exchange")
    write_file(new / TIMESTAMP, arrival.moment.strftime(TIMESTAMP_FORM).encode())
    if os.path.lexists(here):
        os.rename(here, old)
    os.rename(new, here)
    shutil.rmtree(old, ignore_errors=True)
    tidy(course, arrival.learner_id, exercise)


def write_noticed(course: CourseRoot, exercise: str, noticed: Iterable[Noticed]) -> None:
    """Keep what was noticed while collecting, for the marking run."""
    rows = [{"learner_id": item.learner_id, "text": item.text} for item in noticed]
    write_file(course.intake_findings(exercise), json.dumps(rows, ensure_ascii=False, indent=1).encode("utf-8"))


def read_noticed(course: CourseRoot, exercise: str) -> list[Noticed]:
    """Return what was noticed at the last collecting."""
    place = course.intake_findings(exercise)
    if not place.is_file():
        return []
    return [Noticed(row["learner_id"], row["text"]) for row in json.loads(place.read_text(encoding="utf-8"))]


def before_marking(assignment: str, student: str, notebooks: Sequence[str]) -> None:
    """Tidy a handed-in folder before nbgrader copies from it (nbgrader calls this by its own argument names)."""
    for notebook in notebooks:
        folder = Path(notebook).parent
        tidy(at(folder.parent.parent.parent), folder.parent.name, assignment)
