"""A folder is opened once at a time: two JupyterLabs on the same pages would write over each other."""

from __future__ import annotations

import json
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from engine_sim.attempt.lock import FileLock
from engine_sim.classroom.lab_server import HOST, LabPlan
from engine_sim.classroom.own_folder import KEEPING, FolderUnusable, plain_reason
from engine_sim.errors import EngineSimError

LOCK = "open.lock"
RUNNING = "running"
ANSWER_LIMIT_S = 5.0


class AlreadyOpen(EngineSimError):
    """The folder is open in another window of this computer."""

    def __init__(self, plan: LabPlan, address: str | None) -> None:
        if address:
            where = (
                f"{plan.what_is} already open at {address} (folder {plan.folder}). Go on there, in your web browser."
            )
        else:
            where = f"{plan.what_is} just being opened, or closed, in another window (folder {plan.folder})."
        super().__init__(f"{where} To stop that one, press Ctrl+C in the window where it was started.")


@contextmanager
def the_only_opening(plan: LabPlan) -> Iterator[None]:
    """Keep the plan's folder for this process while the block lasts; a process that was killed keeps nothing.

    Raises AlreadyOpen with the address when a JupyterLab is at work on the folder, FolderUnusable when it cannot be
    written.
    """
    lock = FileLock(plan.folder / KEEPING / LOCK)
    try:
        (plan.folder / KEEPING).mkdir(parents=True, exist_ok=True)
        ours = lock.acquire()
    except OSError as problem:
        raise FolderUnusable(plan.folder, plain_reason(problem)) from problem
    try:
        address = address_in_use(plan)
        if address or not ours:
            raise AlreadyOpen(plan, address)
        yield
    finally:
        lock.release()


def address_in_use(plan: LabPlan) -> str | None:
    """Return the address at which a JupyterLab that runs on the plan's folder answers, or None."""
    for note in sorted((plan.folder / KEEPING / RUNNING).glob("jpserver-*.json")):
        port, token = _read_note(note)
        if port and _answers(port, token):
            return f"http://{HOST}:{port}/{plan.page}?token={token}"
    return None


def _read_note(note: Path) -> tuple[int, str]:
    """Return port and key from the note that a running JupyterLab keeps, or (0, "") when it cannot be read."""
    try:
        found = json.loads(note.read_bytes())
        return int(found["port"]), str(found["token"])
    except (OSError, ValueError, KeyError, TypeError):
        return 0, ""


def _answers(port: int, token: str) -> bool:
    """Say whether a JupyterLab with this key answers there; what was left behind by a killed one does not."""
    try:
        with urllib.request.urlopen(f"http://{HOST}:{port}/api/status?token={token}", timeout=ANSWER_LIMIT_S) as reply:
            return bool(reply.status == 200)
    except (urllib.error.URLError, OSError):
        return False
