"""The drawing as data: nothing here needs a page."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass

import pytest

from engine_sim.bench import geometry, inside, schematic, symbols

OUTSIDE = {
    "gauge_reading": 0.6,
    "shut_off_open": True,
    "bowl_water_share": 0.0,
    "bowl_dirty": False,
    "bowl_air_share": 0.0,
    "separator_vent_open": False,
    "separator_drain_open": False,
    "fine_filter_screw_open": False,
    "fine_filter_outlet_screw_open": False,
    "injection_pump_screw_open": False,
    "union_nuts_open": (False, False, False),
    "weeping": (),
    "stop_control_pulled": False,
    "engine": "stopped",
    "speed_rpm": 0.0,
    "battery_lamps": "bright",
    "key_on": True,
    "tray_laid": False,
    "filler_cap": "on",
    "battery_connected": True,
    "seacock_open": True,
    "return_to": "tank",
    "can_in_use": False,
    "can_lashed": False,
    "can_cap_open": False,
    "taken_apart": (),
    "spilled_ml": 0.0,
}
COUNTS = {"suction_hose": 4, "pump_hose": 3, "feed_hose": 3, "gallery_hose": 2, "return_line": 3, "can_hose": 1}
COUNTS["pick_up"] = 1
LABEL_HEIGHT = 18.0
WIDE_LETTER = 0.55
"""A letter is about 0.55 of its height wide on average (measured; the page tests measure the real ones)."""
LINE_HEIGHT = 1.1
LEAST_TARGET_PX = 44
NARROWEST_STAGE_PX = 680


@dataclass(frozen=True)
class Volume:
    fuel_share: float
    water_share: float
    air_share: float


def seen(**changes):
    return schematic.view(OUTSIDE | changes, "words")


def drawing_ids(drawing: str) -> list[str]:
    return [node.get("id") for node in ET.fromstring(drawing).iter() if node.get("id")]


@pytest.mark.parametrize("counts", [None, COUNTS], ids=["without x-ray", "with x-ray"])
def test_ids_are_unique(counts):
    ids = drawing_ids(schematic.skeleton("A title", counts))
    assert len(ids) == len(set(ids))


def test_every_id_of_the_view_is_in_the_drawing():
    volumes = {f"{hose}.{i}": Volume(1, 0, 0) for hose, count in COUNTS.items() for i in range(count)}
    volumes |= {name: Volume(1, 0, 0) for name in geometry.VESSELS}
    ids = set(drawing_ids(schematic.skeleton("A title", COUNTS)))
    assert set(seen() | inside.xray_view(volumes)) <= ids


def test_without_permission_the_drawing_has_no_inside():
    drawing = schematic.skeleton("A title")
    assert "xray" not in drawing
    assert not [name for name in drawing_ids(drawing) if name.startswith("x-")]
    assert not [name for name in seen() if name.startswith("x")]


def test_a_title_with_signs_of_its_own_stays_text():
    root = ET.fromstring(schematic.skeleton("<b>Bleed & go</b>"))
    assert root[0].text == "<b>Bleed & go</b>"


def test_height_on_the_drawing_is_height_on_the_boat():
    spots = {spot.part: spot for spot in geometry.SPOTS}
    middle = {part: spot.y + spot.height / 2 for part, spot in spots.items()}
    assert middle["tank"] > middle["shut_off"] > middle["separator_joint"]
    assert middle["tank"] > middle["engine"] > middle["injection_pump"] > middle["injector_1"]
    assert middle["lift_pump"] > middle["fine_filter"]
    assert middle["tank"] > geometry.WATERLINE_Y > middle["injector_1"]


def test_fuel_flows_from_left_to_right_and_home_along_the_top():
    for name in ("suction_hose", "pump_hose", "gallery_hose"):
        assert geometry.HOSES[name][0][0] < geometry.HOSES[name][-1][0]
    assert geometry.RETURN_LINE[0][0] > geometry.RETURN_LINE[-1][0]
    assert min(y for _, y in geometry.RETURN_LINE) < min(y for _, y in geometry.FEED_HOSE)


def test_targets_are_large_enough_on_the_narrowest_drawing_that_carries_them():
    least = LEAST_TARGET_PX * geometry.WIDTH / NARROWEST_STAGE_PX
    assert [spot.part for spot in geometry.SPOTS if min(spot.width, spot.height) < least] == []


def rectangle(spot: geometry.Spot):
    return spot.x, spot.y, spot.x + spot.width, spot.y + spot.height


def label_rectangle(spot: geometry.Spot):
    lines = spot.lines or (spot.part.replace("_", " ") if spot.part != "bench" else "around the engine",)
    width = max(map(len, lines)) * WIDE_LETTER * LABEL_HEIGHT
    left = spot.label_x - (width / 2 if spot.align == "middle" else 0)
    return left, spot.label_y, left + width, spot.label_y + len(lines) * LABEL_HEIGHT * LINE_HEIGHT


def apart(a, b):
    return a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_targets_do_not_overlap():
    pairs = itertools.combinations(geometry.SPOTS, 2)
    assert [(a.part, b.part) for a, b in pairs if not apart(rectangle(a), rectangle(b))] == []


def test_labels_do_not_overlap():
    pairs = itertools.combinations(geometry.SPOTS, 2)
    assert [(a.part, b.part) for a, b in pairs if not apart(label_rectangle(a), label_rectangle(b))] == []


def test_labels_never_cross_a_line():
    half_wall = 9.5
    lines = [*geometry.HOSES.values(), *geometry.HIGH_PRESSURE_LINES, *geometry.LED_AWAY]
    crossed = [
        (spot.part, start)
        for spot in geometry.SPOTS
        for line in lines
        for start, end in itertools.pairwise(line)
        if not apart(
            label_rectangle(spot),
            (
                min(start[0], end[0]) - half_wall,
                min(start[1], end[1]) - half_wall,
                max(start[0], end[0]) + half_wall,
                max(start[1], end[1]) + half_wall,
            ),
        )
    ]
    assert crossed == []


def test_the_frame_of_a_chosen_part_strikes_no_label():
    def strikes(frame, label):
        within = frame[0] <= label[0] and frame[1] <= label[1] and label[2] <= frame[2] and label[3] <= frame[3]
        return not within and not apart(frame, label)

    pairs = itertools.product(geometry.SPOTS, geometry.SPOTS)
    assert [(a.part, b.part) for a, b in pairs if strikes(rectangle(a), label_rectangle(b))] == []


def test_a_bowl_full_of_water_is_water_from_top_to_bottom():
    shown, bowl = seen(bowl_water_share=1.0), geometry.BOWL
    assert (float(shown["bowl-water"]["y"]), float(shown["bowl-water"]["height"])) == (bowl.y, bowl.height)


def test_labels_stay_on_the_drawing():
    for spot in geometry.SPOTS:
        left, top, right, bottom = label_rectangle(spot)
        assert left >= 0 and top >= 0 and right <= geometry.WIDTH and bottom <= geometry.HEIGHT, spot.part


def test_pieces_of_a_hose_keep_its_length_and_corners():
    pieces = geometry.pieces(geometry.FEED_HOSE, 5)
    total = geometry.length_of(geometry.FEED_HOSE)
    assert sum(map(geometry.length_of, pieces)) == pytest.approx(total)
    assert [geometry.length_of(piece) for piece in pieces] == pytest.approx([total / 5] * 5)
    corners = {point for piece in pieces for point in piece}
    assert set(geometry.FEED_HOSE) <= corners


def path_points(text: str):
    return [tuple(map(float, pair)) for pair in re.findall(r"(-?[\d.]+) (-?[\d.]+)", text)]


def test_a_filter_is_a_diamond_with_a_dashed_line_across_the_flow():
    """ISO 1219-1 and ISO 14617: the filter symbol (from memory; the text of the standards was not read)."""
    root = ET.fromstring(f"<g>{symbols.filter_diamond(100, 100, 20)}</g>")
    assert set(path_points(root[0].get("d"))) == {(80, 100), (100, 80), (120, 100), (100, 120)}
    assert root[1].get("class") == "dashed"
    assert root[1].get("d") == "M100 80V120"


def test_a_pump_is_a_circle_with_a_filled_triangle_that_points_the_way_of_the_fuel():
    """ISO 1219-1: the pump symbol (from memory; the text of the standard was not read)."""
    root = ET.fromstring(f"<g>{symbols.pump_circle(100, 100, 20, 'up')}</g>")
    assert root[0].tag == "circle"
    assert root[1].get("class") == "filled"
    assert path_points(root[1].get("d"))[-1] == (100, 80)


def test_a_shut_valve_is_filled_and_its_lever_lies_across():
    is_open, shut = seen(), seen(shut_off_open=False)
    assert is_open["shut-off-body"]["class"] == "valve open"
    assert shut["shut-off-body"]["class"] == "valve shut"
    assert is_open["shut-off-lever"]["transform"].startswith("rotate(0 ")
    assert shut["shut-off-lever"]["transform"].startswith("rotate(90 ")


@pytest.mark.parametrize(
    ("key", "name"),
    [
        ("separator_vent_open", "separator-vent"),
        ("separator_drain_open", "separator-drain"),
        ("fine_filter_screw_open", "fine-filter-screw"),
        ("fine_filter_outlet_screw_open", "fine-filter-outlet-screw"),
        ("injection_pump_screw_open", "injection-pump-screw"),
    ],
)
def test_an_open_screw_stands_off_its_seat(key, name):
    moved = symbols.changed(seen(), seen(**{key: True}))
    assert set(moved) == {name}
    assert moved[name] == {"transform": "translate(0 -9)", "class": "screw loose"}


def test_only_the_slack_nut_moves():
    assert set(symbols.changed(seen(), seen(union_nuts_open=(False, True, False)))) == {"nut-2"}


def test_the_bowl_shows_water_below_and_air_above():
    shown = seen(bowl_water_share=0.25, bowl_air_share=0.5)
    bowl = geometry.BOWL
    assert float(shown["bowl-fuel"]["y"]) == pytest.approx(bowl.y + bowl.height / 2)
    assert float(shown["bowl-water"]["height"]) == pytest.approx(bowl.height / 4)
    assert shown["bowl-line"]["visibility"] == "inherit"
    assert seen()["bowl-line"]["visibility"] == "hidden"


def test_water_is_drawn_with_waves_and_not_by_colour_alone():
    root = ET.fromstring(f"<g>{inside.bowl()}</g>")
    water = next(node for node in root if node.get("id") == "bowl-water")
    assert water.get("fill").startswith("url(#waves)")


def test_more_air_gives_closer_bubbles_and_pure_air_an_empty_pipe():
    gaps = [inside.bubble_gap(share) for share in (0.05, 0.3, 0.8)]
    assert gaps == sorted(gaps, reverse=True)
    assert inside.bubble_gap(0.0) == inside.bubble_gap(1.0) > max(gaps)
    dry = inside.xray_view({"pump_hose.0": Volume(0, 0, 1)})
    assert dry["x-pump-hose-0"]["class"] == "fill none"


def test_wet_parts_are_marked_and_no_others():
    marked = [
        name
        for name, shown in seen(weeping=("pump_joint",)).items()
        if name.startswith("wet-") and shown["visibility"] == "visible"
    ]
    assert marked == ["wet-pump_joint"]


@pytest.mark.parametrize(
    ("changes", "moved"),
    [
        ({"return_to": "jar"}, ["return-off", "return-to-jar"]),
        ({"return_to": "can"}, ["return-off", "return-to-can"]),
        ({"return_to": "nowhere"}, ["return-off"]),
        ({"can_in_use": True}, ["can-at-pump"]),
        ({"can_lashed": True}, ["can-lashing"]),
        ({"can_cap_open": True}, ["can-cap"]),
        ({"seacock_open": False}, ["seacock-body", "seacock-lever"]),
        ({"filler_cap": "off"}, ["filler-cap"]),
        ({"battery_connected": False}, ["isolator"]),
        ({"taken_apart": ("fine_filter",)}, ["fine-filter-body"]),
    ],
    ids=str,
)
def test_what_a_hand_has_moved_is_drawn_moved_and_nothing_else(changes, moved):
    assert sorted(symbols.changed(seen(), seen(**changes))) == moved


def test_a_hose_that_is_led_away_begins_where_the_boats_hose_ends():
    assert geometry.CAN_HOSE[-1] == geometry.CAN_HOSE_AT_PUMP[0]
    for led in (geometry.RETURN_TO_JAR, geometry.RETURN_TO_CAN):
        assert led[0][0] == geometry.RETURN_OFF[0][0] == geometry.RETURN_LINE[-1][0]
        assert led[0][1] < geometry.RETURN_OFF[0][1] < geometry.RETURN_OFF[1][1] < geometry.TANK.y
    inside_can = geometry.CAN_BODY
    for end in (geometry.RETURN_TO_CAN[-1], geometry.CAN_HOSE[0]):
        assert inside_can.x < end[0] < inside_can.x + inside_can.width
        assert inside_can.y < end[1] < inside_can.y + inside_can.height


def test_a_change_sends_only_what_changed():
    before, after = seen(), seen(stop_control_pulled=True)
    assert symbols.changed(before, after) == {"stop-knob": {"transform": "translate(26 0)"}}
    assert symbols.changed(before, before) == {}


def test_the_still_picture_carries_the_view():
    shown, labels = seen(shut_off_open=False, tray_laid=True), {"pump_joint": "lift-pump inlet joint", "tank": "tank"}
    picture = ET.fromstring(schematic.picture(schematic.skeleton("A title"), shown, labels))
    nodes = {node.get("id"): node for node in picture.iter() if node.get("id")}
    assert nodes["shut-off-body"].get("class") == "valve shut"
    assert nodes["tray"].get("visibility") == "visible"
    assert nodes["desc"].text == "words"
    assert {"lift-pump", "inlet joint", "tank"} <= set(picture.itertext())
