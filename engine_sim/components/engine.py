"""The engine itself: cylinders, power and speed, compression, injectors, oil; it has no fuel space of its own."""

from __future__ import annotations

from engine_sim.components.blueprint import Blueprint
from engine_sim.components.component import ComponentKind, Numbers, Parameter
from engine_sim.components.geometry import remembered, usual
from engine_sim.sources import SourcedValue, published

_EPA = published("EPA NR-009d, brake specific fuel consumption (cited from memory), 260 g/kWh taken for a small engine")
_OD1616 = "US Army subcourse OD1616: injector opening 1960 psi (13.5 MPa), indirect injection"
_HANDBOOK = "diesel handbook quoted in an encyclopaedia: least air temperature pre-chamber 40, swirl 20, direct 0 degC"


def add_nothing(_blueprint: Blueprint, _part: str, _numbers: Numbers) -> None:
    """Build nothing: a part without a space for fuel stands beside the circuit."""


_POWER: tuple[Parameter, ...] = (
    usual("cylinders", 3.0, "1", 1.0, 4.0, "number of cylinders, four-stroke"),
    usual("rated_power_w", 20e3, "W", 2e3, 60e3, "brake power at the rated speed"),
    usual("rated_rpm", 3000.0, "1/min", 1200.0, 4500.0, "speed at which it gives its rated power"),
    Parameter(
        "specific_consumption_kg_per_j",
        SourcedValue(260e-3 / 3.6e6, "kg/J", _EPA),
        5e-8,
        1.5e-7,
        "fuel burnt for the work done at rated power",
    ),
    remembered("rated_air_share", 0.65, "1", 0.4, 0.8, "share of its air that it uses at rated power"),
    remembered("full_rack_share", 1.5, "1", 1.0, 2.5, "most that the governor can give, against the rated injection"),
    remembered("mechanical_efficiency", 0.78, "1", 0.5, 0.95, "brake power over indicated power, rated"),
    remembered("steady_friction_share", 0.35, "1", 0.0, 1.0, "share of its friction that does not grow with speed"),
    usual("idle_rpm", 850.0, "1/min", 400.0, 1500.0, "speed at idle"),
    remembered("idle_injection_m3", 7.8e-9, "m3", 2e-9, 15e-9, "injected at idle: 0.6 L/h at 850 rpm, three cylinders"),
    remembered("stall_rpm", 400.0, "1/min", 100.0, 900.0, "below this it does not keep itself turning"),
    remembered("speed_lag_s", 0.8, "s", 0.1, 5.0, "time in which the speed follows the torque"),
    remembered("neutral_load_share", 0.02, "1", 0.0, 0.2, "load out of gear as a share of the propeller's"),
)

_STARTING: tuple[Parameter, ...] = (
    usual("compression_ratio", 21.0, "1", 12.0, 26.0, "compression ratio"),
    usual("swept_volume_m3", 4.0e-4, "m3", 1e-4, 2e-3, "swept by one piston"),
    remembered("polytropic_index", 1.37, "1", 1.25, 1.40, "of the compression, if it had no time to lose heat or air"),
    remembered("index_loss_per_min", 10.8, "1/min", 0.0, 40.0, "what heat loss and leakage take off it, times speed"),
    usual("least_air_k", 293.15, "K", 250.0, 330.0, "coldest air in which it starts without preheat", _HANDBOOK),
    remembered("least_air_rpm", 150.0, "1/min", 60.0, 300.0, "cranking speed for which that holds"),
    remembered("cranking_torque_share", 0.8, "1", 0.2, 2.0, "torque to crank it at 220 rpm and 20 degC, of its rated"),
    remembered("firing_delay_s", 1.2, "s", 0.1, 10.0, "firing on the starter before it runs by itself"),
    remembered("flywheel_kg_m2", 1.5, "kg m2", 0.1, 10.0, "moment of inertia of the turning parts"),
)

INJECTOR: tuple[Parameter, ...] = (
    remembered("line_volume_m3", 1.5e-6, "m3", 3e-7, 4e-6, "high-pressure line: 1.5 to 2.0 mm bore, 0.3 to 0.8 m long"),
    remembered("plunger_stroke_m3", 60e-9, "m3", 1e-8, 3e-7, "full stroke, as when cranking"),
    usual("opening_pressure_pa", 13.5e6, "Pa", 5e6, 30e6, "opens an injector", _OD1616),
    remembered("dissolved_share", 0.02, "1", 0.0, 0.5, "share of trapped air that dissolves in a full stroke"),
    remembered("leak_off_m3_per_s", 2.8e-8, "m3/s", 0.0, 2e-7, "from each injector to the return line, rated; 0.1 L/h"),
    remembered("leak_off_limit_pa", 200e3, "Pa", 1e4, 2e6, "pressure in the return line that holds it back"),
)
"""What every cylinder's high-pressure line and injector have."""

_OIL: tuple[Parameter, ...] = (
    usual("oil_volume_m3", 3.5e-3, "m3", 5e-4, 2e-2, "oil in the sump at the upper mark"),
    remembered(
        "sump_catches_share", 0.5, "1", 0.0, 1.0, "share of what a torn diaphragm lets out that ends in the sump"
    ),
    usual("intake_loss_pa", 3e3, "Pa", 1e2, 1e4, "pressure lost in the clean air intake at the rated speed"),
)

KIND = ComponentKind(
    name="engine",
    purpose="turns fuel into work; shows by speed, sound and smoke how it is fed",
    parameters=(*_POWER, *_STARTING, *INJECTOR, *_OIL),
    ports=(),
    build=add_nothing,
)
