"""Glow plugs: they warm the chambers so that a cold engine fires."""

from __future__ import annotations

from engine_sim.components.component import ComponentKind
from engine_sim.components.engine import add_nothing
from engine_sim.components.geometry import remembered

KIND = ComponentKind(
    name="preheat",
    purpose="warms the cylinders before a cold start",
    parameters=(
        remembered("plug_a", 10.0, "A", 2.0, 30.0, "current of each plug at 12 V"),
        remembered("heating_s", 7.0, "s", 1.0, 60.0, "time in which a plug comes near its full heat"),
        remembered("cooling_s", 20.0, "s", 2.0, 120.0, "time in which it loses it again"),
        remembered("gain_k", 200.0, "K", 0.0, 500.0, "what a fully hot plug adds to the charge's temperature"),
        remembered("stem_rise_k", 60.0, "K", 0.0, 300.0, "how much warmer the outer end of a hot plug gets"),
        remembered("stem_s", 30.0, "s", 1.0, 300.0, "time in which its outer end warms and cools"),
    ),
    ports=(),
    build=add_nothing,
)
