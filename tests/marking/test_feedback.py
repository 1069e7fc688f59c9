"""The feedback: whole in itself, escaped, telling moments, knowledge, better moves and whys, on every boat."""

from __future__ import annotations

import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from feedback_sheets import BOATS, HOSTILE, LOOK, empty_sheet, played, sheet

from engine_sim.actions import parts_of
from engine_sim.actions.register import actions_of
from engine_sim.errors import UnknownName
from engine_sim.marking import MARK_NAMES, diagnosis, feedback_html, page_html
from engine_sim.marking.feedback_deeds import did_text, doing_text, past_text
from engine_sim.marking.feedback_moves import BY_MARK, better_move
from engine_sim.marking.feedback_story import TIME, story_of
from engine_sim.marking.marksheet import Mark, MarkSheet, Reason
from engine_sim.marking.method import NOT_FOLLOWED
from engine_sim.marking.rules import RULES
from engine_sim.marking.safety import SAFETY_RULES
from engine_sim.units import clock_text

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
    then = "The check that would have told most for its time just then"
    assert f"<strong>Better:</strong> {BY_MARK['method']} {then}: shut-off" not in html
    assert "<strong>Better:</strong> shut-off: look at the handle (12 s). It leaves few things possible." in html
    assert "<em>Why: Look first.</em>" in html


def test_a_moment_that_is_not_about_finding_tells_what_stood_open():
    steps = {step.action: step.number for step in played()[1].steps}
    reason = Reason("Fuel ran.", None, False, 4.0, "", steps["close_screw"])
    whole = sheet()
    marks = {**whole.marks, "safety": type(whole.marks["safety"])(1.0, 5.0, (reason,))}
    html = page_html(type(whole)(exercise="own", marks=marks, passed=False, track=whole.track, scenario=whole.scenario))
    assert "How things stood then: Fine filter: bleed screw open and fine filter: wet with fuel." in html


def test_one_thing_left_by_reckoning_alone_is_not_called_found():
    """Nothing had shown what was wrong: the page says so, and names nothing as what should have been said."""
    told = with_marks({"diagnosis": Mark(0.0, 5.0, WRONG_DIAGNOSIS)})
    blind = replace(told, track=replace(told.track, moments=tuple(replace(m, tells=False) for m in told.track.moments)))
    html = page_html(blind)
    assert "No check had shown it at its own place." in html and "fits one thing only: shut-off: shut." in html
    assert "Name the one thing" not in html and "Only one thing was left" not in html


def test_what_was_seen_and_not_followed_is_told_as_it_stood_after_the_look():
    """The look was sound: what is blamed came after it, and the better move stays at that place."""
    whole = sheet()
    look = next(m for m in whole.track.moments if m.name == "shut_off.look")
    reason = Reason(NOT_FOLLOWED, look.end_s, False, 4.0, "Why.", look.number)
    told = replace(whole, marks={"method": Mark(6.0, 10.0, (reason,))})
    (loss,) = [one for one in story_of(told).losses if one.mark == "method"]
    assert loss.better is None and loss.knew.step == look.number
    assert "Go on at the place that showed it" in page_html(told)
    assert "just after you looked at the handle" in page_html(told)


def test_a_logbook_that_was_cut_off_says_where_it_ends():
    ends = f"Your logbook ends at {clock_text(sheet().track.moments[-1].end_s)} without a hand-in"
    assert ends in page_html(replace(sheet(), handed_in=False))
    assert "without a hand-in" not in page_html(sheet())


def test_a_look_that_only_comes_first_is_no_better_move():
    whole = sheet()
    best = replace(LOOK, saves_minutes=0.0)
    insights = tuple(replace(one, best=best if one.best else None) for one in whole.analysis.insights)
    losses = story_of(replace(whole, analysis=replace(whole.analysis, insights=insights))).losses
    assert losses and all(loss.better is None and loss.mark != TIME for loss in losses)
    assert any(loss.better is not None for loss in story_of(whole).losses)


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
    assert "What could be known at the end of your work: Only one thing was left: shut-off: shut." in html
    assert "2:30:0" not in html


def test_the_page_of_nothing_says_so_and_why_once_and_has_no_picture():
    html = page_html(empty_sheet())
    assert "There was no work on the engine to mark." in html
    assert html.count("<li>No logbook was handed in.</li>") == html.count("<li>") == 1
    assert "worth telling" not in html and "next time" not in html


def test_the_page_of_nothing_does_not_speak_of_the_engine_after_the_work():
    died = Reason("After your work the engine did not start.", 9.0, False, 1.0, "Why.")
    nothing = empty_sheet()
    html = page_html(replace(nothing, marks={**nothing.marks, "cure": Mark(0.0, 10.0, (died,))}))
    assert "No logbook was handed in." in html and "After your work" not in html
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


def with_marks(marks: dict[str, Mark], with_analysis: bool = True, hard_fails: tuple[Reason, ...] = ()) -> MarkSheet:
    """Give the sheet of the usual clumsy work with marks of its own."""
    whole = sheet()
    return MarkSheet(
        exercise="own",
        marks=marks,
        passed=False,
        hard_fails=hard_fails,
        track=whole.track,
        analysis=whole.analysis if with_analysis else None,
        scenario=whole.scenario,
    )


def cost(text: str, points: float, why: str = "", action: str = "", name: str = "method", about: str = "") -> dict:
    """Give a mark that one reason lowered, at the moment of an action where one is named."""
    step = next((step for step in played()[1].steps if action and step.action == action), None)
    clock_s, number = (step.clock_s, step.number) if step is not None else (None, 0)
    return {name: Mark(1.0, 10.0, (Reason(text, clock_s, False, points, why, number, about),))}


WRONG_DIAGNOSIS = (
    Reason("You named a part on the other side.", 4000.0, False, 1.0, diagnosis.WHY_SIDE, 90),
    Reason("The part was: shut-off.", 4000.0, False, 2.0, diagnosis.WHY_PART, 90),
    Reason("What was wrong: shut.", 4000.0, False, 1.0, diagnosis.WHY_FAULT, 90),
    Reason("Evidence counts only behind the right part.", 4000.0, False, 1.0, diagnosis.WHY_EVIDENCE, 90),
)


def test_a_wrong_diagnosis_is_one_mistake_and_says_nothing_of_evidence_for_a_wrong_part():
    told = with_marks({"diagnosis": Mark(0.0, 5.0, WRONG_DIAGNOSIS), **cost("You cranked on.", 0.6, "", "crank_10")})
    losses = [loss for loss in story_of(told).losses if loss.mark == "diagnosis"]
    assert [(loss.reason.text, loss.reason.points) for loss in losses] == [
        ("You named a part on the other side. The part was: shut-off. What was wrong: shut.", 5.0)
    ]
    assert "Evidence counts" not in page_html(told)
    assert "Name the one thing that all you had noticed left: shut-off, shut." in page_html(told)
    assert "Evidence counts" in feedback_html(told, "diagnosis")


def test_evidence_is_told_where_the_part_was_right():
    told = with_marks({"diagnosis": Mark(4.0, 5.0, (Reason("It shows nothing.", None, False, 1.0, "Why.", 0),))})
    assert story_of(told).losses[0].reason.text == "It shows nothing."


@pytest.mark.parametrize("with_analysis", [True, False])
def test_every_entry_has_a_better_move_and_a_moment(with_analysis):
    for name in MARK_NAMES:
        html = page_html(with_marks(cost("Something cost.", 3.0, "", "", name), with_analysis))
        entries = re.findall(r"<li><strong>Something cost.</strong> <small>\((.*?)\)</small>.*?</li>", html)
        assert len(entries) == 1 and entries[0] in ("at the end of your work", "all through your work")
        listed = html.split("What cost you most</h4>")[1].split("</ol>")[0]
        assert listed.count("<strong>Better:</strong> ") == listed.count("<li>") >= 1


def test_the_better_move_of_a_broken_rule_is_the_rule_itself():
    for mark, rules in (("method", RULES), ("safety", SAFETY_RULES)):
        for rule in rules:
            reason = Reason(f"{rule.broken} (this happened 2 times)", 1.0, False, 1.0, rule.why, 1, rule.id)
            assert better_move(mark, reason) == rule.sentence
    broken = with_marks(cost(RULES[3].broken, 3.0, RULES[3].why, "open_screw", about=RULES[3].id))
    then = "The check that would have told most for its time just then: shut-off: look at the handle"
    assert f"<strong>Better:</strong> {RULES[3].sentence} {then}" in page_html(broken)


def test_the_turning_point_is_the_dearest_of_method_and_says_why():
    both = {**cost("You cut your hand.", 4.0, "", "lay_tray", "safety"), **cost("Too early.", 3.0, "", "open_screw")}
    told = with_marks(both)
    assert story_of(told).turning.loss.reason.text == "Too early."
    assert "<h4>The turning point</h4><p>Here it cost you most in Method: Too early.</p>" in page_html(told)
    only = with_marks(cost("You cut your hand.", 4.0, "", "lay_tray", "safety"))
    assert "<p>Here it cost you most in Safety: You cut your hand.</p>" in page_html(only)


def test_a_trifle_is_no_turning_point_and_where_one_thing_was_left_it_says_so():
    told = with_marks(cost("A trifle.", 0.24, "", "crank_10"))
    assert story_of(told).turning.loss.mark == "time"
    whole = sheet()
    found = type(whole.analysis)(
        tuple(replace(one, best=None) for one in whole.analysis.insights), 5.0, 5.0, whole.analysis.found_step, ()
    )
    told = replace(told, analysis=found)
    assert (story_of(told).turning.loss, story_of(told).turning.found) == (None, True)
    assert "<p>After this only one thing was left: shut-off: shut.</p>" in page_html(told)


def test_what_came_after_a_hard_fail_turned_nothing_any_more():
    fail = Reason("The engine was flooded.", 1.0, False, 0.0, "Why.", 0)
    turning = story_of(with_marks(cost("Late.", 3.0, "", "open"), hard_fails=(fail,))).turning
    assert turning is None or turning.moment.action != "open"


@pytest.mark.parametrize("layout", sorted(BOATS))
def test_every_label_of_every_boat_can_be_told_afterwards(layout):
    place = played(layout)[1].place
    labels = {item.label for part in parts_of(place.rig.layout) for item in actions_of(place, part.id)}
    assert [label for label in sorted(labels) if not past_text(label)] == []
    assert past_text("anchor, or set sail for sea room, first") == "anchored, or set sail for sea room, first"


def test_what_was_done_is_told_as_people_tell_it():
    assert did_text("lift pump", "fit the spare lift pump") == "fitted the spare lift pump"
    assert did_text("fine filter", "open the bleed screw") == "opened the bleed screw (fine filter)"
    assert did_text("tank", "empty it, open it and wipe it out") == "emptied it, opened it and wiped it out (tank)"
    assert did_text("around the engine", "lay tray and rag") == "laid tray and rag"
    assert did_text("tank", "sing") == "did this: sing (tank)"
    assert doing_text("tank", "dip the tank") == "dip the tank"
    assert doing_text("fine filter", "change the element") == "fine filter: change the element"
    assert "just before you opened the bleed screw (fine filter)" in page_html(sheet())
