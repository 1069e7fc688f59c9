"""How likely each thing is to be what stops an engine, before anything is known of it.

No published count splits the faults of fuel systems; what has been counted is coarse (of 1573 launches of lifeboats
to sailing boats in the United Kingdom and Ireland in 2013, 350 were for machinery failure; a breakdown firm counted
19 % of its calls as fuel in 2007). The weights are judgement, no source, shares of about 200: a hundred for "will not
start", a hundred for "stops under way". That a shut valve or an empty tank is likelier than a broken part is in US Navy
NAVEDTRA 14076.
"""

from __future__ import annotations

from engine_sim.circuit.layout import Layout
from engine_sim.faults import fault

WEIGHTS: dict[str, float] = {
    "shut_valve": 12.0,
    "wrong_setting": 6.0,
    "empty_tank": 16.0,
    "blocked_vent": 7.0,
    "blocked_pick_up": 10.0,
    "collapsed_hose": 2.0,
    "loaded_element": 44.0,
    "stuck_ball": 2.0,
    "water_in_bowl": 14.0,
    "water_in_tank": 4.0,
    "slack_joint": 16.0,
    "screw_loose": 8.0,
    "air_in_filter": 15.0,
    "air_in_line": 5.0,
    "torn_diaphragm": 4.0,
    "leaking_valve": 4.0,
    "stop_control_pulled": 8.0,
    "dead_solenoid": 7.0,
    "blocked_return": 2.0,
    "leaking_injector": 1.0,
    "failed_injector": 1.0,
    "waxed_fuel": 2.0,
    "slime": 3.0,
    "dirt_in_tank": 3.0,
    "petrol_in_fuel": 1.0,
    "urea_in_fuel": 1.0,
    "isolator_off": 2.0,
    "flat_battery": 5.0,
    "bad_connection": 2.0,
    "starter_solenoid": 1.0,
    "failed_starter": 1.0,
    "no_preheat": 3.0,
    "blocked_intake": 1.0,
    "blocked_exhaust": 1.0,
    "fouled_propeller": 1.0,
    "low_compression": 1.0,
    "shut_seacock": 1.0,
}
"""Fault to its weight; what is not named here (a gauge that lies, a cam on its lobe) does not stop an engine."""


def weight_at(layout: Layout, name: str, part: str) -> float:
    """Return the weight of a fault at one of its places: every place of a boat is as likely as the others."""
    places = fault(name).places(layout)
    return WEIGHTS.get(name, 0.0) / len(places) if part in places else 0.0
