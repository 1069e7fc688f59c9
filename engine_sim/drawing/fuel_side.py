"""The parts on the fuel's way: how each is drawn, and how it stands by what a person there can see."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from engine_sim.actions.parts import shows_its_bowl
from engine_sim.circuit.layout import Layout
from engine_sim.drawing import inside, shapes
from engine_sim.drawing import svg as s
from engine_sim.drawing.geometry import Box
from engine_sim.drawing.plan import Place
from engine_sim.drawing.routes import Routes
from engine_sim.drawing.seen import NOT_LOOKED_AT, names, prefix_of, share

Outside = Mapping[str, object]
Draw = Callable[[Layout, Place], str]
Show = Callable[[Layout, Place, Outside], s.View]

SWEEP_DEG = 100.0
_CAP_MOVES = {"cracked": "translate(0 -6)", "off": "translate(22 -12)"}


def screws_of(layout: Layout, place: Place) -> tuple[tuple[str, float, float, float], ...]:
    """Return a part's screws, vent and drain: name, foot of the screw, and by how much it is turned [degrees]."""
    box, links = place.box, {link.id for link in layout.blueprint.links}
    x = place.x
    spots = {
        "separator": (("vent", x - 18.0, box.y, 0.0), ("drain", x, box.bottom, 180.0)),
        "fine_filter": (("screw", x - 18.0, box.y, 0.0), ("outlet_screw", x + 18.0, box.y, 0.0)),
    }
    pump = (("screw", box.right, box.y + 20.0, 90.0), ("lower_screw", box.x + 24.0, box.bottom, 180.0))
    found = spots.get(place.kind, pump if place.kind.endswith("injection_pump") else ())
    return tuple(one for one in found if f"{place.id}.{one[0]}" in links)


def with_screws(layout: Layout, place: Place) -> str:
    """Return the screws of a part."""
    return "".join(shapes.screw(x, y, f"{place.id}-{name}", angle) for name, x, y, angle in screws_of(layout, place))


def screws_view(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return how a part's screws stand."""
    comes = outside.get("comes")
    coming: Mapping[str, object] = comes if isinstance(comes, Mapping) else {}
    seen: s.View = {}
    for name, *_ in screws_of(layout, place):
        is_open = bool(outside.get(f"{place.id}_{name}_open"))
        seen[f"{place.id}-{name}"] = loose(is_open, "screw", "translate(0 -9)")
        seen[f"{place.id}-{name}-comes"] = {"class": f"comes {coming.get(f'{place.id}.{name}', 'nothing')}"}
    return seen


def loose(is_loose: bool, shape: str, moved: str) -> s.Attributes:
    """Return how a screw or nut stands: solid on its seat, or hollow and moved off it."""
    return {
        "transform": moved if is_loose else "translate(0 0)",
        "class": f"{shape} {'loose' if is_loose else 'seated'}",
    }


def unseen(place: Place, outside: Outside) -> bool:
    """Tell whether nobody has looked at a part yet."""
    return place.id in names(outside, NOT_LOOKED_AT)


# ---- tank and can ---------------------------------------------------------------------------------------------------


def _gauge_at(place: Place) -> tuple[float, float, float]:
    box = place.box
    return box.x + box.width * 0.37, box.middle[1], min(28.0, box.height / 2 - 6.0, box.width * 0.26)


def draw_tank(layout: Layout, place: Place) -> str:
    """Return a tank with filler, cap and gauge."""
    box, filler = place.box, Routes.filler_x(place)
    x, y, radius = _gauge_at(place)
    pipe = s.element("path", class_="pipe", d=f"M{filler} {box.y}V{box.y - 26}")
    cap = s.element(
        "path",
        id=f"{place.id}-cap",
        class_="filled",
        d=f"M{filler - 14} {box.y - 36}H{filler + 14}V{box.y - 26}H{filler - 14}Z",
    )
    body = s.rect(box, class_="vessel", rx=10)
    marks = s.text_element("text", "E", class_="mark", x=x - radius - 1, y=y + radius + 6) + s.text_element(
        "text", "F", class_="mark", x=x + radius + 1, y=y + radius + 6
    )
    return (
        pipe
        + cap
        + body
        + marks
        + shapes.dial(x, y, radius, f"{place.id}-gauge")
        + shapes.question(x, y, f"{place.id}-unseen")
    )


def show_tank(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return how gauge and cap stand."""
    before = prefix_of(layout, place.id, "tank")
    hidden, (x, y, _) = unseen(place, outside), _gauge_at(place)
    angle = (2.0 * share(outside, f"{before}gauge_reading") - 1.0) * SWEEP_DEG
    return {
        f"{place.id}-gauge": {"transform": s.turn(angle, x, y), **s.shown(not hidden)},
        f"{place.id}-unseen": s.shown(hidden),
        f"{place.id}-cap": {"transform": _CAP_MOVES.get(str(outside.get(f"{before}filler_cap")), "translate(0 0)")},
    }


def draw_can(layout: Layout, place: Place) -> str:
    """Return the fuel can with its cap and lashing."""
    box = place.box
    body = s.rect(Box(box.x, box.y + 12, box.width, box.height - 12), class_="vessel", rx=8)
    cap = s.element("path", id=f"{place.id}-cap", class_="screw seated", d=f"M{box.x + 8} {box.y + 2}h18v10h-18Z")
    middle = box.middle
    lashing = s.element(
        "path",
        id=f"{place.id}-lashing",
        class_="stem",
        visibility="hidden",
        d=f"M{box.x - 6} {middle[1] + 10}H{box.right + 6}M{middle[0]} {box.y + 12}V{box.bottom}",
    )
    return body + lashing + cap


def show_can(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return how the can stands."""
    return {
        f"{place.id}-cap": loose(bool(outside.get("can_cap_open")), "screw", "translate(0 -6)"),
        f"{place.id}-lashing": s.shown(bool(outside.get("can_lashed"))),
        f"{place.id}-at-pump": s.shown(bool(outside.get("can_in_use"))),
    }


# ---- valves and joints ----------------------------------------------------------------------------------------------


def draw_valve(layout: Layout, place: Place) -> str:
    """Return a shut-off."""
    x, y = place.x, place.port_y
    return shapes.valve(x, y, place.id) + shapes.question(x, y, f"{place.id}-unseen")


def show_valve(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return how a shut-off's handle lies."""
    hidden, is_open = unseen(place, outside), bool(outside.get(f"{place.id}_open", True))
    state = "unknown" if hidden else "open" if is_open else "shut"
    lever = {"transform": s.turn(0 if is_open or hidden else -90, place.x, place.port_y), **s.shown(not hidden)}
    return {
        f"{place.id}-body": {"class": f"valve {state}"},
        f"{place.id}-lever": lever,
        f"{place.id}-unseen": s.shown(hidden),
    }


def draw_changeover(layout: Layout, place: Place) -> str:
    """Return a changeover valve."""
    x, y = place.x, place.port_y
    return shapes.changeover(x, y, place.id) + shapes.question(x, y, f"{place.id}-unseen")


def show_changeover(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return where a changeover valve's pointer lies."""
    hidden, ways = unseen(place, outside), names(outside, f"{place.id}_ways")
    x, y = place.x, place.port_y
    return {
        f"{place.id}-way-a": {"transform": s.turn(34, x, y), **s.shown("a" in ways and not hidden)},
        f"{place.id}-way-b": {"transform": s.turn(-2, x, y), **s.shown("b" in ways and not hidden)},
        f"{place.id}-shut": s.shown(not ways and not hidden),
        f"{place.id}-unseen": s.shown(hidden),
    }


def draw_joint(layout: Layout, place: Place) -> str:
    """Return a joint."""
    return shapes.joint(place.x, place.port_y)


def show_nothing(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return nothing: such a part looks the same however it stands."""
    return {}


# ---- separator, pumps and filters -----------------------------------------------------------------------------------


def bowl_box(place: Place) -> Box:
    """Return the room inside a separator's bowl."""
    return Box(place.x - 26.0, place.box.y + 44.0, 52.0, place.box.height - 46.0)


def _bowl_path(place: Place) -> str:
    box = bowl_box(place)
    left, right, top, low = box.x - 2, box.right + 2, box.y - 2, box.bottom + 2
    return (
        f"M{left} {top}V{low - 16}Q{left} {low} {left + 16} {low}H{right - 16}Q{right} {low} {right} {low - 16}V{top}Z"
    )


def draw_separator(layout: Layout, place: Place) -> str:
    """Return a separator: head with element, bowl of glass or metal, vent and drain."""
    box, glass = place.box, shows_its_bowl(layout, place.id)
    head = s.rect(Box(box.x, box.y, box.width, 42.0), class_="vessel")
    bowl = s.element("path", class_="glass" if glass else "vessel", d=_bowl_path(place))
    content = inside.bowl(f"{place.id}-bowl", bowl_box(place)) if glass else ""
    edge = s.element("path", class_="symbol clear", d=_bowl_path(place))
    mark = shapes.question(place.x, bowl_box(place).middle[1], f"{place.id}-unseen") if glass else ""
    body = s.group(shapes.filter_diamond(place.x, box.y + 21.0, 18), bowl, content, edge, mark, id=f"{place.id}-parts")
    return head + body + with_screws(layout, place)


def show_separator(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return what the bowl shows, and how vent and drain stand."""
    seen = screws_view(layout, place, outside) | {
        f"{place.id}-parts": s.shown(place.id not in names(outside, "taken_apart"))
    }
    if not shows_its_bowl(layout, place.id):
        return seen
    before, hidden = prefix_of(layout, place.id, "separator"), unseen(place, outside)
    water, air = (share(outside, f"{before}bowl_{what}_share") for what in ("water", "air"))
    shows = inside.bowl_view(f"{place.id}-bowl", bowl_box(place), water, air, bool(outside.get(f"{before}bowl_dirty")))
    off = place.id in names(outside, "taken_apart")
    return (
        seen
        | shows
        | {
            f"{place.id}-bowl": {"visibility": "hidden" if hidden or off else "inherit"},
            f"{place.id}-unseen": {"visibility": "inherit" if hidden and not off else "hidden"},
        }
    )


def draw_lift_pump(layout: Layout, place: Place) -> str:
    """Return a lift pump with its hand lever, or an electric one with its motor."""
    x, y = place.x, place.port_y
    pump = shapes.pump_circle(x, y, 32)
    if place.kind == "electric_pump":
        motor = s.element("circle", class_="symbol slim", cx=x - 10, cy=y, r=13)
        return pump + motor + s.text_element("text", "M", class_="mark", x=x - 10, y=y + 6)
    shaft = f"M{x - 8} {y + 8}L{x - 34} {y + 38}"
    lever = s.element("path", class_="lever-edge", d=shaft) + s.element("path", class_="lever", d=shaft)
    return s.group(lever, id=f"{place.id}-lever") + pump


def show_lift_pump(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return where the hand lever stands."""
    if place.kind == "electric_pump":
        return {}
    angle = -26.0 if outside.get("lever_up") else 0.0
    return {f"{place.id}-lever": {"transform": s.turn(angle, place.x - 8.0, place.port_y + 8.0)}}


def draw_fine_filter(layout: Layout, place: Place) -> str:
    """Return a fine filter: head and housing, with its bleed screws."""
    box = place.box
    head = s.rect(Box(box.x, box.y, box.width, 34.0), class_="vessel")
    housing = s.rect(Box(box.x + 6, box.y + 34, box.width - 12, box.height - 34), class_="vessel", rx=6)
    body = s.group(housing, shapes.filter_diamond(place.x, box.y + 70.0, 22), id=f"{place.id}-parts")
    return head + body + with_screws(layout, place)


def show_fine_filter(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return how the screws stand, and whether the filter is off."""
    off = place.id in names(outside, "taken_apart")
    return screws_view(layout, place, outside) | {f"{place.id}-parts": s.shown(not off)}


def draw_injection_pump(layout: Layout, place: Place) -> str:
    """Return the injection pump in its enclosure."""
    box = place.box
    pump = shapes.pump_circle(place.x + 8.0, box.y + 32.0, 22)
    return s.rect(box, class_="enclosure") + pump + with_screws(layout, place)


FUEL_SIDE: Mapping[str, tuple[Draw, Show]] = {
    "tank": (draw_tank, show_tank),
    "fuel_can": (draw_can, show_can),
    "shut_off_valve": (draw_valve, show_valve),
    "changeover_valve": (draw_changeover, show_changeover),
    "joint": (draw_joint, show_nothing),
    "separator": (draw_separator, show_separator),
    "lift_pump": (draw_lift_pump, show_lift_pump),
    "electric_pump": (draw_lift_pump, show_lift_pump),
    "fine_filter": (draw_fine_filter, show_fine_filter),
    "injection_pump": (draw_injection_pump, screws_view),
    "rotary_injection_pump": (draw_injection_pump, screws_view),
}
"""How each kind of part on the fuel's way is drawn, and how it stands."""
