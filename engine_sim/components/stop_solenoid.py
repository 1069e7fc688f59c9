"""The stop solenoid: the injection pump delivers only while current holds it."""

from __future__ import annotations

from engine_sim.components.component import ComponentKind
from engine_sim.components.engine import add_nothing
from engine_sim.components.geometry import remembered

KIND = ComponentKind(
    name="stop_solenoid",
    purpose="lets the injection pump deliver only while current holds it; it clicks when the key is turned on",
    parameters=(
        remembered("pull_in_v", 8.0, "V", 4.0, 11.0, "at which it pulls in"),
        remembered("hold_v", 5.0, "V", 1.0, 9.0, "below which it lets go"),
        remembered("current_a", 1.5, "A", 0.1, 10.0, "that holds it"),
    ),
    ports=(),
    build=add_nothing,
)
