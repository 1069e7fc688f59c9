"""Which part leads to which on a boat, read from its layout's joins: what hoses run between, and at what heights."""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.circuit.layout import Layout

HOSE = "hose"
Way = tuple[str, str, str]
"""From a part, to a part, and the id of what sits between them: a part without a space of its own, or the join."""


def ways_of(layout: Layout) -> tuple[Way, ...]:
    """Return the ways from part to part, with what sits between."""
    blueprint = layout.blueprint
    owner = {volume.id: volume.part for volume in blueprint.volumes}
    found = ((owner[one.a.volume], owner[one.b.volume], one.id) for one in blueprint.links if one.b is not None)
    return tuple((start, end, way) for start, end, way in found if start != end)


def before(layout: Layout, hose: str) -> tuple[str, ...]:
    """Return what a hose begins at: the valve that sits at its start, else the part."""
    return tuple(way if way in layout.kinds else start for start, end, way in ways_of(layout) if end == hose)


def after(layout: Layout, hose: str) -> tuple[str, ...]:
    """Return what a hose ends at, the nearest first: the valve that sits at its end, else the part."""
    return tuple(way if way in layout.kinds else end for start, end, way in ways_of(layout) if start == hose)


def can_hoses(layout: Layout) -> tuple[str, ...]:
    """Return the hoses that begin in a fuel can."""
    cans = layout.parts_of("fuel_can")
    return tuple(hose for hose in layout.parts_of(HOSE) if any(start in cans for start in before(layout, hose)))


def port_height_m(layout: Layout, part: str) -> float | None:
    """Return at what height [m] fuel comes to a part, or leaves it where nothing comes; None where no hose tells."""
    figures: Mapping[str, Mapping[str, float]] = layout.figures
    hoses = [hose for hose in layout.parts_of(HOSE) if hose not in can_hoses(layout)]
    ends = [figures[hose]["end_height_m"] for hose in hoses if part in after(layout, hose)]
    starts = [figures[hose]["start_height_m"] for hose in hoses if part in before(layout, hose)]
    return next(iter((*ends, *starts)), None)
