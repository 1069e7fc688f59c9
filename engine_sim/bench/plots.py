"""Two plots for learners, as SVG: the pressure along the way of the fuel, and what a gauge showed over the attempt."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from engine_sim.attempt import Observation
from engine_sim.bench import plot_words as words
from engine_sim.bench.way import VESSEL_M, Stretch
from engine_sim.circuit.layout import Layout
from engine_sim.drawing.svg import element, text_element
from engine_sim.sources import SourcedValue, published
from engine_sim.units import KILOPASCAL_PA, MINUTE_S

WIDTH, HEIGHT, LEFT, RIGHT, TOP, LOW = 900.0, 380.0, 86.0, 24.0, 30.0, 96.0
CLEAN_PA = SourcedValue(
    20.3e3, "Pa", published("US Army TM 5-3895-346-14"), "restriction at the pump's inlet, clean elements: 6 inHg"
).value
CHANGE_PA = SourcedValue(
    40.6e3, "Pa", published("US Army TM 5-3895-346-14"), "restriction at which an element is changed: 12 inHg"
).value


def pressure_plot(layout: Layout, way: Sequence[Stretch], labels: Mapping[str, str]) -> str:
    """Return the plot of pressure against the way from the tank, with its limit lines; empty without a way."""
    if not way:
        return ""
    lowest = min(-45.0, *(one.kpa for one in way)) - 5.0
    highest = max(15.0, *(one.kpa for one in way)) + 5.0
    axes = Axes((0.0, way[-1].at_m + VESSEL_M), (lowest, highest))
    limits = (
        (0.0, words.PLOT["air_around"]),
        (-CLEAN_PA / KILOPASCAL_PA, words.PLOT["clean"]),
        (-CHANGE_PA / KILOPASCAL_PA, words.PLOT["change"]),
    )
    content = [axes.frame(words.PLOT["way_m"], words.PLOT["kpa"], 10.0, 1.0)]
    for kpa, text in limits:
        content.append(axes.level(kpa, text))
    content.append(axes.curve([(one.at_m, one.kpa) for one in way]))
    content += axes.marks([(one.at_m, labels[one.part]) for one in _first_of_each(way) if one.part in labels])
    return _picture(words.PLOT["pressure_title"], words.pressure_told(way, labels), content)


def _first_of_each(way: Sequence[Stretch]) -> list[Stretch]:
    return list({one.part: one for one in reversed(way)}.values())[::-1]


# ---- what a gauge showed ----

GAUGES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "vacuum_reads": ("vacuum", r"(\d+(?:\.\d+)?) kPa"),
        "volts_at_rest": ("volts", r"(\d+(?:\.\d+)?) V"),
        "volts_cranking": ("volts", r"(\d+(?:\.\d+)?) V"),
        "dip_fuel": ("dip", r"(\d+(?:\.\d+)?) cm"),
        "engine_idles": ("rpm", r"(\d+) rpm"),
        "ran_well": ("rpm", r"about (\d+) rpm"),
        "ran_unevenly": ("rpm", r"about (\d+) rpm"),
    }
)
"""Which gauge an observation reads, and where its figure stands in the words."""
STANDS = frozenset({"dies", "dies_meanwhile", "engine_stands", "stopped"})
"""What shows that the engine stands: no turns a minute."""


def readings(observations: Sequence[Observation]) -> dict[str, list[tuple[float, float]]]:
    """Return what each gauge showed: time [min] and figure in the gauge's own unit, in the order it was read."""
    found: dict[str, list[tuple[float, float]]] = {}
    for seen in observations:
        gauge, pattern = GAUGES.get(seen.key, ("", ""))
        figure = re.search(pattern, seen.text) if gauge else None
        if seen.key in STANDS:
            found.setdefault("rpm", []).append((seen.clock_s / MINUTE_S, 0.0))
            continue
        if figure is not None:
            found.setdefault(gauge, []).append((seen.clock_s / MINUTE_S, float(figure.group(1))))
    return {gauge: points for gauge, points in found.items() if any(figure > 0.0 for _, figure in points)}


def trend_plot(gauge: str, points: Sequence[tuple[float, float]]) -> str:
    """Return the plot of what one gauge showed over the attempt."""
    name, unit = words.GAUGE_NAMES[gauge]
    top = max(figure for _, figure in points) * 1.15 or 1.0
    axes = Axes((0.0, max(points[-1][0] * 1.05, 1.0)), (0.0, top))
    content = [axes.frame(words.PLOT["minutes"], f"{name}, {unit}", _nice(top / 5), _nice(axes.across[1] / 8))]
    content += [axes.curve(run, dots=True) for run in _without_a_stop(points)]
    return _picture(name, words.trend_told(gauge, points), content)


def _without_a_stop(points: Sequence[tuple[float, float]]) -> list[list[tuple[float, float]]]:
    """Return the points in runs: between a figure and nothing at all no line may say what was not read."""
    runs: list[list[tuple[float, float]]] = []
    for point in points:
        if not runs or (point[1] == 0.0) != (runs[-1][-1][1] == 0.0):
            runs.append([])
        runs[-1].append(point)
    return runs


def _nice(step: float) -> float:
    """Return a round step near one: 1, 2 or 5 times a power of ten."""
    power = 10.0 ** math.floor(math.log10(step))
    return next(size * power for size in (1.0, 2.0, 5.0, 10.0) if size * power >= step - 1e-9)


@dataclass(frozen=True, slots=True)
class Axes:
    """Two axes: what they reach across and upward, in their own units."""

    across: tuple[float, float]
    upward: tuple[float, float]

    def x(self, value: float) -> float:
        """Return where a value lies across."""
        low, high = self.across
        return LEFT + (value - low) / (high - low) * (WIDTH - LEFT - RIGHT)

    def y(self, value: float) -> float:
        """Return where a value lies upward."""
        low, high = self.upward
        return HEIGHT - LOW - (value - low) / (high - low) * (HEIGHT - LOW - TOP)

    def frame(self, x_name: str, y_name: str, y_step: float, x_step: float) -> str:
        """Return both axes with their ticks and names."""
        left, low = LEFT, HEIGHT - LOW
        lines = f"M{left} {TOP}V{low}H{WIDTH - RIGHT}"
        parts = []
        for value in _steps(self.upward, y_step):
            lines += f"M{left - 6} {self.y(value):.1f}h6"
            parts.append(
                text_element("text", f"{value:g}", class_="tick-end", x=left - 10, y=f"{self.y(value) + 6:.1f}")
            )
        for value in _steps(self.across, x_step):
            lines += f"M{self.x(value):.1f} {low}v6"
            parts.append(text_element("text", f"{value:g}", class_="tick-mid", x=f"{self.x(value):.1f}", y=low + 24))
        names = text_element("text", y_name, class_="axis", x=8, y=18) + text_element(
            "text", x_name, class_="axis-end", x=WIDTH - RIGHT, y=HEIGHT - 8
        )
        return element("path", class_="axis-line", d=lines) + "".join(parts) + names

    def level(self, value: float, text: str) -> str:
        """Return a level limit line with its words on it."""
        y = self.y(value)
        line = element("path", class_="limit", d=f"M{LEFT} {y:.1f}H{WIDTH - RIGHT}")
        return line + text_element("text", text, class_="limit-word", x=WIDTH - RIGHT - 4, y=f"{y - 6:.1f}")

    def curve(self, points: Sequence[tuple[float, float]], dots: bool = False) -> str:
        """Return a curve through points, with a dot on each where it is read and not known between."""
        at = [(self.x(x), self.y(y)) for x, y in points]
        line = element("path", class_="curve", d="M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in at))
        marks = "".join(element("circle", class_="dot", cx=f"{x:.1f}", cy=f"{y:.1f}", r=6) for x, y in at)
        return line + (marks if dots else "")

    def marks(self, names: Sequence[tuple[float, str]]) -> list[str]:
        """Return names under the axis, in two rows, each with a tick where its part begins."""
        found = []
        for number, (value, name) in enumerate(names):
            x, low = self.x(value), HEIGHT - LOW
            near_the_end = x > WIDTH - RIGHT - 9 * len(name) / 2
            kind, at = ("axis-end", WIDTH - RIGHT) if near_the_end else ("tick-mid", x)
            found.append(element("path", class_="axis-line", d=f"M{x:.1f} {low}v{30 + 22 * (number % 2)}"))
            found.append(text_element("text", name, class_=kind, x=f"{at:.1f}", y=low + 46 + 22 * (number % 2)))
        return found


def _steps(ends: tuple[float, float], step: float) -> list[float]:
    first, last = math.ceil(ends[0] / step), math.floor(ends[1] / step)
    return [number * step for number in range(first, last + 1)]


def _picture(title: str, told: str, content: Sequence[str]) -> str:
    head = text_element("title", title) + text_element("desc", told)
    inner = head + "".join(content)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="fb-plot" role="img" viewBox="0 0 {WIDTH:g} {HEIGHT:g}">'
        f"{inner}</svg>"
    )
