"""Instruments, read to what they can tell: the vacuum gauge at the lift pump's inlet, voltmeter, thermometer."""

from __future__ import annotations

from engine_sim.actions.parts import LIFT_PUMPS
from engine_sim.actions.workplace import Workplace
from engine_sim.observations import Noticed, read
from engine_sim.sources import COMMON_PRACTICE, SourcedValue
from engine_sim.units import KILOPASCAL_PA, ZERO_CELSIUS_K

_GAUGE_STEP_KPA = SourcedValue(2.0, "kPa", COMMON_PRACTICE, "marks of a small vacuum gauge").value
_VOLT_STEPS = SourcedValue(10.0, "1/V", COMMON_PRACTICE, "a hand voltmeter shows tenths of a volt").value


def vacuum(place: Workplace) -> list[Noticed]:
    """Return what the vacuum gauge shows, if one is fitted: suction at the lift pump's inlet."""
    pump = place.first(*LIFT_PUMPS)
    if not pump or not place.gauge_fitted:
        return []
    return [read(pump, "vacuum_reads", kpa=suction_kpa(place, pump))]


def suction_kpa(place: Workplace, pump: str) -> int:
    """Return the suction at a pump's inlet as its gauge shows it [kPa]; pressure does not move its needle."""
    rig = place.rig
    below_pa = rig.circuit.fluids.ambient_pa - rig.pressure_pa(f"{pump}.inlet")
    return max(0, round(below_pa / KILOPASCAL_PA / _GAUGE_STEP_KPA) * int(_GAUGE_STEP_KPA))


def shown_volts(volts_v: float) -> float:
    """Return a voltage as a hand voltmeter shows it [V]."""
    return int(volts_v * _VOLT_STEPS + 0.5) / _VOLT_STEPS


def temperature_c(place: Workplace) -> int:
    """Return what a thermometer in the fuel space shows [degC]."""
    return round(place.rig.circuit.fluids.temperature_k - ZERO_CELSIUS_K)
