"""What belongs to the engine: injectors, and the things in the cells on its block, drawn and as they stand."""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.circuit.layout import Layout
from engine_sim.drawing import shapes
from engine_sim.drawing import svg as s
from engine_sim.drawing.fuel_side import SWEEP_DEG, Draw, Outside, Show, loose, show_nothing, unseen
from engine_sim.drawing.plan import Place
from engine_sim.drawing.seen import nut_is_slack, share

_FULL_SCALE_RPM = 4000.0
_SMOKES = ("white", "black", "blue")


def draw_injector(layout: Layout, place: Place) -> str:
    """Return an injector with its union nut."""
    return shapes.injector(place.box, f"{place.id}-nut")


def show_injector(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return whether the union nut is slack."""
    return {f"{place.id}-nut": loose(nut_is_slack(outside, place.part.number), "nut", "translate(-8 0)")}


def draw_stop_lever(layout: Layout, place: Place) -> str:
    """Return the stop control: a knob on a rod through a plate."""
    x, y = place.box.middle
    plate = s.element("path", class_="filled", d=f"M{x - 26} {y - 20}h8v40h-8Z")
    knob = s.group(
        s.element("path", class_="stem", d=f"M{x - 30} {y}H{x + 2}"),
        s.element("rect", class_="knob", x=x - 4, y=y - 16, width=13, height=32, rx=5),
        id=f"{place.id}-knob",
    )
    return plate + knob + shapes.question(x + 16.0, y, f"{place.id}-unseen")


def show_stop_lever(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return whether the stop control is pulled out."""
    hidden, pulled = unseen(place, outside), bool(outside.get("stop_control_pulled"))
    return {
        f"{place.id}-knob": {"transform": "translate(24 0)" if pulled else "translate(0 0)", **s.shown(not hidden)},
        f"{place.id}-unseen": s.shown(hidden),
    }


def draw_stop_solenoid(layout: Layout, place: Place) -> str:
    """Return a stop solenoid: a coil that holds a plunger."""
    x, y = place.box.middle
    coil = s.element("rect", class_="symbol", x=x - 22, y=y - 16, width=34, height=32) + s.element(
        "path", class_="tick", d=f"M{x - 22} {y + 16}L{x + 12} {y - 16}"
    )
    return coil + s.element("path", class_="stem", d=f"M{x + 12} {y}H{x + 30}M{x + 30} {y - 8}V{y + 8}")


def draw_preheat(layout: Layout, place: Place) -> str:
    """Return a glow plug: its terminal, its stem, and the coil that heats."""
    x, y = place.box.middle
    stem = s.element("path", class_="symbol slim", d=f"M{x - 9} {y - 16}h18v18h-18Z") + s.element(
        "path", class_="stem", d=f"M{x} {y - 16}v-9"
    )
    coil = f"M{x} {y + 2}l-7 4l14 5l-14 5l14 5l-7 4"
    return stem + s.element("path", class_="tick", d=coil)


def draw_exhaust(layout: Layout, place: Place) -> str:
    """Return silencer and smoke, and the seacock of the cooling water with its handle."""
    x, y = place.box.middle
    silencer = s.element("rect", class_="vessel slim", x=x - 36, y=y - 8, width=34, height=28, rx=5) + s.element(
        "path", class_="tick", d=f"M{x - 32} {y + 12}q4 -5 7 0t7 0t7 0"
    )
    outlet = s.element("path", class_="thin-wall clear", d=f"M{x - 19} {y - 8}V{y - 20}H{x - 4}")
    smoke = "".join(
        s.group(
            *(
                s.element("circle", class_=f"smoke {colour}", cx=x + dx, cy=y + dy, r=r)
                for dx, dy, r in ((2, -20, 6), (12, -26, 8), (24, -22, 9))
            ),
            id=f"{place.id}-smoke-{colour}",
            visibility="hidden",
        )
        for colour in _SMOKES
    )
    at = (x + 22.0, y + 10.0)
    body = s.element(
        "path",
        id=f"{place.id}-seacock",
        class_="valve open",
        d=f"M{at[0] - 15} {at[1] - 10}v20l30 -20v20Z",
    )
    handle = s.element("path", class_="lever slim", d=f"M{at[0]} {at[1]}h20")
    lever = s.group(handle, id=f"{place.id}-seacock-lever")
    return silencer + outlet + smoke + body + lever + shapes.question(*at, f"{place.id}-unseen")


def show_exhaust(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return how the seacock stands, and what smoke comes."""
    hidden, is_open = unseen(place, outside), bool(outside.get("seacock_open", True))
    x, y = place.box.middle
    state = "unknown" if hidden else "open" if is_open else "shut"
    smoke = str(outside.get("smoke", "none"))
    return {
        f"{place.id}-seacock": {"class": f"valve slim {state}"},
        f"{place.id}-seacock-lever": {
            "transform": s.turn(0 if is_open else -90, x + 22.0, y + 10.0),
            **s.shown(not hidden),
        },
        f"{place.id}-unseen": s.shown(hidden),
        **{f"{place.id}-smoke-{colour}": s.shown(smoke.startswith(colour)) for colour in _SMOKES},
    }


def draw_battery(layout: Layout, place: Place) -> str:
    """Return the battery and its isolator switch."""
    x, y = place.box.middle
    case = s.element("rect", class_="vessel slim", x=x - 34, y=y - 10, width=44, height=32, rx=3)
    plates = s.element(
        "path",
        class_="tick",
        d=f"M{x - 30} {y + 6}h8M{x - 22} {y - 4}v20M{x - 15} {y + 1}v10M{x - 8} {y - 4}v20M{x - 8} {y + 6}h10",
    )
    cable = s.element("path", class_="cable", d=f"M{x + 2} {y + 6}H{x + 22}V{y + 2}M{x + 22} {y - 22}V{y - 26}")
    switch = s.element("path", id=f"{place.id}-isolator", class_="cable", d=f"M{x + 22} {y + 2}V{y - 22}")
    return case + plates + cable + switch + shapes.question(x + 22.0, y - 8.0, f"{place.id}-unseen")


def show_battery(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return how the isolator stands."""
    x, y = place.box.middle
    hidden, joined = unseen(place, outside), bool(outside.get("battery_connected", True))
    return {
        f"{place.id}-isolator": {"transform": s.turn(0 if joined else 42, x + 22.0, y + 2.0), **s.shown(not hidden)},
        f"{place.id}-unseen": s.shown(hidden),
    }


def draw_starter(layout: Layout, place: Place) -> str:
    """Return the starter: a motor, and the arrow that shows while it turns the engine."""
    x, y = place.box.middle
    motor = s.element("circle", class_="symbol", cx=x, cy=y, r=24) + s.text_element(
        "text", "M", class_="reading", x=x, y=y + 7
    )
    turning = s.element("path", class_="stem", d=f"M{x + 30} {y - 14}q10 14 0 28m-8 -3l8 5l5 -9")
    return motor + s.group(turning, id=f"{place.id}-turns", visibility="hidden")


def show_starter(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return whether the engine is being turned now."""
    return {f"{place.id}-turns": s.shown(bool(outside.get("cranking")))}


def draw_hand_start(layout: Layout, place: Place) -> str:
    """Return a starting handle."""
    x, y = place.box.middle
    handle = s.element("path", class_="stem", d=f"M{x - 30} {y + 14}H{x - 4}V{y - 14}H{x + 22}")
    grip = s.element("path", class_="lever", d=f"M{x + 6} {y - 14}H{x + 24}")
    turning = s.element("path", class_="stem", d=f"M{x + 26} {y + 4}q8 10 -2 20m-8 -3l8 5l5 -9")
    return handle + grip + s.group(turning, id=f"{place.id}-turns", visibility="hidden")


def draw_engine(layout: Layout, place: Place) -> str:
    """Return the revolution counter and the panel's lamp."""
    x, y = place.box.x + 28.0, place.box.middle[1]
    lamp_x = place.box.right - 10.0
    rays = "".join(
        s.element("path", class_="tick", d=f"M{lamp_x} {y - 15}v-7", transform=s.turn(angle, lamp_x, y))
        for angle in (-90, -45, 0, 45, 90)
    )
    lamp = s.element("circle", id=f"{place.id}-lamp", class_="lamp", cx=lamp_x, cy=y, r=11) + s.element(
        "path", class_="tick", d=f"M{lamp_x - 7} {y - 7}l14 14m0 -14l-14 14"
    )
    running = s.element("path", class_="tick", d=f"M{x - 31} {y - 12}q-5 12 0 24M{x + 31} {y - 12}q5 12 0 24")
    return (
        shapes.dial(x, y, 26, f"{place.id}-speed")
        + s.group(running, id=f"{place.id}-runs", visibility="hidden")
        + s.group(rays, id=f"{place.id}-rays", visibility="hidden")
        + lamp
    )


def show_engine(layout: Layout, place: Place, outside: Outside) -> s.View:
    """Return engine speed, and how the panel's lamps burn."""
    x, y = place.box.x + 28.0, place.box.middle[1]
    turn = 2.0 * min(1.0, share(outside, "speed_rpm") / _FULL_SCALE_RPM) - 1.0
    lamps = str(outside.get("battery_lamps", "off")) if outside.get("key_on") else "off"
    return {
        f"{place.id}-speed": {"transform": s.turn(turn * SWEEP_DEG, x, y)},
        f"{place.id}-runs": s.shown(outside.get("engine") == "running"),
        f"{place.id}-lamp": {"class": f"lamp {lamps}"},
        f"{place.id}-rays": s.shown(lamps == "bright"),
    }


ENGINE_SIDE_PARTS: Mapping[str, tuple[Draw, Show]] = {
    "injector": (draw_injector, show_injector),
    "stop_lever": (draw_stop_lever, show_stop_lever),
    "stop_solenoid": (draw_stop_solenoid, show_nothing),
    "preheat": (draw_preheat, show_nothing),
    "exhaust": (draw_exhaust, show_exhaust),
    "battery": (draw_battery, show_battery),
    "starter": (draw_starter, show_starter),
    "hand_start": (draw_hand_start, show_starter),
    "engine": (draw_engine, show_engine),
}
"""How each kind of part at the engine is drawn, and how it stands."""
