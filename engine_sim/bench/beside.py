"""What stands beside the fuel's way on the drawing: exhaust, glow plugs, the fuel can, and hoses that are led away."""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.bench import geometry as g
from engine_sim.bench import symbols as s

_HOSE_KIND = {g.CAN_HOSE_AT_PUMP: "hose"}


def exhaust() -> str:
    """Return silencer and outlet above the waterline, and the seacock with its handle below it."""
    gas = s.element("path", class_="pipe clear", d="M821 156H844M866 136V84H896")
    silencer = s.rect(g.Box(842, 134, 48, 42), class_="vessel", rx=6) + s.element(
        "path", class_="tick", d="M850 164q4 -5 8 0t8 0t8 0t8 0"
    )
    cooling = s.element("path", class_="pipe", d="M896 236H821")
    body = s.element("path", id="seacock-body", class_="valve open", d="M842 222V250L882 222V250Z")
    lever = s.group(
        s.element("path", class_="lever-edge", d="M862 236H890"),
        s.element("path", class_="lever", d="M862 236H890"),
        s.element("circle", class_="pivot", cx=862, cy=236, r=6),
        id="seacock-lever",
    )
    return gas + silencer + cooling + body + lever


def glow_plugs() -> str:
    """Return a glow plug: its terminal, its stem, and the coil that heats."""
    stem = s.element("path", class_="symbol", d="M718 226H736V244H718Z") + s.element(
        "path", class_="stem", d="M727 226V218"
    )
    coil = s.element("path", class_="tick", d="M727 244L720 249L734 254L720 259L734 264L727 268")
    return stem + coil


def can() -> str:
    """Return the fuel can with its cap and lashing; its hose stands by with an open end."""
    body = s.rect(g.CAN_BODY, class_="vessel", rx=10)
    cap = s.element("path", id="can-cap", class_="screw seated", d="M488 426H506V436H488Z")
    lashing = s.element("path", id="can-lashing", class_="stem", visibility="hidden", d="M476 480H572M524 436V498")
    return body + lashing + cap


def led_away() -> str:
    """Return what is drawn only while a hose lies elsewhere: the gap that it leaves, where it goes, and the jar."""
    jar = s.element("path", class_="symbol", d="M118 372V410Q118 416 124 416H146Q152 416 152 410V372")
    return (
        s.group(_gap(g.PUMP_HOSE_OFF), _hose(g.CAN_HOSE_AT_PUMP), id="can-at-pump", visibility="hidden")
        + s.group(_gap(g.RETURN_OFF), id="return-off", visibility="hidden")
        + s.group(jar, _hose(g.RETURN_TO_JAR), id="return-to-jar", visibility="hidden")
        + s.group(_hose(g.RETURN_TO_CAN), id="return-to-can", visibility="hidden")
    )


def _hose(points: g.Polyline) -> str:
    return s.hose(points, _HOSE_KIND.get(points, "thin"))


def _gap(points: g.Polyline) -> str:
    return s.line(points, class_="gap")


def view(outside: Mapping[str, object]) -> s.View:
    """Return the attributes of all this for what a person standing there sees."""
    is_open, where = bool(outside["seacock_open"]), str(outside["return_to"])
    return {
        "seacock-body": {"class": "valve open" if is_open else "valve shut"},
        "seacock-lever": {"transform": s.turn(0 if is_open else -90, 862, 236)},
        "can-cap": {
            "transform": "translate(0 -5)" if outside["can_cap_open"] else "translate(0 0)",
            "class": f"screw {'loose' if outside['can_cap_open'] else 'seated'}",
        },
        "can-lashing": _shown(bool(outside["can_lashed"])),
        "can-at-pump": _shown(bool(outside["can_in_use"])),
        "return-off": _shown(where != "tank"),
        "return-to-jar": _shown(where == "jar"),
        "return-to-can": _shown(where == "can"),
    }


def _shown(visible: bool) -> s.Attributes:
    return {"visibility": "visible" if visible else "hidden"}
