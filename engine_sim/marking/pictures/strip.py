"""The learner's work beside a good run on the same boat: places from tank to injectors against time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from engine_sim.actions.parts import Part
from engine_sim.marking.pictures import svg
from engine_sim.marking.pictures.deeds import SORTS, sign, sort_of
from engine_sim.units import MINUTE_S, clock_text

if TYPE_CHECKING:
    from engine_sim.marking.coach import Advice
    from engine_sim.marking.track import Track

WIDTH, LEFT, RIGHT, ROW, HEAD = 780.0, 176.0, 16.0, 22.0, 46.0
LONGEST_STEP_S = 120.0
"""Longer waits are drawn as long as this [s]."""

_LEAST_STEP_S, _SMALL, _TICK_GAP = 4.0, 12.0, 66.0
_TOGETHER: Mapping[str, str] = {
    "injector": "injectors, return line",
    "return_line": "injectors, return line",
    "battery": "battery, starter, heating",
    "starter": "battery, starter, heating",
    "hand_start": "starting handle",
    "preheat": "battery, starter, heating",
    "engine": "engine, stop control",
    "stop_lever": "engine, stop control",
    "stop_solenoid": "engine, stop control",
}
_COSTLY, _OWN_SCALES = "cost most.  ", ", in each part on a scale of its own"
TITLE = "Your work and a good run, from the tank to the injectors"


@dataclass(frozen=True, slots=True)
class Deed:
    """One thing done on the strip: where, what sort, when it was done, how it is drawn [s], whether it cost."""

    row: str
    sort: str
    clock_s: float
    start_s: float
    drawn_s: float
    costly: bool = False


def rows_of(parts: Sequence[Part]) -> dict[str, str]:
    """Return for each part the name of its row, in flow order; parts that belong together share one."""
    return {part.id: _TOGETHER.get(part.kind, part.label) for part in parts}


def own_deeds(track: Track, rows: Mapping[str, str], marked: Sequence[int]) -> tuple[Deed, ...]:
    """Return the learner's deeds; ``marked`` are the steps that cost most."""
    deeds, reached_s = [], 0.0
    for moment in track.moments:
        taken_s = min(max(moment.end_s - moment.start_s, _LEAST_STEP_S), LONGEST_STEP_S)
        row = rows.get(moment.part, moment.part)
        deeds.append(Deed(row, sort_of(moment.action), moment.end_s, reached_s, taken_s, moment.number in marked))
        reached_s += taken_s
    return tuple(deeds)


def model_deeds(model: Sequence[Advice], rows: Mapping[str, str]) -> tuple[Deed, ...]:
    """Return the deeds of the good run of checks."""
    deeds, reached_s, clock_s = [], 0.0, 0.0
    for advice in model:
        takes_s = advice.minutes * MINUTE_S
        taken_s = min(max(takes_s, _LEAST_STEP_S), LONGEST_STEP_S)
        clock_s += takes_s
        deeds.append(Deed(rows.get(advice.part, advice.part), sort_of(advice.action), clock_s, reached_s, taken_s))
        reached_s += taken_s
    return tuple(deeds)


def draw_strip(track: Track, model: Sequence[Advice], parts: Sequence[Part], marked: Sequence[int] = ()) -> str:
    """Return the strip as SVG: the learner's work above, the good run below, each with a time scale of its own."""
    rows = rows_of(parts)
    own, good = own_deeds(track, rows, marked), model_deeds(model, rows)
    used = [name for name in dict.fromkeys(rows.values()) if any(deed.row == name for deed in (*own, *good))]
    panels = [("Your work", own)] + ([("A good run of checks", good)] if good else [])
    content, top = [], 4.0
    for title, deeds in panels:
        content += _panel(title, deeds, used, _length_s(deeds), top)
        top += HEAD + ROW * len(used) + 14.0
    content += _legend(top + 8.0, any(deed.costly for deed in own), bool(good))
    return svg.picture(TITLE, describe(own, good), WIDTH, top + 42.0, content)


def describe(own: Sequence[Deed], good: Sequence[Deed]) -> str:
    """Return the strip in words: how much was done in how long, and where, in order."""
    if not own:
        return "Nothing was done."
    said = f"You did {len(own)} things. Places in order: {_route(own)}."
    return f"{said} A good run: {len(good)} checks. Places in order: {_route(good)}." if good else said


def _route(deeds: Sequence[Deed]) -> str:
    stops: list[str] = []
    for deed in deeds:
        if stops[-1:] != [deed.row]:
            stops.append(deed.row)
    return ", then ".join(stops[:40]) + (" and on" if len(stops) > 40 else "")


def _panel(title: str, deeds: Sequence[Deed], used: Sequence[str], length_s: float, top: float) -> list[str]:
    first = top + HEAD
    content = [svg.words(8.0, top + 16.0, title, "start", 13.0, True), *_clock(deeds, length_s, first - 10.0)]
    for index, name in enumerate(used):
        y = first + ROW * (index + 0.5)
        content.append(svg.words(LEFT - 10.0, y + 4.0, name, "end", _SMALL))
        content.append(svg.stroke([((LEFT, y), (WIDTH - RIGHT, y))], 1.0, stroke_opacity="0.25"))
    for deed in deeds:
        x, y = _x(deed, length_s), first + ROW * (used.index(deed.row) + 0.5)
        content.append(sign(deed.sort, x, y))
        if deed.costly:
            content.append(svg.words(x + 7.0, y - 3.0, "!", "start", 14.0, True))
    return content


def _length_s(deeds: Sequence[Deed]) -> float:
    """Return how much time a panel shows [s], waits shortened."""
    return max([deed.start_s + deed.drawn_s for deed in deeds], default=1.0)


def _x(deed: Deed, length_s: float) -> float:
    return LEFT + 8.0 + (WIDTH - LEFT - RIGHT - 16.0) * (deed.start_s + deed.drawn_s / 2) / length_s


def _clock(deeds: Sequence[Deed], length_s: float, y: float) -> list[str]:
    """Return clock readings, far enough apart to be read."""
    content, last = [], -_TICK_GAP
    for deed in deeds:
        x = _x(deed, length_s)
        if x - last >= _TICK_GAP:
            content.append(svg.words(x, y, clock_text(deed.clock_s), "middle", _SMALL))
            last = x
    return content


def _legend(y: float, costly: bool, two: bool) -> list[str]:
    """Return what each sign means: of what cost most only where it is drawn, of both scales where there are two."""
    content, x = [], 14.0
    for sort, text in SORTS:
        content += [sign(sort, x, y), svg.words(x + 11.0, y + 4.0, text, "start", _SMALL)]
        x += 34.0 + svg.LETTER_SHARE * _SMALL * len(text)
    note = f"Time (h:mm:ss) runs from left to right{_OWN_SCALES if two else ''}; long waits are drawn shorter."
    if costly:
        content.append(svg.words(12.0, y + 25.0, "!", "start", 14.0, True))
    return [
        *content,
        svg.words(25.0 if costly else 9.0, y + 24.0, f"{_COSTLY if costly else ''}{note}", "start", _SMALL),
    ]
