"""The sums: their answers against worked examples, the tolerance, slips that tempt, and files of every kind."""

from __future__ import annotations

import math

import pytest

from engine_sim.marking.sums import (
    POINTS_EACH,
    SUMS,
    answer_line,
    figures_of,
    last_answers,
    mark_answers,
    mark_sums,
    read_number,
)
from engine_sim.marking.sums.marking import near, rounded
from engine_sim.scenarios import new_ticket

BY_ID = {item.id: item for item in SUMS}
TICKET = "WXYZ-2345"
WORKED = [
    # by hand: 9.5 / 2 h; 9.5 / (2 + 18) h x 60
    ("can_return_home", {"litres": 9.5, "burned": 2.0, "returned": 18.0}, 4.75),
    ("can_return_lost", {"litres": 9.5, "burned": 2.0, "returned": 18.0}, 28.5),
    # by hand: 400 ml / (2 ml x 0.7) = 285.7, and a stroke begun is a stroke
    ("strokes_to_fill", {"litres": 0.4, "stroke": 2.0, "share": 70.0}, 286.0),
    # by hand: 260 g/kWh x 10 kW / 840 g/l
    ("litres_an_hour", {"kw": 10.0, "density": 840.0}, 3.095),
    # US Army TM 5-3895-346-14 prints 6 and 12 inches of mercury; 20.3 and 40.6 kPa
    ("gauge_in_kilopascal", {"inches": 6.0}, 20.32),
    ("gauge_in_kilopascal", {"inches": 12.0}, 40.64),
    # by hand: 15 - 30 x 27 / 100 - 2
    ("above_the_pick_up", {"dip": 15.0, "clear": 2.0, "off": 30.0, "fall": 27.0}, 4.9),
    # Stokes' law, 0.1 mm of fresh water: 0.229 mm/s through 0.2 m is 14.6 min
    ("water_sinks", {"speed": 0.229, "deep": 20.0}, 14.56),
    # by hand: 3 x 0.5 min + 2 x 2 min
    ("turns_and_rests", {"turn": 30.0, "rest": 2.0, "turns": 3.0}, 5.5),
    # by hand: 25 x 200 / 3000 = 1.667 l/min; 4.5 / 1.667 x 60
    ("silencer_full", {"pump": 25.0, "rated": 3000.0, "cranked": 200.0, "free": 4.5}, 162.0),
]


@pytest.mark.parametrize(("name", "figures", "answer"), WORKED)
def test_a_sum_comes_out_as_it_does_by_hand(name: str, figures: dict[str, float], answer: float) -> None:
    assert BY_ID[name].right(figures) == pytest.approx(answer, rel=2e-3)


def test_every_sum_was_worked_by_hand() -> None:
    assert {name for name, _, _ in WORKED} == set(BY_ID)


@pytest.mark.parametrize("item", SUMS, ids=lambda item: item.id)
def test_no_slip_lies_within_the_tolerance_of_the_right_answer(item) -> None:
    for figures in item.every():
        right = item.right(figures)
        assert math.isfinite(right) and right > 0.0
        for slip in item.slips:
            assert not near(slip.wrong(figures), right, 2.0 * item.tolerance), figures
        assert near(float(rounded(right)), right, item.tolerance / 2.0)


@pytest.mark.parametrize("item", SUMS, ids=lambda item: item.id)
def test_a_slip_that_tempts_is_told_where_it_came_from(item) -> None:
    figures = figures_of(item, TICKET)
    for slip in item.slips:
        (marked,) = [m for m in mark_answers({item.id: f"{slip.wrong(figures):.4g}"}, TICKET) if m.item is item]
        assert marked.points == 0.0 and len(marked.said) == 3
        assert marked.said[1].startswith(slip.why.split("{")[0])


def test_right_answers_earn_all_and_are_shown_with_their_working() -> None:
    answers = {item.id: rounded(item.right(figures_of(item, TICKET))) for item in SUMS}
    marked = mark_answers(answers, TICKET)
    assert [one.points for one in marked] == [POINTS_EACH] * len(SUMS)
    assert all(one.said[0].startswith("Right: ") and "{" not in " ".join(one.said) + one.asked for one in marked)


def test_untouched_answers_earn_nothing_and_say_how_it_is_worked() -> None:
    marked = mark_answers({}, TICKET)
    assert sum(one.points for one in marked) == 0.0
    assert all(one.said[0] == "You gave no answer." and len(one.said) == 2 for one in marked)


@pytest.mark.parametrize(
    ("written", "number"),
    [("4,75", 4.75), ("4.75 h", 4.75), ("about 4.75", 4.75), ("1 234,5", 1234.5), ("4 to 5", None), ("", None)],
)
def test_a_number_is_read_as_people_write_it(written: str, number: float | None) -> None:
    assert read_number(written) == number


def test_two_tickets_draw_other_figures_and_the_same_ticket_the_same() -> None:
    drawn = {tuple(tuple(figures_of(item, ticket).values()) for item in SUMS) for ticket in map(str, range(30))}
    assert len(drawn) == 30
    assert figures_of(SUMS[0], TICKET) == figures_of(SUMS[0], TICKET)


def test_the_last_sound_line_under_the_ticket_counts() -> None:
    other = new_ticket()
    data = answer_line(TICKET, {"water_sinks": "1"}) + answer_line(other, {"water_sinks": "2"})
    data += answer_line(TICKET, {"water_sinks": "3", "no_such_sum": "9"}) + b'{"exercise": "sums", "tick'
    assert last_answers(data, TICKET) == {"water_sinks": "3"}
    assert mark_sums(data, new_ticket()).findings == (
        "the answers were not given under this learner's ticket, so nothing could be marked",
    )


@pytest.mark.parametrize(
    "data", [None, b"", b"\xff\xfe\x00", b"[1, 2]", b"{}\n" * 1000, b'{"answers": 3}', b"[" * 5000]
)
def test_whatever_was_handed_in_is_marked_as_nothing_and_never_raises(data: bytes | None) -> None:
    sheet = mark_sums(data, TICKET)
    assert sum(one.points for one in sheet.marked) == 0.0 and len(sheet.findings) == 1


def test_what_a_learner_wrote_is_shown_as_text() -> None:
    marked = mark_answers({"water_sinks": "<b>3 & 4</b>"}, TICKET)
    page = "".join(one.as_html() for one in marked)
    assert "&lt;b&gt;3 &amp; 4&lt;/b&gt;" in page and "<b>" not in page
