"""The figures of the engine, its high-pressure lines, battery and starter, each with unit and source."""

from __future__ import annotations

from engine_sim.sources import COMMON_PRACTICE, FROM_MEMORY, SourcedValue, published

_OD1616 = published("US Army subcourse OD1616: injector opening 1960 psi (13.5 MPa), indirect injection")
_EPA = published("EPA NR-009d, brake specific fuel consumption (cited from memory), 260 g/kWh taken for a small engine")
_STARTER = published("US Army TM 10-3930-671-24: cranking current 180 to 220 A, at least 9.6 V")
_SMALL_ENGINE = "three cylinders, 20 kW at 3000 rpm"

CYLINDERS = 3

# High-pressure side, per cylinder
LINE_VOLUME_M3 = SourcedValue(1.5e-6, "m3", FROM_MEMORY, "1.5 to 2.0 mm bore, 0.3 to 0.8 m long").value
PLUNGER_STROKE_M3 = SourcedValue(60e-9, "m3", FROM_MEMORY, "full stroke, as when cranking").value
OPENING_PRESSURE_PA = SourcedValue(13.5e6, "Pa", _OD1616).value
DISSOLVED_PER_STROKE = SourcedValue(
    0.02, "1", FROM_MEMORY, "share of the trapped air that dissolves in one stroke at opening pressure"
).value
MISFIRE_FROM_WATER = SourcedValue(
    0.10, "1", FROM_MEMORY, "share of water in the injected fuel that burning still bears"
).value
MISFIRE_AT_WATER = SourcedValue(0.25, "1", FROM_MEMORY, "share of water at which nothing burns").value

# Torque: brake torque = TORQUE_PER_VOLUME * (injected - FRICTION), injected volume per cycle of all cylinders
RATED_SPEED_RPM = SourcedValue(3000.0, "1/min", COMMON_PRACTICE, _SMALL_ENGINE).value
RATED_INJECTION_M3 = SourcedValue(22.9e-9, "m3", _EPA, "20 kW, 260 g/kWh, three cylinders, 3000 rpm").value
IDLE_INJECTION_M3 = SourcedValue(7.8e-9, "m3", FROM_MEMORY, "0.6 L/h at 850 rpm, three cylinders").value
GREATEST_INJECTION_M3 = SourcedValue(35e-9, "m3", FROM_MEMORY, "upper end of the usual rated range").value
RATED_TORQUE_N_M = SourcedValue(63.7, "N m", COMMON_PRACTICE, "20 kW at 3000 rpm").value
IDLE_SPEED_RPM = SourcedValue(850.0, "1/min", COMMON_PRACTICE).value
CRUISE_SPEED_RPM = SourcedValue(2000.0, "1/min", COMMON_PRACTICE).value
STALL_SPEED_RPM = SourcedValue(
    400.0, "1/min", FROM_MEMORY, "below this a small diesel does not keep itself turning"
).value
SPEED_LAG_S = SourcedValue(0.8, "s", FROM_MEMORY, "time in which the speed follows the torque").value
NEUTRAL_LOAD_SHARE = SourcedValue(0.02, "1", FROM_MEMORY, "load out of gear as a share of the propeller's").value

# Starting
FIRING_SPEED_RPM = SourcedValue(120.0, "1/min", FROM_MEMORY, "fires from about 100 to 150 rpm").value
FIRING_DELAY_S = SourcedValue(1.2, "s", FROM_MEMORY, "turning with fuel injected before it runs by itself").value
CRANKING_SPEED_RPM = SourcedValue(220.0, "1/min", FROM_MEMORY, "usual range 150 to 300 rpm").value
CRANKING_CURRENT_A = SourcedValue(200.0, "A", _STARTER).value
CRANKING_VOLTS_FULL = SourcedValue(10.3, "V", FROM_MEMORY, "at the starter with a full battery").value
CRANKING_VOLTS_NONE = SourcedValue(6.0, "V", FROM_MEMORY, "at which the starter no longer turns the engine").value
BATTERY_CHARGE_C = SourcedValue(70.0 * 3600.0, "A s", COMMON_PRACTICE, "70 Ah starter battery").value
BATTERY_VOLTS_EMPTY = SourcedValue(11.8, "V", FROM_MEMORY, "at rest").value
BATTERY_VOLTS_SPAN = SourcedValue(0.9, "V", FROM_MEMORY, "at rest, from empty to full").value
BATTERY_RESISTANCE_OHM = SourcedValue(0.012, "ohm", FROM_MEMORY, "full, with its cables").value
CHARGING_CURRENT_A = SourcedValue(30.0, "A", FROM_MEMORY, "from the alternator with the engine running").value
LEAST_CRANKING_VOLTS = SourcedValue(9.6, "V", _STARTER).value
LEVER_STROKES_PER_S = SourcedValue(1.0, "1/s", COMMON_PRACTICE, "full, slow strokes of the hand lever").value
