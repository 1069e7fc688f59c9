"""Diesel fuel, water and air, and the formulas of their flow; SI units throughout, absolute pressures."""

from engine_sim.fluids import air, diesel_fuel, formulas, water

__all__ = ["air", "diesel_fuel", "formulas", "water"]
