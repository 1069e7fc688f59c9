"""Where things stand: heights as on the boat, the way of the fuel, names clear of lines, targets for fingers."""

from __future__ import annotations

import itertools

import pytest
from boats_to_draw import COURSE, EVERY, drawing_named, layout_named, text_of

from engine_sim.circuit.layout import read_layout
from engine_sim.drawing import Drawing, labels
from engine_sim.drawing.geometry import Box, length_of, pieces, walls
from engine_sim.drawing.labels import room_of
from engine_sim.drawing.ways import can_hoses, port_height_m
from engine_sim.errors import BadLayout

HALF_WALL = 9.5
LEAST_TARGET_PX = 44
TABLET_STAGE_PX = 740
"""The width of the drawing on a tablet of 768 pixels: within its margins."""


@pytest.mark.parametrize("name", EVERY)
def test_a_higher_part_stands_higher_on_the_drawing(name):
    """A hose that rises on the boat rises on the drawing, and by the same scale everywhere."""
    drawing, layout = drawing_named(name), layout_named(name)
    plan = drawing.plan
    heights = {place.id: port_height_m(layout, place.part.component) for place in plan.places.values()}
    known = [(height, plan.places[part].port_y) for part, height in heights.items() if height is not None]
    known = [(h, y) for h, y in known if y == pytest.approx(plan.y(h), abs=1e-6)]
    assert len(known) >= 5
    scale = plan.y(0.0) - plan.y(1.0)
    for (low, y_low), (high, y_high) in itertools.combinations(known, 2):
        assert (high - low) * scale == pytest.approx(y_low - y_high, abs=1e-6)


@pytest.mark.parametrize("name", EVERY)
def test_a_tank_is_as_high_as_on_the_boat(name):
    drawing, layout = drawing_named(name), layout_named(name)
    scale = drawing.plan.y(0.0) - drawing.plan.y(1.0)
    for tank in layout.parts_of("tank"):
        box, figures = drawing.plan.places[tank].box, layout.figures[tank]
        assert box.y == pytest.approx(drawing.plan.y(figures["floor_m"] + figures["height_m"]))
        assert box.height == pytest.approx(figures["height_m"] * scale) or box.height == 62.0


@pytest.mark.parametrize("name", EVERY)
def test_fuel_flows_to_the_right_and_home_along_the_top(name):
    drawing = drawing_named(name)
    routes, own = drawing.routes, set(can_hoses(layout_named(name)))
    for hose, line in routes.hoses.items():
        if hose != routes.return_line and hose not in own:
            assert line[0][0] < line[-1][0], hose
    home = routes.hoses[routes.return_line]
    assert home[0][0] > home[-1][0]
    others = [y for hose, line in routes.hoses.items() if hose != routes.return_line for _, y in line]
    assert min(y for _, y in home) < min(others)


@pytest.mark.parametrize("name", EVERY)
def test_every_hose_and_every_part_is_drawn(name):
    drawing, layout = drawing_named(name), layout_named(name)
    assert set(drawing.routes.hoses) == set(layout.parts_of("hose"))
    assert set(drawing.plan.places) == {part.id for part in drawing.plan.parts}


@pytest.mark.parametrize("name", EVERY)
def test_every_line_is_level_or_upright(name):
    for line in drawing_named(name).routes.all_lines:
        assert all(a[0] == b[0] or a[1] == b[1] for a, b in itertools.pairwise(line)), line


@pytest.mark.parametrize("name", EVERY)
def test_no_name_crosses_a_line(name):
    drawing = drawing_named(name)
    taken = list(walls(drawing.routes.all_lines, HALF_WALL))
    assert [part for part, one in drawing.labels.items() if any(one.box.overlaps(wall) for wall in taken)] == []


@pytest.mark.parametrize("name", EVERY)
def test_no_name_lies_on_a_symbol_or_on_another_name(name):
    drawing = drawing_named(name)
    flat = ("bench", "return_line")
    rooms = {place.id: room_of(place) for place in drawing.plan.places.values() if place.kind not in flat}
    boxes = {part: one.box for part, one in drawing.labels.items()}
    assert [(a, b) for a, box in boxes.items() for b, room in rooms.items() if box.overlaps(room)] == []
    assert [(a, b) for a, b in itertools.combinations(boxes, 2) if boxes[a].overlaps(boxes[b])] == []


@pytest.mark.parametrize("name", EVERY)
def test_the_frame_of_a_chosen_part_strikes_no_name(name):
    drawing = drawing_named(name)
    boxes = [one.box for one in drawing.labels.values()]
    for place in drawing.plan.places.values():
        frame = labels.frame_of(place)
        over = [box for box in boxes if frame.overlaps(box)]
        assert all(frame.x <= box.x and box.right <= frame.right and box.bottom <= frame.bottom for box in over), (
            place.id
        )


@pytest.mark.parametrize("name", EVERY)
def test_symbols_do_not_overlap_and_all_stays_on_the_sheet(name):
    drawing = drawing_named(name)
    plan = drawing.plan
    places = [place for place in plan.places.values() if place.kind != "return_line"]
    assert [(a.id, b.id) for a, b in itertools.combinations(places, 2) if a.box.overlaps(b.box)] == []
    sheet = Box(0.0, 0.0, plan.width, plan.height)
    for box in (*(place.box for place in places), *(one.box for one in drawing.labels.values())):
        assert box.x >= 0 and box.y >= 0 and box.right <= sheet.right and box.bottom <= sheet.bottom


@pytest.mark.parametrize("name", EVERY)
def test_what_is_pressed_does_not_overlap(name):
    places = drawing_named(name).plan.places.values()
    assert [(a.id, b.id) for a, b in itertools.combinations(places, 2) if a.spot.overlaps(b.spot)] == []


@pytest.mark.parametrize("name", ["tank_below", "high_tank", "metal_bowl", "electric_pump", "single_cylinder"])
def test_targets_are_large_enough_for_a_finger_on_a_tablet(name):
    """WCAG 2.2, success criterion 2.5.5: 44 by 44 CSS pixels."""
    drawing = drawing_named(name)
    least = LEAST_TARGET_PX * drawing.plan.width / TABLET_STAGE_PX
    assert [
        place.id for place in drawing.plan.places.values() if min(place.spot.width, place.spot.height) < least
    ] == []


def test_the_waterline_lies_where_the_file_puts_it_and_elsewhere_without():
    drawing = drawing_named("tank_below")
    assert drawing.plan.waterline_y == drawing.plan.y(0.75)
    bare = Drawing(read_layout(text_of("tank_below").split("[drawing]")[0]))
    assert bare.plan.waterline_y == bare.plan.pump.port_y + 60.0


def test_a_hint_moves_a_part_across():
    text = text_of("tank_below") + "across = { fine_filter = 0.5 }\n"
    drawing = Drawing(read_layout(text))
    assert drawing.plan.places["fine_filter"].x == pytest.approx(drawing.plan.width / 2)


@pytest.mark.parametrize(
    ("hint", "said"),
    [
        ("waterline_m = 40.0", r"Line \d+: waterline_m was given as 40.0; allowed is -10 to 10 m"),
        ('waterline_m = "high"', r"Line \d+: waterline_m was given as 'high'"),
        ("across = { tank = 2.0 }", r"Line \d+: across of tank was given as 2.0; allowed is 0 to 1"),
        ("across = { tanck = 0.2 }", r"Line \d+: .*tanck.*tank"),
        ("across = 3", r"Line \d+: across was given as 3; write it as"),
        ("colour = 3", r"Line \d+: .*colour.*waterline_m"),
    ],
)
def test_a_wrong_hint_is_refused_with_its_line(hint, said):
    with pytest.raises(BadLayout, match=said):
        read_layout(text_of("tank_below").split("[drawing]")[0] + f"[drawing]\n{hint}\n")


def test_pieces_of_a_hose_keep_its_length_and_corners():
    line = drawing_named("tank_below").routes.hoses["feed_hose"]
    cut = pieces(line, 5)
    assert sum(map(length_of, cut)) == pytest.approx(length_of(line))
    assert [length_of(piece) for piece in cut] == pytest.approx([length_of(line) / 5] * 5)
    assert set(line) <= {point for piece in cut for point in piece}


def test_a_name_is_split_between_words_only():
    assert labels.split("lift-pump inlet joint") == ("lift-pump", "inlet joint")
    assert labels.split("separator") == ("separator",)
    assert labels.split("emergency shut-off") == ("emergency", "shut-off")


@pytest.mark.parametrize("name", COURSE)
def test_a_led_away_hose_begins_on_the_return_line_and_its_gap_reaches_the_tank(name):
    routes = drawing_named(name).routes
    bus = drawing_named(name).plan.bus_y
    for to, line in routes.led_to.items():
        assert line[0][1] == bus
        gap = routes.return_gap(to)
        assert gap[0][0] < line[0][0] and gap[-1][0] == routes.hoses[routes.return_line][-1][0]
