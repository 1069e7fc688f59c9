"""The starting handle: with a valve lifted the engine spins up, then the lever is dropped and the flywheel does it."""

from __future__ import annotations

from engine_sim.components.component import ComponentKind
from engine_sim.components.engine import add_nothing
from engine_sim.components.geometry import remembered

KIND = ComponentKind(
    name="hand_start",
    purpose="turns the engine by hand; a lever lifts the valve so that it spins freely at first",
    parameters=(
        remembered("arm_rpm", 140.0, "1/min", 40.0, 250.0, "as fast as an arm goes round"),
        remembered("arm_power_w", 250.0, "W", 50.0, 600.0, "what an arm gives for some seconds"),
        remembered("arm_torque_n_m", 60.0, "N m", 10.0, 200.0, "what an arm holds against a compression"),
        remembered("spin_up_s", 3.0, "s", 0.5, 20.0, "time until it spins"),
        remembered("coast_s", 2.0, "s", 0.5, 20.0, "time after dropping the lever before one begins again"),
        remembered("catches_s", 0.3, "s", 0.05, 5.0, "firing before it runs by itself: the first compression or two"),
    ),
    ports=(),
    build=add_nothing,
)
