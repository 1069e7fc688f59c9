"""What stood open, loose, wet or apart at a moment, part by part, in the words under the drawing and beside it.

Only what a person standing there sees is used; what a boat does not have, or does not show, is left out.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

from engine_sim.actions import parts_of
from engine_sim.actions.parts import Part, shows_its_bowl
from engine_sim.circuit.layout import Layout
from engine_sim.faults.places import tank_behind

Outside = Mapping[str, object]

_SCREWS = {
    "vent": "vent open",
    "drain": "drain open",
    "lower_screw": "lower screw open",
    "outlet_screw": "outlet screw open",
    "screw": "bleed screw open",
}
_RETURNS = {
    "tank": "back to the tank",
    "jar": "led into a jar",
    "can": "led into the fuel can",
    "nowhere": "its end lies open",
}
_PERCENT = "\N{NO-BREAK SPACE}%"
_CAPS = {"cracked": "cap loose", "off": "cap off"}
NOT_LOOKED_AT = "not_looked_at"
"""The name under which stand the parts where nobody had looked yet."""
_ONLY_BY_A_LOOK: Mapping[str, tuple[str, ...]] = {
    "tank": ("{before}gauge_reading",),
    "shut_off_valve": ("{part}_open",),
    "changeover_valve": ("{part}_ways",),
    "separator": ("{before}bowl_water_share", "{before}bowl_air_share", "{before}bowl_dirty"),
    "stop_lever": ("stop_control_pulled",),
    "battery": ("battery_connected",),
    "return_line": ("return_to",),
    "exhaust": ("seacock_open",),
}
"""What a part shows only to whoever looks at it, by its kind: the names of the things seen."""
_SHOWN_BY: Mapping[str, tuple[str, ...]] = {
    "tank": ("read_gauge", "tap_gauge", "look"),
    "separator": ("look", "open_drain", "fill", "take_bowl_off"),
}
"""What shows the gauge, or what is in a bowl: other work there does not."""
DRAWN = frozenset({"tank", "shut_off_valve", "changeover_valve", "separator"})
"""Kinds of part that the picture marks as not looked at yet."""
_UNSEEN = {"tank": "gauge not read yet"}
"""What is said of a part that nobody had looked at; a tank may have been dipped without its gauge being read."""
ALL_ONE = 0.9
"""Share of water in what a bowl holds from which no line is seen in it; judgement."""
SEEN_FROM = 0.05
"""Smallest share of water or empty space in a bowl that is spoken of."""


def shows_itself(kind: str, action: str) -> bool:
    """Tell whether an action at a kind of part shows how the part stands."""
    return kind not in _SHOWN_BY or action in _SHOWN_BY[kind]


def share(seen: Outside, key: str) -> float:
    """Return a figure that was seen, 0 where there is none."""
    value = seen.get(key, 0.0)
    return float(value) if isinstance(value, int | float) else 0.0


def names(seen: Outside, key: str) -> tuple[str, ...]:
    """Return the names in something seen that holds names."""
    value = seen.get(key)
    return tuple(str(name) for name in value) if isinstance(value, tuple | list) else ()


def prefix_of(layout: Layout, part: str, kind: str) -> str:
    """Return what stands before the names of things seen at a tank or separator: nothing for the first one."""
    return "" if layout.parts_of(kind)[:1] == (part,) else f"{part}_"


def open_screws(seen: Outside, part: str) -> tuple[str, ...]:
    """Return which screws or taps of a part stood open: vent, drain, screw, outlet_screw, lower_screw."""
    return tuple(name for name in _SCREWS if seen.get(f"{part}_{name}_open"))


def nut_is_slack(seen: Outside, number: int) -> bool:
    """Say whether the union nut of a cylinder, from 1, stood slack."""
    nuts = seen.get("union_nuts_open")
    return isinstance(nuts, tuple | list) and len(nuts) >= number and bool(nuts[number - 1])


def as_looked_at(layout: Layout, seen: Outside, looked_at: Collection[str], worked_at: Collection[str] = ()) -> Outside:
    """Return what was seen without what only a look shows, at parts where nobody had looked by then.

    Whoever ``worked_at`` a part sees whether it is wet.
    """
    unseen = [part for part in parts_of(layout) if part.id not in looked_at]
    hidden = {key for part in unseen for key in _keys_of(layout, part)}
    wet = tuple(name for name in names(seen, "weeping") if name in looked_at or name in worked_at)
    shy = tuple(part.id for part in unseen if part.kind in _ONLY_BY_A_LOOK)
    kept = {key: value for key, value in seen.items() if key not in hidden}
    return kept | {"weeping": wet, NOT_LOOKED_AT: shy}


def _keys_of(layout: Layout, part: Part) -> tuple[str, ...]:
    """Return the names of the things seen that only a look at the part shows."""
    before = prefix_of(layout, part.id, part.kind)
    return tuple(key.format(before=before, part=part.id) for key in _ONLY_BY_A_LOOK.get(part.kind, ()))


def state_of(layout: Layout, part: Part, seen: Outside) -> tuple[str, ...]:
    """Return in a few words each what was to be seen at one part, in the words under the drawing."""
    unseen = part.id in names(seen, NOT_LOOKED_AT)
    shows = () if unseen and part.kind != "tank" else _by_kind(layout, part, seen)
    found = [
        *(_UNSEEN.get(part.kind, "not looked at yet"),) * (unseen and part.kind in DRAWN),
        *shows,
        *(_SCREWS[name] for name in open_screws(seen, part.id)),
    ]
    if part.id in names(seen, "taken_apart"):
        found.append("taken apart")
    if part.id in names(seen, "weeping"):
        found.append("wet with fuel")
    return tuple(found)


def _by_kind(layout: Layout, part: Part, seen: Outside) -> tuple[str, ...]:
    if part.kind == "tank":
        before = prefix_of(layout, part.id, "tank")
        cap = _CAPS.get(str(seen.get(f"{before}filler_cap")), "")
        gauge = (
            f"gauge {share(seen, f'{before}gauge_reading') * 100:.0f}{_PERCENT}"
            if f"{before}gauge_reading" in seen
            else ""
        )
        return tuple(text for text in (gauge, cap) if text)
    if part.kind == "shut_off_valve" and f"{part.id}_open" in seen:
        return ("open" if seen[f"{part.id}_open"] else "shut",)
    if part.kind == "changeover_valve":
        return (_changeover(layout, part, seen),)
    if part.kind == "separator":
        return _bowl(layout, part, seen)
    if part.kind == "injector":
        return ("nut slack",) if nut_is_slack(seen, part.number) else ()
    if part.kind == "return_line":
        return (_RETURNS.get(str(seen.get("return_to")), ""),) if "return_to" in seen else ()
    return ()


def _changeover(layout: Layout, part: Part, seen: Outside) -> str:
    labels = {one.id: one.label for one in parts_of(layout)}
    ways = [labels[tank_behind(layout, f"{part.id}.{way}")] for way in names(seen, f"{part.id}_ways")]
    return f"to {' and '.join(ways)}" if ways else "shut"


def _bowl(layout: Layout, part: Part, seen: Outside) -> tuple[str, ...]:
    if not shows_its_bowl(layout, part.component):
        return ("metal bowl: shows nothing",)
    before = prefix_of(layout, part.id, "separator")
    water, air = share(seen, f"{before}bowl_water_share"), share(seen, f"{before}bowl_air_share")
    if water >= ALL_ONE * max(1.0 - air, SEEN_FROM):
        return tuple(text for text in ("bowl all one, pale", _empty(air)) if text)
    parts = (
        f"water {water * 100:.0f}{_PERCENT}" if water >= SEEN_FROM else "",
        _empty(air),
        "the glass smeared dark" if seen.get(f"{before}bowl_dirty") else "",
    )
    return tuple(text for text in parts if text) or ("bowl full and clear",)


def _empty(air: float) -> str:
    """Return how empty a bowl was to be seen, or nothing."""
    if air > 1.0 - SEEN_FROM:
        return "bowl empty"
    return f"bowl {air * 100:.0f}{_PERCENT} empty" if air >= SEEN_FROM else ""


def in_words(layout: Layout, seen: Outside) -> str:
    """Return all that was to be seen at a moment, in sentences, in the order the fuel takes."""
    said = [(part.label, state_of(layout, part, seen)) for part in parts_of(layout)]
    sentences = [f"{label}: {', '.join(states)}" for label, states in said if states]
    sentences += around(seen)
    return ". ".join(text[:1].upper() + text[1:] for text in sentences) + "." if sentences else "Nothing stood open."


def beside(layout: Layout, seen: Outside) -> list[str]:
    """Return what was to be seen of stop control, battery, seacock and fuel can, in sentences."""
    words = {
        "stop_lever": ("stop_control_pulled", "The stop control is pulled out", "The stop control is pushed home"),
        "battery": ("battery_connected", "The battery isolator is on", "The battery isolator is off"),
        "exhaust": ("seacock_open", "The seacock is open", "The seacock is shut"),
        "fuel_can": ("can_lashed", "The fuel can is lashed", "The fuel can is not lashed"),
    }
    found = [
        yes if seen[key] else no for kind, (key, yes, no) in words.items() if layout.parts_of(kind) and key in seen
    ]
    return [*found, "The cap of the fuel can is loose"] if seen.get("can_cap_open") else found


def around(seen: Outside) -> list[str]:
    """Return what was to be seen of the engine and around it, a few words each."""
    found = []
    if "engine" in seen:
        speed = f", {share(seen, 'speed_rpm'):.0f} rpm" if seen["engine"] == "running" else ""
        found.append(f"engine {seen['engine']}{speed}")
    if seen.get("stop_control_pulled"):
        found.append("stop control pulled out")
    if seen.get("battery_connected") is False:
        found.append("battery isolator off")
    if seen.get("can_in_use"):
        found.append("the fuel can's hose on the lift pump")
    if "tray_laid" in seen:
        found.append("tray laid" if seen["tray_laid"] else "no tray laid")
    spilled_ml = share(seen, "spilled_ml")
    return [*found, f"about {spilled_ml:.0f} ml spilled"] if spilled_ml > 0 else found


def loose_things(layout: Layout, seen: Outside) -> tuple[str, ...]:
    """Return only what stood open, apart or wet, such as ``fine filter: bleed screw open``."""
    return tuple(
        f"{part.label}: {state}"
        for part in parts_of(layout)
        for state in state_of(layout, part, seen)
        if state.endswith((" open", "apart", "slack", "cap off", "cap loose", "with fuel")) or state == "shut"
    )
