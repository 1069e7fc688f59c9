"""The parts of a fuel system, each declared as data."""

from engine_sim.components.blueprint import (
    Blueprint,
    ElementSpec,
    LinkKind,
    LinkSpec,
    PortSpec,
    ThroughSpec,
    VolumeSpec,
)
from engine_sim.components.component import ComponentKind, Parameter
from engine_sim.components.describe import describe_kind
from engine_sim.components.register import component_kind, component_kinds

__all__ = [
    "Blueprint",
    "ComponentKind",
    "ElementSpec",
    "LinkKind",
    "LinkSpec",
    "Parameter",
    "PortSpec",
    "ThroughSpec",
    "VolumeSpec",
    "component_kind",
    "component_kinds",
    "describe_kind",
]
