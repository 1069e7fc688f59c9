"""The pictures: on every boat, to scale, with words for those who do not see them, nothing told by colour alone."""

from __future__ import annotations

from dataclasses import replace
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
from engine_sim.marking.pictures.possible import bands_of
from engine_sim.marking.pictures.strip import LEFT, RIGHT, WIDTH
from engine_sim.scenarios.scenario import layout_of

SVG = "{http://www.w3.org/2000/svg}"
LAYOUTS = sorted(BOATS)


def texts(svg: str) -> list[str]:
    return [node.text or "" for node in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def description(svg: str) -> str:
    return ElementTree.fromstring(svg).find(f"{SVG}desc").text


def circuit(layout: str, **changed: object) -> str:
    seen = {**played(layout)[1].outside(), **changed}
    return draw_circuit(layout_of(layout).drawing, seen, "The circuit", "fine_filter")


@pytest.mark.parametrize("layout", LAYOUTS)
def test_what_nobody_had_looked_at_is_not_told(layout):
    """The shut-off is shut and the tank's gauge reads: until somebody looks, neither picture nor words say so."""
    kept, all_seen = layout_of(layout), played(layout)[1].outside()
    boat = kept.layout
    blind = as_looked_at(boat, all_seen, ["fine_filter"])
    picture = draw_circuit(kept.drawing, blind, "The circuit", "fine_filter")
    shy = [part.label for part in parts_of(boat) if part.kind in DRAWN]
    by_the_engine = sum(len(boat.parts_of(kind)) for kind in ("stop_lever", "battery", "exhaust"))
    metal = layout == "metal_bowl"  # such a bowl is never looked into, so it bears no sign
    assert texts(picture).count("?") == len(shy) + by_the_engine - metal
    said = description(picture).lower()
    unsaid = {part.label: "gauge not read yet" for part in parts_of(boat) if part.kind == "tank"}
    assert len(shy) > 1 and all(f"{label}: {unsaid.get(label, 'not looked at yet')}" in said for label in shy)
    assert said.count("gauge") == len(unsaid) and "stop control" not in said and "bowl" not in said
    looked = as_looked_at(boat, all_seen, [part.id for part in parts_of(boat)])
    assert draw_circuit(kept.drawing, looked, "The circuit", "fine_filter") == circuit(layout)
    assert texts(circuit(layout)).count("?") == 0


def test_what_stands_open_shut_wet_or_apart_is_said_and_drawn_otherwise():
    plain = circuit("tank_below", shut_off_open=True)
    for changed, words in (
        ({"shut_off_open": False}, "Shut-off: shut"),
        ({"fine_filter_screw_open": True}, "Fine filter: bleed screw open"),
        ({"union_nuts_open": (False, True, False)}, "Injector 2: nut slack"),
        ({"weeping": ("pump_joint",)}, "Lift-pump inlet joint: wet with fuel"),
        ({"taken_apart": ("separator",)}, "taken apart"),
        ({"bowl_water_share": 0.4}, "water 40"),
        ({"bowl_air_share": 1.0}, "Separator: bowl empty"),
        ({"bowl_air_share": 0.4}, "bowl 40\N{NO-BREAK SPACE}% empty"),
    ):
        other = circuit("tank_below", **changed)
        assert words in description(other) and words not in description(plain)
        assert shapes(other) != shapes(plain), words
    assert "metal bowl: shows nothing" in description(circuit("metal_bowl"))


def shapes(svg: str) -> list[dict[str, str]]:
    return [dict(node.attrib) for node in ElementTree.fromstring(svg).iter() if node.tag != f"{SVG}desc"]


def test_the_part_that_the_moment_is_about_is_framed():
    kept, seen = layout_of("tank_below"), played("tank_below")[1].outside()
    frames = [
        len(shapes(draw_circuit(kept.drawing, seen, "The circuit", here))) for here in ("fine_filter", "", "nothing")
    ]
    assert frames == [frames[1] + 1, frames[1], frames[1]]


def test_gauge_and_bowl_are_known_to_whoever_looked_at_them_and_not_by_other_work_there():
    worked = track_of(
        "tank.dip", "separator.open_vent", "tank.read_gauge", "separator.look separator:bowl_clean", "tank.dip"
    )
    last = worked.moments[-1]
    assert worked.looked_at(worked.moments[2], also_then=False) == frozenset()
    assert worked.worked_at(worked.moments[2], also_then=False) == {"tank", "separator"}
    assert worked.looked_at(worked.moments[2], also_then=True) == {"tank"}
    assert worked.looked_at(last, also_then=False) == {"tank", "separator"}


def test_every_picture_has_a_title_a_description_and_only_tints_of_its_own():
    whole = sheet()
    parts = parts_of(load_layout("tank_below"))
    drawn = (
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
