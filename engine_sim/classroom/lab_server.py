"""Starts, watches and stops one JupyterLab on this computer's own address."""

from __future__ import annotations

import os
import secrets
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from dataclasses import dataclass, field
from pathlib import Path

from engine_sim.classroom.own_programs import path_with_own_programs
from engine_sim.errors import EngineSimError

HOST = "127.0.0.1"
LOWEST_PORT, HIGHEST_PORT = 1024, 65535
STARTING_LIMIT_S = 90.0
STOPPING_LIMIT_S = 15.0
LOOK_EVERY_S = 0.1
CONNECTION = "engine_sim.classroom.prompt_connection.PromptConnection"


class BadPort(EngineSimError):
    """The port named cannot be used."""


class LabDidNotStart(EngineSimError):
    """JupyterLab ended, or stayed silent, instead of opening."""


@dataclass(frozen=True, slots=True)
class LabPlan:
    """How one JupyterLab is to be started."""

    folder: Path
    what_is: str
    page: str
    options: tuple[str, ...] = ()
    environment: dict[str, str] = field(default_factory=dict)


class LabServer:
    """A JupyterLab that runs until :meth:`stop`; use it in a ``with`` block."""

    def __init__(self, plan: LabPlan, port: int | None = None) -> None:
        self._plan = plan
        self.port = free_port(port)
        self._token = secrets.token_hex(24)
        keeping = plan.folder / ".fuelcourse"
        keeping.mkdir(parents=True, exist_ok=True)
        self.log = keeping / "jupyter.log"
        self._process = self._start()

    @property
    def address(self) -> str:
        """The address that opens the page, the key to it included."""
        return f"http://{HOST}:{self.port}/{self._plan.page}?token={self._token}"

    def _start(self) -> subprocess.Popen[bytes]:
        command = [
            sys.executable, "-m", "jupyterlab", "--no-browser",
            f"--ServerApp.ip={HOST}", f"--ServerApp.port={self.port}", "--ServerApp.port_retries=0",
            f"--ServerApp.root_dir={self._plan.folder}", "--LabApp.extension_manager=readonly",
            f"--ServerApp.kernel_websocket_connection_class={CONNECTION}",
            *self._plan.options,
        ]  # fmt: skip
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            command.append("--allow-root")
        ours = {"JUPYTER_TOKEN": self._token, "PATH": path_with_own_programs()}
        environment = {**os.environ, **self._plan.environment, **ours}
        with self.log.open("wb") as log:
            return subprocess.Popen(
                command,
                cwd=self._plan.folder,
                env=environment,
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )

    def __enter__(self) -> LabServer:
        try:
            self._wait_until_open()
        except BaseException:
            self.stop()
            raise
        return self

    def __exit__(self, *_: object) -> None:
        self.stop()

    def _wait_until_open(self) -> None:
        last = time.monotonic() + STARTING_LIMIT_S
        while time.monotonic() < last:
            if self._process.poll() is not None:
                raise LabDidNotStart(f"JupyterLab ended while it was starting. It said last:\n{self._last_words()}")
            if self._answers():
                return
            time.sleep(LOOK_EVERY_S)
        raise LabDidNotStart(
            f"JupyterLab did not answer within {STARTING_LIMIT_S:.0f} s. "
            f"Close other programs and start the course again; what it said is in {self.log}"
        )

    def _answers(self) -> bool:
        try:
            with urllib.request.urlopen(f"http://{HOST}:{self.port}/api", timeout=5) as answer:
                return bool(answer.status == 200)
        except (urllib.error.URLError, OSError):
            return False

    def _last_words(self) -> str:
        lines = self.log.read_text("utf-8", "replace").splitlines()
        return "\n".join(lines[-5:])

    def wait(self) -> int:
        """Wait until JupyterLab ends by itself; return how it ended (0 = well)."""
        return self._process.wait()

    def stop(self) -> None:
        """End JupyterLab and the benches that it runs."""
        if self._process.poll() is not None:
            return
        self._process.terminate()
        try:
            self._process.wait(STOPPING_LIMIT_S)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()


def read_port(text: str) -> int:
    """Return the port that a text names, ``LOWEST_PORT`` to ``HIGHEST_PORT``; raises BadPort saying what is allowed."""
    plain = text.strip()
    if not (plain.isascii() and plain.isdigit() and LOWEST_PORT <= int(plain[:9]) <= HIGHEST_PORT):
        raise BadPort(
            f"--port was given as {text!r}; give a whole number from {LOWEST_PORT} to {HIGHEST_PORT}, "
            "or leave --port out to take any free one."
        )
    return int(plain)


def free_port(port: int | None) -> int:
    """Return ``port`` if it can be used, or any free one for None; raises BadPort saying what to do."""
    if port is not None and not LOWEST_PORT <= port <= HIGHEST_PORT:
        raise BadPort(
            f"The port was given as {port}; allowed is {LOWEST_PORT} to {HIGHEST_PORT}. "
            "Leave --port out to take any free one."
        )
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        if os.name == "posix":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((HOST, port or 0))
        except OSError as problem:
            raise BadPort(
                f"Port {port} on this computer is in use by another program, "
                "perhaps by the course itself in another window. "
                "Name another one with --port, or leave --port out to take any free one."
            ) from problem
        return int(probe.getsockname()[1])
