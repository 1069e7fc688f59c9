"""Marks mean something: kinds of learners come out in the order that a good instructor would give them.

Ten kinds on more than sixty boats: every fault, every layout, a dozen pairs. ``python tests/marking/kinds_table.py``
prints the table; the proof over all of them stands in three files beside this one, so that the cores share it. What
is asked of the order is the instructor's judgement (common practice, no source).
"""

from __future__ import annotations

import pytest
from kinds import APART, NAMES, NEVER, PAIRS, out_of_order, scenarios, sheet

from engine_sim.circuit import layout_names
from engine_sim.faults import faults

QUICK = ("single_cylinder stop_control_pulled@stop_control",)
QUICK_KINDS = ("tank to pump", "hurried", "swaps parts", "does nothing")


def test_the_proof_covers_every_fault_every_layout_and_pairs():
    boats = [name for name, _ in (*scenarios(APART),)] + list(NAMES)
    assert len(NAMES) >= 60 and len(scenarios(PAIRS)) >= 10
    assert {name.split()[0] for name in NAMES} == set(layout_names())
    assert {one.split("@")[0] for name in boats for one in name.split()[1].split("+")} == set(faults())


@pytest.mark.parametrize("name", QUICK)
def test_kinds_come_out_in_order_on_a_few_boats(name):
    assert out_of_order([name], QUICK_KINDS) == []
    assert sheet("tank to pump", name).passed
    assert [kind for kind in NEVER if kind in QUICK_KINDS and sheet(kind, name).passed] == []


def test_copied_and_edited_logbooks_earn_nothing_and_say_so():
    for kind in ("copies", "edits"):
        found = sheet(kind, QUICK[0])
        assert found.findings
        assert found.marks["diagnosis"].score == 0.0 and found.marks["cure"].score == 0.0
