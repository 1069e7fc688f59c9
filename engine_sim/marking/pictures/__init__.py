"""Pictures for the feedback: the circuit as it was seen, the work against a good run, what was still possible."""

from engine_sim.marking.pictures.circuit import draw_circuit
from engine_sim.marking.pictures.possible import draw_possible
from engine_sim.marking.pictures.strip import draw_strip

__all__ = ["draw_circuit", "draw_possible", "draw_strip"]
