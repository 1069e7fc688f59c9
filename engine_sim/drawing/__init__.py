"""How a boat is drawn: from its layout alone, after ISO 1219-1 and ISO 14617, with what a person there can see."""

from engine_sim.drawing.drawing import Drawing
from engine_sim.drawing.paper import on_paper
from engine_sim.drawing.svg import Attributes, View, changed

__all__ = ["Attributes", "Drawing", "View", "changed", "on_paper"]
