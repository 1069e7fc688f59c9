"""An instructor's exercise as a file for learners: its text pressed together and written in letters, with a digest.

Nobody reads a fault in it by looking. It is no secret from somebody who reads this program.
"""

from __future__ import annotations

import base64
import binascii
import hashlib
import textwrap
import zlib

from engine_sim.errors import BadScenario

SEALED_SUFFIX = ".exercise"
MOST_BYTES = 1_000_000
"""An exercise's text is never longer."""
_HEAD = "An exercise of the course. Keep this file beside its page, and change nothing in it."
_LINE_LETTERS = 76


def seal(text: str) -> bytes:
    """Return an exercise's text (TOML) as the file that learners get."""
    data = text.encode("utf-8")
    letters = base64.b64encode(zlib.compress(data, 9)).decode("ascii")
    return "\n".join((_HEAD, _digest(data), *textwrap.wrap(letters, _LINE_LETTERS), "")).encode("ascii")


def unseal(data: bytes, name: str) -> str:
    """Return the text of an exercise's file; raise BadScenario, naming the file ``name``, where it is damaged."""
    lines = data[: 2 * MOST_BYTES].decode("ascii", "replace").split()
    letters_from = len(_HEAD.split()) + 1
    try:
        pressed = base64.b64decode("".join(lines[letters_from:]), validate=True)
        whole = zlib.decompressobj().decompress(pressed, MOST_BYTES)
        if _digest(whole) == lines[letters_from - 1]:
            return whole.decode("utf-8")
    except (binascii.Error, zlib.error, IndexError, ValueError):
        pass
    raise BadScenario(
        f"{name} is damaged: something in it was changed or is missing. It must be as your instructor gave it. "
        "Ask for it again, and put it beside the exercise's page in place of this one."
    )


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
