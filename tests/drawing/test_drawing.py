"""The drawing as data: ids, what is seen and what is not, signs after the standards; nothing here needs a page."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass

import pytest
from boats_to_draw import COURSE, EVERY, as_found, drawing_named, layout_named

from engine_sim.drawing import changed, inside, shapes
from engine_sim.drawing.fuel_side import bowl_box
from engine_sim.drawing.seen import as_looked_at

COUNTS = {"suction_hose": 4, "pump_hose": 3, "feed_hose": 3, "gallery_hose": 2, "return_line": 3, "can_hose": 1}
BOAT = "tank_below"


@dataclass(frozen=True)
class Volume:
    fuel_share: float
    water_share: float
    air_share: float


def seen(boat: str = BOAT, **changes):
    return drawing_named(boat).view(as_found(boat) | changes, "words")


def drawing_ids(drawing: str) -> list[str]:
    return [node.get("id") for node in ET.fromstring(drawing).iter() if node.get("id")]


@pytest.mark.parametrize("counts", [None, COUNTS], ids=["without x-ray", "with x-ray"])
@pytest.mark.parametrize("name", EVERY)
def test_ids_are_unique(name, counts):
    ids = drawing_ids(drawing_named(name).skeleton("A title", counts))
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("name", COURSE)
def test_every_id_of_the_view_is_in_the_drawing(name):
    drawing = drawing_named(name)
    volumes = {f"{hose}.{i}": Volume(1, 0, 0) for hose in drawing.routes.hoses for i in range(COUNTS.get(hose, 1))}
    volumes |= {volume.id: Volume(1, 0, 0) for volume in drawing.layout.blueprint.volumes}
    ids = set(drawing_ids(drawing.skeleton("A title", COUNTS)))
    own = {name for name in volumes if name.rpartition(".")[0] in COUNTS and name.rpartition(".")[2].isdigit()}
    shown = drawing.insides(COUNTS).view({n: v for n, v in volumes.items() if n in own or "." in n or n == "tank"})
    wanted = set(seen(name)) | {one for one in shown if not re.search(r"-\d+(-|$)", one)}
    assert wanted <= ids


def test_without_permission_the_drawing_has_no_inside():
    drawing = drawing_named(BOAT).skeleton("A title")
    assert "xray" not in drawing
    assert not [name for name in drawing_ids(drawing) if name.startswith("x-")]
    assert not [name for name in seen() if name.startswith("x")]


def test_a_title_with_signs_of_its_own_stays_text():
    root = ET.fromstring(drawing_named(BOAT).skeleton("<b>Bleed & go</b>"))
    assert root[0].text == "<b>Bleed & go</b>"


def path_points(text: str):
    return [tuple(map(float, pair)) for pair in re.findall(r"(-?[\d.]+) (-?[\d.]+)", text)]


def test_a_filter_is_a_diamond_with_a_dashed_line_across_the_flow():
    """ISO 1219-1 and ISO 14617: the filter symbol (from memory; the text of the standards was not read)."""
    root = ET.fromstring(f"<g>{shapes.filter_diamond(100, 100, 20)}</g>")
    assert set(path_points(root[0].get("d"))) == {(80, 100), (100, 80), (120, 100), (100, 120)}
    assert root[1].get("class") == "dashed"
    assert root[1].get("d") == "M100 80V120"


def test_a_pump_is_a_circle_with_a_filled_triangle_that_points_the_way_of_the_fuel():
    """ISO 1219-1: the pump symbol (from memory; the text of the standard was not read)."""
    root = ET.fromstring(f"<g>{shapes.pump_circle(100, 100, 20)}</g>")
    assert root[0].tag == "circle"
    assert root[1].get("class") == "filled"
    assert path_points(root[1].get("d"))[-1] == (120, 100)


def test_a_shut_valve_is_filled_and_its_lever_lies_across():
    is_open, shut = seen(), seen(shut_off_open=False)
    assert is_open["shut_off-body"]["class"] == "valve open"
    assert shut["shut_off-body"]["class"] == "valve shut"
    assert is_open["shut_off-lever"]["transform"].startswith("rotate(0 ")
    assert shut["shut_off-lever"]["transform"].startswith("rotate(-90 ")


def test_the_changeover_points_to_the_tank_in_use():
    for ways, visible in ((("a",), {"way-a"}), (("b",), {"way-b"}), (("a", "b"), {"way-a", "way-b"}), ((), {"shut"})):
        shown = seen("two_tanks", changeover_ways=ways)
        found = {one for one in ("way-a", "way-b", "shut") if shown[f"changeover-{one}"]["visibility"] == "visible"}
        assert found == visible


@pytest.mark.parametrize("name", COURSE)
def test_every_screw_that_a_boat_has_can_be_seen_open(name):
    keys = [key for key in as_found(name) if key.endswith(("screw_open", "vent_open", "drain_open"))]
    assert keys
    for key in keys:
        moved = changed(seen(name), seen(name, **{key: True}))
        assert list(moved.values()) == [{"transform": "translate(0 -9)", "class": "screw loose"}], key


def test_only_the_slack_nut_moves():
    assert set(changed(seen(), seen(union_nuts_open=(False, True, False)))) == {"injector_2-nut"}


def test_the_bowl_shows_water_below_and_air_above():
    shown = seen(bowl_water_share=0.25, bowl_air_share=0.5)
    bowl = bowl_box(drawing_named(BOAT).plan.places["separator"])
    assert float(shown["separator-bowl-fuel"]["y"]) == pytest.approx(bowl.y + bowl.height / 2, abs=0.1)
    assert float(shown["separator-bowl-water"]["height"]) == pytest.approx(bowl.height / 4, abs=0.1)
    assert shown["separator-bowl-line"]["visibility"] == "inherit"
    assert seen()["separator-bowl-line"]["visibility"] == "hidden"


def test_a_metal_bowl_shows_nothing():
    assert not [name for name in seen("metal_bowl") if "bowl" in name]


def test_water_is_drawn_with_waves_and_not_by_colour_alone():
    root = ET.fromstring(inside.bowl("bowl", bowl_box(drawing_named(BOAT).plan.places["separator"])))
    water = next(node for node in root if node.get("id") == "bowl-water")
    assert water.get("fill").startswith("url(#waves)")


def test_more_air_gives_closer_bubbles_and_pure_air_an_empty_pipe():
    gaps = [inside.bubble_gap(share) for share in (0.05, 0.3, 0.8)]
    assert gaps == sorted(gaps, reverse=True)
    assert inside.bubble_gap(0.0) == inside.bubble_gap(1.0) > max(gaps)
    dry = drawing_named(BOAT).insides(COUNTS).view({"pump_hose.0": Volume(0, 0, 1)})
    assert dry["x-pump-hose-0"]["class"] == "fill none"


def test_the_cans_hose_shows_its_inside_only_while_it_is_in_use():
    insides = drawing_named(BOAT).insides(COUNTS)
    assert insides.view({}, in_use=False)["x-can-hose-all"]["visibility"] == "hidden"
    assert insides.view({}, in_use=True)["x-can-hose-all"]["visibility"] == "inherit"


def test_wet_parts_are_marked_and_no_others():
    shown = seen(weeping=("pump_joint",))
    assert [one for one in shown if one.endswith("-wet") and shown[one]["visibility"] == "visible"] == [
        "pump_joint-wet"
    ]


@pytest.mark.parametrize(
    ("changes", "moved"),
    [
        ({"return_to": "jar"}, ["return-to-jar"]),
        ({"return_to": "can"}, ["return-to-can"]),
        ({"return_to": "nowhere"}, ["return-to-nowhere"]),
        ({"can_in_use": True}, ["can-at-pump"]),
        ({"can_lashed": True}, ["can-lashing"]),
        ({"can_cap_open": True}, ["can-cap"]),
        ({"seacock_open": False}, ["exhaust-seacock", "exhaust-seacock-lever"]),
        ({"filler_cap": "off"}, ["tank-cap"]),
        ({"battery_connected": False}, ["battery-isolator"]),
        ({"taken_apart": ("fine_filter",)}, ["fine_filter-parts"]),
        ({"smoke": "black"}, ["exhaust-smoke-black"]),
        ({"cranking": True}, ["starter-turns"]),
        ({"lever_up": True}, ["lift_pump-lever"]),
        ({"stop_control_pulled": True}, ["stop_control-knob"]),
        ({"tray_laid": True}, ["tray", "tray-place"]),
        ({"spilled_ml": 20.0}, ["spill"]),
    ],
    ids=str,
)
def test_what_a_hand_has_moved_is_drawn_moved_and_nothing_else(changes, moved):
    assert sorted(changed(seen(), seen(**changes))) == moved


@pytest.mark.parametrize("name", COURSE)
def test_nobody_is_shown_what_only_a_look_shows(name):
    """Two boats that differ only in what a look would show are drawn the same until somebody has looked."""
    found, layout = as_found(name), layout_named(name)
    other = found | {"gauge_reading": 0.0, "bowl_water_share": 0.9, "stop_control_pulled": True}
    other |= {"battery_connected": False, "seacock_open": False}
    other |= {key: not value for key, value in found.items() if key == "shut_off_open"}
    other |= {key: () for key in found if key.endswith("_ways")}
    other = {key: value for key, value in other.items() if key in found}
    views = [drawing_named(name).view(as_looked_at(layout, one, ()), "words") for one in (found, other)]
    assert views[0] == views[1]
    both = [drawing_named(name).view(as_looked_at(layout, one, layout.parts), "words") for one in (found, other)]
    assert both[0] != both[1]


def test_a_change_sends_only_what_changed():
    before, after = seen(), seen(stop_control_pulled=True)
    assert changed(before, after) == {"stop_control-knob": {"transform": "translate(24 0)"}}
    assert changed(before, before) == {}


def test_the_still_picture_carries_the_view():
    drawing = drawing_named(BOAT)
    shown = seen(shut_off_open=False, tray_laid=True)
    picture = ET.fromstring(drawing.picture(drawing.skeleton("A title"), shown))
    nodes = {node.get("id"): node for node in picture.iter() if node.get("id")}
    assert nodes["shut_off-body"].get("class") == "valve shut"
    assert nodes["tray"].get("visibility") == "visible"
    assert nodes["desc"].text == "words"
    assert {"lift-pump", "separator", "tank"} <= set(picture.itertext())
