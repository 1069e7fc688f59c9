"""Gives nbgrader's own commands in one process, as they come line by line; each line out says what they said."""

from __future__ import annotations

import contextlib
import io
import json
import os
import sys

from nbgrader.apps import NbGraderApp


def give(folder: str, words: list[str]) -> dict[str, object]:
    """Give one command in a folder, as ``nbgrader WORDS`` does."""
    os.chdir(folder)
    said, code = io.StringIO(), 0
    with contextlib.redirect_stderr(said), contextlib.redirect_stdout(said):
        try:
            NbGraderApp.launch_instance(words)
        except SystemExit as end:
            code = int(end.code or 0)
        finally:
            NbGraderApp.instance().reset()
    return {"command": words[0], "said": said.getvalue(), "code": code}


if __name__ == "__main__":
    for line in sys.stdin:
        print(json.dumps([give(folder, words) for folder, words in json.loads(line)]), flush=True)
