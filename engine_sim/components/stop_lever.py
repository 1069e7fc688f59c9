"""The stop control: a pull that shuts the injection pump off."""

from __future__ import annotations

from engine_sim.components.component import ComponentKind
from engine_sim.components.engine import add_nothing

KIND = ComponentKind(
    name="stop_lever",
    purpose="pulled out it shuts the fuel off at the injection pump, and the engine stops",
    parameters=(),
    ports=(),
    build=add_nothing,
)
