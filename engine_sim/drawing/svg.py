"""SVG as text: elements, boxes, lines, and the attributes that change while somebody works."""

from __future__ import annotations

from collections.abc import Mapping
from xml.sax.saxutils import escape, quoteattr

from engine_sim.drawing.geometry import Box, Polyline, path


def element(tag: str, content: str = "", /, **attributes: object) -> str:
    """Return one SVG element; a trailing underscore is dropped and inner ones become hyphens."""
    written = "".join(
        f" {name.rstrip('_').replace('_', '-')}={quoteattr(_number(value))}" for name, value in attributes.items()
    )
    return f"<{tag}{written}>{content}</{tag}>" if content else f"<{tag}{written}/>"


def text_element(tag: str, text: str, /, **attributes: object) -> str:
    """Return one SVG element around escaped text."""
    return element(tag, escape(text), **attributes)


def _number(value: object) -> str:
    return f"{value:.5g}" if isinstance(value, float) else str(value)


def group(*content: str, **attributes: object) -> str:
    """Return an SVG group."""
    return element("g", "".join(content), **attributes)


def rect(box: Box, /, **attributes: object) -> str:
    """Return a rectangle."""
    return element("rect", x=box.x, y=box.y, width=box.width, height=box.height, **attributes)


def line(points: Polyline, /, **attributes: object) -> str:
    """Return an open path through the points."""
    return element("path", d=path(points), **attributes)


def hose(points: Polyline, kind: str = "hose") -> str:
    """Return a hose seen from outside: a wall and a body that shows nothing of what is inside."""
    return line(points, class_=f"{kind}-wall") + line(points, class_=f"{kind}-body")


def turn(angle: float, x: float, y: float) -> str:
    """Return the transform that turns something about a point [degrees, clockwise]."""
    return f"rotate({angle:.4g} {x:.5g} {y:.5g})"


def shown(visible: bool) -> Attributes:
    """Return the attribute that shows or hides something."""
    return {"visibility": "visible" if visible else "hidden"}


Attributes = dict[str, str]
View = dict[str, Attributes]


def changed(before: Mapping[str, Attributes], after: Mapping[str, Attributes]) -> View:
    """Return only those attributes that differ, so that little has to travel."""
    differing = {
        name: {key: value for key, value in attributes.items() if before.get(name, {}).get(key) != value}
        for name, attributes in after.items()
    }
    return {name: attributes for name, attributes in differing.items() if attributes}
