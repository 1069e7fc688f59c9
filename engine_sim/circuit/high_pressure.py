"""The high-pressure side, one line and injector a cylinder: does the pressure of a stroke open the injector?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from engine_sim.components import engine_figures as figures
from engine_sim.fluids import diesel_fuel
from engine_sim.fluids.formulas import injection_line_pressure_pa
from engine_sim.sources import FROM_MEMORY, SourcedValue

_MOST_AIR = SourcedValue(0.95, "1", FROM_MEMORY, "share of a line beyond which more air changes nothing").value


@dataclass(slots=True)
class InjectionLine:
    """One line: the air in it (at ambient pressure) [m3], its share of water, its union nut, what it last did."""

    air_m3: float = 0.0
    water_share: float = 0.0
    nut_slack: bool = False
    injects: bool = True

    def judge(self, air_share: float, ambient_pa: float) -> float:
        """Decide whether a full stroke of fuel with this share of air opens the injector; return its pressure [Pa]."""
        stroke = figures.PLUNGER_STROKE_M3
        air = min(self.air_m3 + air_share * stroke, _MOST_AIR * figures.LINE_VOLUME_M3)
        peak = injection_line_pressure_pa(
            figures.LINE_VOLUME_M3, air, stroke, diesel_fuel.BULK_MODULUS.value, ambient_pa
        )
        self.injects = not self.nut_slack and peak >= figures.OPENING_PRESSURE_PA
        return peak

    def take(self, strokes: float, stroke_m3: float, air_share: float, water_share: float, peak_pa: float) -> None:
        """Carry on the line's contents over ``strokes`` of ``stroke_m3`` each."""
        if self.injects or self.nut_slack:
            stays = math.exp(-strokes * stroke_m3 / figures.LINE_VOLUME_M3)
            arriving = air_share * figures.LINE_VOLUME_M3
            self.air_m3 = arriving + (self.air_m3 - arriving) * stays
            self.water_share = water_share + (self.water_share - water_share) * stays
        else:
            share = min(1.0, peak_pa / figures.OPENING_PRESSURE_PA)
            self.air_m3 *= math.exp(-strokes * figures.DISSOLVED_PER_STROKE * share)

    def burns(self) -> float:
        """Return which share of its fuel burns, 1 for clean fuel, 0 for too much water."""
        over = self.water_share - figures.MISFIRE_FROM_WATER
        return min(1.0, max(0.0, 1.0 - over / (figures.MISFIRE_AT_WATER - figures.MISFIRE_FROM_WATER)))
