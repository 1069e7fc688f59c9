"""The pictures: on every boat, to scale, with words for those who do not see them, nothing told by colour alone."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from feedback_sheets import BOATS, analysis, played, sheet
from handmade import track_of

from engine_sim.actions import parts_of
from engine_sim.actions.register import actions_of
from engine_sim.circuit.layout import load_layout
from engine_sim.drawing.seen import DRAWN, as_looked_at
from engine_sim.marking.pictures import draw_circuit, draw_possible, draw_strip
from engine_sim.marking.pictures.deeds import SORTS, sort_of
from engine_sim.marking.pictures.plan import WIDTH, Plan
from engine_sim.marking.pictures.possible import bands_of
from engine_sim.marking.pictures.strip import LEFT, RIGHT
from engine_sim.marking.pictures.svg import FUEL

SVG = "{http://www.w3.org/2000/svg}"
LAYOUTS = sorted(BOATS)


def texts(svg: str) -> list[str]:
    return [node.text or "" for node in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def description(svg: str) -> str:
    return ElementTree.fromstring(svg).find(f"{SVG}desc").text


def circuit(layout: str, **changed: object) -> str:
    seen = {**played(layout)[1].outside(), **changed}
    return draw_circuit(load_layout(layout), seen, "The circuit", "fine_filter")


@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_part_that_carries_fuel_stands_on_the_drawing_in_flow_order(layout):
    plan = Plan(load_layout(layout))
    path = [part.id for part in parts_of(plan.layout) if part.id in plan.places]
    assert {plan.places[name].kind for name in path} >= {"tank", "separator", "fine_filter", "injector", "joint"}
    spots = [plan.places[name].x for name in path]
    assert spots == sorted(spots)
    assert all(0 < place.top < place.bottom for place in plan.places.values())


@pytest.mark.parametrize("layout", LAYOUTS)
def test_height_on_the_drawing_is_height_on_the_boat(layout):
    plan = Plan(load_layout(layout))
    figures = plan.layout.figures
    tank, filtered = plan.places["tank"], plan.places["fine_filter"]
    one_metre = plan.y(0.0) - plan.y(1.0)
    assert tank.bottom - filtered.bottom == pytest.approx(
        one_metre * (figures["fine_filter"]["bottom_m"] - figures["tank"]["floor_m"])
    )
    assert tank.bottom - tank.top == pytest.approx(one_metre * figures["tank"]["height_m"])


@pytest.mark.parametrize("layout", LAYOUTS)
def test_pipes_lead_from_the_tanks_to_the_injection_pump_without_a_gap(layout):
    plan = Plan(load_layout(layout))
    pump = next(place for place in plan.places.values() if "injection_pump" in place.kind)
    reached = {line[-1][0] for line in plan.pipes.values()}
    assert max(reached) == pytest.approx(pump.x - pump.half)
    ends = sorted((line[0][0], line[-1][0]) for line in plan.pipes.values())
    assert all(later[0] - max(e for _, e in ends[: i + 1]) <= 2 * 44.0 for i, (_, later) in enumerate(pairwise(ends)))
    assert plan.return_line[0] == "return_line"


@pytest.mark.parametrize("layout", LAYOUTS)
def test_what_nobody_had_looked_at_is_not_told(layout):
    """The shut-off is shut and the tank's gauge reads: until somebody looks, neither picture nor words say so."""
    boat, all_seen = load_layout(layout), played(layout)[1].outside()
    blind = as_looked_at(boat, all_seen, ["fine_filter"])
    picture = draw_circuit(boat, blind, "The circuit", "fine_filter")
    shy = [part.label for part in parts_of(boat) if part.kind in DRAWN]
    assert texts(picture).count("?") == len(shy) > 1
    said = description(picture).lower()
    assert [f"{label}: not looked at yet" in said for label in shy] == [True] * len(shy)
    assert "gauge" not in said and "stop control" not in said and "bowl" not in said
    looked = as_looked_at(boat, all_seen, [part.id for part in parts_of(boat)])
    assert draw_circuit(boat, looked, "The circuit", "fine_filter") == circuit(layout)


def test_gauge_and_bowl_are_known_to_whoever_looked_at_them_and_not_by_other_work_there():
    worked = track_of(
        "tank.dip", "separator.open_vent", "tank.read_gauge", "separator.look separator:bowl_clean", "tank.dip"
    )
    last = worked.moments[-1]
    assert worked.looked_at(worked.moments[2], also_then=False) == frozenset()
    assert worked.worked_at(worked.moments[2], also_then=False) == {"tank", "separator"}
    assert worked.looked_at(worked.moments[2], also_then=True) == {"tank"}
    assert worked.looked_at(last, also_then=False) == {"tank", "separator"}


@pytest.mark.parametrize("layout", LAYOUTS)
def test_no_caption_crosses_a_line_of_the_drawing(layout):
    plan = Plan(load_layout(layout))
    lowest = max(place.bottom for place in plan.places.values())
    captions = [
        float(node.get("y"))
        for node in ElementTree.fromstring(circuit(layout)).iter(f"{SVG}text")
        if node.get("font-weight") == "bold" and node.get("text-anchor") == "middle" and node.text != "M"
    ]
    assert min(captions) > lowest + 14.0


def test_what_stands_open_shut_wet_or_apart_is_said_and_drawn_otherwise():
    plain = circuit("tank_below", shut_off_open=True)
    changed = circuit(
        "tank_below",
        shut_off_open=False,
        fine_filter_screw_open=True,
        union_nuts_open=(False, True, False),
        weeping=("pump_joint",),
        taken_apart=("separator",),
    )
    said = description(changed)
    for words in ("Shut-off: shut", "Fine filter: bleed screw open", "Injector 2: nut slack"):
        assert words in said and words not in description(plain)
    assert "Lift-pump inlet joint: wet with fuel" in said
    assert "taken apart" in said
    shapes = [
        {(node.get("d"), node.get("fill")) for node in ElementTree.fromstring(svg).iter(f"{SVG}path")}
        for svg in (plain, changed)
    ]
    assert len(shapes[1] - shapes[0]) >= 5


def test_water_in_a_bowl_is_told_by_waves_and_words_and_a_metal_bowl_shows_nothing():
    assert "water 40" in description(circuit("tank_below", bowl_water_share=0.4))
    assert "metal bowl: shows nothing" in description(circuit("metal_bowl"))
    clear, wet = (ElementTree.fromstring(circuit("tank_below", bowl_water_share=share)) for share in (0.0, 0.4))
    counts = [sum(1 for _ in root.iter(f"{SVG}path")) for root in (clear, wet)]
    assert counts[1] == counts[0] + 2


def test_the_part_that_the_moment_is_about_is_framed_and_named():
    assert "▲ here" in texts(circuit("tank_below"))


def test_every_picture_has_a_title_a_description_and_only_tints_of_its_own():
    whole = sheet()
    parts = parts_of(load_layout("tank_below"))
    drawn = (
        circuit("tank_below"),
        draw_strip(whole.track, whole.analysis.model, parts, (3,)),
        draw_possible(whole.analysis.insights, (3,)),
    )
    for svg in drawn:
        root = ElementTree.fromstring(svg)
        assert root.get("role") == "img"
        assert root.find(f"{SVG}title").text and len(description(svg)) > 40
        text_fills = {node.get("fill") for node in root.iter(f"{SVG}text")}
        assert text_fills == {"currentColor"}
        assert {node.get("stroke") for node in root.iter()} <= {"currentColor", "none", None}


def test_bands_sum_to_the_whole_and_differ_by_hatching_not_by_tint_alone():
    insights = analysis(played()[1]).insights
    bands = bands_of(insights)
    assert [sum(band.shares[i] for band in bands) for i in range(len(insights))] == pytest.approx([1.0] * len(insights))
    root = ElementTree.fromstring(draw_possible(insights))
    hatched = [node for node in root.iter(f"{SVG}path") if node.get("stroke-opacity") == "0.7"]
    swatches = hatched[-5:]
    slopes = set()
    for node in swatches:
        first = node.get("d").split("M")[1].split("L")
        (x0, y0), (x1, y1) = ([float(f) for f in point.split()] for point in first)
        slopes.add((x1 > x0, (y1 > y0) - (y1 < y0), abs(x1 - x0) <= 2.5))
    assert len(slopes) == 5


def test_the_plot_has_axes_with_units_and_the_clock():
    said = texts(draw_possible(sheet().analysis.insights))
    assert "share of what was still possible, %" in said
    assert "your actions in order, with the clock (h:mm:ss)" in said
    assert {"0", "50", "100", "start", "0:00:00"} <= {*said}
    assert draw_possible(()) == ""


def test_the_plot_in_words_tells_the_beginning_and_the_end():
    said = description(draw_possible(sheet().analysis.insights))
    assert said.startswith("At the start 7 things were possible, likeliest: shut-off: shut 14 %")
    assert said.endswith("After your last action 1 thing was possible, likeliest: shut-off: shut 100 %.")


def test_the_strip_draws_every_action_once_with_the_sign_of_its_sort():
    whole = sheet()
    svg = draw_strip(whole.track, whole.analysis.model, parts_of(load_layout("tank_below")))
    signs = [node.get("data-sort") for node in ElementTree.fromstring(svg).iter() if node.get("data-sort")]
    done = [sort_of(moment.action) for moment in whole.track.moments] + ["look"]
    assert sorted(signs) == sorted(done + [sort for sort, _ in SORTS])
    assert description(svg).startswith(f"You did {len(whole.track.moments)} things. Places in order: battery")


def test_every_action_of_every_boat_has_a_sort_that_fits_its_label():
    looks = ("look", "read", "listen", "feel", "dip", "measure")
    for layout in LAYOUTS:
        place = played(layout)[1].place
        for part in parts_of(place.rig.layout):
            for item in actions_of(place, part.id):
                if item.label.startswith(looks):
                    assert sort_of(item.id) == "look", item.id
                if item.label.startswith(("crank", "run it", "let it idle", "swing")):
                    assert sort_of(item.id) == "run", item.id
                if item.label.startswith(("open the", "shut the", "slacken")) and "look" not in item.label:
                    assert sort_of(item.id) == "open", item.id


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_drop_stands_at_the_very_injector_that_words_and_description_call_wet(layout):
    plan = Plan(load_layout(layout))
    injectors = [place for place in plan.places.values() if place.kind == "injector"]
    for number, place in enumerate(injectors, start=1):
        svg = circuit(layout, weeping=(place.part,))
        drops = [
            [tuple(float(f) for f in point.split()) for point in node.get("d").strip("MZ").split("L")]
            for node in ElementTree.fromstring(svg).iter(f"{SVG}path")
            if node.get("fill") == FUEL and node.get("fill-opacity") is None
        ]
        assert len(drops) == 1
        middle = sum(y for _, y in drops[0]) / len(drops[0])
        assert min(injectors, key=lambda one: abs(one.y - middle)).part == place.part
        assert all(place.top <= y <= place.bottom and x < WIDTH for x, y in drops[0])
        assert f"{place.label[:1].upper()}{place.label[1:]}: wet with fuel" in description(svg)
        assert len(injectors) == 1 or f"{number}: wet" in " ".join(texts(svg))


def test_marks_are_explained_where_they_are_drawn_and_only_there():
    whole = sheet()
    parts = parts_of(load_layout("tank_below"))
    plot = texts(draw_possible(whole.analysis.insights, (3,)))
    assert plot.count("▼") == 2 and any("cost you most" in text for text in plot)
    strip = texts(draw_strip(whole.track, whole.analysis.model, parts, (3,)))
    assert strip.count("!") == 2 and any("cost most" in text for text in strip)
    unmarked = texts(draw_possible(whole.analysis.insights)) + texts(draw_strip(whole.track, (), parts))
    assert not any("!" in text or "▼" in text or "cost" in text for text in unmarked)


def test_a_good_run_has_its_own_scale_and_its_own_times():
    whole = sheet()
    parts = parts_of(load_layout("tank_below"))
    model = tuple(
        replace(whole.analysis.model[0], part=name, minutes=2.0) for name in ("tank", "separator", "shut_off")
    )
    good = texts(draw_strip(whole.track, model, parts))
    assert {"0:02:00", "0:04:00", "0:06:00"} <= {*good[good.index("A good run of checks") :]}
    signs = [
        float(node.get("cx"))
        for node in ElementTree.fromstring(draw_strip(whole.track, model, parts)).iter(f"{SVG}circle")
        if node.get("data-sort") == "look"
    ][-4:-1]
    assert signs[-1] - signs[0] == pytest.approx((WIDTH - LEFT - RIGHT - 16.0) * 2 / 3, abs=0.2)


def test_how_empty_a_bowl_is_reads_as_people_say_it():
    assert "Separator: bowl empty" in description(circuit("tank_below", bowl_air_share=1.0))
    assert "bowl 40\N{NO-BREAK SPACE}% empty" in description(circuit("tank_below", bowl_air_share=0.4))
