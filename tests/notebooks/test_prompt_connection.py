"""The page's connection to its kernel holds nothing back, and the course's JupyterLab uses it."""

from __future__ import annotations

from pathlib import Path

import pytest
from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection
from traitlets.utils.importstring import import_item

from engine_sim.classroom import lab_server
from engine_sim.classroom.prompt_connection import PromptConnection


class Handler:
    """A page's socket that remembers what was asked of it."""

    def __init__(self) -> None:
        self.asked: list[object] = []

    def set_nodelay(self, value: bool) -> None:
        """Remember it."""
        self.asked.append(value)


def test_a_connection_is_told_to_hold_nothing_back_and_then_made_as_jupyter_makes_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    handler = Handler()
    monkeypatch.setattr(ZMQChannelsWebsocketConnection, "connect", lambda self: handler.asked.append("connected"))
    connection = PromptConnection.__new__(PromptConnection)
    monkeypatch.setattr(PromptConnection, "websocket_handler", handler)

    connection.connect()

    assert handler.asked == [True, "connected"]


def test_the_course_starts_jupyterlab_with_it(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    commands: list[list[str]] = []
    monkeypatch.setattr(lab_server.subprocess, "Popen", lambda command, **_: commands.append(command))

    lab_server.LabServer(lab_server.LabPlan(tmp_path, "The course is", "doc"))

    option = "--ServerApp.kernel_websocket_connection_class="
    (named,) = [text.removeprefix(option) for text in commands[0] if text.startswith(option)]
    assert import_item(named) is PromptConnection
