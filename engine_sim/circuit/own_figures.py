"""Where the engine's side finds its figures: in the layout's parts, else the usual values of their kinds."""

from __future__ import annotations

from collections.abc import Mapping

from engine_sim.circuit.layout import Layout
from engine_sim.components import component_kind


def usual_figures(kind: str) -> Mapping[str, float]:
    """Return the usual figures of a kind of part."""
    return component_kind(kind).numbers(kind, {})


def figures_of(layout: Layout | None, kind: str) -> Mapping[str, float]:
    """Return the figures of a layout's first part of a kind, or the kind's usual ones where it has no such part."""
    parts = layout.parts_of(kind) if layout is not None else ()
    return layout.figures[parts[0]] if layout is not None and parts else usual_figures(kind)


def has_part(layout: Layout | None, kind: str) -> bool:
    """Tell whether a layout has a part of a kind."""
    return layout is not None and bool(layout.parts_of(kind))
