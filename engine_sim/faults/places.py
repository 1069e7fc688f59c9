"""Where in a layout a fault can sit: its parts with their kinds, and the links and hoses that belong to a part."""

from __future__ import annotations

import itertools

from engine_sim.circuit.layout import Layout
from engine_sim.components import LinkKind, LinkSpec

JOINT, INJECTOR, RETURN_LINE = "joint", "injector", "return_line"
"""Kinds of place that are no component of their own: a hose's joint, a cylinder's injector, the hose back."""

_HOSE = "hose"


def places_of(layout: Layout) -> tuple[tuple[str, str], ...]:
    """Return the parts where faults can sit with their kinds, in the order of the layout's file."""
    found: list[tuple[str, str]] = []
    for part, kind in layout.kinds.items():
        if kind == _HOSE:
            found += [(joint, JOINT) for joint, (hose, _) in layout.joints.items() if hose == part]
            found += [(part, RETURN_LINE)] if is_return_line(layout, part) else []
        else:
            found.append((part, kind))
        if kind == "engine":
            cylinders = int(layout.figures[part]["cylinders"])
            found += [(f"injector_{number}", INJECTOR) for number in range(1, cylinders + 1)]
    return tuple(found)


def is_return_line(layout: Layout, hose: str) -> bool:
    """Tell whether a hose leads away from an injection pump's overflow."""
    overflows = [link for link in layout.blueprint.links if link.id.endswith(".overflow") and link.b is not None]
    return any(part_of(layout, link.b.volume) == hose for link in overflows if link.b is not None)


def part_of(layout: Layout, volume: str) -> str:
    """Return the part that a volume belongs to."""
    return next(item.part for item in layout.blueprint.volumes if item.id == volume)


def has_link(layout: Layout, link: str) -> bool:
    """Tell whether a layout has a link of that name."""
    return any(item.id == link for item in layout.blueprint.links)


def way_at(layout: Layout, port: str) -> LinkSpec | None:
    """Return the link that is made up at a port, or None: ``tank.pick_up``, ``separator.inlet``."""
    spec = layout.blueprint.ports[port]
    ways = [link for link in layout.blueprint.links if link.b is not None and spec in (link.a, link.b)]
    return next((link for link in ways if link.opening > 0.0), None)


def way_along(layout: Layout, hose: str) -> str:
    """Return the id of the link that stands for a hose's bore: between its pieces, or at its end if it is one piece."""
    pieces = [volume.id for volume in layout.blueprint.volumes if volume.part == hose]
    ways = [
        link
        for link in layout.blueprint.links
        if link.b is not None and link.kind is LinkKind.PASSIVE and link.opening > 0.0
        if pieces[-1] in (link.a.volume, link.b.volume)
    ]
    inner = [link.id for link in ways if link.b is not None and {link.a.volume, link.b.volume} <= set(pieces)]
    return inner[-1] if inner else ways[-1].id


def outlet_of(layout: Layout, hose: str) -> str:
    """Return the id of the link by which a hose gives into the next part as the boat lies."""
    last = [volume.id for volume in layout.blueprint.volumes if volume.part == hose][-1]
    return next(
        link.id
        for link in layout.blueprint.links
        if link.b is not None and link.a.volume == last and link.opening > 0.0
    )


def pieces_before(layout: Layout, port: str) -> tuple[str, ...]:
    """Return the pieces of hose through which fuel comes to a port, the nearest first."""
    here, way = layout.blueprint.ports[port].volume, way_at(layout, port)
    found: list[str] = []
    while way is not None and way.b is not None:
        here = way.a.volume if way.b.volume == here else way.b.volume
        if layout.kinds[part_of(layout, here)] != _HOSE:
            break
        found.append(here)
        way = _onward(layout, here, way)
    return tuple(found)


def _onward(layout: Layout, volume: str, come_by: LinkSpec) -> LinkSpec | None:
    """Return the made-up link by which a hose piece goes on from the one come by."""
    for link in layout.blueprint.links:
        other = link.b is not None and link.id != come_by.id and link.opening > 0.0
        if other and link.b is not None and volume in (link.a.volume, link.b.volume):
            return link
    return None


def tank_behind(layout: Layout, link: str) -> str:
    """Return the tank from which fuel comes to a link."""
    way: LinkSpec | None = next(item for item in layout.blueprint.links if item.id == link)
    here = way.a.volume if way is not None else ""
    while way is not None and layout.kinds[part_of(layout, here)] not in ("tank", "fuel_can"):
        way = _onward(layout, here, way)
        if way is not None and way.b is not None:
            here = way.a.volume if way.b.volume == here else way.b.volume
    return part_of(layout, here)


def volume_share(layout: Layout, vessel: str, height_share: float) -> float:
    """Return the share of a vessel's volume that lies under a share of its height."""
    table = next(item.level_table for item in layout.blueprint.volumes if item.id == vessel)
    for (low, less), (high, more) in itertools.pairwise(table):
        if height_share <= high:
            return less + (more - less) * max(0.0, height_share - low) / (high - low)
    return height_share
