"""The feedback fragments: whole in themselves, escaped, readable on light and dark paper, and naming the why."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest
from handmade import track_of

from engine_sim.errors import UnknownName
from engine_sim.marking.feedback import feedback_html
from engine_sim.marking.marksheet import Mark, MarkSheet, Reason
from engine_sim.marking.method import mark_order
from engine_sim.marking.picture import ROWS, draw_work
from engine_sim.marking.scheme import load_marking_scheme

SCHEME = load_marking_scheme(Path(__file__).parents[2] / "instructors/scenarios/no_start_harbour.toml")
SVG = "{http://www.w3.org/2000/svg}"
WORK = ("starter.crank_10", "tank.dip", "separator.look", "fine_filter.open_screw", "bench.wait_30min", "tank.add_fuel")


class TagCounter(HTMLParser):
    """Counts open and closed tags, and remembers the names."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.names: set[str] = set()

    def handle_starttag(self, tag, attrs):
        self.names.add(tag)
        if tag != "br":
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def sheet() -> MarkSheet:
    track = track_of(*WORK)
    hostile = Reason('<script>alert("x")</script> & more', 61.0, False, 1.25, "because <b>")
    marks = {
        "order": mark_order(track, SCHEME),
        "diagnosis": Mark(1.0, 5.0, (hostile,)),
        "outcome": Mark(10.0, 10.0, (Reason("It ran.", 125.0),)),
    }
    return MarkSheet("no_start_harbour", marks, True, (), draw_work(track, frozenset({0.0})))


@pytest.mark.parametrize("name", ["order", "diagnosis", "outcome"])
def test_fragment_is_balanced_and_brings_nothing_from_elsewhere(name):
    html = feedback_html(sheet(), name)
    counter = TagCounter()
    counter.feed(html)
    assert counter.open == []
    assert not counter.names & {"script", "link", "img", "iframe", "object", "style"}
    assert re.findall(r"""(?:src|href|on\w+)\s*=""", html) == []
    assert re.findall(r"https?://(?!www\.w3\.org/2000/svg)", html) == []


def test_reasons_are_escaped_and_tell_when_and_why():
    html = feedback_html(sheet(), "diagnosis")
    assert "&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt; &amp; more" in html
    assert "(at 0:01:01)" in html
    assert "Why: because &lt;b&gt;" in html
    assert "Diagnosis: 1 of 5" in html


def test_what_costs_most_stands_first():
    html = feedback_html(sheet(), "order")
    costs = [float(found) for found in re.findall(r"\(cost ([\d.]+)\)", html)]
    assert costs == sorted(costs, reverse=True)
    assert len(costs) > 2


def test_only_the_order_carries_the_picture_and_the_outcome_the_caution():
    assert "<svg" in feedback_html(sheet(), "order")
    assert "<svg" not in feedback_html(sheet(), "diagnosis")
    assert "qualified marine engineer" in feedback_html(sheet(), "outcome")


def test_another_name_is_refused():
    with pytest.raises(UnknownName, match=r"No mark is called 'ordre'. Did you mean 'order'"):
        feedback_html(sheet(), "ordre")


def test_picture_has_words_for_those_who_cannot_see_it_and_no_colour_of_its_own():
    root = ElementTree.fromstring(draw_work(track_of(*WORK), frozenset({0.0})))
    assert root.find(f"{SVG}title").text == "Your work, from the tank to the injectors"
    assert root.find(f"{SVG}desc").text.startswith("6 actions in")
    colours = {node.get(name) for node in root.iter() for name in ("fill", "stroke")} - {None}
    assert colours == {"currentColor", "none"}


def test_picture_draws_every_action_in_the_row_of_its_place_and_in_order():
    parts = [part for _, row in ROWS for part in row]
    assert parts.index("tank") < parts.index("separator") < parts.index("fine_filter") < parts.index("injector_1")
    root = ElementTree.fromstring(draw_work(track_of("tank.dip", "separator.look", "fine_filter.look")))
    looks = [(float(n.get("cx")), float(n.get("cy"))) for n in root.iter(f"{SVG}circle") if n.get("r") == "5"][:3]
    assert looks == sorted(looks)
    assert [y for _, y in looks] == sorted(y for _, y in looks)


def test_picture_of_nothing_says_so():
    root = ElementTree.fromstring(draw_work(track_of()))
    assert root.find(f"{SVG}desc").text == "Nothing was done."
