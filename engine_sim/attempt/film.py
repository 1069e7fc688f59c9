"""Glimpses of an action while it goes on: what a person standing there sees, some moments apart."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from engine_sim.actions import Workplace
from engine_sim.actions.watching import comes_at
from engine_sim.actions.workplace import LinkSum, difference
from engine_sim.attempt.records import VolumeXRay
from engine_sim.attempt.views import outside, xray

MOST_GLIMPSES = 24


@dataclass(frozen=True, slots=True)
class Glimpse:
    """What was to be seen at ``clock_s`` [s], and what was inside where the scenario permits that to be shown.

    Beside what :func:`outside` tells, ``seen`` holds what moves: ``cranking``, ``levering``, and ``comes``, which maps
    each open screw, vent and tap to what comes there: ``fuel``, ``froth``, ``air``, ``water`` or ``nothing``.
    """

    clock_s: float
    seen: Mapping[str, object]
    volumes: Mapping[str, VolumeXRay] | None


class Film:
    """Takes glimpses while time passes, at most so many over the time that an action is expected to take [s]."""

    def __init__(self, place: Workplace, expected_s: float, permits_xray: bool) -> None:
        self.glimpses: list[Glimpse] = []
        self._place = place
        self._gap_s = max(0.2, expected_s / MOST_GLIMPSES)
        self._permits_xray = permits_xray
        self._last_s = place.rig.clock_s
        self._passed = self._reading()

    def _reading(self) -> dict[str, LinkSum]:
        place = self._place
        links = [f"{part}.{what}" for what, part in place.open_things()]
        return {link: place.rig.passed(link) for link in links if place.has_link(link)}

    def look(self, clock_s: float) -> None:
        """Take a glimpse, unless the last one is too short ago."""
        if clock_s - self._last_s < self._gap_s or len(self.glimpses) >= 4 * MOST_GLIMPSES:
            return
        self._last_s, before, self._passed = clock_s, self._passed, self._reading()
        rig = self._place.rig
        comes = {link: comes_at(difference(before.get(link, passed), passed)) for link, passed in self._passed.items()}
        moves: dict[str, object] = {
            "comes": comes,
            "cranking": rig.engine.cranking,
            "levering": rig.lever_strokes_per_s > 0.0,
        }
        if rig.engine.cranking:
            moves["smoke"] = rig.engine.smoke()
        inside = xray(self._place).volumes if self._permits_xray else None
        self.glimpses.append(Glimpse(clock_s, outside(self._place) | moves, inside))
