"""A small layout as an instructor would write it, and how the tests change it and hold that it is refused."""

from __future__ import annotations

import pytest

from engine_sim.circuit import read_layout
from engine_sim.errors import BadLayout

SOUND = """\
id = "small"
title = "A small boat"

[[part]]
id = "tank"
kind = "tank"
floor_m = 0.0
height_m = 0.40

[[part]]
id = "shut_off"
kind = "shut_off_valve"

[[part]]
id = "hose"
kind = "hose"
start_height_m = 0.024
end_height_m = 0.80
joint = "pump_joint"

[[part]]
id = "lift_pump"
kind = "lift_pump"
bottom_m = 0.78

[[part]]
id = "back"
kind = "hose"
start_height_m = 0.80
end_height_m = 0.396

[[join]]
from = "tank.pick_up"
to = "hose.start"
through = "shut_off"

[[join]]
from = "hose.end"
to = "lift_pump.inlet"

[[join]]
from = "lift_pump.outlet"
to = "back.start"

[[join]]
from = "back.end"
to = "tank.return"
"""


def changed(old: str, new: str) -> str:
    """Return the sound layout with one place changed."""
    assert SOUND.count(old) == 1, "the place to change must be there once"
    return SOUND.replace(old, new)


def line_of(text: str, what: str) -> int:
    """Return the number of the line that holds a text, from 1."""
    return next(number for number, line in enumerate(text.splitlines(), 1) if what in line)


def refused(text: str, at: str, *said: str) -> None:
    """Hold that a layout is refused at the line that holds ``at``, and that the message has all these words."""
    with pytest.raises(BadLayout, match=rf"^Line {line_of(text, at)}: ") as caught:
        read_layout(text)
    for words in said:
        assert words in str(caught.value)
