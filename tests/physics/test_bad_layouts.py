"""A layout whose parts cannot be built is refused with its line, the name, what was given and what is allowed."""

from __future__ import annotations

import doctest
import re
from importlib import resources

import pytest
from written_layouts import SOUND, changed, refused

from engine_sim.circuit import layout_names, load_layout, load_layout_file, read_layout
from engine_sim.components import component_kinds, describe, describe_kind
from engine_sim.errors import BadLayout, UnknownName


def test_the_sound_one_is_read():
    """Guards the checks below: each changes one thing in a layout that is taken."""
    layout = read_layout(SOUND)
    assert layout.parts == ("tank", "shut_off", "hose", "lift_pump", "back")
    assert layout.parts_of("hose") == ("hose", "back")
    assert layout.joints == {"pump_joint": ("hose", "hose.joint")}
    assert [link.id for link in layout.blueprint.links][-4:] == [
        "shut_off",
        "hose>lift_pump",
        "lift_pump>back",
        "back>tank",
    ]


@pytest.mark.parametrize("name", layout_names())
def test_every_layout_of_the_course_is_read(name):
    """None of the boats that come with the course is refused, and each says what it teaches."""
    layout = load_layout(name)
    assert layout.id == name and layout.title and layout.lesson


def test_unknown_part():
    """The nearest name is offered."""
    refused(changed('to = "hose.start"', 'to = "hosse.start"'), "hosse", "'hosse'", "Did you mean 'hose'?", "Allowed:")


def test_unknown_kind():
    """The nearest kind is offered."""
    refused(
        changed('"lift_pump"\nbottom', '"liftpump"\nbottom'), '"liftpump"', "Did you mean 'lift_pump'?", "separator"
    )


def test_missing_kind():
    """A part without a kind is refused at its header, with the kinds there are."""
    with pytest.raises(
        BadLayout, match=r"^Line 10: The part 'shut_off' has no kind; name one of: battery, changeover_valve, "
    ):
        read_layout(changed('kind = "shut_off_valve"\n', ""))


def test_unknown_figure():
    """The nearest figure is offered."""
    refused(changed("floor_m = 0.0", "flor_m = 0.0"), "flor_m", "figure of tank", "Did you mean 'floor_m'?")


@pytest.mark.parametrize(
    ("name", "right"), [("floor", "floor_m"), ("height", "height_m"), ("vent_bore", "vent_bore_m")]
)
def test_unit_missing(name, right):
    """A figure whose name lacks its unit: the message names the figure with its unit."""
    text = changed("floor_m = 0.0", f"{name} = 0.2")
    refused(text, f"{name} =", f"'{name}' lacks its unit", f"'{right}'", "in m.")


@pytest.mark.parametrize("given", ["3.5", "-2.5", "1e9", "inf", "nan"])
def test_value_out_of_range(given):
    """Also what is no finite number."""
    refused(changed("floor_m = 0.0", f"floor_m = {given}"), "floor_m", "floor_m was given as", "from -2 to 3 m")


@pytest.mark.parametrize("given", ['"0.2"', '"low"', "true", "[0.2]", "2026-01-01"])
def test_text_instead_of_a_number(given):
    """A number in quotes is a text too."""
    refused(changed("floor_m = 0.0", f"floor_m = {given}"), "floor_m", "allowed is a number from")


def test_number_instead_of_a_text():
    """Labels and joints are texts, ``open`` is true or false."""
    refused(changed('joint = "pump_joint"', "joint = 3"), "joint = 3", "text in quotes")
    refused(changed('through = "shut_off"', 'through = "shut_off"\nopen = "no"'), "open =", "true or false")


@pytest.mark.parametrize("name", ["", "Tank", "2nd", "a tank", "tank.a"])
def test_bad_ids(name):
    """Small letters, digits, underscores."""
    refused(changed('id = "shut_off"', f'id = "{name}"'), f'id = "{name}"', "small letters")


def test_double_ids():
    """Each part has its own."""
    with pytest.raises(BadLayout, match=r"^Line 15: The id 'hose' is given twice"):
        read_layout(changed('id = "shut_off"', 'id = "hose"'))


@pytest.mark.parametrize(
    "rows",
    [
        "3",
        "[]",
        "[[0, 0]]",
        "[[0, 0], [1, 0.9]]",
        "[[0, 0], [0.5, 0.6], [0.4, 0.7], [1, 1]]",
        "[[0, 0], [0.5, 0.6], [0.7, 0.6], [1, 1]]",
        '[[0, 0], ["half", 0.5], [1, 1]]',
        "[[0, 0], [0.5], [1, 1]]",
        "[[0, 0], [nan, 0.5], [1, 1]]",
    ],
)
def test_bad_level_tables(rows):
    """A table of levels rises from nothing to all."""
    refused(changed("floor_m = 0.0", f"level_table = {rows}"), "level_table", "from [0, 0] to [1, 1]")


def test_level_table_where_there_is_no_vessel():
    """Only vessels have levels to tabulate."""
    text = changed("start_height_m = 0.024", "start_height_m = 0.024\nlevel_table = [[0, 0], [1, 1]]")
    refused(text, "level_table", "only vessels")


def test_a_sound_level_table_is_kept():
    """It reaches the volume that the circuit plays."""
    layout = read_layout(changed("floor_m = 0.0", "level_table = [[0, 0], [0.5, 0.3], [1, 1]]"))
    assert layout.blueprint.volumes[0].level_table == ((0.0, 0.0), (0.5, 0.3), (1.0, 1.0))


def test_joint_where_there_is_none():
    """Joints are named at hoses, each with an id of its own."""
    refused(changed("bottom_m = 0.78", 'joint = "pump_joint_2"'), "pump_joint_2", "name joints at hoses")
    refused(changed('joint = "pump_joint"', 'joint = "tank"'), 'joint = "tank"', "an id of its own")


def test_text_that_is_no_layout_at_all():
    """What the file's own grammar forbids is refused with the line it was noticed in."""
    with pytest.raises(BadLayout, match=r"cannot be read: .*line 7.* Mend that line"):
        read_layout(changed("floor_m = 0.0", "floor_m = "))
    with pytest.raises(BadLayout, match="no \\[\\[part\\]\\] tables"):
        read_layout("")
    with pytest.raises(BadLayout, match="no \\[\\[join\\]\\] tables"):
        read_layout('[[part]]\nid = "tank"\nkind = "tank"\n')


def test_changes_from_a_program_are_checked_too():
    """They stand in no line, but the part and the figure are named."""
    with pytest.raises(UnknownName, match="Did you mean 'tank'"):
        read_layout(SOUND, {"tnk": {"floor_m": 0.1}})
    with pytest.raises(UnknownName, match="Did you mean 'floor_m'"):
        read_layout(SOUND, {"tank": {"flor_m": 0.1}})
    with pytest.raises(BadLayout, match=r"^Part 'tank': floor_m was given as 9"):
        read_layout(SOUND, {"tank": {"floor_m": 9.0}})


def test_own_file(tmp_path):
    """An instructor's own file is read from its place, and named where it is wrong."""
    path = tmp_path / "small.toml"
    text = resources.files("engine_sim.layouts").joinpath("high_tank.toml").read_text(encoding="utf-8")
    path.write_text(text, encoding="utf-8")
    assert load_layout_file(path) == load_layout("high_tank")
    path.write_text(changed("floor_m = 0.0", "floor = 0.0"), encoding="utf-8")
    with pytest.raises(BadLayout, match=r"^small.toml: Line 7: Part 'tank': the figure 'floor' lacks its unit"):
        load_layout_file(path)
    with pytest.raises(BadLayout, match="cannot be opened"):
        load_layout_file(tmp_path / "missing.toml")


def test_a_file_that_is_not_utf_8_says_so_with_the_line(tmp_path):
    path = tmp_path / "old.toml"
    path.write_bytes('id = "old"\ntitle = "Bo\xefte"\n'.encode("latin-1"))
    with pytest.raises(BadLayout, match=r"old.toml' is not written in UTF-8: line 2 has the byte 0xef. Save it again"):
        load_layout_file(path)


TWICE = """
[[part]]
id = "other"
kind = "{}"
"""


@pytest.mark.parametrize("kind", ["engine", "battery", "stop_lever", "exhaust"])
def test_a_boat_has_one_engine(kind, tmp_path):
    """And one of each part that belongs to it."""
    path = tmp_path / "own.toml"
    text = resources.files("engine_sim.layouts").joinpath("high_tank.toml").read_text(encoding="utf-8")
    path.write_text(text + TWICE.format(kind), encoding="utf-8")
    with pytest.raises(BadLayout, match=r"^own.toml: The layout 'high_tank' has \w+, other; allowed is one of them"):
        load_layout_file(path)


def test_a_boat_has_an_injection_pump(tmp_path):
    """A circuit that leads nowhere can be built, but no engine can be run on it."""
    path = tmp_path / "own.toml"
    path.write_text(SOUND, encoding="utf-8")
    with pytest.raises(BadLayout, match=r"^own.toml: The layout 'small' has 0 injection pumps; allowed is one"):
        load_layout_file(path)


@pytest.mark.parametrize("name", ["single_cylinder", "two_tanks"])
def test_a_slip_of_the_pen_never_ends_in_anything_else(name):
    """Each line left out, each value spoilt: the layout is read or refused in words, nothing else is raised."""
    lines = resources.files("engine_sim.layouts").joinpath(f"{name}.toml").read_text(encoding="utf-8").splitlines()
    refusals = 0
    for number, line in enumerate(lines):
        for instead in ("", line.split("=")[0] + '= "x"', line.split("=")[0] + "= -7", line[1:]):
            try:
                read_layout("\n".join([*lines[:number], instead, *lines[number + 1 :]]))
            except BadLayout as refusal:
                refusals += 1
                assert str(refusal).endswith((".", ". Mend that line.")), refusal
    assert refusals > len(lines)


@pytest.mark.parametrize("name", sorted(component_kinds()))
def test_every_figure_has_unit_range_and_usual_value(name):
    """A kind's usual figures lie in its own ranges, and a figure with a unit ends in one."""
    kind = component_kinds()[name]
    assert kind.purpose
    for parameter in kind.parameters:
        assert parameter.low <= parameter.usual.value <= parameter.high, parameter.name
        assert parameter.meaning
        if parameter.usual.unit != "1":
            assert re.search(r"_(m|m2|m3|pa|s|a|k|rpm|per_[a-z0-9]+|v|ohm|c|n_m|kg|w)$", parameter.name), parameter.name


@pytest.mark.parametrize(("name", "given"), [("pieces", "2.5"), ("pieces", "0"), ("bore_m", "-0.008")])
def test_counts_are_whole(name, given):
    """Half a piece of hose does not exist."""
    refused(changed("start_height_m = 0.024", f"start_height_m = 0.024\n{name} = {given}"), f"{name} =", "allowed is a")


def test_figures_that_exclude_each_other():
    """Each in its range, but not both: the pick-up above the top of the tank."""
    text = changed("height_m = 0.40", "height_m = 0.10\npick_up_clearance_m = 0.2")
    refused(text, "[[part]]", "pick_up_clearance_m is 0.2 and height_m is 0.1", "only the first below the second")


def test_what_a_kind_takes_is_told_in_words():
    """Ports, figures, usual values, ranges and sources, for whoever writes a layout."""
    assert doctest.testmod(describe).failed == 0
    told = describe_kind("tank")
    assert "ports to join: pick_up" in told and "ports that may be joined: return" in told
    assert "vent_bore_m = 0.0095 (0.0005 to 0.05 m): bore of the breather [UK Boat Safety Scheme" in told
