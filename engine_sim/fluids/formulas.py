"""The formulas of flow and of closed spaces in one place, for a caller that wants them by one name."""

from __future__ import annotations

from engine_sim.fluids.confined import (
    air_that_stops_injection_m3,
    drawn_at_suction_m3,
    injection_line_pressure_pa,
    priming_strokes,
    sealed_ullage_suction_pa,
)
from engine_sim.fluids.flow import (
    bore_area_m2,
    cake_pressure_drop_pa,
    cake_resistance_per_m,
    flow_m3_per_s,
    head_pressure_pa,
    laminar_pressure_drop_pa,
    laminar_resistance_geometry,
    local_loss_pa_s2_per_m6,
    medium_resistance_per_m,
    orifice_loss_pa_s2_per_m6,
    reynolds_number,
    settling_speed_m_per_s,
)

__all__ = [
    "air_that_stops_injection_m3",
    "bore_area_m2",
    "cake_pressure_drop_pa",
    "cake_resistance_per_m",
    "drawn_at_suction_m3",
    "flow_m3_per_s",
    "head_pressure_pa",
    "injection_line_pressure_pa",
    "laminar_pressure_drop_pa",
    "laminar_resistance_geometry",
    "local_loss_pa_s2_per_m6",
    "medium_resistance_per_m",
    "orifice_loss_pa_s2_per_m6",
    "priming_strokes",
    "reynolds_number",
    "sealed_ullage_suction_pa",
    "settling_speed_m_per_s",
]
