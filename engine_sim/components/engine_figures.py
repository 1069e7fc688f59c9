"""Figures that do not belong to one part of a boat: usual speeds, and how fast a hand works the lever."""

from __future__ import annotations

from engine_sim.sources import COMMON_PRACTICE, SourcedValue

IDLE_SPEED_RPM = SourcedValue(850.0, "1/min", COMMON_PRACTICE).value
CRUISE_SPEED_RPM = SourcedValue(2000.0, "1/min", COMMON_PRACTICE).value
LEVER_STROKES_PER_S = SourcedValue(1.0, "1/s", COMMON_PRACTICE, "full, slow strokes of the hand lever").value
