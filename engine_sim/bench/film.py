"""A timed action as a short film: what changes on the drawing, moment by moment, played faster than it takes."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise

from engine_sim.attempt import Glimpse
from engine_sim.drawing import View, changed
from engine_sim.units import clock_text

LEAST_MS, PER_SECOND_MS, MOST_MS = 600.0, 60.0, 4500.0
"""How long a film is [ms]: so much, and so much for each second that the action takes, up to the most."""
STROKE_MS = 170.0
"""How long half a stroke of the hand lever is shown [ms]."""

Frame = list[object]
"""Moment from the film's start [ms], what changes on the drawing then, and the clock in words."""
Draw = Callable[[Mapping[str, object], Glimpse], View]
"""Returns the drawing's attributes for what was seen at a glimpse."""


def frames_of(glimpses: Sequence[Glimpse], began_s: float, before: View, draw: Draw) -> list[Frame]:
    """Return the frames of an action begun at ``began_s`` [s], each with what changes; none where nothing moves."""
    if not glimpses or glimpses[-1].clock_s - began_s <= 0.0:
        return []
    span_s = glimpses[-1].clock_s - began_s
    length_ms = min(MOST_MS, LEAST_MS + PER_SECOND_MS * span_s)
    shown = [{name: value for name, value in before.items() if name != "desc"}]
    moments: list[tuple[float, Glimpse, View]] = []
    for glimpse in glimpses:
        at_ms = length_ms * (glimpse.clock_s - began_s) / span_s
        since_ms = moments[-1][0] if moments else 0.0
        levers = bool(glimpse.seen.get("levering"))
        strokes = max(1, round((at_ms - since_ms) / STROKE_MS)) if levers else 1
        for stroke in range(strokes):
            when = since_ms + (at_ms - since_ms) * (stroke + 1) / strokes
            up = levers and int(when / STROKE_MS) % 2 == 0
            view = draw({**glimpse.seen, "lever_up": up}, glimpse)
            moments.append((when, glimpse, {name: value for name, value in view.items() if name != "desc"}))
    shown += [view for _, _, view in moments]
    found: list[Frame] = [
        [round(when), changed(old, new), clock_text(glimpse.clock_s)]
        for (when, glimpse, _), (old, new) in zip(moments, pairwise(shown), strict=True)
    ]
    return found if any(frame[1] for frame in found) else []
