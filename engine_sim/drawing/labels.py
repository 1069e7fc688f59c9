"""Where the parts' names stand on a drawing: near their parts, clear of every line, symbol and other name."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from engine_sim.actions.parts import INJECTION_PUMPS
from engine_sim.drawing.geometry import Box, around, walls
from engine_sim.drawing.plan import CELL, ENGINE_SIDE, FINE_FILTER, INJECTOR, SEPARATOR, TANK, Place
from engine_sim.drawing.routes import Routes

SIZE = 23.0
"""The height of the letters, in units of the drawing."""
LINE = 24.0
LETTER = 0.56
"""A letter's width as a share of its height, on average."""
_HALF_WALL, _HALF_WATERLINE = 10.0, 3.0
_LONGEST = 11
_FRAME = 5.0
_APART = 11.0
_STANDS_OUT: Mapping[str, tuple[float, float, float]] = MappingProxyType(
    {
        FINE_FILTER: (38.0, 0.0, 0.0),
        SEPARATOR: (38.0, 34.0, 0.0),
        TANK: (12.0, 0.0, 0.0),
        "lift_pump": (0.0, 16.0, 0.0),
        "injection_pump": (0.0, 22.0, 26.0),
        "rotary_injection_pump": (0.0, 22.0, 26.0),
    }
)
"""How far screws and levers stand out of a symbol above, below and at its right."""
_BESIDE, _STEP, _STEPS = 34.0, 16.0, 14
_SHIFTS = (0.0, -16.0, 16.0, -32.0, 32.0, -48.0, 48.0)


@dataclass(frozen=True, slots=True)
class Label:
    """A part's name in lines; ``align`` says whether the box's left side, middle or right side holds them."""

    part: str
    lines: tuple[str, ...]
    box: Box
    align: str = "middle"

    @property
    def x(self) -> float:
        """The x that the lines hold to."""
        return {"start": self.box.x, "middle": self.box.middle[0], "end": self.box.right}[self.align]


def split(label: str, longest: int = _LONGEST) -> tuple[str, ...]:
    """Return a name in lines of so many letters at most; a longer word has a line of its own."""
    lines: list[str] = []
    for word in label.split():
        if lines and len(lines[-1]) + 1 + len(word) <= longest:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
    return tuple(lines)


def size_of(lines: tuple[str, ...]) -> tuple[float, float]:
    """Return how wide and high lines of letters are."""
    return max(map(len, lines)) * SIZE * LETTER, len(lines) * LINE


def place_labels(routes: Routes) -> dict[str, Label]:
    """Return a label for every part of the drawing, by the part's id."""
    places = routes.plan.places.values()
    taken = _taken(routes)
    found: dict[str, Label] = {}
    for place in sorted(places, key=_hardest_first):
        label = _fixed(place) or _free(place, routes, taken)
        found[place.id] = label
        taken.append(label.box)
    return found


def frame_of(place: Place) -> Box:
    """Return the frame around a part that is chosen; no name lies across it."""
    flat = place.kind in (INJECTOR, "bench", "return_line")
    return place.spot if place.kind in ENGINE_SIDE else room_of(place).grown(1.0 if flat else _FRAME)


def _taken(routes: Routes) -> list[Box]:
    """Return what stands where no name may stand: lines, symbols, and the waterline."""
    plan = routes.plan
    water = ((0.0, plan.waterline_y), (plan.block.x, plan.waterline_y))
    lines = [*walls(routes.all_lines, _HALF_WALL), *walls((water,), _HALF_WATERLINE)]
    return [*lines, *(frame_of(place) for place in plan.places.values())]


def waterline_label(routes: Routes, labels: Mapping[str, Label], text: str) -> Label | None:
    """Return where the waterline's own name stands, as far left as there is room; None where there is none."""
    y, (width, high) = routes.plan.waterline_y, size_of((text,))
    taken = [*_taken(routes), *(label.box for label in labels.values())]
    tries = [
        Label("", (text,), Box(x, top, width, high), "start")
        for top in (y - high - 4.0, y + 4.0)
        for x in range(10, int(routes.plan.block.x - width), 12)
    ]
    return next((one for one in tries if not any(one.box.overlaps(other) for other in taken)), None)


def _hardest_first(place: Place) -> tuple[bool, int]:
    return place.kind not in (*ENGINE_SIDE, INJECTOR, "bench"), -len(place.part.label)


def room_of(place: Place) -> Box:
    """Return the room of a part's symbol, with the screws that stand out of it."""
    up, down, aside = _STANDS_OUT.get(place.kind, (0.0, 0.0, 0.0))
    box = place.box
    return Box(box.x, box.y - up, box.width + aside, box.height + up + down)


def _fixed(place: Place) -> Label | None:
    """Return the label of what has a place for it of its own."""
    if place.kind in ENGINE_SIDE:
        lines = split(place.part.label, 8)
        width, high = size_of(lines)
        middle, top = place.spot.middle[0], place.spot.y + 53.0
        return Label(place.id, lines, around(middle, top + high / 2, min(width, CELL - 4.0), high))
    if place.kind == INJECTOR:
        lines = (str(place.part.number),)
        return Label(place.id, lines, Box(place.box.right + 8.0, place.box.y + 30.0, *size_of(lines)), "start")
    if place.kind == "bench":
        lines = (place.part.label,)
        return Label(place.id, lines, around(place.x, place.box.y - 24.0, *size_of(lines)))
    return None


def _free(place: Place, routes: Routes, taken: list[Box]) -> Label:
    """Return the label of a part that is nearest to it, of those that are clear of all that is there already."""
    sheet = Box(4.0, 0.0, routes.plan.width - 8.0, routes.plan.height)
    tries = sorted(_tries(place), key=lambda one: one[0])
    for _, label in tries:
        box = label.box
        inside = sheet.x <= box.x and box.right <= sheet.right and box.y >= sheet.y and box.bottom <= sheet.bottom
        if inside and not any(box.overlaps(other) for other in taken):
            return label
    return tries[0][1]


def _tries(place: Place) -> Iterator[tuple[float, Label]]:
    """Yield the labels that a part may have, each with how far off it is."""
    room, x = room_of(place), place.x
    for longest in (_LONGEST, 9, 24):
        lines = split(place.part.label, longest)
        width, high = size_of(lines)
        for side, left in (("start", room.right + 8.0), ("end", room.x - 8.0 - width)):
            away = _BESIDE if place.kind not in INJECTION_PUMPS else 0.0
            yield away, Label(place.id, lines, Box(left, room.middle[1] - high / 2, width, high), side)
        for step in range(_STEPS):
            for y, extra in ((room.bottom + _APART, 0.0), (room.y - _APART - high, 4.0)):
                at = y + (step * _STEP if not extra else -step * _STEP)
                for shift in _SHIFTS:
                    away = step * _STEP + abs(shift) / 2 + extra
                    yield away, Label(place.id, lines, Box(x - width / 2 + shift, at, width, high))
