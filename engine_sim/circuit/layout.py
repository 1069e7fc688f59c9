"""Reads a layout (TOML) into a blueprint, and refuses one that cannot be built.

A layout file says which parts a boat has and how they are joined. It needs no programming::

    id = "my_boat"                      # a short name without spaces
    title = "Tank under the cockpit"    # what people read
    lesson = "What this boat teaches."  # optional

    [[part]]                            # one for each part
    id = "tank"                         # small letters, digits and underscores; each part its own
    kind = "tank"                       # one of the kinds of component
    label = "main tank"                 # optional: what learners read
    floor_m = 0.0                       # a figure: its name ends in its unit
    level_table = [[0.0, 0.0], [0.5, 0.3], [1.0, 1.0]]  # optional, vessels only: share of height, share of volume

    [[part]]
    id = "suction_hose"
    kind = "hose"
    start_height_m = 0.024
    end_height_m = 0.70
    joint = "separator_joint"           # optional, hoses only: the joint at its engine-side end, as learners know it

    [[join]]                            # one for each place where two ports meet
    from = "tank.pick_up"               # part and port, tank side
    to = "suction_hose.start"           # part and port, engine side
    through = "shut_off"                # optional: a part without a space of its own that sits between them
    id = "tank>suction_hose"            # optional: else made like this one
    open = true                         # optional: false for a join that is not made up at the start

    [drawing]                           # optional, as is each line of it
    waterline_m = 0.75                  # where the drawing shows the waterline
    across = { separator = 0.4 }        # where a part's middle stands, as a share of the drawing's width

``describe_kind("hose")`` from ``engine_sim.components`` says what a kind is for and which ports and figures it has.
:func:`load_layout_file` reads a file; a rig, an attempt or a scenario takes what it returns.

All is in SI units: metres, cubic metres, pascals, kilograms, seconds. Heights are above one datum of your choosing,
the same for all parts. Shares and counts have no unit. A figure that is left out takes its usual value. Parts
that carry no fuel (engine, battery, starter) stand in the file like the others and are joined to nothing.

Every port that a kind lists must be joined, but for those it calls optional. A port may be joined several times where
at most one of those joins is open at the start: that is how a hose can be moved from one port to another. The end of a
hose lies at the height of the port that it is joined to, within 2 cm.

What cannot be built is refused with a :class:`~engine_sim.errors.BadLayout` that names the line of the file.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from importlib import resources
from pathlib import Path
from typing import Any

from engine_sim.circuit.layout_drawing import DrawingHints, read_hints
from engine_sim.circuit.layout_joins import join_all
from engine_sim.circuit.layout_lines import Lines
from engine_sim.circuit.layout_parts import PartReader, find_part
from engine_sim.components import Blueprint
from engine_sim.errors import BadLayout, UnknownName

Figures = Mapping[str, Mapping[str, float]]
"""Figures by part and name."""

_ONCE = (
    ("lift_pump", "electric_pump"),
    ("engine",),
    ("battery",),
    ("starter",),
    ("hand_start",),
    ("preheat",),
    ("stop_lever",),
    ("stop_solenoid",),
    ("exhaust",),
)


@dataclass(frozen=True, slots=True)
class Layout:
    """A boat's fuel system: its parts with their checked figures, and the blueprint they add up to.

    ``kinds`` maps each part, in the order of the file, to its kind's name; ``labels`` has the labels that the file
    gives; ``joints`` maps the joints that learners can reach to the hose and to the link that stands for the gap.
    """

    id: str
    title: str
    figures: Figures
    blueprint: Blueprint
    kinds: Mapping[str, str]
    joints: Mapping[str, tuple[str, str]]
    labels: Mapping[str, str]
    lesson: str = ""
    hints: DrawingHints = field(default_factory=DrawingHints)

    def __deepcopy__(self, memo: dict[int, object]) -> Layout:
        """Return itself: nothing in it ever changes."""
        return self

    @property
    def parts(self) -> tuple[str, ...]:
        """The ids of the parts in the order of the file."""
        return tuple(self.kinds)

    def parts_of(self, *kinds: str) -> tuple[str, ...]:
        """Return the ids of the parts of these kinds, in the order of the file."""
        return tuple(part for part, kind in self.kinds.items() if kind in kinds)

    def require_boat(self) -> None:
        """Raise BadLayout unless it has what an engine needs: a tank, one injection pump, no part of its own twice."""
        if not self.parts_of("tank"):
            raise BadLayout(f"The layout {self.id!r} has no tank. Add a [[part]] of kind 'tank'.")
        pumps = self.parts_of("injection_pump", "rotary_injection_pump")
        if len(pumps) != 1:
            raise BadLayout(
                f"The layout {self.id!r} has {len(pumps)} injection pumps; allowed is one, of kind 'injection_pump' or "
                "'rotary_injection_pump'. Change its [[part]] tables."
            )
        for kinds in _ONCE:
            parts = self.parts_of(*kinds)
            if len(parts) > 1:
                raise BadLayout(f"The layout {self.id!r} has {', '.join(parts)}; allowed is one of them. Take one out.")


def layout_names() -> tuple[str, ...]:
    """Return the names of the layouts that come with the course."""
    folder = resources.files("engine_sim.layouts")
    return tuple(sorted(entry.name[:-5] for entry in folder.iterdir() if entry.name.endswith(".toml")))


def load_layout(name: str, changes: Figures | None = None) -> Layout:
    """Return a layout of the course by name; ``changes`` overrides figures, ``{part: {figure: value}}``.

    Raises UnknownName for a layout or a changed part or figure that does not exist, and BadLayout for the rest.
    """
    if name not in layout_names():
        raise UnknownName("layout", name, layout_names())
    text = resources.files("engine_sim.layouts").joinpath(f"{name}.toml").read_text(encoding="utf-8")
    return read_layout(text, changes)


def load_layout_file(path: str | Path, changes: Figures | None = None) -> Layout:
    """Return the layout in an instructor's own file; raise BadLayout, with the file's name, for one that is wrong."""
    try:
        text = Path(path).read_text(encoding="utf-8")
    except UnicodeDecodeError as fault:
        line = fault.object[: fault.start].count(b"\n") + 1
        raise BadLayout(
            f"The layout file {str(path)!r} is not written in UTF-8: line {line} has the byte "
            f"0x{fault.object[fault.start]:02x}. Save it again as text in UTF-8."
        ) from fault
    except OSError as fault:
        raise BadLayout(
            f"The layout file {str(path)!r} cannot be opened: {fault}. Check its name and place."
        ) from fault
    try:
        layout = read_layout(text, changes)
        layout.require_boat()
    except BadLayout as fault:
        raise BadLayout(f"{Path(path).name}: {fault}") from fault
    return layout


def read_layout(text: str, changes: Figures | None = None) -> Layout:
    """Return the layout written in ``text`` (TOML); ``changes`` overrides figures, ``{part: {figure: value}}``.

    Raises BadLayout with the line for what is wrong in the text, UnknownName for a change of what does not exist.
    """
    data = _parsed(text)
    lines = Lines.of(text)
    tables = _tables(data, "part")
    for changed in changes or {}:
        find_part(tables, changed)
    reader = PartReader(lines, Blueprint(), changes or {})
    for number, table in enumerate(tables):
        reader.read(number, table)
    joins = _tables(data, "join") if any(kind.ports for kind in reader.kinds.values()) else data.get("join", [])
    join_all(reader, joins)
    return Layout(
        str(data.get("id", "")),
        str(data.get("title", "")),
        reader.figures,
        reader.blueprint,
        {part: kind.name for part, kind in reader.kinds.items()},
        reader.joints,
        reader.labels,
        str(data.get("lesson", "")),
        read_hints(data, (*reader.kinds, *reader.joints), lines),
    )


_TOP = ("id", "title", "lesson", "part", "join", "drawing")


def _parsed(text: str) -> dict[str, Any]:
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise BadLayout(f"The layout file cannot be read: {fault}. Mend that line.") from fault
    lines = Lines.of(text)
    for name in data:
        if name not in _TOP:
            where = lines.where("", 0, name) or lines.where(name)
            raise BadLayout(f"{where}{UnknownName('entry of a layout', name, _TOP)}")
    return data


def _tables(data: Mapping[str, Any], key: str) -> list[dict[str, Any]]:
    tables = data.get(key, [])
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables) or not tables:
        raise BadLayout(f"The layout has no [[{key}]] tables; add one for each {key}.")
    return tables
