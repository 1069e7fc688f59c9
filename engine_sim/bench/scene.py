"""The drawing of the boat that is being worked on: its skeleton, how it stands now, and the film of an action."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from engine_sim.attempt import Attempt, Glimpse, Step, VolumeXRay
from engine_sim.bench import panel, words
from engine_sim.bench.film import Frame, frames_of
from engine_sim.drawing import Drawing, View
from engine_sim.scenarios.scenario import layout_of

Volumes = Mapping[str, VolumeXRay] | None


def drawing_of(layout: str) -> Drawing:
    """Return the drawing of the boat with a layout."""
    return layout_of(layout).drawing


def skeleton(attempt: Attempt) -> str:
    """Return the drawing; it has an x-ray layer only where the scenario permits one."""
    counts = tuple(panel.piece_counts(attempt).items()) if attempt.scenario.permits_xray else None
    return _skeleton(attempt.scenario.layout, attempt.scenario.title, counts)


@lru_cache(maxsize=16)
def _skeleton(layout: str, title: str, counts: tuple[tuple[str, int], ...] | None) -> str:
    return drawing_of(layout).skeleton(title, dict(counts) if counts is not None else None)


def now(attempt: Attempt, xray_on: bool) -> View:
    """Return the attributes of the drawing as things stand."""
    volumes = attempt.xray().volumes if attempt.scenario.permits_xray and xray_on else None
    return _drawn(attempt, attempt.outside() if volumes else panel.seen_so_far(attempt), volumes, xray_on)


def filmed(attempt: Attempt, part: str, action: str, xray_on: bool) -> tuple[Step, list[Frame]]:
    """Do an action; return its step and the film of it."""
    before, began_s, by_then = now(attempt, xray_on), attempt.clock_s, panel.known(attempt)
    step, glimpses = attempt.act_watched(part, action)

    def draw(seen: Mapping[str, object], glimpse: Glimpse) -> View:
        inside = xray_on and attempt.scenario.permits_xray
        return _drawn(attempt, seen if inside else panel.as_known(attempt, seen, by_then), glimpse.volumes, xray_on)

    return step, frames_of(glimpses, began_s, before, draw)


def _drawn(attempt: Attempt, outside: Mapping[str, object], volumes: Volumes, xray_on: bool) -> View:
    """Return the drawing's attributes for what is seen, with what is inside where that is switched on."""
    sheet = drawing_of(attempt.scenario.layout)
    seen = sheet.view(outside, words.describe(sheet.layout, outside))
    if attempt.scenario.permits_xray:
        inside = sheet.insides(panel.piece_counts(attempt))
        seen |= inside.view(volumes if xray_on else None, bool(outside.get("can_in_use")))
    return seen
