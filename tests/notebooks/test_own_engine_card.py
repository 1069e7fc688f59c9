"""The card by the engine: one page of A4 whatever is written, all of it there, nothing over the edge."""

from __future__ import annotations

import itertools
from io import BytesIO
from pathlib import Path

import pypdf
import pypdfium2
import pytest

from engine_sim.bench.own_engine import OwnEngine
from engine_sim.circuit import read_layout
from engine_sim.classroom.own_engine_card import card_pdf, own_engine
from engine_sim.drawing.path import bleed_points
from engine_sim.marking.rules_precedence import PRECEDENCE
from engine_sim.scenarios.own_boat import LONGEST_TEXT, TEXTS, BadOwnBoat, OwnBoat
from engine_sim.scenarios.own_layout import layout_text
from engine_sim.wording import CARD_WORDS, CAUTIONS, MANUAL_FIRST

A4_POINTS = (595.28, 841.89)
"""ISO 216: 210 mm by 297 mm, at 72 points an inch."""
POINTS_PER_MM = 72 / 25.4
LEAST_EDGE_MM = 4.0
"""What an office printer leaves white at the edge at the most; common practice, no source."""
BEST_TYPE_PT, LEAST_TYPE_PT = 8.0, 5.0
"""A card as it is usually filled in is read at arm's length; one filled to the last letter with glasses. Judgement."""

USUAL = OwnBoat(
    "Älva",
    engine="29 hp, three cylinders, built 1998",
    where_shut_off="Under the port berth, behind the lee cloth",
    where_bleed="1 top of the separator, 2 and 3 on the fine filter, 4 low on the injection pump",
    spanner_bleed="10 mm",
    spanner_drain="by hand",
    spanner_union="17 mm",
    element_separator="SP-30",
    element_fine="FF-5, spin-on",
    must_know="Shut the seacock while cranking again and again.\nGlow plugs 15 s, never with starting spray",
    spares="Two elements of each, rings, belt, impeller",
    call="Łukasz, harbour yard: 0123 456 789\nΔιάσωση: channel 16",
)
EMPTY = OwnBoat("Kittiwake", tanks=2, lift_pump="electric", injection_pump="rotary", stop="solenoid", preheat=False)


def filled_with(text: str, **more: object) -> OwnBoat:
    return OwnBoat(**{name: text for name in TEXTS}, **more)


def words_long(name: str) -> str:
    """Return a text of the greatest length in words that stand nowhere else."""
    return "".join(f"{name[:3]}{name[-3:]}{number:02d} " for number in range(60))[:LONGEST_TEXT].strip()


LONGEST = OwnBoat(**{name: words_long(name) for name in TEXTS}, tanks=2, cylinders=4, tank_stands="beside")
ONE_WORD = filled_with("W" * LONGEST_TEXT, tanks=2, cylinders=4, bowl="metal")
LINES = filled_with("\n".join("x" * 150), tanks=2, cylinders=4)
CARDS = {"usual": USUAL, "empty": EMPTY, "longest": LONGEST, "one word": ONE_WORD, "many lines": LINES, "blank": None}


@pytest.fixture(scope="module")
def printed() -> dict[str, bytes]:
    return {name: card_pdf(boat) for name, boat in CARDS.items()}


def reading(pdf: bytes) -> str:
    """Return the text of a card without any white space, as words may be broken where a line ends."""
    return "".join("".join(page.extract_text().split()) for page in pypdf.PdfReader(BytesIO(pdf)).pages)


def close(text: str) -> str:
    return "".join(text.split())


def lines_of(pdf: bytes) -> list[tuple[float, float, float, float]]:
    """Return the frames of all written lines: left, low, right, high [points]."""
    page = pypdfium2.PdfDocument(pdf)[0]
    text = page.get_textpage()
    return [text.get_rect(number) for number in range(text.count_rects())]


@pytest.mark.parametrize("name", CARDS)
def test_a_card_is_one_page_of_a4(printed, name):
    (page,) = pypdf.PdfReader(BytesIO(printed[name])).pages
    assert [float(page.mediabox.width), float(page.mediabox.height)] == pytest.approx(A4_POINTS, abs=0.1)


@pytest.mark.parametrize("name", [name for name, boat in CARDS.items() if boat is not None])
def test_everything_the_learner_wrote_stands_on_it(printed, name):
    text, boat = reading(printed[name]), CARDS[name]
    for field in TEXTS:
        for line in getattr(boat, field).splitlines():
            assert close(line) in text, field
    assert close(f"{boat.tank_l:g} litres") in text


@pytest.mark.parametrize("name", CARDS)
def test_nothing_runs_over_the_edge(printed, name):
    edge, (wide, high) = LEAST_EDGE_MM * POINTS_PER_MM, A4_POINTS
    lines = lines_of(printed[name])
    assert len(lines) > 40
    for left, low, right, top in lines:
        assert left >= edge and right <= wide - edge and low >= edge and top <= high - edge


@pytest.mark.parametrize("name", CARDS)
def test_no_line_is_written_over_another(printed, name):
    """Each line keeps the middle half of its height, and all its width, to itself."""
    middles = [
        (left, low + (top - low) / 4, right, top - (top - low) / 4) for left, low, right, top in lines_of(printed[name])
    ]
    over = [
        (one, other)
        for one, other in itertools.combinations(middles, 2)
        if min(one[2], other[2]) - max(one[0], other[0]) > 0.5 and min(one[3], other[3]) - max(one[1], other[1]) > 0
    ]
    assert over == []


def test_the_type_is_large_where_the_card_is_filled_in_as_usual_and_never_tiny(printed):
    assert smallest_type_pt(printed["usual"]) >= BEST_TYPE_PT
    assert smallest_type_pt(printed["empty"]) >= BEST_TYPE_PT
    assert min(map(smallest_type_pt, printed.values())) >= LEAST_TYPE_PT


def smallest_type_pt(pdf: bytes) -> float:
    """Return the size of the smallest letters outside the drawing [points]: the drawing has its own scale."""
    sizes: list[float] = []

    def note(text: str, around: list[float], matrix: list[float], font: object, size: float) -> None:
        if text.strip() and around[0] == 1.0:
            sizes.append(size)

    pypdf.PdfReader(BytesIO(pdf)).pages[0].extract_text(visitor_text=note)
    return min(sizes)


@pytest.mark.parametrize("name", CARDS)
def test_what_comes_before_the_card_and_what_hurts_most_stand_on_it(printed, name):
    text = reading(printed[name])
    for said in (MANUAL_FIRST, *(CAUTIONS[key] for key in ("high_pressure", "fuel_opened", "turning", "starting"))):
        assert close(said) in text


@pytest.mark.parametrize("name", CARDS)
def test_checks_stand_in_the_order_by_which_work_is_marked(printed, name):
    text = reading(printed[name])
    places = [text.index(close(rule.sentence)) for rule in PRECEDENCE]
    assert places == sorted(places)


def test_bleed_points_stand_in_the_order_of_the_boats_own_path(printed):
    text = reading(printed["usual"])
    points = bleed_points(read_layout(layout_text(USUAL)))
    places = [text.index(f"{number}.{close(str(point))}") for number, point in enumerate(points, 1)]
    assert len(places) == 4 and places == sorted(places)


def test_the_way_home_on_a_can_has_three_lines(printed):
    text = reading(printed["usual"])
    block = text[text.index(close(CARD_WORDS["can_title"])) :]
    assert all(word in block for word in ("1.Thefuelcan'sownhose", "2.Onacan:lashit", "3.Onacan:leadthereturn"))


@pytest.mark.parametrize(("where", "rule"), [("below", "shut the"), ("above", "leave the"), ("beside", "leave the")])
def test_the_bowl_is_drained_as_the_tank_stands(where, rule):
    text = reading(card_pdf(OwnBoat("Kittiwake", tank_stands=where)))
    block = text[text.index(close(CARD_WORDS["bowl"])) :][:90]
    assert close(rule) in block


def test_a_bowl_that_nobody_sees_is_drained_into_a_jar():
    text = reading(card_pdf(OwnBoat("Kittiwake", bowl="hidden")))
    assert close(CARD_WORDS["bowl_hidden"]) in text and "metalbowl" not in text


@pytest.mark.parametrize("name", CARDS)
def test_the_drawing_has_words_for_those_who_do_not_see_it(printed, name):
    told = told_of_pictures(printed[name])
    assert (len(told) == 1 and "the fuel goes" in told[0]) or "it goes" in told[0]
    assert "in this order" in told[0]


def told_of_pictures(pdf: bytes) -> list[str]:
    """Return the alternative texts in the document's structure."""
    root = pypdf.PdfReader(BytesIO(pdf)).trailer["/Root"]["/StructTreeRoot"]
    found: list[str] = []

    def walk(node: pypdf.generic.PdfObject) -> None:
        node = node.get_object()
        if isinstance(node, pypdf.generic.ArrayObject):
            for child in node:
                walk(child)
        elif isinstance(node, pypdf.generic.DictionaryObject):
            found.extend([str(node["/Alt"])] if "/Alt" in node else [])
            if "/K" in node:
                walk(node["/K"])

    walk(root["/K"])
    return found


def test_the_drawing_is_dark_on_a_boats_card_and_pale_on_the_blank_one(printed):
    def darkest(name: str) -> int:
        page = pypdfium2.PdfDocument(printed[name])[0].render(scale=1.0).to_pil().convert("L")
        return int(page.crop((100, 130, 500, 280)).getextrema()[0])

    assert darkest("usual") < 80 < 150 < darkest("blank")


def test_the_blank_card_asks_for_what_the_form_asks_for(printed):
    text = reading(printed["blank"])
    for key in (
        "write_tank",
        "write_kinds",
        "write_bowl",
        "write_pump",
        "write_union",
        "write_screws",
        "write_must_know",
    ):
        assert close(CARD_WORDS[key]) in text
    for key in ("spares", "call"):
        assert close(CARD_WORDS[key]) in text


def test_letters_that_the_type_lacks_are_refused_by_field():
    with pytest.raises(BadOwnBoat, match=r"no letter for: 船 号\. Allowed are Latin, Greek and Cyrillic letters"):
        card_pdf(OwnBoat("Kittiwake", call="船号"))
    with pytest.raises(BadOwnBoat) as refused:
        card_pdf(OwnBoat("⛵", spares="⛵"))
    assert set(refused.value.wrong) == {"name", "spares"}


def test_the_page_of_a_lesson_makes_the_real_card(tmp_path: Path):
    page = own_engine(str(tmp_path))
    assert isinstance(page, OwnEngine) and own_engine(str(tmp_path)) is page
    assert page.desk.make_card is card_pdf
