"""Where each part of the "tank below" layout stands on the drawing, in units of the drawing (900 wide, 556 high).

Height on the drawing is height on the boat; fuel flows from left to right and home along the top.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

Point = tuple[float, float]
Polyline = tuple[Point, ...]

WIDTH = 900
HEIGHT = 556
WATERLINE_Y = 205


@dataclass(frozen=True, slots=True)
class Spot:
    """The rectangle that is pressed to choose a part, and where its label stands."""

    part: str
    x: float
    y: float
    width: float
    height: float
    label_x: float
    label_y: float
    align: str = "middle"
    lines: tuple[str, ...] = ()

    def split(self, label: str) -> tuple[str, ...]:
        """Return a part's label in the lines that there is room for here."""
        return self.lines if " ".join(self.lines) == label else (label,)


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle whose content can be shown as layers."""

    x: float
    y: float
    width: float
    height: float


SPOTS = (
    Spot("tank", 44, 416, 192, 104, 140, 521),
    Spot("shut_off", 168, 342, 60, 70, 232, 388, "start"),
    Spot("separator_joint", 250, 296, 70, 68, 285, 252, lines=("separator", "inlet joint")),
    Spot("separator", 350, 286, 84, 172, 392, 462),
    Spot("pump_joint", 458, 296, 70, 68, 489, 366, lines=("lift-pump", "inlet joint")),
    Spot("lift_pump", 544, 290, 82, 80, 590, 372, lines=("lift", "pump")),
    Spot("fine_filter", 462, 96, 76, 154, 500, 70),
    Spot("injection_pump", 572, 200, 124, 86, 700, 289, lines=("injection pump",)),
    Spot("injector_1", 593, 66, 70, 112, 628, 3, lines=("injector", "1")),
    Spot("injector_2", 679, 66, 70, 112, 714, 3, lines=("injector", "2")),
    Spot("injector_3", 765, 66, 60, 112, 800, 3, lines=("injector", "3")),
    Spot("return_line", 236, 22, 128, 70, 300, 27),
    Spot("stop_control", 826, 264, 72, 80, 862, 300, lines=("stop", "control")),
    Spot("battery", 810, 400, 84, 106, 850, 506),
    Spot("starter", 736, 318, 72, 68, 772, 386),
    Spot("preheat", 704, 211, 102, 62, 750, 222, "start", lines=("glow", "plugs")),
    Spot("exhaust", 825, 60, 73, 200, 860, 180),
    Spot("engine", 652, 318, 76, 68, 690, 386),
    Spot("can", 474, 416, 98, 86, 523, 504, lines=("fuel can",)),
    Spot("bench", 580, 440, 180, 72, 670, 514),
)

TANK = Box(50, 418, 180, 100)
BOWL = Box(367, 354, 50, 82)
SEPARATOR_HEAD = Box(356, 310, 72, 40)
FILTER_DIRTY = Box(474, 166, 14, 72)
FILTER_CLEAN = Box(491, 166, 35, 72)
PUMP_GALLERY = Box(608, 246, 80, 34)
PUMP_INLET = Box(557, 328, 22, 22)
PUMP_OUTLET = Box(581, 328, 22, 22)
CAN_BODY = Box(482, 436, 84, 62)
CAN = Box(486, 440, 76, 54)

PICK_UP: Polyline = ((200, 506), (200, 376))
DIP_TUBE: Polyline = ((200, 418), (200, 506))
SUCTION_HOSE: Polyline = ((200, 376), (200, 330), (354, 330))
PUMP_HOSE: Polyline = ((430, 330), (550, 330))
FEED_HOSE: Polyline = ((580, 300), (580, 276), (440, 276), (440, 150), (466, 150))
GALLERY_HOSE: Polyline = ((534, 150), (568, 150), (568, 230), (604, 230))
RETURN_LINE: Polyline = ((604, 212), (585, 212), (585, 58), (105, 58), (105, 440))
CAN_HOSE: Polyline = ((554, 490), (554, 404))
CAN_HOSE_AT_PUMP: Polyline = ((554, 404), (554, 362), (564, 348))
PUMP_HOSE_OFF: Polyline = ((520, 330), (546, 330))
RETURN_OFF: Polyline = ((105, 318), (105, 414))
RETURN_TO_JAR: Polyline = ((105, 308), (134, 308), (134, 390))
RETURN_TO_CAN: Polyline = ((105, 308), (335, 308), (335, 500), (458, 500), (458, 420), (518, 420), (518, 446))
LEAK_OFF: Polyline = ((800, 58), (585, 58))

HOSES: dict[str, Polyline] = {
    "pick_up": PICK_UP,
    "suction_hose": SUCTION_HOSE,
    "pump_hose": PUMP_HOSE,
    "feed_hose": FEED_HOSE,
    "gallery_hose": GALLERY_HOSE,
    "return_line": RETURN_LINE,
    "can_hose": CAN_HOSE,
}
VESSELS: dict[str, Box] = {
    "tank": TANK,
    "separator.bowl": BOWL,
    "separator.head": SEPARATOR_HEAD,
    "fine_filter.dirty": FILTER_DIRTY,
    "fine_filter.clean": FILTER_CLEAN,
    "injection_pump.gallery": PUMP_GALLERY,
    "lift_pump.inlet": PUMP_INLET,
    "lift_pump.outlet": PUMP_OUTLET,
    "can": CAN,
}
LED_AWAY: tuple[Polyline, ...] = (CAN_HOSE_AT_PUMP, RETURN_TO_JAR, RETURN_TO_CAN)
"""Where hoses lie only when they are led elsewhere."""

INJECTORS_X = (628, 714, 800)
HIGH_PRESSURE_LINES: tuple[Polyline, ...] = (
    ((634, 205), (634, 192), (602, 192), (602, 118), (618, 118)),
    ((655, 205), (655, 192), (688, 192), (688, 118), (704, 118)),
    ((676, 205), (676, 200), (774, 200), (774, 118), (790, 118)),
)
WET_MARKS: dict[str, Point] = {
    "tank": (70, 404),
    "shut_off": (178, 398),
    "separator_joint": (285, 346),
    "separator": (424, 446),
    "pump_joint": (493, 344),
    "lift_pump": (555, 288),
    "fine_filter": (528, 250),
    "injection_pump": (612, 292),
    "injector_1": (648, 150),
    "injector_2": (734, 150),
    "injector_3": (820, 150),
    "return_line": (340, 76),
    "engine": (730, 402),
    "can": (486, 480),
}


def length_of(line: Polyline) -> float:
    """Return how long a polyline is, in drawing units."""
    return sum(math.dist(a, b) for a, b in pairwise(line))


def _point_at(line: Polyline, distance: float) -> Point:
    for a, b in pairwise(line):
        step = math.dist(a, b)
        if distance <= step:
            share = distance / step
            return (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
        distance -= step
    return line[-1]


def pieces(line: Polyline, count: int) -> tuple[Polyline, ...]:
    """Cut a polyline into ``count`` pieces of equal length that keep its corners."""
    total = length_of(line)
    corners = [length_of(line[: i + 1]) for i in range(len(line))]
    cut = []
    for i in range(count):
        start, end = total * i / count, total * (i + 1) / count
        inner = tuple(p for p, at in zip(line, corners, strict=True) if start + 1e-6 < at < end - 1e-6)
        cut.append((_point_at(line, start), *inner, _point_at(line, end)))
    return tuple(cut)


def path(line: Polyline) -> str:
    """Return a polyline as the ``d`` of an SVG path."""
    return "M" + "L".join(f"{x:.4g} {y:.4g}" for x, y in line)
