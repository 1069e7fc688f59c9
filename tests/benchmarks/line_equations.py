"""The leaking line of ``transients.py`` once more, cut into pieces as the circuit cuts it, as arrays for ``solve_ivp``.

The same equations as the circuit solves (each piece a mixture, each way between two the donor's mixture, bubbles that
rise, an orifice at the head), written independently and as compiled array operations, so that the two are compared as
solvers. Quantities: the pressure [Pa] of each piece, then the air [kg] of each piece.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from transients import BORE_M, DISCHARGE, GAS, LIFT_M, LINE_AREA_M2, LINE_M, LINE_M3, MU, P0, RHO, RHO_AIR, G

from engine_sim.circuit import Fluids
from engine_sim.circuit.transport import BUBBLE_RISE_M_PER_S
from engine_sim.fluids import air

SUMMER_K = 293.15
MU_AIR = air.dynamic_viscosity_pa_s(SUMMER_K)
GIVE_1_PER_PA = 1e-8 + Fluids.at(SUMMER_K).liquid_compressibility_1_per_pa
MOST_CALLS = 100_000
Numbers = NDArray[np.float64]


class Laborious(ArithmeticError):
    """A method asks for the rates so often that it is out of the running."""


class LineEquations:
    """A line of so many pieces above an open tank, with a hole [m2] at its head."""

    def __init__(self, pieces: int, hole_m2: float) -> None:
        self.pieces, self.hole_m2, self.calls = pieces, hole_m2, 0
        self.space = LINE_M3 / pieces
        self.give = GIVE_1_PER_PA * self.space
        self.rise_m = LIFT_M / pieces
        self.half = 128.0 * (LINE_M / pieces / 2.0) / (np.pi * BORE_M**4)
        slope = LIFT_M / LINE_M
        self.bubbles = BUBBLE_RISE_M_PER_S * LINE_AREA_M2 * slope

    def start(self) -> Numbers:
        """Return the line full but for a bubble at its head."""
        air_kg = np.zeros(self.pieces)
        air_kg[-1] = 1e-3 * LINE_M3 * RHO_AIR
        return np.concatenate([np.full(self.pieces, P0), air_kg])

    def fuel_m3(self, now: Numbers) -> Numbers:
        """Return the fuel of each piece: its space with what its wall gives, less the air."""
        pressure, air_kg = now[: self.pieces], now[self.pieces :]
        return self.space + self.give * (pressure - P0) - air_kg * GAS / pressure

    def rates(self, _time: float, now: Numbers) -> Numbers:
        """Return the rates of change of all quantities."""
        self.calls += 1
        if self.calls > MOST_CALLS:
            raise Laborious
        pressure, air_kg = now[: self.pieces], now[self.pieces :]
        gas, fuel = air_kg * GAS / pressure, self.fuel_m3(now)
        share = fuel / (fuel + gas)
        weight = share * RHO * G * self.rise_m / 2.0
        viscosity = share * MU + (1.0 - share) * MU_AIR
        flow = self._flows(pressure, weight, viscosity)
        up = flow > 0.0
        donor_share = np.where(up, np.append(1.0, share[:-1]), share)
        donor_pressure = np.where(up, np.append(P0, pressure[:-1]), pressure)
        fuel_flow, air_flow = flow * donor_share, flow * (1.0 - donor_share) * donor_pressure / GAS
        swap = self.bubbles * (1.0 - share[:-1]) * share[1:]
        fuel_flow[1:] -= swap
        air_flow[1:] += swap * pressure[:-1] / GAS
        drop = P0 - pressure[-1] + weight[-1]
        leak = RHO_AIR * DISCHARGE * self.hole_m2 * np.sign(drop) * np.sqrt(2.0 * abs(drop) / RHO_AIR)
        fuel_rate = fuel_flow - np.append(fuel_flow[1:], 0.0)
        air_rate = air_flow - np.append(air_flow[1:], -leak)
        squeezed = (fuel_rate + GAS * air_rate / pressure) / (self.give + gas / pressure)
        return np.concatenate([squeezed, air_rate])

    def _flows(self, pressure: Numbers, weight: Numbers, viscosity: Numbers) -> Numbers:
        """Return the flow into each piece from below [m3/s]; the first comes from the tank."""
        below = np.append(P0, pressure[:-1] - weight[:-1])
        drop = below - (pressure + weight)
        ways = np.append(self.half, np.full(self.pieces - 1, 2.0 * self.half))
        donor = np.where(drop > 0.0, np.append(MU, viscosity[:-1]), viscosity)
        return drop / (ways * donor)
