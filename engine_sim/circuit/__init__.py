"""The circuit: what it is made of, what it holds, how pressures, flows and contents change in time."""

from engine_sim.circuit.layout import Layout, layout_names, load_layout, load_layout_file, read_layout
from engine_sim.circuit.state import CircuitState, Fluids
from engine_sim.circuit.stepping import advance
from engine_sim.circuit.topology import Drives, Topology

__all__ = [
    "CircuitState",
    "Drives",
    "Fluids",
    "Layout",
    "Topology",
    "advance",
    "layout_names",
    "load_layout",
    "load_layout_file",
    "read_layout",
]
