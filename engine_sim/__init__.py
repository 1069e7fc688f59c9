"""A small marine diesel's fuel system by physics: play an exercise, find the fault, cure it."""

from engine_sim.version import SIMULATOR_VERSION

__all__ = ["SIMULATOR_VERSION"]
