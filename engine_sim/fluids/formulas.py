"""The formulas of flow, of closed spaces and of consumption in one place, for a caller that wants them by one name."""

from __future__ import annotations

from engine_sim.fluids.confined import (
    air_that_stops_injection_m3,
    drawn_at_suction_m3,
    injection_line_pressure_pa,
    priming_strokes,
    sealed_ullage_suction_pa,
)
from engine_sim.fluids.consumption import (
    can_lasts_s,
    filling_time_s,
    fuel_flow_m3_per_s,
    injected_volume_m3,
    sea_water_flow_m3_per_s,
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
)
from engine_sim.fluids.friction import (
    friction_shares,
    hose_flow_m3_per_s,
    hose_pressure_drop_pa,
    turbulent_exponent,
    turbulent_factor,
)
from engine_sim.fluids.settling import mobile_drop_factor, settling_speed_m_per_s, settling_time_s

__all__ = [
    "air_that_stops_injection_m3",
    "bore_area_m2",
    "cake_pressure_drop_pa",
    "cake_resistance_per_m",
    "can_lasts_s",
    "drawn_at_suction_m3",
    "filling_time_s",
    "flow_m3_per_s",
    "friction_shares",
    "fuel_flow_m3_per_s",
    "head_pressure_pa",
    "hose_flow_m3_per_s",
    "hose_pressure_drop_pa",
    "injected_volume_m3",
    "injection_line_pressure_pa",
    "laminar_pressure_drop_pa",
    "laminar_resistance_geometry",
    "local_loss_pa_s2_per_m6",
    "medium_resistance_per_m",
    "mobile_drop_factor",
    "orifice_loss_pa_s2_per_m6",
    "priming_strokes",
    "reynolds_number",
    "sea_water_flow_m3_per_s",
    "sealed_ullage_suction_pa",
    "settling_speed_m_per_s",
    "settling_time_s",
    "turbulent_exponent",
    "turbulent_factor",
]
