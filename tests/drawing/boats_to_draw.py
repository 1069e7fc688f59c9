"""Boats to draw: those of the course, and an instructor's own that nobody drew before."""

from __future__ import annotations

import re
from functools import cache
from importlib import resources

from engine_sim.attempt import Attempt
from engine_sim.circuit import layout_names, load_layout
from engine_sim.circuit.layout import Layout, read_layout
from engine_sim.drawing import Drawing
from engine_sim.scenarios import compose_scenario

COURSE = layout_names()


def text_of(name: str) -> str:
    """Return a course layout's file."""
    return resources.files("engine_sim.layouts").joinpath(f"{name}.toml").read_text(encoding="utf-8")


def _renamed(text: str) -> str:
    """Give every part that has none a long name, as an instructor might."""
    for part, label in (
        ("separator", "first water separator under the berth"),
        ("fine_filter", "secondary filter"),
        ("shut_off", "emergency shut-off at the tank"),
        ("lift_pump", "diaphragm pump"),
    ):
        text = re.sub(rf'(id = "{part}"\nkind = "\w+"\n)', rf'\1label = "{label}"\n', text)
    return text


def _two_separators(text: str) -> str:
    """Put a second separator between the first one and the lift pump."""
    parts = """[[part]]
id = "between"
kind = "hose"
start_height_m = 0.703
end_height_m = 0.705
length_m = 0.4
bore_m = 0.008
pieces = 1

[[part]]
id = "second_separator"
kind = "separator"
label = "second separator"
bottom_m = 0.50

[[part]]
id = "pump_hose\""""
    text = text.replace('[[part]]\nid = "pump_hose"', parts)
    joins = """from = "separator.outlet"
to = "between.start"

[[join]]
from = "between.end"
to = "second_separator.inlet"

[[join]]
from = "second_separator.outlet"
to = "pump_hose.start\""""
    return text.replace('from = "separator.outlet"\nto = "pump_hose.start"', joins)


@cache
def own_boats() -> dict[str, Layout]:
    """Return boats of an instructor's own, none with drawing data."""
    bare = {name: text_of(name).split("[drawing]")[0] for name in COURSE}
    return {
        "long names": read_layout(_renamed(bare["tank_below"])),
        "long names, two tanks": read_layout(_renamed(bare["two_tanks"])),
        "two separators": read_layout(_two_separators(bare["tank_below"])),
        "four cylinders": read_layout(bare["metal_bowl"].replace("cylinders = 3", "cylinders = 4")),
        "one cylinder": read_layout(bare["high_tank"].replace("cylinders = 2", "cylinders = 1")),
        "a deep tank": read_layout(
            bare["electric_pump"].replace("floor_m = 0.0\nheight_m = 0.4\n", "floor_m = -0.01\nheight_m = 0.42\n")
        ),
    }


@cache
def layout_named(name: str) -> Layout:
    """Return a layout of the course or of an instructor's own."""
    return load_layout(name) if name in COURSE else own_boats()[name]


@cache
def drawing_named(name: str) -> Drawing:
    """Return a boat's drawing."""
    return Drawing(layout_named(name))


@cache
def as_found(name: str) -> dict[str, object]:
    """Return what a person sees on a course boat with nothing wrong."""
    return Attempt(compose_scenario(name, [])).outside()


EVERY = (*COURSE, *own_boats())
