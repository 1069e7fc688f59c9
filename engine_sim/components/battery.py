"""The starter battery with its isolator and heavy cables."""

from __future__ import annotations

from engine_sim.components.component import ComponentKind
from engine_sim.components.engine import add_nothing
from engine_sim.components.geometry import remembered, usual

_STARTER = "US Army TM 10-3930-671-24: at most 0.2 V lost for each 100 A"

KIND = ComponentKind(
    name="battery",
    purpose="turns the starter; its isolator cuts it off",
    parameters=(
        usual("charge_a_s", 70.0 * 3600.0, "A s", 1e4, 4e6, "charge when full: 70 Ah"),
        usual("charge_share", 0.85, "1", 0.0, 1.0, "how full it is at the start, in use"),
        remembered("empty_v", 11.8, "V", 10.0, 12.5, "at rest, empty"),
        remembered("span_v", 0.9, "V", 0.1, 2.0, "at rest, from empty to full"),
        remembered("resistance_ohm", 0.008, "ohm", 1e-3, 0.1, "inner resistance when full"),
        remembered("tiring_ohm", 0.003, "ohm", 0.0, 0.1, "what it loses beyond that after some seconds of load"),
        remembered("tiring_s", 8.0, "s", 1.0, 60.0, "time in which the voltage sags under load"),
        remembered("recovery_s", 90.0, "s", 5.0, 1800.0, "time in which it comes back at rest"),
        usual("cable_ohm", 0.002, "ohm", 1e-4, 0.02, "heavy cables and their connections, sound", _STARTER),
        remembered("charging_a", 30.0, "A", 0.0, 120.0, "from the alternator while the engine runs"),
        remembered("charging_v", 14.2, "V", 13.0, 15.0, "at the posts while the engine runs"),
    ),
    ports=(),
    build=add_nothing,
)
