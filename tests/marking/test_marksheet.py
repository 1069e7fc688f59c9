"""Marks come in whole tenths, and only what lost nothing is whole."""

from __future__ import annotations

import pytest

from engine_sim.marking.marksheet import make_mark


@pytest.mark.parametrize(
    ("score", "mark"), [(4.96, 4.9), (5.0, 5.0), (7.0, 5.0), (-1.0, 0.0), (0.1 + 0.2, 0.3), (2.3999999999, 2.4)]
)
def test_a_mark_is_in_whole_tenths_and_held_to_its_maximum(score, mark):
    assert make_mark(score, 5.0, ()).score == pytest.approx(mark, abs=1e-12)
