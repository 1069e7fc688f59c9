"""What turns the engine: the electric starter, or a starting handle with a lever that lifts a valve."""

from __future__ import annotations

from engine_sim.components.component import ComponentKind
from engine_sim.components.engine import add_nothing
from engine_sim.components.geometry import remembered

KIND = ComponentKind(
    name="starter",
    purpose="turns the engine so that it can fire; made for short turns with rests between them",
    parameters=(
        remembered("resistance_ohm", 0.015, "ohm", 1e-3, 0.2, "of its windings and brushes"),
        remembered("volts_per_rpm", 0.0351, "V min", 1e-3, 0.5, "voltage that it makes itself, by the engine's speed"),
        remembered("efficiency", 0.76, "1", 0.2, 1.0, "share of its torque that reaches the crankshaft"),
        remembered("pull_in_v", 7.5, "V", 4.0, 10.0, "at which its solenoid pulls in"),
        remembered("hold_v", 5.0, "V", 1.0, 8.0, "below which its solenoid lets go"),
        remembered("heat_j_per_k", 250.0, "J/K", 20.0, 5e3, "heat that warms its windings by 1 K"),
        remembered("cooling_s", 150.0, "s", 10.0, 3600.0, "time in which its windings cool"),
        remembered("burns_at_k", 473.15, "K", 380.0, 700.0, "at which its windings burn"),
    ),
    ports=(),
    build=add_nothing,
)
