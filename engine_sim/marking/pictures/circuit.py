"""The circuit as it was to be seen at one moment: symbols after ISO 1219-1 and ISO 14617, the words under each part."""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.actions import parts_of
from engine_sim.actions.parts import INJECTION_PUMPS, LIFT_PUMPS, Part
from engine_sim.circuit.layout import Layout
from engine_sim.drawing import seen as s
from engine_sim.marking.pictures import svg
from engine_sim.marking.pictures import symbols as drawn
from engine_sim.marking.pictures.plan import HIGH, LEFT, RIGHT, TOP, WIDTH, Place, Plan

_SMALL, _SMALLER, _LINE = 12.0, 11.0, 15.0
_WIDE_ENOUGH = 70.0
"""Width of a column from which the words under it have the usual size."""
_HEIGHT_STEP_M = 0.25
KEY = (
    "Solid screw or nut: tight. Hollow one off its seat: open. Solid valve: shut. Drop: wet with fuel. "
    "Water in the bowl has waves on top. Question mark: not looked at yet."
)


def draw_circuit(layout: Layout, seen: Mapping[str, object], title: str, here: str = "") -> str:
    """Return the boat's circuit as SVG; ``seen`` is what was to be seen, ``here`` the part that the moment is about."""
    plan = Plan(layout)
    parts = {part.id: part for part in parts_of(layout)}
    content = [*_heights(plan), *_lines(plan, seen)]
    for name, place in plan.places.items():
        content += _part(plan, parts[name], place, seen)
    content += _frame(plan, here)
    captions, bottom = _captions(plan, seen, here)
    content += [*captions, *_around(plan, parts, seen, bottom)]
    return svg.picture(title, s.in_words(layout, seen), WIDTH, bottom + 58.0, content)


def _heights(plan: Plan) -> list[str]:
    """Return the scale of heights at the left, from the lowest part up [m]."""
    low_m, high_m = plan.span_m
    x, drawn_lines = LEFT - 22.0, []
    for step in range(int((high_m - low_m) / _HEIGHT_STEP_M) + 1):
        height_m = step * _HEIGHT_STEP_M
        y = plan.y(low_m + height_m)
        drawn_lines += [
            svg.stroke([((x, y), (x + 6.0, y))], 1.2),
            svg.words(x - 3.0, y + 4.0, f"{height_m:.2f}", "end", _SMALL),
        ]
    axis = svg.stroke([((x, plan.y(low_m)), (x, plan.y(high_m)))], 1.2)
    return [axis, *drawn_lines, svg.words(4.0, TOP - 22.0, "height, m", "start", _SMALL)]


def _lines(plan: Plan, seen: Mapping[str, object]) -> list[str]:
    """Return hoses, high-pressure lines and the return line; one that is led away is dashed."""
    content = [svg.stroke([line], 5.0, stroke_opacity="0.45", stroke_linejoin="round") for line in plan.pipes.values()]
    name, line = plan.return_line
    if name:
        dashes = {} if seen.get("return_to", "tank") == "tank" else {"stroke_dasharray": "6 5"}
        content.append(svg.stroke([line], 3.0, stroke_opacity="0.45", stroke_linejoin="round", **dashes))
    pumps = [place for place in plan.places.values() if place.kind in INJECTION_PUMPS]
    for place in plan.places.values():
        if place.kind == "injector":
            pump, turn = pumps[-1], place.x - plan.step * 0.42
            content.append(svg.stroke([((pump.x, pump.y), (turn, pump.y), (turn, place.y), (place.x, place.y))], 1.4))
    return content


def _part(plan: Plan, part: Part, place: Place, seen: Mapping[str, object]) -> list[str]:
    """Return one part with all that was to be seen of it."""
    apart = part.id in s.names(seen, "taken_apart")
    content = _symbol(plan, part, place, seen, apart)
    spots = drawn.screw_spots(part.kind, place)
    is_open = s.open_screws(seen, part.id)
    for name, (x, y, up) in spots.items():
        if _has_screw(part.id, name, seen):
            content.append(drawn.screw(x, y, up, name in is_open))
    if part.id in s.names(seen, s.NOT_LOOKED_AT) and part.kind in s.DRAWN:
        content.append(drawn.not_looked_at(place))
    if part.id in s.names(seen, "weeping"):
        content.append(drawn.drop(*_drop_spot(place)))
    return content


def _drop_spot(place: Place) -> tuple[float, float]:
    """Return the tip of a part's drop: under the part, but beside an injector, which has the next one under it."""
    if place.kind == "injector":
        return place.x + 24.0, place.y - 5.5
    return place.x + place.half * 0.6 + 4.0, place.bottom + 2.0


def _has_screw(part: str, name: str, seen: Mapping[str, object]) -> bool:
    return f"{part}_{name}_open" in seen


def _symbol(plan: Plan, part: Part, place: Place, seen: Mapping[str, object], apart: bool) -> list[str]:
    if part.kind == "tank":
        before = s.prefix_of(plan.layout, part.id, "tank")
        return drawn.tank(place, s.share(seen, f"{before}gauge_reading") if f"{before}gauge_reading" in seen else None)
    if part.kind == "separator":
        before = s.prefix_of(plan.layout, part.id, "separator")
        shares = tuple(s.share(seen, f"{before}bowl_{what}_share") for what in ("water", "air"))
        shown = f"{before}bowl_water_share" in seen
        return drawn.separator(place, shares if shown else None, bool(seen.get(f"{before}bowl_dirty")), apart)
    if part.kind == "shut_off_valve":
        return drawn.valve(place, bool(seen[f"{part.id}_open"]) if f"{part.id}_open" in seen else None)
    if part.kind == "changeover_valve":
        return drawn.changeover(place, f"{part.id}_ways" not in seen or bool(s.names(seen, f"{part.id}_ways")))
    if part.kind == "joint":
        return drawn.joint(place)
    if part.kind in LIFT_PUMPS:
        return drawn.pump(place, part.kind == "electric_pump")
    if part.kind == "fine_filter":
        return drawn.fine_filter(place, apart)
    if part.kind == "injector":
        return drawn.injector(place, part.number, s.nut_is_slack(seen, part.number))
    return drawn.injection_pump(place)


def _frame(plan: Plan, here: str) -> list[str]:
    """Return a dashed frame around the part that the moment is about."""
    place = plan.places.get(here)
    if place is None:
        return []
    wide = place.half + 12.0
    corners = svg.box(place.x - wide, place.top - 18.0, 2 * wide, place.bottom - place.top + 36.0)
    return [svg.shape(corners, weight=2.0, stroke_dasharray="7 4")]


def _captions(plan: Plan, seen: Mapping[str, object], here: str) -> tuple[list[str], float]:
    """Return the words under each column, below every line of the drawing, and where they end."""
    content, top, lowest = [], TOP + HIGH + 44.0, 0.0
    for column in plan.columns:
        x, y = plan.places[column[0].id].x, top
        is_here = any(part.id == here for part in column)
        for line, bold in _caption(plan, column, seen, is_here):
            content.append(svg.words(x, y, line, "middle", _size(plan), bold))
            y += _LINE
        lowest = max(lowest, y)
    return content, lowest


def _caption(plan: Plan, column: tuple[Part, ...], seen: Mapping[str, object], is_here: bool) -> list[tuple[str, bool]]:
    room = plan.step - 4.0
    label = column[0].label if len(column) == 1 else f"injectors 1\N{NO-BREAK SPACE}to\N{NO-BREAK SPACE}{len(column)}"
    lines = [(line, True) for line in svg.wrapped(label, room, _size(plan))]
    states = s.state_of(plan.layout, column[0], seen) if len(column) == 1 else _of_many(plan, column, seen)
    lines += [(line, False) for state in states for line in svg.wrapped(state, room, _size(plan))]
    return [("▲ here", True), *lines] if is_here else lines


def _size(plan: Plan) -> float:
    return _SMALL if plan.step >= _WIDE_ENOUGH else _SMALLER


def _of_many(plan: Plan, column: tuple[Part, ...], seen: Mapping[str, object]) -> tuple[str, ...]:
    return tuple(f"{part.number}: {text}" for part in column for text in s.state_of(plan.layout, part, seen))


def _around(plan: Plan, parts: Mapping[str, Part], seen: Mapping[str, object], y: float) -> list[str]:
    """Return the line for the return line, the engine and the space around, and the key of the signs."""
    name = plan.return_line[0]
    label = (
        [svg.words(WIDTH / 2, TOP - 34.0, _return_words(plan.layout, parts[name], seen), "middle", _SMALL)]
        if name
        else []
    )
    told = "; ".join(s.around(seen))
    lines = [f"{told[:1].upper()}{told[1:]}." if told else "", *svg.wrapped(KEY, WIDTH - LEFT - RIGHT, _SMALL)]
    return label + [svg.words(LEFT, y + 10.0 + _LINE * i, line, "start", _SMALL) for i, line in enumerate(lines)]


def _return_words(layout: Layout, part: Part, seen: Mapping[str, object]) -> str:
    return ": ".join((part.label, *s.state_of(layout, part, seen)))
