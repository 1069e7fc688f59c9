"""The feedback: whole in itself, escaped, telling moments, knowledge, better moves and whys, on every boat."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest
from feedback_sheets import BOATS, HOSTILE, LOOK, empty_sheet, played, sheet

from engine_sim.errors import UnknownName
from engine_sim.marking import MARK_NAMES, feedback_html, page_html
from engine_sim.marking.feedback_story import story_of
from engine_sim.marking.marksheet import Mark, MarkSheet, Reason

FLOODED = Reason("The engine was flooded.", 700.0, False, 0.0, "Shut the seacock while you crank.", 12)


class TagCounter(HTMLParser):
    """Counts open and closed tags, and remembers their names and their attributes' names."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.names: list[str] = []
        self.attributes: set[str] = set()

    def handle_starttag(self, tag, attrs):
        self.names.append(tag)
        self.attributes |= {name for name, _ in attrs}
        if tag != "br":
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.names.append(tag)
        self.attributes |= {name for name, _ in attrs}

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def counted(html: str) -> TagCounter:
    counter = TagCounter()
    counter.feed(html)
    return counter


def all_pages(layout: str) -> str:
    whole = sheet(layout, hard_fails=(FLOODED,))
    return page_html(whole) + "".join(feedback_html(whole, name) for name in MARK_NAMES)


@pytest.mark.parametrize("layout", sorted(BOATS))
def test_a_page_of_any_boat_is_balanced_and_can_neither_act_nor_fetch(layout):
    html = all_pages(layout)
    counter = counted(html)
    assert counter.open == []
    assert not {*counter.names} & {"script", "link", "img", "iframe", "object", "style", "a", "foreignobject"}
    assert not {name for name in counter.attributes if name.startswith("on")} | (counter.attributes & {"src", "href"})
    assert re.findall(r"https?://(?!www\.w3\.org/2000/svg)", html) == []
    assert "url(" not in html


def test_reasons_are_escaped_and_tell_when_what_and_why():
    html = feedback_html(sheet(), "method")
    assert "&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt; &amp; more" in html
    assert "(at 0:01:01)" in html
    assert "(cost 3)" in html
    assert "Why: Look first." in html
    assert "Method: 6 of 10" in html


def test_a_hostile_name_of_a_fault_stays_text_in_every_picture():
    html = page_html(sheet())
    assert HOSTILE not in html
    assert html.count("&lt;script&gt;") > 2


def test_what_costs_most_stands_first():
    costs = [float(found) for found in re.findall(r"\(cost ([\d.]+)\)", feedback_html(sheet(), "method"))]
    assert costs == [3.0, 0.5]


def test_another_name_is_refused():
    with pytest.raises(UnknownName, match=r"No mark is called 'metod'. Did you mean 'method'"):
        feedback_html(sheet(), "metod")


def test_the_page_begins_with_praise_and_then_tells_what_cost_most():
    html = page_html(sheet())
    headings = re.findall(r"<h4>(.*?)</h4>", html)
    assert headings[:3] == ["What went well", "What cost you most", "The turning point"]
    assert headings[3:] == ["Your work and a good run", "What was still possible"]


def test_the_three_dearest_are_told_dearest_first_and_a_hard_fail_before_all():
    losses = story_of(sheet()).losses
    assert [loss.mark for loss in losses] == ["method", "safety", "housekeeping"]
    failed = story_of(sheet(hard_fails=(FLOODED,))).losses
    assert [loss.mark for loss in failed] == ["hard fail", "method", "safety"]


def test_a_costly_moment_tells_what_could_be_known_then_and_the_better_move():
    loss = story_of(sheet()).losses[0]
    steps = {step.action: step.number for step in played()[1].steps}
    assert loss.moment.number == steps["open_screw"]
    assert loss.knew.step == steps["open_screw"] - 1
    assert loss.better == LOOK
    html = page_html(sheet())
    assert "What could be known then: 5 things were still possible: shut-off: shut (20\N{NO-BREAK SPACE}%)" in html
    assert "The better move: shut-off: look at the handle (12 s). It leaves few things possible." in html
    assert "<em>Why: Look first.</em>" in html


def test_a_moment_that_is_not_about_finding_tells_what_stood_open():
    steps = {step.action: step.number for step in played()[1].steps}
    reason = Reason("Fuel ran.", None, False, 4.0, "", steps["close_screw"])
    whole = sheet()
    marks = {**whole.marks, "safety": type(whole.marks["safety"])(1.0, 5.0, (reason,))}
    html = page_html(type(whole)(exercise="own", marks=marks, passed=False, track=whole.track, scenario=whole.scenario))
    assert (
        "How things stood then: Shut-off: shut, fine filter: bleed screw open and fine filter: wet with fuel." in html
    )


def test_where_few_marks_were_lost_the_dearest_detours_are_told():
    whole = sheet()
    none_lost = {name: type(mark)(mark.maximum, mark.maximum, ()) for name, mark in whole.marks.items()}
    better = type(whole)(
        exercise="own",
        marks=none_lost,
        passed=True,
        track=whole.track,
        analysis=whole.analysis,
        scenario=whole.scenario,
    )
    losses = story_of(better).losses
    assert [loss.mark for loss in losses] == ["time"] * 3
    lost = {one.step: one.lost_minutes for one in whole.analysis.insights}
    assert [lost[loss.moment.number] for loss in losses] == sorted(lost.values(), reverse=True)[:3]


def test_without_any_loss_it_turned_where_only_the_truth_was_left():
    whole = sheet()
    none_lost = {name: type(mark)(mark.maximum, mark.maximum, ()) for name, mark in whole.marks.items()}
    quick = type(whole.analysis)((), 5.0, 5.0, whole.analysis.found_step, ())
    best = type(whole)(
        exercise="own", marks=none_lost, passed=True, track=whole.track, analysis=quick, scenario=whole.scenario
    )
    turning = story_of(best).turning
    assert (turning.moment.number, turning.before) == (whole.analysis.found_step, False)
    assert "Nothing cost you anything worth telling." in page_html(best)


def test_of_what_shows_only_afterwards_one_thing_comes_before_the_moments_that_led_there():
    whole = sheet()
    steps = {step.action: step.number for step in played()[1].steps}
    failed = [Reason(f"It failed {points} times.", 9000.0 + points, False, points) for points in (5.0, 4.0, 3.0)]
    early = [
        Reason(f"{name} came too early.", None, False, 1.0, "", steps[name]) for name in ("open_screw", "lever_10")
    ]
    marks = {"cure": Mark(0.0, 10.0, tuple(failed)), "method": Mark(1.0, 10.0, tuple(early))}
    told = MarkSheet(
        exercise="own", marks=marks, passed=False, track=whole.track, analysis=whole.analysis, scenario=whole.scenario
    )
    losses = story_of(told).losses
    assert [loss.reason.text for loss in losses] == [failed[0].text, early[0].text, early[1].text]
    html = page_html(told)
    assert "What could be known when you handed in: Only one thing was left: shut-off: shut." in html
    assert "2:30:0" not in html


def test_the_page_of_nothing_says_so_and_has_no_picture():
    html = page_html(empty_sheet())
    assert "There was nothing yet that could earn praise." in html
    assert "<svg" not in html
    assert "qualified marine engineer" in html


def test_without_the_coach_the_page_still_tells_what_was_done():
    html = page_html(sheet(with_analysis=False))
    assert "What was still possible" not in html
    assert html.count("<svg") == 2


def test_a_hard_fail_is_told_before_everything():
    html = page_html(sheet(hard_fails=(FLOODED,)))
    assert html.index("This alone decides the exercise") < html.index("What went well")
    assert "The engine was flooded." in html


def test_the_same_sheet_gives_the_same_page():
    assert page_html(sheet()) == page_html(sheet())
