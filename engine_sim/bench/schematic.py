"""The drawing of the one layout: a skeleton that never changes, and the attributes that follow what is seen."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Mapping
from importlib.resources import files

from engine_sim.bench import beside, inside
from engine_sim.bench import geometry as g
from engine_sim.bench import symbols as s
from engine_sim.bench.words import SIGHTS

_SVG = "http://www.w3.org/2000/svg"
_LABEL_LINE = 20
_GAUGE_SWEEP_DEG = 100.0
_FULL_SCALE_RPM = 4000.0
_SCREWS = {
    "separator-vent": "separator_vent_open",
    "separator-drain": "separator_drain_open",
    "fine-filter-screw": "fine_filter_screw_open",
    "fine-filter-outlet-screw": "fine_filter_outlet_screw_open",
    "injection-pump-screw": "injection_pump_screw_open",
}

_CAP_MOVES = {"cracked": "translate(0 -6)", "off": "translate(26 -14)"}
_HOUSINGS = {"separator": "separator", "fine_filter": "fine-filter"}


def skeleton(title: str, piece_counts: Mapping[str, int] | None = None) -> str:
    """Return the drawing with every id the view speaks of.

    ``piece_counts`` says in how many pieces each hose is shown in x-ray; without it there is no x-ray layer at all.
    """
    head = (
        s.text_element("title", title, id="title")
        + s.text_element("desc", SIGHTS["desc_start"], id="desc")
        + s.element("style", files("engine_sim.bench").joinpath("drawing.css").read_text(encoding="utf-8"))
        + _definitions()
    )
    hose_inside, vessels_inside = (inside.hose_layer(piece_counts), inside.vessel_layer()) if piece_counts else ("", "")
    back = (_boat(), _engine(), _lines(), hose_inside, _tank_side(), _filters(), _pumps(), _electric(), _around())
    more = (beside.exhaust(), beside.glow_plugs(), beside.can())
    front = (vessels_inside, beside.led_away(), _tank_gauge(), _wet_marks())
    content = "".join((head, *back, *more, *front))
    return (
        f'<svg xmlns="{_SVG}" class="fb-svg" viewBox="0 0 {g.WIDTH} {g.HEIGHT}" '
        f'role="img" aria-labelledby="title desc">{content}</svg>'
    )


def _definitions() -> str:
    waves = s.element(
        "pattern",
        s.element("rect", class_="water-flat", width=16, height=10)
        + s.element("path", class_="wave", d="M0 5q4 -5 8 0t8 0"),
        id="waves",
        width=16,
        height=10,
        patternUnits="userSpaceOnUse",
    )
    return s.element("defs", waves)


def _boat() -> str:
    hull = s.element("path", class_="hull", d="M3 14V506Q3 553 50 553H851Q898 553 898 506V14")
    water = s.element("path", class_="waterline", d=f"M8 {g.WATERLINE_Y}H424M870 {g.WATERLINE_Y}H894")
    return hull + water + s.text_element("text", SIGHTS["waterline"], class_="small", x=122, y=g.WATERLINE_Y - 8)


def _lines() -> str:
    high = "".join(
        s.line(points, class_="thin-wall") + s.line(points, class_="thin-body") for points in g.HIGH_PRESSURE_LINES
    )
    outside = {"suction_hose": ((200, 418), *g.SUCTION_HOSE[1:])}
    hoses = "".join(
        s.hose(outside.get(name, points), "thin" if name == "return_line" else "hose")
        for name, points in g.HOSES.items()
        if name != "pick_up"
    )
    return s.hose(g.LEAK_OFF, "thin") + hoses + high


def _engine() -> str:
    block = s.element("path", class_="block", d="M592 136H821V420H644V316H592Z")
    running = s.element(
        "path", id="running", class_="stem", visibility="hidden", d="M652 322q-6 6 -6 14M728 322q6 6 6 14"
    )
    dial = s.dial(690, 348, 34, "tach")
    return block + dial + running


def _tank_side() -> str:
    filler = s.element("path", class_="pipe", d="M62 418V130") + s.element(
        "path", id="filler-cap", class_="filled", d="M46 122H78V132H46Z"
    )
    body = s.rect(g.TANK, class_="vessel", rx=10)
    return filler + body + s.valve(200, 376, "shut-off") + s.joint(285, 330)


def _tank_gauge() -> str:
    plate = s.rect(g.Box(80, 426, 104, 84), class_="plate", rx=8)
    marks = s.text_element("text", "E", class_="small", x=84, y=504) + s.text_element(
        "text", "F", class_="small", x=168, y=504
    )
    return plate + s.dial(132, 468, 38, "gauge") + marks + s.line(g.DIP_TUBE, class_="dashed")


def _filters() -> str:
    head = s.rect(g.Box(354, 308, 76, 44), class_="vessel")
    bowl = s.element("path", class_="glass", d="M364 352V424Q364 440 380 440H404Q420 440 420 424V352Z")
    content = inside.bowl()
    edge = s.element("path", class_="symbol clear", d="M364 352V424Q364 440 380 440H404Q420 440 420 424V352Z")
    drain = s.screw(392, 438, "separator-drain", s.turn(180, 392, 438))
    separator = s.group(s.filter_diamond(392, 330, 18), bowl, content, edge, drain, id="separator-body")
    filter_head = s.rect(g.Box(466, 136, 68, 28), class_="vessel")
    housing = s.rect(g.Box(472, 164, 56, 76), class_="vessel", rx=6)
    screws = s.screw(484, 138, "fine-filter-screw") + s.screw(517, 138, "fine-filter-outlet-screw")
    fine_filter = s.group(housing, s.filter_diamond(500, 202, 22), id="fine-filter-body")
    return head + separator + s.screw(392, 310, "separator-vent") + filter_head + fine_filter + screws


def _pumps() -> str:
    lever = s.element("path", class_="lever-edge", d="M602 348L632 362") + s.element(
        "path", class_="lever", d="M602 348L632 362"
    )
    lift = s.pump_circle(580, 330, 30, "up") + lever
    box = s.rect(g.Box(604, 205, 88, 80), class_="enclosure") + s.pump_circle(650, 232, 20, "up")
    nozzles = "".join(s.injector(x, i + 1) for i, x in enumerate(g.INJECTORS_X))
    return s.joint(493, 330) + lift + box + s.screw(604, 264, "injection-pump-screw", s.turn(-90, 604, 264)) + nozzles


def _electric() -> str:
    cable = s.element("path", class_="cable", d="M800 352H809V410M809 434V470") + s.element(
        "path", id="isolator", class_="cable", d="M809 434V410"
    )
    starter = s.element("circle", class_="symbol", cx=772, cy=352, r=28) + s.text_element(
        "text", "M", class_="reading", x=772, y=359
    )
    battery = s.rect(g.Box(812, 440, 76, 60), class_="vessel", rx=4) + s.element(
        "path", class_="stem", d="M818 470H836M836 452V488M846 462V478M856 452V488M866 462V478M866 470H882"
    )
    rays = "".join(
        s.element("path", class_="stem", d="M856 403v-8", transform=s.turn(angle, 856, 418))
        for angle in range(-90, 91, 45)
    )
    lamp = s.element("circle", id="lamp", class_="lamp", cx=856, cy=418, r=13) + s.element(
        "path", class_="tick", d="M847 409L865 427M865 409L847 427"
    )
    stop = s.element("path", class_="cable", d="M692 280H836") + s.element(
        "path", class_="filled", d="M836 264H844V296H836Z"
    )
    knob = s.group(
        s.element("path", class_="stem", d="M808 280H860"),
        s.element("rect", class_="knob", x=852, y=264, width=12, height=32, rx=5),
        id="stop-knob",
    )
    return cable + starter + battery + s.group(rays, id="lamp-rays", visibility="hidden") + lamp + stop + knob


def _around() -> str:
    ghost = s.element("path", class_="dashed", id="tray-place", d="M592 476L602 504H750L760 476")
    tray = s.element("path", class_="tray", id="tray", visibility="hidden", d="M590 474L602 504H750L762 474")
    spill = s.element("path", class_="spill", id="spill", visibility="hidden", d="M630 500q14 -12 40 -9q40 -6 52 9Z")
    return ghost + spill + tray


def _wet_marks() -> str:
    return "".join(s.drop(x, y, wet_id(part)) for part, (x, y) in g.WET_MARKS.items())


def wet_id(part: str) -> str:
    """Return the id of the mark that shows a part wet."""
    return f"wet-{part}"


def view(outside: Mapping[str, object], description: str) -> s.View:
    """Return the attributes of the drawing for what a person standing there sees.

    ``outside`` is what :meth:`Attempt.outside` gives; ``description`` says the same in words.
    """
    wet = _names(outside["weeping"])
    seen = _valves(outside) | _gauges(outside) | inside.bowl_view(outside) | _tray(outside) | beside.view(outside)
    seen |= {wet_id(part): _shown(part in wet) for part in g.WET_MARKS}
    seen["desc"] = {"text": description}
    return seen


def _valves(outside: Mapping[str, object]) -> s.View:
    is_open, apart = bool(outside["shut_off_open"]), _names(outside["taken_apart"])
    seen: s.View = {
        "shut-off-body": {"class": "valve open" if is_open else "valve shut"},
        "shut-off-lever": {"transform": s.turn(0 if is_open else 90, 200, 376)},
        "filler-cap": {"transform": _CAP_MOVES.get(str(outside["filler_cap"]), "translate(0 0)")},
        "isolator": {"transform": s.turn(0 if outside["battery_connected"] else 40, 809, 434)},
        **{f"{name}-body": _shown(part not in apart) for part, name in _HOUSINGS.items()},
        "stop-knob": {"transform": "translate(26 0)" if outside["stop_control_pulled"] else "translate(0 0)"},
    }
    for name, key in _SCREWS.items():
        seen[name] = _loose(bool(outside[key]), "translate(0 -9)")
    nuts = outside["union_nuts_open"]
    for number, loose in enumerate(nuts if isinstance(nuts, (tuple, list)) else (), start=1):
        seen[f"nut-{number}"] = _loose(bool(loose), "translate(-7 0)")
    return seen


def _loose(loose: bool, moved: str) -> s.Attributes:
    shape = "nut" if "-7" in moved else "screw"
    return {"transform": moved if loose else "translate(0 0)", "class": f"{shape} {'loose' if loose else 'seated'}"}


def _gauges(outside: Mapping[str, object]) -> s.View:
    speed_rpm = _figure(outside["speed_rpm"])
    lamps = str(outside["battery_lamps"]) if outside["key_on"] else "off"
    running = outside["engine"] == "running"
    return {
        "gauge": {"transform": s.turn((2 * _figure(outside["gauge_reading"]) - 1) * _GAUGE_SWEEP_DEG, 132, 468)},
        "tach": {"transform": s.turn((2 * min(1.0, speed_rpm / _FULL_SCALE_RPM) - 1) * _GAUGE_SWEEP_DEG, 690, 348)},
        "running": _shown(running),
        "lamp": {"class": f"lamp {lamps}"},
        "lamp-rays": _shown(lamps == "bright"),
    }


def _tray(outside: Mapping[str, object]) -> s.View:
    laid = bool(outside["tray_laid"])
    return {"tray": _shown(laid), "tray-place": _shown(not laid), "spill": _shown(_figure(outside["spilled_ml"]) > 0)}


def _shown(visible: bool) -> s.Attributes:
    return {"visibility": "visible" if visible else "hidden"}


def _figure(value: object) -> float:
    return float(value) if isinstance(value, (int, float)) else 0.0


def _names(value: object) -> frozenset[str]:
    return frozenset(str(part) for part in value) if isinstance(value, (tuple, list, frozenset, set)) else frozenset()


def picture(drawing: str, seen: Mapping[str, s.Attributes], labels: Mapping[str, str]) -> str:
    """Return the drawing with the view and the labels of the parts written into it, for pages without the bench."""
    ET.register_namespace("", _SVG)
    root = ET.fromstring(drawing)
    for node in root.iter():
        for key, value in seen.get(node.get("id", ""), {}).items():
            if key == "text":
                node.text = value
            else:
                node.set(key, value)
    for spot in g.SPOTS:
        for number, text in enumerate(spot.split(labels.get(spot.part, ""))):
            written = ET.SubElement(root, f"{{{_SVG}}}text", {"class": "small", "text-anchor": spot.align})
            written.set("x", str(spot.label_x))
            written.set("y", str(spot.label_y + (number + 1) * _LABEL_LINE - 4))
            written.text = text
    return ET.tostring(root, encoding="unicode")
