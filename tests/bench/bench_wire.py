"""Stands where the notebook's message channel stands: keeps every message of a bench, and brings it messages."""

from __future__ import annotations

import itertools
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from comm.base_comm import BaseComm

from engine_sim.attempt import read_logbook
from engine_sim.bench import Bench
from engine_sim.errors import BadTicket
from engine_sim.scenarios import check_ticket, draw_scenario
from engine_sim.scenarios.tickets import ALPHABET

EXERCISE = "no_start_harbour"
LESSON = "first_look"


def sound(body: str) -> str:
    """Return the one sound ticket that begins with seven given characters."""
    for last in ALPHABET:
        try:
            return check_ticket(body + last)
        except BadTicket:
            continue
    raise AssertionError(f"no check character makes {body!r} sound")


def tickets() -> Iterator[str]:
    """Give sound tickets, always the same in the same order."""
    return (sound("".join(letters)) for letters in itertools.product("BENCH", "2345", "AX", "7", "QR", "6", "MN"))


def ticket_for(fault: str) -> str:
    """Return a ticket that draws this fault."""
    return next(ticket for ticket in tickets() if draw_scenario(EXERCISE, ticket).faults[0].fault == fault)


class RecordingComm(BaseComm):
    """A channel that keeps what is sent."""

    def __init__(self, **arguments: Any) -> None:
        self.sent: list[dict[str, Any]] = []
        super().__init__(**arguments)

    def publish_msg(self, msg_type, data=None, metadata=None, buffers=None, **keys):
        if msg_type == "comm_msg":
            self.sent.append(json.loads(json.dumps(data)))


class Wire:
    """Both ends of the channel of one bench."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.press = 0
        bench.comm = RecordingComm(target_name="jupyter.widget")

    @property
    def sent(self) -> list[dict[str, Any]]:
        return self.bench.comm.sent

    @property
    def turn(self) -> int:
        return self.bench.get_state()["turn"]

    def bring(self, message: dict[str, Any]) -> list[dict[str, Any]]:
        """Bring one message to the bench as the notebook does; return all it sent back."""
        before = len(self.sent)
        self.bench._handle_msg({"content": {"data": {"method": "custom", "content": message}}, "buffers": []})
        return self.sent[before:]

    def ask(self, part: str, action: str, seq: int | None = None, **more: Any) -> dict[str, Any]:
        """Press something and return the last thing told."""
        self.press += 1
        message = {
            "part": part,
            "action": action,
            "seq": self.turn if seq is None else seq,
            "view": "v",
            "press": self.press,
        }
        back = self.bring(message | more)
        return [sent["content"] for sent in back if sent["method"] == "custom"][-1]

    def panel(self) -> dict[str, Any]:
        return self.bench.get_state()["panel"]

    def scene(self) -> dict[str, Any]:
        return self.bench.get_state()["scene"]

    def noticed(self) -> list[dict[str, Any]]:
        return self.bench.get_state()["noticed"]


def logbook(folder: Path, exercise: str = EXERCISE) -> bytes:
    """Return the logbook of an exercise as it stands on disk."""
    return (folder / f"{exercise}.logbook.jsonl").read_bytes()


def kinds(folder: Path, exercise: str = EXERCISE) -> list[str]:
    """Return what kind of record each line of a logbook is."""
    return [record["kind"] for record in read_logbook(logbook(folder, exercise)).records]
