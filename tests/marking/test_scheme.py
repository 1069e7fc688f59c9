"""The marking scheme file: the shipped ones read, and a wrong one says what to mend."""

from __future__ import annotations

from dataclasses import replace

import pytest

from engine_sim.marking import MARK_NAMES, default_scheme, mark_logbook, usual_scheme_file
from engine_sim.marking.scheme import BadMarkingScheme, load_marking_scheme, parse_marking_scheme
from engine_sim.scenarios import new_ticket

TEXT = usual_scheme_file().read_text(encoding="utf-8")


def test_the_shipped_scheme_reads():
    scheme = load_marking_scheme(usual_scheme_file())
    assert {name: scheme.weights.of(name) for name in MARK_NAMES} == {
        "safety": 5.0,
        "method": 10.0,
        "diagnosis": 5.0,
        "cure": 10.0,
        "housekeeping": 5.0,
    }
    assert scheme.scheme_version == 2
    assert scheme.engine_test.standing_minutes == 30.0


def test_coming_through_over_a_cause_that_is_left_is_below_the_pass_line():
    scheme = default_scheme()
    least = scheme.pass_line.cure_share * scheme.weights.cure
    assert scheme.weights.cure - scheme.cure.cause_gone < least
    assert scheme.cure.cause_gone < least


def test_the_usual_scheme_marks_every_exercise_and_one_of_its_own_only_that():
    ticket = new_ticket()
    usual = mark_logbook(None, "no_start_harbour", ticket, default_scheme())
    own = mark_logbook(None, "no_start_harbour", ticket, replace(default_scheme(), exercise="no_start_harbour"))
    assert usual.marks == own.marks
    with pytest.raises(BadMarkingScheme, match="The scheme is for 'another', not for 'no_start_harbour'"):
        mark_logbook(None, "no_start_harbour", ticket, replace(default_scheme(), exercise="another"))


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("method = 10.0", "method = -1", r"\[weights\]: method was given as -1; allowed is a number 0 to 1000"),
        ("method = 10.0", "method = nan", r"method was given as nan"),
        ("method = 10.0", 'method = "ten"', r"method was given as 'ten'"),
        ("method = 10.0", "method = true", r"method was given as True"),
        ("method = 10.0", "", r"\[weights\]: 'method' is missing"),
        ("method = 10.0", "method = 10.0\nneatness = 3", r"'neatness' is not known here. Allowed: safety, method"),
        ("side = 1.0", "side = 2.0", r"side \+ part \+ fault \+ evidence make 6, but the weight is 5"),
        ("starts = 1.0", "starts = 0.5", r"make 9.5, but the weight is 10"),
        ("not_started_share = 0.5", "not_started_share = 5", r"\[cure\]: not_started_share was given as 5"),
        ("opened_blind_free = 1", "opened_blind_free = 0.5", r"opened_blind_free was given as 0.5; .* in steps of 1"),
        ("note = 0.5", "note = 1.5", r"make 6, but the weight is 5"),
        ("uncured_share = 0.5", "uncured_share = 5", r"uncured_share was given as 5; allowed is a number 0 to 1"),
        ("hard_fail_share = 0.0", "hard_fail_share = 2", r"\[safety\]: hard_fail_share was given as 2"),
        ("coach_share = 0.2", "coach_share = 20", r"\[method\]: coach_share was given as 20"),
        ("safety_share = 0.50", "", r"\[pass_line\]: 'safety_share' is missing"),
        ("cruise_minutes = 10", "cruise_minutes = 7", r"cruise_minutes was given as 7; allowed is .* in steps of 5"),
        ("[limits]", "[limit]", r"'limit' is not known here"),
        ("scheme_version = 2", "scheme_version = 1", r"scheme_version was given as 1; this version reads 2"),
        ('exercise = "every"', "exercise = 3", r"exercise was given as 3"),
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
