"""The settings that we ship name only what the installed JupyterLab has: a renamed one would fail silently."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import pytest

from engine_sim.classroom.shipped import lab_folder

SCHEMAS = Path(sys.prefix) / "share/jupyter/lab/schemas"
OVERRIDES: dict[str, dict[str, Any]] = json.loads(
    (lab_folder() / "config/labconfig/default_setting_overrides.json").read_bytes()
)


def schema(plugin: str) -> dict[str, Any]:
    package, _, name = plugin.partition(":")
    return dict(json.loads((SCHEMAS / package / f"{name}.json").read_bytes()))


@pytest.mark.parametrize("plugin", sorted(OVERRIDES))
def test_each_setting_exists_in_jupyterlab(plugin: str) -> None:
    known = schema(plugin)["properties"]
    assert set(OVERRIDES[plugin]) <= set(known)


def test_each_shortcut_that_is_switched_off_is_one_of_jupyterlabs() -> None:
    known = {
        (shortcut["command"], tuple(shortcut["keys"]), shortcut["selector"])
        for path in SCHEMAS.rglob("*.json")
        for shortcut in json.loads(path.read_bytes()).get("jupyter.lab.shortcuts", [])
    }
    ours = OVERRIDES["@jupyterlab/shortcuts-extension:shortcuts"]["shortcuts"]
    assert len(ours) > 40
    assert [off for off in ours if (off["command"], tuple(off["keys"]), off["selector"]) not in known] == []
    assert all(off["disabled"] is True for off in ours)


def test_no_single_key_that_changes_a_page_is_left_on() -> None:
    """JupyterLab deletes, moves or turns cells at a single key; none of that may happen to a reader."""
    off = {
        (shortcut["command"], tuple(shortcut["keys"]))
        for shortcut in OVERRIDES["@jupyterlab/shortcuts-extension:shortcuts"]["shortcuts"]
    }
    harmless = ("notebook:enter-", "notebook:move-cursor-")
    theirs = {
        (shortcut["command"], tuple(shortcut["keys"]))
        for shortcut in schema("@jupyterlab/notebook-extension:tracker")["jupyter.lab.shortcuts"]
        if shortcut["keys"] and all(len(key) == 1 for key in shortcut["keys"])
    }
    left_on = {entry for entry in theirs - off if not entry[0].startswith(harmless)}
    assert left_on == set()


def test_each_toolbar_button_that_is_taken_away_is_jupyterlabs() -> None:
    panel = "@jupyterlab/notebook-extension:panel"
    known = {button["name"] for button in schema(panel)["jupyter.lab.toolbars"]["Notebook"]}
    off = {button["name"] for button in OVERRIDES[panel]["toolbar"] if button.get("disabled")}
    assert off == known - {"spacer"}
    assert [button["label"] for button in OVERRIDES[panel]["toolbar"] if "label" in button] == [
        "All pages",
        "Open the bench again",
        "Save",
    ]


def test_the_page_opener_is_declared_as_jupyterlab_expects() -> None:
    folder = lab_folder() / "extensions/fuelcourse-open"
    build = json.loads((folder / "package.json").read_bytes())["jupyterlab"]["_build"]
    assert (folder / build["load"]).is_file()
    assert (folder / "static/page.css").is_file()
