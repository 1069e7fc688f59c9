"""The wet exhaust: raw water pumped in while the engine turns, blown out while it fires, else backing up."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from engine_sim.circuit.own_figures import usual_figures
from engine_sim.fluids.formulas import sea_water_flow_m3_per_s
from engine_sim.sources import FROM_MEMORY, SourcedValue
from engine_sim.units import MINUTE_S

_GIVES_FROM = SourcedValue(0.3, "1", FROM_MEMORY, "share of its vanes with which an impeller still draws water").value


@dataclass(slots=True)
class Exhaust:
    """Silencer, seacock and impeller.

    ``silencer_m3`` is what of the free volume is filled, ``cylinders_m3`` what has run on into a cylinder, which locks
    from ``lock_m3`` on; ``opening`` is 1 as built, less where the outlet is blocked.
    """

    figures: Mapping[str, float] = field(default_factory=lambda: usual_figures("exhaust"))
    lock_m3: float = 0.0
    seacock_open: bool = True
    opening: float = 1.0
    impeller_share: float = 1.0
    silencer_m3: float = 0.0
    cylinders_m3: float = 0.0
    flow_m3_per_s: float = 0.0

    @property
    def back_pressure_pa(self) -> float:
        """What the gas loses in the open exhaust at the rated speed [Pa]."""
        return self.figures["back_pressure_pa"]

    @property
    def cylinders_flooded(self) -> bool:
        """Whether there is more water in a cylinder than the space that compression leaves: it locks."""
        return self.cylinders_m3 > self.lock_m3

    def silencer_share(self) -> float:
        """Return how full the silencer is, 0 to 1."""
        return self.silencer_m3 / self.figures["silencer_m3"]

    def raw_water_m3_per_s(self, speed_rpm: float) -> float:
        """Return what the raw-water pump delivers at a speed [1/min]: in proportion to it and to its vanes."""
        if not self.seacock_open or self.impeller_share < _GIVES_FROM:
            return 0.0
        full = sea_water_flow_m3_per_s(self.figures["water_m3_per_s"], self.figures["water_rpm"], speed_rpm)
        return full * self.impeller_share

    def follow(self, speed_rpm: float, fires: bool, step_s: float) -> None:
        """Pump water for a step [s] at a speed [1/min]; ``fires`` tells whether gas lifts it out."""
        if speed_rpm <= 0.0:
            self.flow_m3_per_s = 0.0
            return
        pumped = self.raw_water_m3_per_s(speed_rpm)
        if not self.seacock_open:
            self._wear(speed_rpm * step_s / MINUTE_S)
        if fires:
            self.flow_m3_per_s = pumped
            if self.silencer_m3 > 0.0 or self.cylinders_m3 > 0.0:
                self._blow(math.exp(-step_s / self.figures["blown_clear_s"]))
            return
        self.flow_m3_per_s = 0.0
        self.silencer_m3 += pumped * step_s
        over = self.silencer_m3 - self.figures["silencer_m3"]
        if over > 0.0:
            self.silencer_m3 -= over
            self.cylinders_m3 += over

    def _wear(self, turns: float) -> None:
        self.impeller_share = max(0.0, self.impeller_share - turns / self.figures["dry_turns"])

    def _blow(self, stays: float) -> None:
        self.silencer_m3 *= stays
        self.cylinders_m3 *= stays

    def drain(self) -> None:
        """Let the water out of the silencer."""
        self.silencer_m3 = 0.0

    def new_impeller(self) -> None:
        """Put in a new impeller."""
        self.impeller_share = 1.0
