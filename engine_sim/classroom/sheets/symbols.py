"""The symbols: every sign of the drawing with its name, drawn by the drawing's own functions, as it may stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from textwrap import wrap

from engine_sim.attempt import Attempt
from engine_sim.circuit.layout import Layout
from engine_sim.classroom.sheets.markup import figure, heading, paragraph
from engine_sim.classroom.sheets.symbol_lines import HIGH, MIDDLE, as_seen, insides_key, lines_key
from engine_sim.classroom.sheets.symbol_signs import GROUPS, Symbol
from engine_sim.drawing import Drawing, shapes
from engine_sim.drawing import svg as s
from engine_sim.drawing.engine_side import ENGINE_SIDE_PARTS
from engine_sim.drawing.fuel_side import FUEL_SIDE
from engine_sim.drawing.paper import SVG, on_paper
from engine_sim.drawing.seen import NOT_LOOKED_AT, names, state_of
from engine_sim.scenarios import compose_scenario

TITLE = "Symbols"
_ABOUT = (
    "The signs of the drawing, as they stand for what a person sees. Fuel, water and air are told apart by pattern as "
    "well as by colour; what nobody has looked at yet bears a question mark. The signs follow ISO 1219-1, ISO 14617 "
    "(pumps, valves, filters) and IEC 60617 (motor, battery, lamp), from memory."
)
_PARTS = {**FUEL_SIDE, **ENGINE_SIDE_PARTS}
_ACROSS, _WIDE, _LEAST_HIGH = 4, 220.0, 100.0
"""Signs in a row, the width of each, and the least height of a row of them."""
_STANDS_OUT = {"tank": 62.0, "separator": 44.0, "fine_filter": 40.0, "injector": 8.0}
_AROUND = 16.0
"""How far screws and caps stand out of a part, and the room left around any other."""
_LETTER, _LINE, _LONGEST = 17.0, 21.0, 24
_INK = "#1b2733"


@dataclass(frozen=True, slots=True)
class Cell:
    """One sign ready to be placed: its SVG, the middle of it, and its words."""

    svg: str
    middle: tuple[float, float]
    words: str
    high: float = 0.0


def symbols() -> str:
    """Return the sheet as HTML."""
    parts = [heading(1, TITLE), paragraph(_ABOUT)]
    for title, signs in GROUPS:
        parts += [heading(2, title), figure(grid(title, [cell_of(sign) for sign in signs]))]
    for title, drawn in (("Hoses and lines", lines_key()), ("Fuel, water and air", insides_key())):
        cells = [Cell(svg, MIDDLE, words, HIGH) for svg, words in drawn]
        parts += [heading(2, title), figure(grid(title, cells))]
    return "".join(parts)


def cell_of(symbol: Symbol) -> Cell:
    """Return a sign as it stands, with its name and state in the drawing's own words."""
    drawing, outside = _boat(symbol.layout)
    place = next(one for one in drawing.plan.places.values() if one.kind == symbol.kind)
    unknown = (place.id,) if symbol.unknown else ()
    seen = {**outside, NOT_LOOKED_AT: unknown, **symbol.seen}
    draw, show = _PARTS[symbol.kind]
    svg, view = draw(drawing.layout, place), show(drawing.layout, place, seen)
    if place.id in names(seen, "weeping"):
        svg += shapes.drop(place.box.right - 4.0, place.box.bottom - 12.0, "wet")
        view |= {"wet": s.shown(True)}
    state = symbol.says or ", ".join(state_of(drawing.layout, place.part, seen)) or "as it should be"
    high = place.box.height + 2.0 * _STANDS_OUT.get(symbol.kind, _AROUND)
    return Cell(as_seen(svg, view), place.box.middle, f"{_name(place.part.label, symbol)}: {state}", high)


def _name(label: str, symbol: Symbol) -> str:
    plain = {"injector": "injector", "joint": "joint", "tank": "tank"}
    return plain.get(symbol.kind, label)


@cache
def _boat(layout: str) -> tuple[Drawing, dict[str, object]]:
    """Return a boat's drawing, and what is seen of it with nothing wrong."""
    attempt = Attempt(compose_scenario(layout))
    boat: Layout = attempt.place.rig.layout
    return Drawing(boat), attempt.outside()


def grid(title: str, cells: Sequence[Cell]) -> str:
    """Return signs in rows, each with its words under it, as one picture for paper and page."""
    placed, y = "", 0.0
    for row in (cells[start : start + _ACROSS] for start in range(0, len(cells), _ACROSS)):
        signs_high = max(_LEAST_HIGH, *(cell.high for cell in row))
        placed += "".join(_placed(column, cell, y, signs_high) for column, cell in enumerate(row))
        y += signs_high + _LINE * (0.6 + max(len(_lines(cell.words)) for cell in row))
    sheet = f'<svg xmlns="{SVG}" class="fb-svg" viewBox="0 0 {_ACROSS * _WIDE:g} {y:g}">{placed}</svg>'
    return on_paper(sheet, title, ". ".join(cell.words for cell in cells) + ".")


def _placed(column: int, cell: Cell, y: float, signs_high: float) -> str:
    """Return a sign in its column of the row that begins at ``y``, its words below."""
    x = column * _WIDE + _WIDE / 2
    dx, dy = x - cell.middle[0], y + signs_high / 2 - cell.middle[1]
    words = "".join(
        s.text_element(
            "text",
            line,
            x=x,
            y=y + signs_high + _LINE * (index + 0.6),
            fill=_INK,
            font_size=_LETTER,
            font_weight="700" if not index else "400",
            text_anchor="middle",
        )
        for index, line in enumerate(_lines(cell.words))
    )
    return s.group(cell.svg, transform=f"translate({dx:g} {dy:g})") + words


def _lines(words: str) -> list[str]:
    """Return words in lines: the name, and its state below, broken where a line would be too long."""
    name, _, state = words.partition(": ")
    return [name, *wrap(state, _LONGEST)]
