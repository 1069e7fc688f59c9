"""The marking scheme file: the shipped one reads, and a wrong one says what to mend."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine_sim.marking.scheme import BadMarkingScheme, load_marking_scheme, parse_marking_scheme

SHIPPED = Path(__file__).parents[2] / "instructors/scenarios/no_start_harbour.toml"
TEXT = SHIPPED.read_text(encoding="utf-8")


def test_shipped_scheme_reads():
    scheme = load_marking_scheme(SHIPPED)
    assert scheme.exercise == "no_start_harbour"
    assert (scheme.weights.order, scheme.weights.diagnosis, scheme.weights.outcome) == (10.0, 5.0, 10.0)
    assert scheme.engine_test.standing_minutes == 30.0


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("order = 10.0", "order = -1", r"\[weights\]: order was given as -1; allowed is a number 0 to 1000"),
        ("order = 10.0", "order = nan", r"order was given as nan"),
        ("order = 10.0", 'order = "ten"', r"order was given as 'ten'"),
        ("order = 10.0", "order = true", r"order was given as True"),
        ("order = 10.0", "", r"\[weights\]: 'order' is missing"),
        ("order = 10.0", "order = 10.0\nneatness = 3", r"'neatness' is not known here. Allowed: order, diagnosis"),
        ("side = 1.0", "side = 2.0", r"side \+ part \+ fault \+ evidence make 6, but the weight is 5"),
        ("starts = 1.0", "starts = 0.5", r"make 9.5, but the weight is 10"),
        ("cruise_minutes = 10", "cruise_minutes = 7", r"cruise_minutes was given as 7; allowed is .* in steps of 5"),
        ("[limits]", "[limit]", r"'limit' is not known here"),
        ("scheme_version = 1", "scheme_version = 2", r"scheme_version was given as 2; this version reads 1"),
        ('exercise = "no_start_harbour"', "exercise = 3", r"exercise was given as 3"),
        ("[limits]", "[limits", r"not sound TOML"),
    ],
)
def test_wrong_scheme_says_what_to_mend(old, new, says):
    assert old in TEXT
    with pytest.raises(BadMarkingScheme, match=says):
        parse_marking_scheme(TEXT.replace(old, new, 1), "a scheme")


def test_missing_file_is_named(tmp_path):
    with pytest.raises(BadMarkingScheme, match=r"nowhere\.toml: cannot be read"):
        load_marking_scheme(tmp_path / "nowhere.toml")


def test_binary_file_is_named(tmp_path):
    (tmp_path / "scheme.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(BadMarkingScheme, match="not text in UTF-8"):
        load_marking_scheme(tmp_path / "scheme.toml")
