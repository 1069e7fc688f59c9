"""Diesel fuel, petrol, water, urea solution and air, and the formulas of their flow; SI units, absolute pressures."""

from engine_sim.fluids import air, diesel_fuel, dissolved_air, formulas, petrol, urea_solution, water, wax

__all__ = ["air", "diesel_fuel", "dissolved_air", "formulas", "petrol", "urea_solution", "water", "wax"]
