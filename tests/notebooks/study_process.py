"""Starts the real ``fuelcourse study`` for tests, on a free port, and ends it."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from pathlib import Path

ADDRESS = re.compile(r"open at (http://127\.0\.0\.1:(\d+)/\S+token=([0-9a-f]+)) \(to stop it, press Ctrl\+C")


@dataclass(frozen=True)
class Study:
    """A running ``fuelcourse study``."""

    process: subprocess.Popen[str]
    folder: Path
    address: str
    port: int
    token: str

    def page(self, name: str) -> str:
        return f"http://127.0.0.1:{self.port}/doc/tree/{name}?token={self.token}"

    def reply(self, path: str) -> str:
        return f"http://127.0.0.1:{self.port}/{path}?token={self.token}"


def command(*arguments: str) -> list[str]:
    return [sys.executable, "-m", "engine_sim.cli", *arguments]


def running_study(folder: Path) -> AbstractContextManager[Study]:
    """``fuelcourse study`` with its folder there."""
    return opened(folder, "study", "--folder", str(folder))


@contextmanager
def opened(folder: Path, *arguments: str) -> Iterator[Study]:
    """A ``fuelcourse`` command that opens JupyterLab on a folder, until the block ends."""
    process = subprocess.Popen(
        command(*arguments, "--no-browser"),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "HOME": str(folder.parent)},
    )
    try:
        yield wait_for_address(process, folder)
    finally:
        process.terminate()
        process.communicate(timeout=60)


def wait_for_address(process: subprocess.Popen[str], folder: Path) -> Study:
    assert process.stdout is not None
    said = []
    for line in process.stdout:
        said.append(line)
        if found := ADDRESS.search(line):
            return Study(process, folder, found[1], int(found[2]), found[3])
    raise AssertionError("the course did not open:\n" + "".join(said))
