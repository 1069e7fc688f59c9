"""The tables themselves: each says what it is, where it comes from and how closely it is held."""

from __future__ import annotations

import re

import pytest
from printed_tables import COMMENTS, FOLDER, read_comments, read_rows

TABLES = sorted(path.name for path in FOLDER.glob("*.csv"))
TEST_FILES = sorted(FOLDER.parent.rglob("test_*.py"))


def test_there_are_tables():
    """Guards the checks below."""
    assert len(TABLES) >= 12


@pytest.mark.parametrize("name", TABLES)
def test_a_table_says_what_it_is_and_where_it_comes_from(name):
    """What, source, values, tolerance; nothing empty."""
    comments = read_comments(name)
    assert tuple(comments) == COMMENTS
    assert all(text.strip() for text in comments.values())


@pytest.mark.parametrize("name", TABLES)
def test_every_column_carries_its_unit(name):
    """``name [unit]``, the unit as printed."""
    for column in read_rows(name)[0]:
        assert re.fullmatch(r"[^\[\]]+ \[[^\[\]]+\]", column), column


@pytest.mark.parametrize("name", TABLES)
def test_every_table_is_used_by_a_test(name):
    """A table nobody reads proves nothing."""
    assert any(name in path.read_text("utf-8") for path in TEST_FILES)
