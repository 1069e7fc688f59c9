"""Kinds of learners on the first third of the boats: a file of its own, so that the cores share the proof."""

from __future__ import annotations

import pytest
from kinds import NAMES
from kinds_proof import what_is_wrong


@pytest.mark.slow
def test_kinds_come_out_in_order_and_the_right_ones_pass():
    assert what_is_wrong(NAMES[0::3]) == []
